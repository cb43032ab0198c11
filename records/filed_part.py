"""A measured part on file, as something that other parts are held against or put into."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from records.register import Register
    from threads.measured.thread import MeasuredThread
    from threads.standards.limits import Limits


@dataclass(frozen=True)
class FiledPart:
    """A measured part on file.

    Attributes:
        name: as it is shown: "part 12 (index arm screw, marine sextant, index arm 3)".
        thread: the measurement that counts.
        like: the class it was identified as, if that was settled: its tolerances are the original's.
        end_seen: whether its picture showed the free end, so that left and right are known.
    """

    name: str
    thread: MeasuredThread
    like: Limits | None
    end_seen: bool


def filed_part(register: Register, number: int) -> FiledPart:
    """The part with this number. Raises RefusalError: no_register, no_part_on_file, not_measured and others."""
    from records.reading import measurement_of, read_part

    with register.reading() as connection:
        measurement = measurement_of(connection, number)
        part = read_part(connection, number)
    words = [part.name, part.instrument and part.instrument.name, part.position and part.position.name]
    known = ", ".join(word for word in words if word)
    found = measurement.identification
    settled = found is not None and found.status == "identified"
    return FiledPart(
        name=f"part {number} ({known})" if known else f"part {number}",
        thread=measurement.thread,
        like=_limits(found.designation) if found is not None and settled else None,
        end_seen=measurement.document["part"]["free_end"] != "not in view",
    )


def filed_hole(register: Register, number: int) -> FiledPart:
    """As ``filed_part``. Raises RefusalError (not_a_hole) too, where it is a screw."""
    from threads.shared.refusal import RefusalError

    found = filed_part(register, number)
    if not found.thread.internal:
        raise RefusalError(
            "not_a_hole",
            f"Part {number} is on file as a screw. File the hole from a picture of its cast: flankwise record add "
            "PICTURE --impression.",
        )
    return found


def _limits(designation: str | None) -> Limits | None:
    """The limits of a class on file; None for one of an own series that is no longer there."""
    from threads.standards.designation import UnknownDesignationError, parse
    from threads.standards.limits import limits_of

    try:
        return None if designation is None else limits_of(parse(designation))
    except UnknownDesignationError:
        return None
