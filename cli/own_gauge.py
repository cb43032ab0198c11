"""A gauge in the part's own picture: ``--pin-beside`` and ``--known``."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Annotated

import typer

from cli.errors import CommandLineError
from cli.lengths import parse_length

if TYPE_CHECKING:
    from calib.calibration import Calibration
    from vision.pictures.picture import Picture

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
PIN_U95 = "1um"
KNOWN_U95 = "4um"
"""Of a workshop micrometer on a clean part: a figure of the workshop."""


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


def own_gauges(pin_beside: str | None, pin_u95: str, known: Sequence[str] | None, known_u95: str) -> OwnGauges:
    """Read the options. Raises CommandLineError for what is no size, twice the same, or of no known kind."""
    sizes: list[tuple[str, float]] = []
    for text in known or ():
        what, equals, length = text.partition("=")
        what = what.strip().lower()
        if not equals or what not in {"major", "shank"}:
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


def calibrated_by(
    own: OwnGauges, picture: Picture, base: Calibration | None, part: int | None
) -> tuple[Calibration, int | None]:
    """The calibration that the gauges in the picture make, with ``base`` if there is one, and the part to measure.

    Raises RefusalError as ``calib.own_gauge`` does.
    """
    from calib.own_gauge import known_size, pin_beside

    found = base
    if own.pin_mm is not None:
        found, part = pin_beside(picture, own.pin_mm, own.pin_u95_mm, found, part)
    for what, size in own.known:
        found = known_size(picture, what, size, own.known_u95_mm, found, part)
    assert found is not None
    return found, part
