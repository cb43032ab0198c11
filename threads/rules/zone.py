"""The limits of one thread as its standard prints them: in the standard's own unit, rounded as the standard rounds."""

from __future__ import annotations

from dataclasses import dataclass

Edge = tuple[float | None, float | None]
"""Least and greatest limit; ``None`` where the standard sets none."""


@dataclass(frozen=True)
class Zone:
    """Limits of size in the unit of the standard.

    Attributes:
        unit: ``"in"`` or ``"mm"``; every length below is in it.
        basic_major, basic_pitch_diameter, basic_minor: basic sizes.
        allowance: distance of the greatest external size below basic (or of the least internal size above basic), >= 0.
        major, pitch_diameter, minor: limits of size.
        source: where the rule and the numbers come from; begins with ``from memory, unverified`` if any part is that.
    """

    unit: str
    basic_major: float
    basic_pitch_diameter: float
    basic_minor: float
    allowance: float
    major: Edge
    pitch_diameter: Edge
    minor: Edge
    source: str
