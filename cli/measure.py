"""``flankwise measure``: the thread in a picture, every quantity with its U95."""

from __future__ import annotations

from typing import Annotated

import typer

from cli import options
from cli.bench import measured, scale_of
from cli.output import show, write_json

Picture = Annotated[str, typer.Argument(metavar="PICTURE", help="A backlit picture: PNG, JPEG, TIFF or BMP.")]


def measure(
    picture: Picture,
    calibration: options.CalibrationFile = None,
    scale: options.Scale = None,
    part: options.Part = None,
    unit: options.Unit = "mm",
    as_json: options.Json = False,
) -> None:
    """Measure the thread in a picture."""
    inches = options.reads_inches(unit)
    um_per_px = scale_of(calibration, scale)
    from cli.refusals import refusals_reported

    with refusals_reported(as_json=as_json):
        measurement = measured(picture, calibration, um_per_px, part)
    if as_json:
        write_json(measurement.to_dict())
        return
    from cli.findings import heading, measured_table, quality_lines

    show(*heading(measurement), "", measured_table(measurement, inches=inches), "", *quality_lines(measurement))
