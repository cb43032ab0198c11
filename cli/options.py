"""The options that several commands share, and how their values are read."""

from __future__ import annotations

from typing import Annotated

import typer

from cli.errors import CommandLineError

Json = Annotated[bool, typer.Option("--json", help="Print one JSON object (mm and degrees) instead of a table.")]
Unit = Annotated[str, typer.Option("--unit", metavar="mm|in", help="The unit of the lengths in the table.")]
CalibrationFile = Annotated[
    str | None,
    typer.Option("--calibration", metavar="CAL.json", help="The bench calibration, made by 'flankwise calibrate'."),
]
FocusLocked = Annotated[
    bool, typer.Option("--focus-locked", help="The focus was not touched since the gauges, nor by the camera itself.")
]
Scale = Annotated[
    str | None,
    typer.Option("--scale", metavar="LENGTH", help="The length of a pixel given by hand, such as 4.00um."),
]
Part = Annotated[
    int | None,
    typer.Option("--part", min=1, metavar="N", help="Which part to measure where several are in view, from the left."),
]
Surface = Annotated[
    str | None,
    typer.Option(
        "--surface",
        metavar="bright|dull|black",
        help="Of the part: how much of the backlight its edges mirror. Not said: U95 allows for all of them.",
    ),
]


def read_surface(surface: str | None) -> str | None:
    """``--surface``. Raises CommandLineError for what is none."""
    if surface not in {None, "bright", "dull", "black"}:
        raise CommandLineError(f"--surface {surface!r} is not one of bright, dull, black")
    return surface


def reads_inches(unit: str) -> bool:
    """Whether ``--unit`` asks for inches. Raises CommandLineError for anything but mm and in."""
    if unit not in {"mm", "in"}:
        raise CommandLineError(f"--unit {unit!r} is not one of mm, in")
    return unit == "in"
