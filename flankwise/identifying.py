"""Which thread a measured part has."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from flankwise.amounts import Years, from_to
from flankwise.reasons import sentence
from threads.shared.plain_json import plain

if TYPE_CHECKING:
    from flankwise.part import Part
    from threads.identify.candidate import Candidate
    from threads.identify.identification import Identification


@dataclass(frozen=True, eq=False, repr=False)
class Answer:
    """What a part is: ``found`` has the candidates, their groups and what tells them apart."""

    part: Part
    found: Identification

    @property
    def candidates(self) -> tuple[Candidate, ...]:
        return self.found.candidates

    def to_dict(self) -> dict[str, Any]:
        """The object of ``flankwise identify --json``."""
        return dict(plain(self.found.to_dict(self.part.to_dict()), sentence))

    def __str__(self) -> str:
        from threads.identify.identity_words import status_words
        from threads.shared.formatting import format_probability

        first = (f"  {format_probability(one.probability):>6}  {one.designation}" for one in self.candidates[:5])
        return "\n".join((sentence(status_words(self.found)), *first))

    __repr__ = __str__


def identify(
    part: Part, *, origin: str | None = None, made: Years | None = None, series: Sequence[str] | None = None
) -> Answer:
    """Say which series, size and class a part fits.

    Args:
        part: as measured.
        origin: country of the instrument, ``"US"``.
        made: when it was made, 1938 or ``"1930-1940"``.
        series: only these, by the names that ``flankwise series`` prints.

    Raises ValueError for a country, a year or a series that is not known.
    """
    from threads.identify.identification import identify as identified

    return Answer(part, identified(part.thread, origin=origin, made=from_to(made), series=tuple(series or ()) or None))
