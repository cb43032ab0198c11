"""``flankwise series``: the thread series known, and the sizes of one."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Any

import typer

from cli import options
from cli.errors import CommandLineError
from cli.near import show_near
from cli.output import show, write_json
from cli.thread_chart import write_chart
from flankwise.reasons import message

if TYPE_CHECKING:
    from threads.rules.series_tables import Entry, SeriesInfo


OWN = "own"
"""Marks a series of the workshop."""
COMMON = (
    "common: how common among the screws on a bench, relative (common practice, no source; * your own). It orders the "
    "answers where origin and year are not known. The reasons: flankwise series NAME; another weight: flankwise series "
    "weigh NAME WEIGHT"
)


def series(
    name: Annotated[str | None, typer.Argument(metavar="[NAME]", help="A series, such as UNC, NF or 'M fine'.")] = None,
    near: Annotated[
        str | None,
        typer.Option("--near", metavar="DESIGNATION", help="The threads that look like this one and may enter it."),
    ] = None,
    chart: Annotated[
        str | None, typer.Option("--chart", metavar="FILE.pdf", help="Print all threads by diameter and pitch.")
    ] = None,
    wall: Annotated[
        str | None, typer.Option("--wall", metavar="FILE.pdf", help="Print your own series, to be hung on the wall.")
    ] = None,
    unit: options.Unit = "mm",
    as_json: options.Json = False,
) -> None:
    """Show the thread series known, or the sizes of one."""
    inches = options.reads_inches(unit)
    if [name, near, chart, wall].count(None) < 3:
        raise CommandLineError("series shows one thing at a time: NAME, --near, --chart or --wall")
    if near is not None:
        show_near(near, inches=inches, as_json=as_json)
        return
    if chart is not None or wall is not None:
        write_chart(chart, wall, as_json=as_json)
        return
    from threads.standards.series import UnknownSeriesError, entries, series_info, series_names

    if name is None:
        infos = [series_info(known) for known in series_names()]
        if as_json:
            listed = [{**_info_dict(info), "sizes": len(entries(info.name))} for info in infos]
            write_json({"schema": "flankwise/series/1", "series": listed})
        else:
            _show_all(infos, {info.name: len(entries(info.name)) for info in infos})
        return
    try:
        info, sizes = series_info(name), entries(name)
    except UnknownSeriesError as error:
        raise CommandLineError(message(error)) from error
    if as_json:
        write_json(
            {"schema": "flankwise/series/1", **_info_dict(info), "sizes": [_entry_dict(entry) for entry in sizes]}
        )
    else:
        _show_one(info, sizes, inches=inches)


def _info_dict(info: SeriesInfo) -> dict[str, Any]:
    from threads.identify.commonness import commonness_of

    commonness = commonness_of(info.name)
    return {
        "name": info.name,
        "title": info.title,
        "standard": info.standard,
        "form": info.form,
        "first_year": info.first_year,
        "last_year": info.last_year,
        "countries": list(info.countries),
        "source": info.source,
        "unverified": info.unverified,
        "own": info.own,
        "commonness": commonness.on_bench,
        "commonness_reason": commonness.reason,
    }


def _entry_dict(entry: Entry) -> dict[str, Any]:
    return {
        "size": entry.size,
        "major_diameter": entry.major_mm,
        "pitch": entry.pitch_mm,
        "threads_per_inch": entry.threads_per_inch,
        "classes": list(entry.classes),
        "internal_classes": list(entry.internal_classes),
        "source": entry.source,
        "unverified": entry.unverified,
    }


def _years(info: SeriesInfo) -> str:
    return f"{info.first_year}-{info.last_year}" if info.last_year else f"since {info.first_year}"


def _show_all(infos: list[SeriesInfo], sizes: dict[str, int]) -> None:
    from cli.tables import UNVERIFIED_MARK, plain_table, unverified_note
    from threads.identify.commonness import commonness_of

    table = plain_table("series", "", "sizes", "form", "common", "in use", "countries", right=("sizes", "common"))
    for info in infos:
        mark = f" {UNVERIFIED_MARK}" if info.unverified else ""
        countries = " ".join(info.countries)
        title = f"{info.title} ({OWN})" if info.own else info.title
        commonness = commonness_of(info.name)
        weight = f"{commonness.on_bench:g}{' *' if commonness.own else ''}"
        table.add_row(info.name, title, str(sizes[info.name]), info.form, weight, f"{_years(info)}{mark}", countries)
    notes = ["", unverified_note("years and countries")] if any(info.unverified for info in infos) else []
    if any(info.own for info in infos):
        from threads.own.own_folder import folder

        notes += ["", f"{OWN}: of this workshop, kept in {folder()}"]
    notes += ["", COMMON]
    show(table, *notes, "", "The sizes of one: flankwise series NAME")


def _show_one(info: SeriesInfo, sizes: tuple[Entry, ...], *, inches: bool) -> None:
    from cli.tables import UNVERIFIED_MARK, plain_table, source_lines, unverified_note
    from threads.identify.commonness import commonness_of
    from threads.shared.formatting import format_lengths

    commonness = commonness_of(info.name)
    per_inch = any(entry.threads_per_inch for entry in sizes)
    pitch_column = "threads per inch" if per_inch else "pitch"
    right = ("major diameter", pitch_column)
    table = plain_table("size", "major diameter", pitch_column, "screw classes", "nut classes", right=right)
    majors = format_lengths([entry.major_mm for entry in sizes], inches=inches)
    pitches = format_lengths([entry.pitch_mm for entry in sizes], inches=inches)
    for entry, major, pitch in zip(sizes, majors, pitches, strict=True):
        mark = f" {UNVERIFIED_MARK}" if entry.unverified else ""
        table.add_row(
            f"{entry.size}{mark}",
            major,
            f"{entry.threads_per_inch:g}" if entry.threads_per_inch else pitch,
            " ".join(entry.classes),
            " ".join(entry.internal_classes),
        )
    unverified = [unverified_note("the row")] if any(entry.unverified for entry in sizes) else []
    sources = dict.fromkeys(entry.source for entry in sizes)
    show(
        f"{info.name}: {info.title}, {info.form} form, {info.standard}",  # an own one says so as its standard
        f"in use: {_years(info)}, {' '.join(info.countries)}",
        "",
        table,
        "",
        *unverified,
        *source_lines("; ".join(sources), unverified=False),
        f"Years and countries: {info.source}",
        f"How common: {commonness.on_bench:g}, {commonness.reason} "
        f"({'your own weight' if commonness.own else 'common practice, no source'})",
    )
