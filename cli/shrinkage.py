"""How much a cast shrank: ``--shrinkage`` and ``--shrinkage-u95``."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from cli.errors import CommandLineError
from cli.lengths import parse_percent

if TYPE_CHECKING:
    from threads.quantity import Quantity

Shrinkage = Annotated[
    str | None, typer.Option("--shrinkage", metavar="PERCENT", help="By how much a cast shrank, such as 0.2%.")
]
ShrinkageU95 = Annotated[
    str | None, typer.Option("--shrinkage-u95", metavar="PERCENT", help="U95 of the shrinkage; half of it if not said.")
]


def read_shrinkage(shrinkage: str | None, u95: str | None, *, cast: bool, goes_with: str) -> Quantity | None:
    """The shrinkage stated, None if none was. ``goes_with`` is the option that says that a picture shows a cast.

    Raises CommandLineError where it is not a share below 10 %, or nothing was ``cast``.
    """
    if shrinkage is None and u95 is None:
        return None
    if not cast:
        raise CommandLineError(f"--shrinkage is that of a cast: it goes with {goes_with}")
    if shrinkage is None:
        raise CommandLineError("--shrinkage-u95 goes with --shrinkage")
    percent = parse_percent(shrinkage, "--shrinkage")
    u95_percent = None if u95 is None else parse_percent(u95, "--shrinkage-u95")
    if percent >= 10 or (u95_percent or 0) >= 10:
        raise CommandLineError(f"--shrinkage {shrinkage!r}: no cast shrinks by a tenth; 0.2% is common")
    from vision.impression import stated_shrinkage

    return stated_shrinkage(percent, u95_percent)
