"""A measured part on file, as something that other parts are held against or put into."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from flankwise.reference import Reference

if TYPE_CHECKING:
    from records.entries import Part
    from records.register import Register
    from threads.standards.limits import Limits
    from vision.result.measurement import Measurement


def filed_part(register: Register, number: int) -> Reference:
    """The part with this number. Raises RefusalError: no_register, no_part_on_file, not_measured and others."""
    from records.reading import measurement_of, read_part

    with register.reading() as connection:
        measurement = measurement_of(connection, number)
        part = read_part(connection, number)
    found = measurement.identification
    settled = found is not None and found.status == "identified"
    return Reference(
        name=part_words(part),
        thread=measurement.thread,
        like=limits_on_file(found.designation) if found is not None and settled else None,
        end_seen=measurement.document["part"]["free_end"] != "not in view",
    )


def part_words(part: Part) -> str:
    """A part by its number and by what it is and where: "part 12 (collar screw, sextant, telescope collar)"."""
    words = [part.name, part.instrument and part.instrument.name, part.position and part.position.name]
    known = ", ".join(word for word in words if word)
    return f"part {part.id} ({known})" if known else f"part {part.id}"


def filed_hole(register: Register, number: int) -> Reference:
    """As ``filed_part``. Raises RefusalError (not_a_hole) too, where it is a screw."""
    from threads.shared.refusal import RefusalError

    found = filed_part(register, number)
    if not found.thread.internal:
        raise RefusalError("not_a_hole", part=number)
    return found


def filed_again(register: Register, number: int) -> Measurement | None:
    """The part measured once more from its picture; None where that does not give what is on file."""
    from records.measured_again import measured_again
    from records.reading import calibration_text, measurement_of, read_part

    with register.reading() as connection:
        measurement, picture = measurement_of(connection, number), read_part(connection, number).picture
        known = measurement.calibration
        calibration = None if known is None else calibration_text(connection, known)
    if picture is None:
        return None
    path = Path(register.store.original(picture.sha256, picture.suffix))
    return measured_again(path, measurement.document, calibration)


def limits_on_file(designation: str | None) -> Limits | None:
    """The limits of a class on file; None for one of an own series that is no longer there."""
    from threads.standards.designation import UnknownDesignationError, parse
    from threads.standards.limits import limits_of

    try:
        return None if designation is None else limits_of(parse(designation))
    except UnknownDesignationError:
        return None
