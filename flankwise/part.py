"""What measuring gives: a part, or several of one picture."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from flankwise.reasons import sentence
from threads.shared.plain_json import plain

if TYPE_CHECKING:
    from threads.measured.thread import MeasuredThread
    from threads.shared.refusal import Reason
    from vision.pictures.picture import Picture
    from vision.result.measurement import Measurement
    from vision.several.all_parts import SeenPart
    from vision.several.stitch import Stitched


@dataclass(frozen=True, eq=False, repr=False)
class Part:
    """A measured part.

    ``part.thread`` has its quantities (``part.thread.pitch_diameter.value``, ``.u95``), ``part.warnings`` what could
    make one doubtful. ``measurement`` is everything that was found; ``stitched`` is how it was put together from
    overlapping pictures.
    """

    measurement: Measurement
    stitched: Stitched | None = None

    @property
    def path(self) -> str:
        """Of its picture."""
        return self.measurement.picture.path

    @property
    def thread(self) -> MeasuredThread:
        return self.measurement.thread

    @property
    def warnings(self) -> tuple[Reason, ...]:
        return self.measurement.quality.warnings

    def to_dict(self) -> dict[str, Any]:
        """The object of ``flankwise measure --json``."""
        return dict(plain((self.stitched or self.measurement).to_dict(), sentence))

    def __str__(self) -> str:
        from threads.shared.formatting import format_quantity
        from threads.shared.quantity_words import QUANTITIES

        rows = [(words, getattr(self.thread, name)) for name, words in QUANTITIES]
        wide = max(len(words) for words, _ in rows)
        return "\n".join(
            (
                self.path,
                *(f"  {words:{wide}}  {format_quantity(found, inches=False)}" for words, found in rows if found),
                *(f"  warning: {sentence(reason)}" for reason in self.warnings),
            )
        )

    __repr__ = __str__


@dataclass(frozen=True, eq=False, repr=False)
class Parts:
    """Every part of one picture. Iterating gives the measured ones; ``seen`` also plain pins and what was refused."""

    picture: Picture
    seen: tuple[SeenPart, ...]

    def __iter__(self) -> Iterator[Part]:
        from vision.result.measurement import Measurement

        return (Part(one.found) for one in self.seen if isinstance(one.found, Measurement))

    def __len__(self) -> int:
        return len(list(iter(self)))

    def to_dict(self) -> dict[str, Any]:
        """The object of ``flankwise measure --all-parts --json``."""
        from vision.several.all_parts import parts_to_dict

        return dict(plain(parts_to_dict(self.picture, self.seen), sentence))

    def __str__(self) -> str:
        refused = [f"part {one.number}: {sentence(one.found[0])}" for one in self.seen if isinstance(one.found, tuple)]
        return "\n".join((f"{self.picture.path}: {len(self.seen)} parts", *map(str, self), *refused))

    __repr__ = __str__
