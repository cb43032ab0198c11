"""``flankwise record instrument``: all screws of one instrument judged together."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from cli import options
from cli.errors import CommandLineError
from cli.output import show, write_json
from cli.register import RegisterFile, Who, opened
from cli.stated import By, Source, Stated, Weight, statement
from cli.target import file_to_write
from cli.years import Made, Origin, parse_made

if TYPE_CHECKING:
    from cli.tables import Block
    from flankwise.judging_instrument import InstrumentAnswer
    from records.instrument import FiledInstrument
    from records.register import Register
    from threads.identify.stated import Stated as Statement
    from threads.workshop.instrument_sheet import SizeSheet, Tool

FIGURES = (".svg", ".pdf", ".png")
MOST_SYSTEMS = 3
SURE = 0.9
"""From this probability on the system is named without "probably"."""


def instrument(
    name: Annotated[str, typer.Argument(metavar="INSTRUMENT", help="The instrument: its name, or its number.")],
    job: Annotated[
        str | None, typer.Option("--job", metavar="JOB", help="Only its screws that are of this job.")
    ] = None,
    origin: Origin = None,
    made: Made = None,
    figure: Annotated[
        str | None, typer.Option("--figure", metavar="FILE", help="Draw the charts: .svg, .pdf or .png.")
    ] = None,
    tools: Annotated[
        str | None, typer.Option("--tools", metavar="FILE.csv", help="Write the list of tools as a table.")
    ] = None,
    stated: Stated = None,
    by: By = "word",
    weight: Weight = None,
    source: Source = None,
    replaced: Annotated[
        float | None,
        typer.Option("--replaced", metavar="SHARE", help="Share of screws no longer the maker's, 0 to 1; usually 0.1."),
    ] = None,
    register: RegisterFile = None,
    who: Who = None,
    unit: options.Unit = "mm",
    as_json: options.Json = False,
) -> None:
    """Judge all screws of one instrument together: its thread system, the odd ones out, sizes, tools."""
    inches = options.reads_inches(unit)
    years = None if made is None else parse_made(made)
    said = statement(stated, by, weight, source)
    drawn = None if figure is None else file_to_write("--figure", figure, FIGURES)
    table = None if tools is None else file_to_write("--tools", tools, (".csv",))
    from cli.identify import check_evidence
    from cli.refusals import refusals_reported

    check_evidence(origin, years, None)
    with refusals_reported(as_json=as_json):
        file = opened(register)
        from records.instrument import figure_of, filed_instrument, judge_filed
        from records.lookup import known_instrument, known_job

        with file.reading() as connection:
            of_job = None if job is None else known_job(connection, job)
            filed = filed_instrument(connection, known_instrument(connection, name), job=of_job)
        if not filed.screws:
            from threads.shared.refusal import RefusalError

            raise RefusalError("no_measured_screw", instrument=filed.instrument.name)
    try:
        answer = judge_filed(filed, origin=origin, made=years, replaced=replaced, stated=said)
    except ValueError as error:
        raise CommandLineError(str(error)) from error
    with refusals_reported(as_json=as_json):
        kept = None if said is None else _kept(file, filed, said, source, who)
    if drawn is not None:
        from records.figures.file import save_figure

        _written(drawn, lambda: save_figure(lambda: figure_of(filed, answer, inches=inches), drawn))
    if table is not None:
        from records.instrument import tools_csv
        from threads.shared.whole_file import write_whole

        _written(table, lambda: write_whole(table, tools_csv(answer)))
    if as_json:
        write_json(answer.to_dict())
        return
    _show(filed, answer, inches=inches)
    if kept is not None:
        show(f"kept as a note on {filed.instrument.name}: {kept}")
    for written in (drawn, table):
        if written is not None:
            show(f"written: {written}")


def _kept(register: Register, filed: FiledInstrument, said: Statement, source: str | None, who: str | None) -> str:
    """Keep a statement as a note on the instrument, once; returns the note. Raises RefusalError."""
    from records import filing, reading
    from records.statements import statement_note

    note = statement_note(said, source)
    with register.writing(who) as writing:
        there = reading.notes_on(writing.connection, instrument=filed.instrument.id)
        if not any(one.text == note and not one.withdrawn for one in there[-1:]):
            filing.add_note(writing, note, instrument=filed.instrument.id)
    return note


def _show(filed: FiledInstrument, answer: InstrumentAnswer, *, inches: bool) -> None:
    from cli.tables import Paragraph, indented, plain_table
    from flankwise.reasons import sentence
    from flankwise.words import CAUTION
    from threads.shared.formatting import format_probability, format_quantity
    from threads.workshop.instrument_sheet import supplier_notes

    sheet, said = answer.sheet, answer.sheet.found.stated
    labels: dict[Hashable, str] = {one.part: one.label for one in filed.screws}
    first = sheet.found.systems[0]
    dated = any(one.probability != one.measurement_only for one in sheet.found.systems)
    verdict = "" if first.probability >= SURE else "probably "
    more = f", by the measurements alone {format_probability(first.measurement_only)}" if dated else ""
    others = ", ".join(
        f"{one.system} {format_probability(one.probability)}" for one in sheet.found.systems[1:MOST_SYSTEMS]
    )
    sizes = plain_table("thread", "screws", "pitch diameter, mean", "spread", "most probable class", right=("screws",))
    for size in sheet.sizes:
        spread = "" if size.spread is None else format_quantity(size.spread, inches=inches)
        name, share = size.classes[0] if size.classes else (size.limits.designation, 1.0)
        mean = format_quantity(size.mean, inches=inches)
        sizes.add_row(size.thread, str(len(size.parts)), mean, spread, f"{name} ({format_probability(share)})")
    show(
        f"{answer.name}: {verdict}{first.system} ({format_probability(first.probability)}{more}), from "
        f"{len(sheet.screws)} measured screw{'s' if len(sheet.screws) > 1 else ''}",
        indented(f"else: {others}", 2),
        *_stated(filed, said),
        *(Paragraph(sentence(why), f"odd one out: part {one.part} ({labels[one.part]}), ") for one, why in sheet.odd),
        "",
        sizes,
        *_dies(sheet.sizes),
        "",
        "To have ready, with how many screws each is for:",
        *(Paragraph(", ".join(names), f"  {kind:<6}") for kind, names in _tool_lines(sheet.tools).items()),
        *(indented(sentence(note), 2) for note in supplier_notes(sheet.tools)),
        "",
        *(indented(sentence(note), 0) for note in sheet.notes),
        *_missing(filed),
        indented(f"Caution: {CAUTION}", 0),
    )


def _stated(filed: FiledInstrument, said: Statement | None) -> list[Block]:
    """What is stated and how much it counts; of what is on file how it is taken back."""
    from cli.tables import indented

    if said is None:
        return []
    lines: list[Block] = [indented(f"stated: {said.text}, by {said.by}: counts {said.weight:g} times", 2)]
    if said == filed.stated:
        lines.append(indented(f"'flankwise record correct note {filed.stated_note} withdrawn=yes' takes it back", 2))
    return lines


def _dies(sizes: Sequence[SizeSheet]) -> list[Block]:
    """Of sizes with several screws, whether one die may have cut them all."""
    from cli.tables import Paragraph

    told: list[Block] = []
    for answer, words in ((True, "one die may have cut all of "), (False, "one die did not cut all of ")):
        names = [size.thread for size in sizes if size.one_die is answer]
        if names:
            told.append(Paragraph(", ".join(names), words))
    return told


def _tool_lines(tools: Sequence[Tool]) -> dict[str, list[str]]:
    """The names of each kind of tool, with how many screws each is for, and what is at hand."""
    lines: dict[str, list[str]] = {}
    for tool in tools:
        hand = f", at hand: {' and '.join(tool.at_hand)}" if tool.at_hand else ""
        many = "" if tool.kind == "pins" else f" ({tool.screws}{hand})"
        lines.setdefault(tool.kind, []).append(f"{tool.name}{many}")
    return lines


def _missing(filed: FiledInstrument) -> list[str]:
    """What there is no number of: parts without a measurement, holes, positions without a part."""
    said = []
    for words, names in (
        ("on file without a measurement", filed.without),
        ("holes, not judged here", filed.holes),
        ("positions without a part", tuple(one.name for one in filed.empty)),
    ):
        if names:
            said.append(f"{words}: {', '.join(names)}")
    return [*said, *(f"counted once: {name} was filed by the same picture as {first}" for name, first in filed.twice)]


def _written(target: Path, write: Callable[[], None]) -> None:
    """Raises CommandLineError where it cannot be written."""
    try:
        write()
    except OSError as error:
        raise CommandLineError(f"{target}: {error.strerror or 'it cannot be written'}") from error
