"""A measured thread as something that others are held against, compared with or put into."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from flankwise.part import Part

if TYPE_CHECKING:
    from threads.measured.thread import MeasuredThread
    from threads.standards.limits import Limits
    from vision.result.measurement import Measurement


@dataclass(frozen=True, eq=False)
class Reference:
    """A measured thread, from a picture or from a file.

    Attributes:
        name: as it is shown: "part 12 (collar screw, sextant, telescope collar)".
        thread: its quantities.
        end_seen: whether its picture shows the free end, so that left and right are known.
        like: the class that it is known to be, whose tolerances are its own; None where that is not settled.
        measurement: all that was measured, where it is at hand: what it shares with another of its bench.
    """

    name: str
    thread: MeasuredThread
    end_seen: bool
    like: Limits | None = None
    measurement: Measurement | None = field(default=None, repr=False)


def reference_of(part: Part | Reference) -> Reference:
    """``part`` as a reference, named after its picture."""
    if isinstance(part, Reference):
        return part
    from threads.shared.file_name import plain_name

    measurement = part.measurement
    seen = measurement.part.free_end != "not in view"
    return Reference(plain_name(measurement.picture.path), part.thread, seen, measurement=measurement)
