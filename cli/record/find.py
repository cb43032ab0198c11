"""``flankwise record list``, ``search`` and ``find-like``: which parts are on file."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import TYPE_CHECKING, Annotated, Any

import typer

from cli import options
from cli.errors import CommandLineError
from cli.own_gauge import Known, KnownU95, PinBeside, PinU95, own_gauges
from cli.register import RegisterFile, opened, part_number
from flankwise.measuring import KNOWN_U95, PIN_U95
from flankwise.reasons import message
from records.from_memory import FOOTNOTE, marked

if TYPE_CHECKING:
    from cli.tables import Table
    from records.listing import Conditions, Page, PartLine
    from records.nearest import Likeness
    from threads.measured.thread import MeasuredThread

PageNumber = Annotated[int, typer.Option("--page", min=1, metavar="N", help="Which page.")]
PageSize = Annotated[int, typer.Option("--page-size", min=1, max=1000, metavar="N", help="Parts on a page.")]
PAGE_SIZE = 30
OfInstrument = Annotated[
    str | None, typer.Option("--instrument", metavar="NAME", help="Only parts of this instrument.")
]
OfJob = Annotated[str | None, typer.Option("--job", metavar="NAME", help="Only parts of this job.")]
Withdrawn = Annotated[bool, typer.Option("--withdrawn", help="Parts that were withdrawn as well.")]

_SEPARATOR = re.compile(r"\s*(?:\.\.|…|\bto\b)\s*")


def list_parts(
    what: Annotated[str, typer.Argument(metavar="[parts|instruments|jobs]", help="What to list.")] = "parts",
    instrument: OfInstrument = None,
    job: OfJob = None,
    page: PageNumber = 1,
    page_size: PageSize = PAGE_SIZE,
    withdrawn: Withdrawn = False,
    register: RegisterFile = None,
    unit: options.Unit = "mm",
    as_json: options.Json = False,
) -> None:
    """List the parts on file, the latest first; those of an instrument or a job in the order of their positions."""
    inches = options.reads_inches(unit)
    if what not in {"parts", "instruments", "jobs"}:
        raise CommandLineError(f"record list {what!r}: one of parts, instruments, jobs is listed")
    if what != "parts":
        if instrument or job or page != 1:
            raise CommandLineError(f"record list {what} lists them all: give no --instrument, --job or --page")
        from cli.record.places import list_places

        list_places(what, register, as_json=as_json)
        return
    wanted = {"with_withdrawn": withdrawn}
    _show_page(register, wanted, instrument, job, page, page_size, inches=inches, as_json=as_json)


def search(
    words: Annotated[list[str] | None, typer.Argument(metavar="[WORDS]", help="Words that must all occur.")] = None,
    text: Annotated[str | None, typer.Option("--text", metavar="WORDS", help="The same, as an option.")] = None,
    pitch: Annotated[str | None, typer.Option("--pitch", metavar="FROM..TO", help="0.62mm..0.65mm")] = None,
    major_diameter: Annotated[
        str | None, typer.Option("--major-diameter", metavar="FROM..TO", help="2.75mm..2.85mm")
    ] = None,
    pitch_diameter: Annotated[
        str | None, typer.Option("--pitch-diameter", metavar="FROM..TO", help="2.40mm..2.45mm")
    ] = None,
    minor_diameter: Annotated[
        str | None, typer.Option("--minor-diameter", metavar="FROM..TO", help="1.95mm..2.05mm")
    ] = None,
    included_angle: Annotated[
        str | None, typer.Option("--included-angle", metavar="FROM..TO", help="54deg..56deg")
    ] = None,
    made_before: Annotated[
        int | None, typer.Option("--made-before", metavar="YEAR", help="On instruments surely made before.")
    ] = None,
    made_after: Annotated[
        int | None, typer.Option("--made-after", metavar="YEAR", help="On instruments surely made after.")
    ] = None,
    origin: Annotated[
        str | None, typer.Option("--origin", metavar="CC", help="On instruments of this country.")
    ] = None,
    designation: Annotated[
        str | None, typer.Option("--designation", metavar="BEGINNING", help="Identified as: '4-40 NC'.")
    ] = None,
    series: Annotated[str | None, typer.Option("--series", metavar="NAME", help="Identified as of it.")] = None,
    instrument: OfInstrument = None,
    job: OfJob = None,
    page: PageNumber = 1,
    page_size: PageSize = PAGE_SIZE,
    withdrawn: Withdrawn = False,
    register: RegisterFile = None,
    unit: options.Unit = "mm",
    as_json: options.Json = False,
) -> None:
    """Search the parts on file: by words, by measured sizes, by the instrument. Every condition must hold."""
    inches = options.reads_inches(unit)
    ranges = {
        "pitch": pitch,
        "major_diameter": major_diameter,
        "pitch_diameter": pitch_diameter,
        "minor_diameter": minor_diameter,
        "included_angle": included_angle,
    }
    between = {key: _range(text, f"--{key.replace('_', '-')}") for key, text in ranges.items() if text is not None}
    said = " ".join([*(words or ()), *([text] if text else ())])
    wanted: dict[str, Any] = {
        "text": said or None,
        "between": between,
        "made_before": made_before,
        "made_after": made_after,
        "country": None if origin is None else _country(origin),
        "designation": designation,
        "series": series,
    }
    if not any((*wanted.values(), instrument, job)):
        raise CommandLineError("what is searched for? Give words, or sizes such as --pitch-diameter 2.40mm..2.45mm")
    wanted["with_withdrawn"] = withdrawn
    _show_page(register, wanted, instrument, job, page, page_size, inches=inches, as_json=as_json)


def find_like(
    picture: Annotated[str | None, typer.Argument(metavar="[PICTURE]", help="A backlit picture.")] = None,
    calibration: options.CalibrationFile = None,
    scale: options.Scale = None,
    pin_beside: PinBeside = None,
    pin_u95: PinU95 = PIN_U95,
    known: Known = None,
    known_u95: KnownU95 = KNOWN_U95,
    part_id: Annotated[
        str | None, typer.Option("--part-id", metavar="PART", help="Like this part on file, instead of a picture.")
    ] = None,
    part: options.Part = None,
    most: Annotated[int, typer.Option("--most", min=1, max=1000, metavar="N", help="How many to show.")] = 10,
    register: RegisterFile = None,
    unit: options.Unit = "mm",
    as_json: options.Json = False,
) -> None:
    """Find the parts on file that are most like the one in a picture, and say which may be the same thread."""
    inches = options.reads_inches(unit)
    if (picture is None) == (part_id is None):
        raise CommandLineError("like what? Give either a PICTURE or --part-id PART")
    own = own_gauges(pin_beside, pin_u95, known, known_u95)
    number = None if part_id is None else part_number(part_id)
    from cli.bench import measured, scale_of

    if picture is not None:
        um_per_px = scale_of(calibration, scale, own)
    elif calibration or scale or own.given or part:
        raise CommandLineError("--part-id takes the measurement on file: give no --calibration, --scale or --part")
    from cli.refusals import refusals_reported

    with refusals_reported(as_json=as_json):
        file = opened(register)
        thread, document = None, None
        if picture is not None:
            found_part = measured(picture, calibration, um_per_px, own, part=part)
            thread, document = found_part.thread, found_part.to_dict()
        from records.listing import lines_of
        from records.nearest import nearest_parts
        from records.reading import measurement_of

        with file.reading() as connection:
            if thread is None:
                assert number is not None
                filed = measurement_of(connection, number)
                thread, document = filed.thread, filed.document
            found = nearest_parts(connection, thread, most=most, without_part=number)
            lines = lines_of(connection, [one.part for one in found])
    if as_json:
        from cli.output import write_json

        parts = [{**_line_dict(lines[one.part]), **_likeness_dict(one)} for one in found]
        write_json({"schema": "flankwise/likeness/1", "parts": parts, "measurement": document})
        return
    _show_likeness(thread, found, lines, inches=inches)


def _show_page(
    register: str | None,
    wanted: dict[str, Any],
    instrument: str | None,
    job: str | None,
    page: int,
    page_size: int,
    *,
    inches: bool,
    as_json: bool,
) -> None:
    from cli.refusals import refusals_reported
    from records.listing import Conditions, page_of_parts

    with refusals_reported(as_json=as_json):
        file = opened(register)
        with file.reading() as connection:
            if instrument is not None or job is not None:
                from records.lookup import known_instrument, known_job

                wanted["instrument"] = None if instrument is None else known_instrument(connection, instrument)
                wanted["job"] = None if job is None else known_job(connection, job)
            conditions: Conditions = Conditions(**wanted)
            found = page_of_parts(connection, conditions, first=(page - 1) * page_size, most=page_size)
    from cli.output import show, write_json

    if as_json:
        parts = [_line_dict(line) for line in found.lines]
        write_json({"schema": "flankwise/parts/1", "total": found.total, "page": page, "parts": parts})
        return
    if not found.total:
        show("no part on file" if not any(wanted.values()) else "no part on file is like that")
        return
    foot = _foot(found, page, page_size)
    if found.lines:
        show(_table(found.lines, inches=inches), "", foot, *_footnotes(found.lines))
    else:
        show(foot)


def _foot(found: Page, page: int, page_size: int) -> str:
    pages = -(-found.total // page_size)
    parts = "1 part" if found.total == 1 else f"{found.total} parts"
    return parts if pages <= 1 else f"{parts}, page {page} of {pages}" + (f"; --page {page + 1}" * (page < pages))


def _table(lines: tuple[PartLine, ...], *, inches: bool) -> Table:
    from cli.tables import plain_table

    head = ("part", "what", "instrument", "position", "identified as", "pitch diameter", "pitch")
    table = plain_table(*head, right=("part",), whole=("part", "pitch diameter", "pitch"))
    for line in lines:
        words = [text or "" for text in (line.name, line.instrument, line.position)]
        sizes = [_size(size, inches=inches) for size in (line.pitch_diameter, line.pitch)]
        table.add_row(str(line.id), *words, _identity(line), *sizes)
    return table


def _identity(line: PartLine) -> str:
    """What a part was identified as, in few words; a question mark where it was not settled."""
    if line.withdrawn:
        return "withdrawn"
    if line.hole is not None:
        return f"hole, {line.hole}"
    if line.measured is None:
        return "not measured"
    return marked(line.says, from_memory=line.from_memory) if line.says else "hole" if line.internal else ""


def _footnotes(lines: Iterable[PartLine]) -> list[str]:
    return [FOOTNOTE] if any(line.from_memory and not line.withdrawn for line in lines) else []


def _size(size: tuple[float, float] | None, *, inches: bool) -> str:
    if size is None:
        return ""
    from threads.shared.formatting import format_quantity
    from threads.shared.quantity import COVERAGE_FACTOR, Quantity

    return format_quantity(Quantity(size[0], size[1] / COVERAGE_FACTOR, "mm"), inches=inches)


def _show_likeness(thread: MeasuredThread, found: list[Likeness], lines: dict[int, PartLine], *, inches: bool) -> None:
    from cli.output import show
    from cli.tables import plain_table
    from threads.shared.formatting import format_quantity
    from threads.shared.quantity import COVERAGE_FACTOR, Quantity
    from threads.shared.quantity_words import QUANTITIES

    if not found:
        show("no measured part on file")
        return
    words = dict(QUANTITIES)
    names = ("pitch_diameter", "major_diameter", "minor_diameter", "pitch")
    in_hand = ", ".join(f"{words[name]} {format_quantity(getattr(thread, name), inches=inches)}" for name in names)
    head = ("part", "what", "instrument", "position", "identified as", "pitch diameter off by", "pitch off by", "")
    table = plain_table(*head, right=("part",), whole=("part", *head[5:]))
    for one in found:
        line = lines[one.part]
        off = [
            format_quantity(Quantity(value, u95 / COVERAGE_FACTOR, "mm"), inches=inches)
            for value, u95 in (one.differences["pitch_diameter"], one.differences["pitch"])
        ]
        place = [text or "" for text in (line.name, line.instrument, line.position)]
        verdict = "may be the same" if one.alike else "another"
        table.add_row(str(one.part), *place, _identity(line), *off, verdict)
    alike = sum(one.alike for one in found)
    foot = "None of them is the same thread within the joint uncertainty." if not alike else (
        f"{alike} of them cannot be told from it within the joint uncertainty."
    )  # fmt: skip
    show(f"In hand: {in_hand}", "", table, "", foot, *_footnotes(lines[one.part] for one in found))


def _line_dict(line: PartLine) -> dict[str, Any]:
    from dataclasses import asdict

    document = asdict(line)
    for name in ("pitch", "major_diameter", "pitch_diameter"):
        size = document[name]
        document[name] = None if size is None else {"value": size[0], "u95": size[1], "unit": "mm"}
    return document


def _likeness_dict(one: Likeness) -> dict[str, Any]:
    differences = {
        name: {"value": value, "u95": u95, "unit": "deg" if "angle" in name else "mm"}
        for name, (value, u95) in one.differences.items()
    }
    return {
        "measurement": one.measurement,
        "distance": one.distance,
        "chance": one.chance,
        "alike": one.alike,
        "differences": differences,
    }


def _range(text: str, option: str) -> tuple[float, float]:
    """Two lengths (mm) or angles (deg) in order, as typed: 2.40mm..2.45mm. Raises CommandLineError."""
    from cli.lengths import parse_angle, parse_length

    ends = _SEPARATOR.split(text.strip())
    if len(ends) != 2:
        raise CommandLineError(f"{option} {text!r} is no range: write both ends, such as 2.40mm..2.45mm")
    parse = parse_angle if "angle" in option else parse_length
    low, high = (parse(end, option) for end in ends)
    if low > high:
        raise CommandLineError(f"{option} {text!r}: the first is the larger one; write {ends[1]}..{ends[0]}")
    return low, high


def _country(origin: str) -> str:
    from threads.identify.provenance import UnknownOriginError, country_code

    try:
        return country_code(origin)
    except UnknownOriginError as error:
        raise CommandLineError(f"--origin: {message(error)}") from error
