"""``flankwise calibrate``: scale and edge offset of the bench, from pictures of gauge pins."""

from __future__ import annotations

import json
import os
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer
from typer.core import TyperCommand

from cli import options
from cli.errors import CommandLineError
from cli.lengths import parse_angle, parse_length
from cli.output import show, write_json

if TYPE_CHECKING:
    from rich.table import Table

    from calib.calibration import Calibration

PIN = "--pin"


class PairedPins(TyperCommand):
    """A command whose ``--pin`` takes two values and may be given several times: ``--pin FILE DIAMETER``.

    typer has options of two values and options that repeat, not both in one. So ``--pin A B`` is read as
    ``--pin A --pin B``.
    """

    def parse_args(self, ctx: Any, args: list[str]) -> list[str]:
        """Split the pairs, then parse as any command does. Raises CommandLineError for a pin without its diameter."""
        return super().parse_args(ctx, split_pairs(args))


def split_pairs(arguments: Sequence[str]) -> list[str]:
    """``--pin A B`` (or ``--pin=A B``) as ``--pin=A --pin=B``; everything else as it is.

    Raises CommandLineError where one of the two values is missing.
    """
    split: list[str] = []
    left = list(arguments)
    while left:
        argument = left.pop(0)
        if argument == PIN:
            values = [left.pop(0) for _ in range(2) if left and not left[0].startswith("--")]
        elif argument.startswith(f"{PIN}="):
            values = [argument.removeprefix(f"{PIN}="), *(left.pop(0) for _ in range(1) if left)]
        else:
            split.append(argument)
            continue
        if len(values) < 2 or _is_option(values[1]):
            raise CommandLineError("--pin takes two values, the picture and the pin's diameter: --pin pin.png 2.500mm")
        split += [f"{PIN}={value}" for value in values]
    return split


def _is_option(word: str) -> bool:
    """Whether ``word`` begins another option; a diameter below zero does not, and is refused with its own message."""
    return len(word) > 1 and word[0] == "-" and not (word[1].isdigit() or word[1] == ".")


def calibrate(
    pin: Annotated[
        list[str],
        typer.Option(
            PIN, metavar="FILE DIAMETER", help="The picture of a gauge pin and its diameter, such as 2.500mm."
        ),
    ],
    output: Annotated[str, typer.Option("--output", "-o", metavar="CAL.json", help="The calibration file to write.")],
    pin_u95: Annotated[
        str, typer.Option("--pin-u95", metavar="LENGTH", help="U95 of the pins' diameters, from their certificate.")
    ] = "1um",
    light_cone: Annotated[
        str | None,
        typer.Option(
            "--light-cone", metavar="ANGLE", help="Half angle under which the part sees the light pad, as 2deg."
        ),
    ] = None,
    force: Annotated[bool, typer.Option("--force", help="Replace a calibration file of that name.")] = False,
    unit: options.Unit = "mm",
    as_json: options.Json = False,
) -> None:
    """Find scale and edge offset from pictures of gauge pins."""
    inches = options.reads_inches(unit)
    diameters = [
        parse_length(diameter, f"the diameter of {name}") for name, diameter in zip(pin[::2], pin[1::2], strict=True)
    ]
    pin_u95_mm = parse_length(pin_u95, "--pin-u95")
    light_cone_deg = None if light_cone is None else parse_angle(light_cone, "--light-cone")
    target = _writable(Path(output), force=force)
    from cli.refusals import refusals_reported

    with refusals_reported(as_json=as_json):
        from calib.file import calibration_document, save_calibration
        from calib.pins import calibrate_pins
        from vision.picture import read_picture

        pins = [(read_picture(name), diameter) for name, diameter in zip(pin[::2], diameters, strict=True)]
        found = calibrate_pins(pins, pin_u95_mm=pin_u95_mm, light_cone_deg=light_cone_deg)
        save_calibration(found, target)
    if as_json:
        write_json(calibration_document(found))
    else:
        _show(found, target, inches=inches)


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


def _show(found: Calibration, target: Path, *, inches: bool) -> None:
    from threads.formatting import format_quantity
    from threads.quantity import Quantity

    scale = Quantity(found.um_per_px, float(found.covariance[0, 0]) ** 0.5, "um")
    offset = Quantity(found.edge_offset_px, float(found.covariance[1, 1]) ** 0.5, "px")
    cone = "not given" if found.light_cone_deg is None else f"{found.light_cone_deg:g}°"
    show(
        f"scale        {format_quantity(scale)} a pixel",
        f"edge offset  {format_quantity(offset)} (an edge found lies that far outside the dark part)",
        f"lens         {_lens(found)}",
        f"light cone   {cone}",
        f"valid for    pictures of {found.picture_width_px} x {found.picture_height_px} px",
        "",
        _gauges(found, inches=inches),
        "",
        *(f"warning: {warning.message}" for warning in found.warnings),
        f"written to {target} (calibration {found.id})",
    )


def _lens(found: Calibration) -> str:
    if found.lens["model"] == "none":
        return "no distortion taken out"
    corner = found.lens["k1"] * found.lens["radius_px"]
    return f"{found.lens['model']} distortion taken out: {corner:+.1f} px in the corners of the picture"


def _gauges(found: Calibration, *, inches: bool) -> Table:
    from cli.tables import plain_table
    from threads.formatting import format_quantity
    from threads.quantity import COVERAGE_FACTOR, Quantity

    table = plain_table(
        "gauge", "picture", "nominal", "in the picture", "residual", right=("in the picture", "residual")
    )
    for gauge in found.gauges:
        nominal = Quantity(gauge.nominal_mm, gauge.u95_mm / COVERAGE_FACTOR, "mm")
        table.add_row(
            gauge.what,
            gauge.picture,
            format_quantity(nominal, inches=inches),
            f"{gauge.diameter_px:.3f} px",
            f"{gauge.residual_um:+.2f} µm",
        )
    return table
