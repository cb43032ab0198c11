"""``flankwise record label``: labels for bags, as text, on a label roll, or on sheets of labels."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Annotated

import typer

from cli import options
from cli.errors import CommandLineError
from cli.output import show, write_json
from cli.record.paper import Language, PaperSize, paper_file, parts_meant, read_language, read_paper, write_paper
from cli.register import RegisterFile, opened

if TYPE_CHECKING:
    from records.report.label_page import LabelSheet

KINDS = (".png", ".pdf")
_SLIP = "50mm x 25mm"


def label(
    parts: Annotated[
        list[str] | None, typer.Argument(metavar="PART...", help="Numbers of parts on file: 3 7 12 or 3-12.")
    ] = None,
    job: Annotated[str | None, typer.Option("--job", metavar="NAME", help="All parts of this job.")] = None,
    instrument: Annotated[
        str | None, typer.Option("--instrument", metavar="NAME", help="All parts of this instrument.")
    ] = None,
    output: Annotated[
        str | None, typer.Option("-o", "--output", metavar="FILE", help="Draw them: a file that ends in .pdf or .png.")
    ] = None,
    size: Annotated[
        str | None,
        typer.Option("--size", metavar="WIDTHxHEIGHT", help=f"Of a label; {_SLIP} unless --sheet knows better."),
    ] = None,
    sheet: Annotated[
        str | None,
        typer.Option("--sheet", metavar="COLUMNSxROWS", help="On sheets of labels, as 3x7; else one a page: a roll."),
    ] = None,
    gap: Annotated[
        str | None, typer.Option("--gap", metavar="WIDTHxHEIGHT", help="With --sheet and --size, between two labels.")
    ] = None,
    first: Annotated[
        int, typer.Option("--first", min=1, metavar="N", help="With --sheet, the first label that is not used up.")
    ] = 1,
    cut_lines: Annotated[
        bool, typer.Option("--cut-lines", help="With --sheet, the edges of the labels, for plain paper.")
    ] = False,
    paper: PaperSize = "a4",
    language: Language = "en",
    force: Annotated[bool, typer.Option("--force", help="Replace the file if there is one.")] = False,
    register: RegisterFile = None,
    unit: options.Unit = "mm",
    as_json: options.Json = False,
) -> None:
    """Print labels for the bags of parts: number, place, thread, a code for scanners, a small picture."""
    spoken, paper = read_language(language, unit), read_paper(paper)
    if sheet is None and (gap is not None or first != 1 or cut_lines):
        raise CommandLineError("--gap, --first and --cut-lines go with --sheet")
    of_sheet = None if sheet is None else _sheet(sheet, size, gap, paper)
    size_mm = _sides(size or _SLIP, "--size", 10)
    target = None if output is None else paper_file(output, KINDS if sheet is None else KINDS[1:], force=force)
    if of_sheet is not None and target is None:
        raise CommandLineError("--sheet draws labels: name the file with -o FILE.pdf")
    if of_sheet is not None and first > of_sheet.columns * of_sheet.rows:
        raise CommandLineError(f"--first {first}: a sheet of {sheet} has {of_sheet.columns * of_sheet.rows} labels")
    from cli.refusals import refusals_reported
    from records.labels import labels_of
    from records.report.label_page import label_png, label_sheets_pdf, labels_pdf

    with refusals_reported(as_json=as_json):
        file = opened(register)
        wanted = parts_meant(file, parts, job, instrument)
        found = labels_of(file, wanted, spoken)
    if target is not None and target.suffix.lower() == ".png":
        if len(found) > 1:
            raise CommandLineError(f"-o {output}: a .png holds one label; take a .pdf for {len(found)}")
        write_paper(target, label_png(found[0], size_mm=size_mm))
    elif target is not None and of_sheet is not None:
        write_paper(target, label_sheets_pdf(found, of_sheet, paper, first=first, cut_lines=cut_lines))
    elif target is not None:
        write_paper(target, labels_pdf(found, size_mm=size_mm))
    lines = [[line for line in one.lines if line] for one in found]
    if as_json:
        write_json({
            "schema": "flankwise/label/1", "part": wanted[0], "lines": lines[0], "file": output,
            "labels": [{"part": n, "code": one.code, "lines": text}
                       for n, one, text in zip(wanted, found, lines, strict=True)],
        })  # fmt: skip
        return
    drawn = [] if target is None else [f"drawn in {output}" if len(found) == 1 else f"{len(found)} labels in {output}"]
    show(*_apart(lines if len(found) == 1 or target is None else []), *drawn)


def _apart(labels: Sequence[Sequence[str]]) -> list[str]:
    """The lines of all labels, an empty one between two."""
    return [line for number, one in enumerate(labels) for line in ([""] if number else []) + list(one)]


def _sheet(text: str, size: str | None, gap: str | None, paper: str) -> LabelSheet:
    """The sheet as typed, a common one where no size is given. Raises CommandLineError."""
    from records.report.label_page import SHEETS, LabelSheet

    columns, cross, rows = text.lower().partition("x")
    counts = [int(n) if n.strip().isdecimal() else 0 for n in (columns, rows)]
    if not cross or not all(1 <= n <= 50 for n in counts):
        raise CommandLineError(f"--sheet {text!r}: write columns and rows, such as 3x7")
    if size is None:
        common = {(one.columns, one.rows): one for one in SHEETS[paper]}
        found = common.get((counts[0], counts[1]))
        if found is None or gap is not None:
            known = ", ".join(f"{one.columns}x{one.rows}" for one in SHEETS[paper])
            raise CommandLineError(
                f"--sheet {text}: give the size of a label too, --size 60mmx30mm, and --gap if there is one; "
                f"known on {paper} without: {known}"
            )
        return found
    made = LabelSheet(counts[0], counts[1], _sides(size, "--size", 10), _sides(gap or "0mmx0mm", "--gap", 0))
    if not made.fits(paper):
        raise CommandLineError(f"--sheet {text} of {size} is larger than {paper} paper")
    return made


def _sides(text: str, option: str, least: float) -> tuple[float, float]:
    from flankwise.holes import length_or_zero
    from flankwise.reasons import message
    from threads.shared.typed import TypedError

    width, cross, height = text.lower().partition("x")
    if not cross:
        raise CommandLineError(f"{option} {text!r}: write width and height, such as 50mmx25mm")
    try:
        sides = length_or_zero(width.strip(), option), length_or_zero(height.strip(), option)
    except TypedError as error:
        raise CommandLineError(f"{option}: {message(error)}") from error
    if not all(least <= side <= 300 for side in sides):
        raise CommandLineError(f"{option} {text!r}: from {least:g}mm to 300mm a side")
    return sides
