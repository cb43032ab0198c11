"""Options that take two values and may be given several times: ``--pin FILE DIAMETER --pin FILE DIAMETER``."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from typer.core import TyperCommand

from cli.errors import CommandLineError

PAIRED = {
    "--pin": "--pin takes two values, the picture and the pin's diameter: --pin pin.png 2.500mm",
    "--stage-micrometer": "--stage-micrometer takes two values, the picture and the distance of neighbouring "
    "divisions: --stage-micrometer scale.png 0.01mm",
    "--grid": "--grid takes two values, the picture and the side of a square or distance of dots: "
    "--grid grid.png 0.25mm",
    "--under": "--under takes two values, the half cone of a light and the picture taken in it: --under 2deg part.png",
    "--verify": "--verify takes two values, the picture of a pin and its diameter: --verify pin.png 2.500mm",
}
"""Option, and what is said where one of its values is missing."""


class PairedOptions(TyperCommand):
    """A command some of whose options take two values and may be given several times.

    typer has options of two values and options that repeat, not both in one. So ``--pin A B`` is read as
    ``--pin A --pin B``.
    """

    def parse_args(self, ctx: Any, args: list[str]) -> list[str]:
        """Split the pairs, then parse as any command does. Raises CommandLineError where a value is missing."""
        return super().parse_args(ctx, split_pairs(args))


def split_pairs(arguments: Sequence[str]) -> list[str]:
    """``--pin A B`` (or ``--pin=A B``) as ``--pin=A --pin=B``; everything else as it is.

    Raises CommandLineError where one of the two values is missing.
    """
    split: list[str] = []
    left = list(arguments)
    while left:
        argument = left.pop(0)
        option, equals, value = argument.partition("=")
        if option not in PAIRED:
            split.append(argument)
            continue
        if equals:
            values = [value, *(left.pop(0) for _ in range(1) if left)]
        else:
            values = [left.pop(0) for _ in range(2) if left and not left[0].startswith("--")]
        if len(values) < 2 or _is_option(values[1]):
            raise CommandLineError(PAIRED[option])
        split += [f"{option}={value}" for value in values]
    return split


def _is_option(word: str) -> bool:
    """Whether ``word`` begins another option; a length below zero does not, and is refused with its own message."""
    return len(word) > 1 and word[0] == "-" and not (word[1].isdigit() or word[1] == ".")
