"""What a bench can tell apart: the U95 that it gives a clean screw, against the zones of the standards."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from threads.shared.quantity import COVERAGE_FACTOR

if TYPE_CHECKING:
    from flankwise.bench import Bench
    from threads.standards.limits import Limits
    from vision.fit.budget import BudgetTerm

_INCH = (
    ("0-80", "NF", "UNF"), ("2-56", "NC", "UNC"), ("4-40", "NC", "UNC"), ("6-32", "NC", "UNC"), ("10-32", "NF", "UNF"),
    ("1/4-20", "NC", "UNC"),
)  # fmt: skip
_METRIC = ("M1.6", "M2", "M2.5", "M3", "M4", "M5", "M6")
"""Sizes that are looked at, from small to large: common ones of a repairer's drawer (common practice, no source)."""
_OF_HEIGHT = 0.8  # of the picture's height that the screw may take: the pad is to show on both sides
_LEAST_THREADS = 6.0  # in view: what the guide asks for


@dataclass(frozen=True)
class Pair:
    """Whether a screw of class ``one`` can be told from class ``other`` by its pitch diameter.

    Attributes:
        one, other: designations.
        possible: part of the zone of ``one`` that lies outside that of ``other``: what perfect measuring would tell.
        told: part of it that lies outside by more than U95: what this bench tells.
    """

    one: str
    other: str
    possible: float
    told: float


@dataclass(frozen=True)
class Telling:
    """What a bench tells apart, by a screw that suits its view.

    Attributes:
        size: of that screw, without its class.
        u95: that the bench gives the pitch diameter of a clean one, mm.
        causes: of it, the largest first, each with its own U95, mm.
        pairs: what is told apart.
    """

    size: str
    u95: float
    causes: tuple[tuple[str, float], ...]
    pairs: tuple[Pair, ...]


def telling_apart(bench: Bench) -> Telling:
    """What the calibrated ``bench`` tells apart.

    Raises TypeError for a scale by hand, RefusalError where no screw suits its view.
    """
    from vision.result.expected import expected_budget

    calibration = bench.calibration
    size = (calibration.picture_width_px, calibration.picture_height_px)
    view = [length * calibration.um_per_px / 1000 for length in size]
    name, american, unified = max((one for one in _INCH if _fits(_limits(f"{one[0]} {one[2]}-2A"), view)),
                                  key=lambda one: _limits(f"{one[0]} {one[2]}-2A").basic_major,
                                  default=_INCH[0])  # fmt: skip
    screw = _limits(f"{name} {unified}-2A")
    terms = expected_budget(
        calibration, size, pitch=screw.pitch, major=screw.basic_major, pitch_diameter=screw.basic_pitch_diameter,
        minor=screw.basic_minor,
    )  # fmt: skip
    u95 = COVERAGE_FACTOR * math.sqrt(sum(term.u**2 for term in terms))
    metric = min(_METRIC, key=lambda one: abs(_limits(f"{one}-6g").basic_major - screw.basic_major))
    pairs = (
        (f"{name} {american}-2", f"{name} {unified}-2A"), (f"{metric}-6h", f"{metric}-6g"),
        (f"{name} {unified}-2A", f"{name} {unified}-3A"), (f"{name} {american}-3", f"{name} {american}-2"),
    )  # fmt: skip
    return Telling(name, u95, _causes(terms), tuple(_pair(*each, u95) for each in pairs))


def _fits(screw: Limits, view: list[float]) -> bool:
    return screw.basic_major <= _OF_HEIGHT * view[1] and _LEAST_THREADS * screw.pitch <= view[0]


def _causes(terms: tuple[BudgetTerm, ...]) -> tuple[tuple[str, float], ...]:
    each = [(term.source, COVERAGE_FACTOR * term.u) for term in terms]
    return tuple(sorted(each, key=lambda cause: -cause[1]))


def _limits(designation: str) -> Limits:
    from threads.standards.designation import parse
    from threads.standards.limits import limits_of

    return limits_of(parse(designation))


def _pair(one: str, other: str, u95: float) -> Pair:
    mine, theirs = _zone(one), _zone(other)
    return Pair(one, other, outside(mine, theirs, 0.0), outside(mine, theirs, u95))


def _zone(designation: str) -> tuple[float, float]:
    band = _limits(designation).pitch_diameter
    assert band.low is not None
    assert band.high is not None
    return band.low, band.high


def outside(mine: tuple[float, float], theirs: tuple[float, float], by: float) -> float:
    """The part of the zone ``mine`` (low, high) that lies outside ``theirs`` by more than ``by``, 0 to 1."""
    below = max(min(theirs[0] - by, mine[1]) - mine[0], 0.0)
    above = max(mine[1] - max(theirs[1] + by, mine[0]), 0.0)
    return (below + above) / (mine[1] - mine[0])
