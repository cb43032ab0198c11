"""``flankwise calibrate``: scale, edge offset and lens of the bench, from pictures of gauges; and whether they hold."""

from __future__ import annotations

import json
import os
from pathlib import Path
from typing import Annotated

import typer

from cli import options
from cli.errors import CommandLineError
from cli.lengths import parse_length
from cli.light import read_cone, show_light
from cli.output import write_json
from cli.pairs import PairedOptions

Pairs = list[tuple[str, float]]
COMMAND_CLASS = PairedOptions


def calibrate(
    pin: Annotated[
        list[str] | None,
        typer.Option(
            "--pin", metavar="FILE DIAMETER", help="The picture of a gauge pin and its diameter, such as 2.500mm."
        ),
    ] = None,
    stage_micrometer: Annotated[
        list[str] | None,
        typer.Option(
            "--stage-micrometer",
            metavar="FILE DIVISION",
            help="The picture of a stage micrometer and the distance of its finest divisions, such as 0.01mm.",
        ),
    ] = None,
    grid: Annotated[
        list[str] | None,
        typer.Option(
            "--grid",
            metavar="FILE PITCH",
            help="The picture of a chessboard or grid of dots and the side of a square or distance of dots.",
        ),
    ] = None,
    output: Annotated[
        str | None, typer.Option("--output", "-o", metavar="CAL.json", help="The calibration file to write.")
    ] = None,
    pin_u95: Annotated[
        str, typer.Option("--pin-u95", metavar="LENGTH", help="U95 of the pins' diameters, from their certificate.")
    ] = "1um",
    division_u95: Annotated[
        str,
        typer.Option("--division-u95", metavar="LENGTH", help="U95 of the distance between any two rulings."),
    ] = "1um",
    grid_u95: Annotated[
        str, typer.Option("--grid-u95", metavar="LENGTH", help="U95 of the distance between any two points of a grid.")
    ] = "1um",
    light_cone: Annotated[
        str | None,
        typer.Option(
            "--light-cone", metavar="ANGLE", help="Half angle under which the part sees the light pad, as 2deg."
        ),
    ] = None,
    light_patch: Annotated[
        str | None,
        typer.Option(
            "--light-patch",
            metavar="DIAMETER",
            help="Instead of --light-cone: the bright patch of the pad. Without gauges: what it does to a thread.",
        ),
    ] = None,
    light_distance: Annotated[
        str | None,
        typer.Option("--light-distance", metavar="LENGTH", help="How far behind the part that patch is."),
    ] = None,
    working_distance: Annotated[
        str | None,
        typer.Option(
            "--working-distance",
            metavar="LENGTH",
            help="Distance from lens to gauges; 'telecentric' for a lens that does not see sizes change with height.",
        ),
    ] = None,
    focus_locked: Annotated[
        bool,
        typer.Option("--focus-locked", help="The focus was set before the first gauge and stays as it is."),
    ] = False,
    lens_opening: Annotated[
        float | None,
        typer.Option(
            "--lens-opening",
            metavar="NUMBER",
            help="Numerical aperture at the part; or give --f-number and --magnification.",
        ),
    ] = None,
    f_number: Annotated[
        float | None, typer.Option("--f-number", metavar="N", help="F-number of the lens, with --magnification.")
    ] = None,
    magnification: Annotated[
        float | None,
        typer.Option("--magnification", metavar="NUMBER", help="Size on the sensor over size of the part, as 0.5."),
    ] = None,
    verify: Annotated[
        list[str] | None,
        typer.Option(
            "--verify",
            metavar="FILE DIAMETER",
            help="Say whether the bench still is as --calibration says, by the picture of a pin and its diameter.",
        ),
    ] = None,
    calibration: options.CalibrationFile = None,
    history: Annotated[bool, typer.Option("--history", help="List the calibrations and verifications so far.")] = False,
    force: Annotated[bool, typer.Option("--force", help="Replace a calibration file of that name.")] = False,
    unit: options.Unit = "mm",
    as_json: options.Json = False,
) -> None:
    """Find scale, edge offset and lens from pictures of gauges, or say whether they still hold."""
    inches = options.reads_inches(unit)
    gauges = bool(pin or stage_micrometer or grid)
    asked = [name for name, given in (("gauges", gauges), ("--verify", verify), ("--history", history)) if given]
    if len(asked) > 1:
        raise CommandLineError(f"{' and '.join(asked)} are different jobs: give one of them at a time")
    if calibration is not None and not verify:
        raise CommandLineError("--calibration goes with --verify; to make a calibration name the file with -o CAL.json")
    pin_u95_mm = parse_length(pin_u95, "--pin-u95")
    if history:
        from cli.bench_history import show_history

        show_history(as_json=as_json)
        return
    if verify:
        from cli.bench_history import show_verification

        if calibration is None:
            raise CommandLineError("--verify needs --calibration CAL.json, the calibration that is to be verified")
        if len(verify) > 2:
            raise CommandLineError("--verify takes one pin at a time")
        show_verification(
            *_sizes(verify, "the diameter of")[0], calibration, pin_u95_mm, inches=inches, as_json=as_json
        )
        return
    cone = read_cone(light_cone, light_patch, light_distance)
    if not gauges and output is None and cone is not None:
        show_light(cone, as_json=as_json)
        return
    if not gauges:
        raise CommandLineError(
            "no gauge was given: give --pin FILE DIAMETER, --stage-micrometer FILE DIVISION or --grid FILE PITCH, as "
            "often as you like"
        )
    if output is None:
        raise CommandLineError("where shall the calibration be written? Name the file with -o CAL.json")
    pins = _sizes(pin, "the diameter of")
    rulings = _sizes(stage_micrometer, "the division of")
    grids = _sizes(grid, "the pitch of")
    division_u95_mm = parse_length(division_u95, "--division-u95")
    grid_u95_mm = parse_length(grid_u95, "--grid-u95")
    distance_mm = _distance(working_distance)
    opening = _opening(lens_opening, f_number, magnification)
    target = _writable(Path(output), force=force)
    from cli.refusals import refusals_reported

    with refusals_reported(as_json=as_json):
        from calib.history import note_calibration
        from flankwise.bench import calibrate as calibrated

        bench = calibrated(
            pins,
            rulings,
            grids,
            pin_u95=pin_u95_mm,
            division_u95=division_u95_mm,
            grid_u95=grid_u95_mm,
            light_cone=light_cone,
            light_patch=light_patch,
            light_distance=light_distance,
            working_distance=distance_mm,
            focus_locked=focus_locked,
            lens_opening=opening,
        )
        bench.save(target)
    found = bench.calibration
    note_calibration(found, target.name)
    if as_json:
        write_json(bench.to_dict())
        return
    from cli.bench_words import show_calibration

    show_calibration(found, target, inches=inches)


