"""The drawing of a part on file."""

from __future__ import annotations

from datetime import UTC, datetime

from records import drawing, reading
from records.entries import Part
from records.filed_part import limits_on_file
from records.filing import program_version
from records.holes import judge_filed_hole
from records.letterhead import letterhead
from records.register import Register
from records.report.printed import Printed
from records.report.sheet import instrument_words, place_words
from records.report.spoken import Spoken
from records.workshop_drawing.dxf import drawing_dxf
from records.workshop_drawing.part_to_make import PartToMake, part_to_make, thread_to_make
from records.workshop_drawing.sheet import Title, drawing_pdf
from threads.shared.refusal import RefusalError
from threads.standards.limits import Limits

KINDS = ("pdf", "dxf")


def print_drawing(
    register: Register,
    number: int,
    kind: str,
    spoken: Spoken,
    *,
    paper: str = "a4",
    limits: Limits | None = None,
    hole: int | None = None,
) -> Printed:
    """The drawing of the part as one of ``KINDS``.

    ``limits``: of its class, that which it was taken for if None; ``hole``: the part on file that is the hole it goes
    into, which then gives the pitch diameter.

    Raises RefusalError: no_part_on_file, not_measured, drawing_of_hole, hole_without_trials, and others.
    """
    part, title = part_on_file(register, number, spoken, limits=limits, hole=hole)
    content = drawing_pdf(part, title, paper, spoken) if kind == "pdf" else drawing_dxf(part, title, spoken)
    return Printed(content, title.place, 1, 1)


def part_on_file(
    register: Register, number: int, spoken: Spoken, *, limits: Limits | None = None, hole: int | None = None
) -> tuple[PartToMake, Title]:
    """The part to make and its title. Raises as ``print_drawing``."""
    fits, mate, asked = None, "", limits is not None
    with register.reading() as connection:
        measurement = reading.measurement_of(connection, number)
        part = reading.read_part(connection, number)
        if hole is not None:
            found = judge_filed_hole(connection, hole)
            if found is None:
                raise RefusalError("hole_without_trials", part=hole)
            fits, mate = found.found.to_make, _named(reading.read_part(connection, hole), spoken)
    thread = measurement.thread
    if thread.internal:
        raise RefusalError("drawing_of_hole", part=number)
    identified = measurement.identification
    if limits is None and identified is not None and identified.status != "no_match":
        limits = limits_on_file(identified.designation)
    kept = drawing.kept(register.store.folder, measurement.uid)
    try:
        outline = None if kept is None else drawing.from_bytes(kept).outline
    except ValueError:
        outline = None
    title = Title(
        head=letterhead(register),
        part=f"{spoken.word('part')} {part.id}",
        place=place_words(part, spoken),
        instrument=instrument_words(part, spoken),
        day=datetime.now(UTC).astimezone().strftime("%Y-%m-%d"),
        version=program_version(),
        mate=mate,
        asked=asked,
    )
    return part_to_make(measurement.document, thread_to_make(thread, limits, fits), outline), title


def _named(part: Part, spoken: Spoken) -> str:
    number = f"{spoken.word('part')} {part.id}"
    place = place_words(part, spoken)
    return number if place == number else f"{number} ({place})"
