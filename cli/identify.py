"""``flankwise identify``: which series, size and class the thread in a picture fits."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from cli import options
from cli.bench import measured, scale_of
from cli.brief import BRIEF_CAUTION, Full, Item, doubts, missing, show_brief
from cli.errors import CommandLineError
from cli.figure import FigureFile, figure_target, write_figure
from cli.hand import Hand, LitPicture, Starts, check_hand
from cli.measure import Picture
from cli.output import show, write_json
from cli.own_gauge import Known, KnownU95, PinBeside, PinU95, own_gauges
from cli.register import RegisterFile
from cli.stated import By, Stated, Weight, statement
from cli.years import Made, Origin, parse_made
from flankwise.measuring import KNOWN_U95, PIN_U95
from flankwise.reasons import message

_ASKED = {
    "settles.origin_and_year": "--origin CC, --made YEAR",
    "settles.origin": "--origin CC",
    "settles.year": "--made YEAR",
}
"""What would settle an answer and is an option of this command."""

if TYPE_CHECKING:
    from flankwise.judging_instrument import InstrumentAnswer
    from flankwise.part import Part
    from vision.result.measurement import Measurement


def identify(
    picture: Picture,
    calibration: options.CalibrationFile = None,
    focus_locked: options.FocusLocked = False,
    scale: options.Scale = None,
    pin_beside: PinBeside = None,
    pin_u95: PinU95 = PIN_U95,
    known: Known = None,
    known_u95: KnownU95 = KNOWN_U95,
    origin: Origin = None,
    made: Made = None,
    series: Annotated[
        list[str] | None, typer.Option("--series", metavar="NAME", help="Only this series; may be given several times.")
    ] = None,
    instrument: Annotated[
        str | None,
        typer.Option("--instrument", metavar="NAME", help="As part of this instrument on file: its screws count too."),
    ] = None,
    register: RegisterFile = None,
    stated: Stated = None,
    by: By = "word",
    weight: Weight = None,
    surface: options.Surface = None,
    part: options.Part = None,
    hand: Hand = None,
    starts: Starts = None,
    lit_picture: LitPicture = None,
    figure: FigureFile = None,
    full: Full = False,
    unit: options.Unit = "mm",
    as_json: options.Json = False,
) -> None:
    """Say which series, size and class the thread in a picture fits."""
    inches = options.reads_inches(unit)
    own = own_gauges(pin_beside, pin_u95, known, known_u95)
    um_per_px = scale_of(calibration, scale, own)
    years = None if made is None else parse_made(made)
    chosen = tuple(series) if series else None
    check_evidence(origin, years, chosen)
    said = statement(stated, by, weight)
    check_hand(hand, starts, lit_picture)
    target = figure_target(figure, picture)
    from cli.refusals import refusals_reported
    from flankwise.identifying import identify as identified

    with refusals_reported(as_json=as_json):
        told = {"hand": hand, "starts": starts, "lit_picture": lit_picture, "part": part}
        told |= {"surface": options.read_surface(surface), "focus_locked": focus_locked}
        part_found = measured(picture, calibration, um_per_px, own, **told)
        from records.series_on_file import series_on_file

        kin = None if instrument is None else _others(register, instrument, part_found)
        answer = identified(
            part_found,
            origin=origin,
            made=years,
            series=chosen,
            on_file=series_on_file(register),
            stated=said,
            instrument=kin,
        )
    measurement, found = answer.part.measurement, answer.found
    write_figure(target, lambda pages: pages.identification_page(measurement, found, inches=inches))
    if as_json:
        write_json(answer.to_dict())
        return
    if not full:
        from cli.identity import brief_identity

        settles = {one.key for one in answer.answer.settles}
        show_brief(
            [
                *brief_identity(answer, _measured_line(measurement, inches=inches), inches=inches),
                *doubts([("", measurement)], inches=inches),
                Item(BRIEF_CAUTION),
            ],
            missing([measurement], *(option for key, option in _ASKED.items() if key in settles)),
        )
        return
    from cli.findings import SHORT, heading, measured_table, quality_lines
    from cli.identity import identity_parts

    show(
        *heading(measurement),
        "",
        measured_table(measurement, inches=inches, only=SHORT),
        "",
        *quality_lines(measurement),
        "",
        *identity_parts(answer, inches=inches, with_provenance=origin is not None or years is not None),
    )


def _others(register: str | None, instrument: str, part: Part) -> InstrumentAnswer:
    """The other screws of the instrument judged together. Raises RefusalError where none of them is measured."""
    from records.instrument import others_on_file
    from threads.shared.refusal import RefusalError

    found = others_on_file(register, instrument, sha256=part.measurement.picture.sha256)
    if found is None:
        raise RefusalError("no_measured_screw", instrument=instrument)
    return found


def _measured_line(measurement: Measurement, *, inches: bool) -> str:
    from threads.shared.formatting import format_quantity

    thread = measurement.thread
    pitch, major, diameter = (
        format_quantity(q, inches=inches) for q in (thread.pitch, thread.major_diameter, thread.pitch_diameter)
    )
    return f"Measured: pitch {pitch}, major diameter {major}, pitch diameter {diameter}."


def check_evidence(origin: str | None, years: tuple[int, int] | None, series: tuple[str, ...] | None) -> None:
    """Say what is wrong with country, years or series before a picture is read."""
    from threads.identify.provenance import BadYearsError, UnknownOriginError, weigh
    from threads.standards.series import UnknownSeriesError, series_names

    try:
        weigh(series or series_names(), origin, years)
    except (UnknownOriginError, BadYearsError, UnknownSeriesError) as error:
        raise CommandLineError(message(error)) from error