def _sizes(values: list[str] | None, what: str) -> Pairs:
    """Pictures and sizes (mm) of a paired option. Raises CommandLineError for what is no length."""
    given = values or []
    return [(name, parse_length(size, f"{what} {name}")) for name, size in zip(given[::2], given[1::2], strict=True)]


def _distance(text: str | None) -> float | None:
    """``--working-distance`` in mm, infinite for a telecentric lens. Raises CommandLineError for what is no length."""
    if text is None:
        return None
    if text.strip().lower() == "telecentric":
        return float("inf")
    return parse_length(text, "--working-distance")


def _opening(lens_opening: float | None, f_number: float | None, magnification: float | None) -> float | None:
    """Numerical aperture at the part, as stated one way or the other. Raises CommandLineError for both, or half."""
    if f_number is None and magnification is None:
        return lens_opening
    if lens_opening is not None:
        raise CommandLineError("give --lens-opening, or --f-number and --magnification, not both")
    if f_number is None or magnification is None or not (f_number > 0 and magnification > 0):
        raise CommandLineError(
            "--f-number and --magnification go together, both above 0, as --f-number 8 --magnification 0.5"
        )
    from vision.model.lens import opening_of

    return opening_of(f_number, magnification)


def _writable(target: Path, *, force: bool) -> Path:
    """``target`` if it can be written and nothing is lost. Raises CommandLineError otherwise."""
    folder = target.parent
    if target.is_dir():
        raise CommandLineError(f"-o {target} is a folder: name the file to write")
    if not folder.is_dir():
        raise CommandLineError(f"-o {target}: there is no folder {folder}")
    if not os.access(folder, os.W_OK):
        raise CommandLineError(f"-o {target}: the folder {folder} cannot be written to")
    if target.exists() and not force:
        raise CommandLineError(f"-o {target} exists: choose another name, or replace it with --force")
    if target.exists() and not _is_calibration(target):
        raise CommandLineError(f"-o {target} is not a calibration file; it is left as it is: choose another name")
    return target


def _is_calibration(path: Path) -> bool:
    try:
        content = json.loads(path.read_text("utf-8"))
    except (OSError, ValueError, RecursionError):
        return False
    return isinstance(content, dict) and str(content.get("schema", "")).startswith("flankwise/calibration/")
