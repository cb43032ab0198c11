"""How much a cast shrank: ``--shrinkage`` and ``--shrinkage-u95``."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from cli.errors import CommandLineError
from flankwise.reasons import message

if TYPE_CHECKING:
    from threads.shared.quantity import Quantity

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
    from threads.shared.typed import TypedError
    from vision.several.impression import typed_shrinkage

    try:
        return typed_shrinkage(shrinkage, u95, ("--shrinkage", "--shrinkage-u95"))
    except TypedError as error:
        raise CommandLineError(message(error)) from error
