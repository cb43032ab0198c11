"""A gauge in the part's own picture: ``--pin-beside`` and ``--known``."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated, Any

import typer

from cli.errors import CommandLineError
from cli.lengths import parse_length
from flankwise.bench import KNOWN

PinBeside = Annotated[
    str | None,
    typer.Option("--pin-beside", metavar="DIAMETER", help="A gauge pin of this diameter lies beside the part."),
]
PinU95 = Annotated[str, typer.Option("--pin-u95", metavar="LENGTH", help="U95 of the diameter of the pin beside it.")]
Known = Annotated[
    list[str] | None,
    typer.Option(
        "--known",
        metavar="WHAT=LENGTH",
        help="A size of the part measured by hand: major=2.83mm or shank=2.50mm; may be given several times.",
    ),
]
KnownU95 = Annotated[str, typer.Option("--known-u95", metavar="LENGTH", help="U95 of the sizes measured by hand.")]


@dataclass(frozen=True)
class OwnGauges:
    """What was said of sizes in the picture (mm); ``known`` is what and how large."""

    pin_mm: float | None
    pin_u95_mm: float
    known: tuple[tuple[str, float], ...]
    known_u95_mm: float

    @property
    def given(self) -> bool:
        return self.pin_mm is not None or bool(self.known)

    @property
    def options(self) -> dict[str, Any]:
        """As ``flankwise.measure`` takes it."""
        return {
            "pin_beside": self.pin_mm,
            "pin_u95": self.pin_u95_mm,
            "known": dict(self.known),
            "known_u95": self.known_u95_mm,
        }


def own_gauges(pin_beside: str | None, pin_u95: str, known: Sequence[str] | None, known_u95: str) -> OwnGauges:
    """Read the options. Raises CommandLineError for what is no size, twice the same, or of no known kind."""
    sizes: list[tuple[str, float]] = []
    for text in known or ():
        what, equals, length = text.partition("=")
        what = what.strip().lower()
        if not equals or what not in KNOWN:
            raise CommandLineError(f"--known {text!r}: write major=2.83mm or shank=2.50mm")
        if what in dict(sizes):
            raise CommandLineError(f"--known {what} was given twice")
        sizes.append((what, parse_length(length, f"--known {what}")))
    return OwnGauges(
        pin_mm=None if pin_beside is None else parse_length(pin_beside, "--pin-beside"),
        pin_u95_mm=parse_length(pin_u95, "--pin-u95"),
        known=tuple(sizes),
        known_u95_mm=parse_length(known_u95, "--known-u95"),
    )
