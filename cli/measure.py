"""``flankwise measure``: the thread in a picture, every quantity with its U95."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Any

import typer

from cli import options
from cli.bench import bench_of, measured, scale_of
from cli.brief import Full, Item, doubts, missing, name_of, show_brief, sizes
from cli.errors import CommandLineError
from cli.figure import FigureFile, figure_target, write_figure
from cli.hand import Hand, LitPicture, Starts, check_hand
from cli.lengths import parse_angle
from cli.output import show, write_json
from cli.own_gauge import Known, KnownU95, OwnGauges, PinBeside, PinU95, own_gauges
from cli.pairs import PairedOptions
from cli.shrinkage import Shrinkage, ShrinkageU95, read_shrinkage
from flankwise.measuring import KNOWN_U95, PIN_U95

if TYPE_CHECKING:
    from cli.tables import Block
    from flankwise.part import Part
    from vision.result.measurement import Measurement
    from vision.result.monte_carlo import Trials


COMMAND_CLASS = PairedOptions

Picture = Annotated[str, typer.Argument(metavar="PICTURE", help="A backlit picture: PNG, JPEG, TIFF or BMP.")]
Pictures = Annotated[
    list[str] | None,
    typer.Argument(metavar="PICTURE", help="A backlit picture: PNG, JPEG, TIFF or BMP; several with --same-part."),
]
SamePart = Annotated[bool, typer.Option("--same-part", help="The pictures show one part, turned or lit differently.")]
Under = Annotated[
    list[str] | None,
    typer.Option(
        "--under",
        metavar="CONE PICTURE",
        help="The part, unmoved, in a light of this half cone; twice or more: extrapolated to no light.",
    ),
]
UnderCalibration = Annotated[
    list[str] | None,
    typer.Option(
        "--under-calibration",
        metavar="CAL.json",
        help="For each --under: the calibration with the gauges in that light, instead of --calibration.",
    ),
]
Turned = Annotated[
    list[str] | None,
    typer.Option(
        "--turned", metavar="ANGLE", help="How far it was turned, clockwise from the head; once for each picture."
    ),
]
Thread = Annotated[
    int | None,
    typer.Option("--thread", min=1, metavar="N", help="Which thread of a part that has several, from the left."),
]
AllParts = Annotated[bool, typer.Option("--all-parts", help="Measure every part in view: a row each.")]
Stitch = Annotated[bool, typer.Option("--stitch", help="The pictures overlap and show one long part: join them.")]
Moved = Annotated[
    list[str] | None,
    typer.Option("--moved", metavar="LENGTH", help="How far it was moved to the left for each next one."),
]
Impression = Annotated[bool, typer.Option("--impression", help="It is the cast of a hole: report the hole.")]

Budget = Annotated[bool, typer.Option("--budget", help="Show what every uncertainty is made of, with shares.")]
MonteCarlo = Annotated[
    int | None,
    typer.Option(
        "--monte-carlo", min=20, max=100_000, metavar="N", help="Check the uncertainties by N trials of the whole fit."
    ),
]


def measure(
    picture: Pictures = None,
    under: Under = None,
    under_calibration: UnderCalibration = None,
    calibration: options.CalibrationFile = None,
    focus_locked: options.FocusLocked = False,
    scale: options.Scale = None,
    pin_beside: PinBeside = None,
    pin_u95: PinU95 = PIN_U95,
    known: Known = None,
    known_u95: KnownU95 = KNOWN_U95,
    surface: options.Surface = None,
    part: options.Part = None,
    thread: Thread = None,
    hand: Hand = None,
    starts: Starts = None,
    lit_picture: LitPicture = None,
    all_parts: AllParts = False,
    same_part: SamePart = False,
    turned: Turned = None,
    stitched: Stitch = False,
    moved: Moved = None,
    impression: Impression = False,
    shrinkage: Shrinkage = None,
    shrinkage_u95: ShrinkageU95 = None,
    budget: Budget = False,
    monte_carlo: MonteCarlo = None,
    figure: FigureFile = None,
    full: Full = False,
    unit: options.Unit = "mm",
    as_json: options.Json = False,
) -> None:
    """Measure the thread in a picture, or in several of one part."""
    inches = options.reads_inches(unit)
    alone = (pin_beside, known, surface, all_parts, same_part, turned, stitched, moved, impression, monte_carlo)
    lights = _lights(under, picture, alone=not any(alone))
    pictures = [name for _, name in lights] or picture or []
    own = own_gauges(pin_beside, pin_u95, known, known_u95)
    calibration = _first_of(under_calibration, calibration, scale, len(lights))
    um_per_px = scale_of(calibration, scale, own)
    if own.given and len(pictures) > 1:
        raise CommandLineError("--pin-beside and --known hold for one picture: give them with that picture alone")
    target = figure_target(figure, *pictures, one_thread=not (stitched or all_parts))
    check_hand(hand, starts, lit_picture, one_thread=not (stitched or all_parts))
    if stitched or moved:
        if not stitched or part is not None or thread is not None or all_parts or same_part or turned or impression:
            raise CommandLineError("--stitch takes overlapping pictures and --moved, no other option about parts")
        from cli.stitch import measure_stitched

        locked = {"focus_locked": focus_locked}
        measure_stitched(pictures, calibration, um_per_px, moved, full=full, inches=inches, as_json=as_json, **locked)
        return
    if all_parts:
        if len(pictures) > 1 or part is not None or thread is not None or same_part or impression or own.given:
            raise CommandLineError("--all-parts takes one picture, its scale, and no other option about parts")
        from cli.all_parts import measure_all_parts

        measure_all_parts(
            pictures[0], calibration, um_per_px, inches=inches, as_json=as_json, focus_locked=focus_locked
        )
        return
    turns = None if lights else _turns(pictures, turned, same_part=same_part)
    shrunk = read_shrinkage(shrinkage, shrinkage_u95, cast=impression, goes_with="--impression")
    if monte_carlo is not None and (len(pictures) > 1 or impression):
        raise CommandLineError("--monte-carlo takes one picture, and no --impression")
    from cli.refusals import refusals_reported

    with refusals_reported(as_json=as_json):
        told = {"hand": hand, "starts": starts, "lit_picture": lit_picture, "part": part, "thread": thread}
        told |= {"surface": options.read_surface(surface), "focus_locked": focus_locked}
        found = _found(lights, pictures, under_calibration or calibration, um_per_px, own, turns, told)
        if impression:
            from flankwise.measuring import as_hole

            found = as_hole(found, shrunk)
    measurement, trials = found.measurement, None
    if monte_carlo is not None:
        from vision.result.monte_carlo import run_trials

        trials = run_trials(measurement, monte_carlo)
    write_figure(target, lambda pages: pages.measurement_page(measurement, inches=inches))
    if as_json:
        write_json(measurement.to_dict() | ({} if trials is None else {"monte_carlo": trials.to_dict()}))
        return
    if not (full or budget or trials is not None):
        _show_brief(measurement, inches=inches)
        return
    _show_in_full(measurement, trials, budget=budget, inches=inches)


def _show_in_full(measurement: Measurement, trials: Trials | None, *, budget: bool, inches: bool) -> None:
    from cli.budget import budget_parts, trials_parts
    from cli.findings import heading, measured_table, quality_lines
    from cli.form import agreement_line, form_parts, pictures_table
    from cli.part_lists import sections_table

    sections = sections_table(measurement.part, inches=inches)
    several: list[Block] = [] if sections is None else ["", sections]
    if measurement.pictures:
        several += ["", pictures_table(measurement, inches=inches), "", agreement_line(measurement)]
    show(
        *heading(measurement, inches=inches),
        "",
        measured_table(measurement, inches=inches),
        "",
        *form_parts(measurement, inches=inches),
        *several,
        "",
        *(budget_parts(measurement, inches=inches) if budget else ()),
        *(trials_parts(measurement, trials, inches=inches) if trials is not None else ()),
        *([""] if budget or trials is not None else ()),
        *quality_lines(measurement),
    )


def _show_brief(measurement: Measurement, *, inches: bool) -> None:
    from cli.form import agreement_line

    thread, plane = measurement.thread, measurement.plane
    seen = [name_of(measurement), f"{thread.threads_in_view} threads in view"]
    seen += ["a cast, read as the hole"] if thread.internal else []
    seen += [f"{thread.hand} hand"] if thread.hand != "not determined" else []
    seen += [f"{thread.starts} starts"] if thread.starts != 1 else []
    seen += [f"calibration {plane.id}"] if plane.traceable else []
    agreement = [Item(agreement_line(measurement), 40)] if measurement.agreement is not None else []
    shown = [Item(", ".join(seen)), *sizes(measurement, inches=inches), *agreement]
    show_brief([*shown, *doubts([("", measurement)], inches=inches)], missing([measurement]))


def _found(
    lights: list[tuple[float, str]],
    pictures: list[str],
    calibration: list[str] | str | None,
    um_per_px: float | None,
    own: OwnGauges,
    turns: list[float] | None,
    told: dict[str, Any],
) -> Part:
    """The part under its lights, or in its pictures. Raises RefusalError."""
    from flankwise.measuring import join

    if not lights:
        assert not isinstance(calibration, list)
        each = [measured(picture, calibration, um_per_px, own, **told) for picture in pictures]
        return join(each, turned=turns) if len(each) > 1 else each[0]
    from flankwise.under_lights import measure_under

    files = calibration if isinstance(calibration, list) else [calibration]
    benches = [bench_of(file, um_per_px, focus_locked=told["focus_locked"]) for file in files]
    known = [bench for bench in benches if bench is not None]
    said = {k: v for k, v in told.items() if k not in ("surface", "focus_locked")}
    return measure_under(lights, known if isinstance(calibration, list) else known[0], **said)


def _first_of(each: list[str] | None, calibration: str | None, scale: str | None, lights: int) -> str | None:
    """The first calibration of ``--under-calibration``, else ``calibration``. Raises CommandLineError."""
    if not each:
        return calibration
    if len(each) != lights or calibration is not None or scale is not None:
        raise CommandLineError("--under-calibration goes once with each --under, instead of --calibration and --scale")
    return each[0]


def _lights(under: list[str] | None, pictures: list[str] | None, *, alone: bool) -> list[tuple[float, str]]:
    """Half cones, degrees, and pictures of ``--under``. Raises CommandLineError for less than two, or no picture."""
    if not under:
        if not pictures:
            raise CommandLineError("Missing argument 'PICTURE': name the picture, or give --under CONE PICTURE twice")
        return []
    if pictures or len(under) < 4:
        raise CommandLineError("--under CONE PICTURE goes twice or more, and without other pictures")
    if not alone:
        raise CommandLineError("--under takes lights with their pictures, and no other option about parts or surface")
    return [(parse_angle(cone, "--under"), name) for cone, name in zip(under[::2], under[1::2], strict=True)]


def _turns(pictures: list[str], turned: list[str] | None, *, same_part: bool) -> list[float] | None:
    """The turns in degrees. Raises CommandLineError where pictures and options do not go together."""
    if len(pictures) > 1 and not same_part:
        raise CommandLineError(
            "several pictures: say --same-part if they show one part, --stitch if they overlap along one, else measure "
            "them one by one"
        )
    if not turned:
        return None
    if len(turned) != len(pictures) or len(pictures) == 1:
        raise CommandLineError(
            f"{len(turned)} times --turned for {len(pictures)} picture{'s' if len(pictures) > 1 else ''}: say how far "
            "the part was turned for each of several pictures, 0deg for the first"
        )
    return [parse_angle(text, "--turned") for text in turned]
