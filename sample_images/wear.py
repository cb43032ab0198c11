"""The worn section of a thread: what wear leaves of the radius, exactly, for ``geometry`` to sweep along the helix."""

from __future__ import annotations

from collections.abc import Callable
from math import atan, cos, isinf, sin

import numpy as np
import numpy.typing as npt

from sample_images.condition import Wear
from sample_images.section import Section

Array = npt.NDArray[np.float64]


def worn_radius(section: Section, wear: Wear) -> Callable[[Array, Array, Array], Array]:
    """How wear lowers the radius.

    Args:
        section: of the thread as it was cut.
        wear: what it has lost.

    Returns:
        A function of (s, z, r): axial place in the section, place along the axis with the free end at 0 and the part at
        negative z, and sound radius, mm, any equal shapes; it gives the radius that is left.
    """
    caps: list[Callable[[Array], Array]] = []
    if wear.crest_mm > 0 or wear.crest_edge_mm > 0:
        caps.append(_crest(section, wear))
    if wear.flank_mm > 0:
        sides = {"left": (-1,), "right": (1,), "both": (-1, 1)}[wear.flank]
        caps += [_flank(section, wear, side) for side in sides]

    def worn(s: Array, z: Array, r: Array) -> Array:
        s = s - section.pitch * np.rint(s / section.pitch)
        left = r
        for cap in caps:
            left = np.minimum(left, cap(s))
        if isinf(wear.from_mm) and isinf(wear.to_mm):
            return left
        ramp = section.pitch / 2
        share = np.clip((-z - wear.from_mm) / ramp + 0.5, 0, 1) * np.clip((wear.to_mm + z) / ramp + 0.5, 0, 1)
        return np.asarray(r + share * (left - r))

    return worn


def _crest(section: Section, wear: Wear) -> Callable[[Array], Array]:
    """Height of the worn crest over the ridge: a parabola through its middle and through its corners on the flanks."""
    top = section.crest_radius - wear.crest_mm
    rise = top - wear.crest_edge_mm - section.pitch_radius
    left = -section.pitch / 4 + rise / section.slope_left
    right = section.pitch / 4 - rise / section.slope_right
    middle, half = (left + right) / 2, (right - left) / 2

    def limit(s: Array) -> Array:
        place = (s - middle) / half
        return np.where(np.abs(place) < 1, top - wear.crest_edge_mm * place**2, np.inf)

    return limit


def _flank(section: Section, wear: Wear, side: int) -> Callable[[Array], Array]:
    """Radius of the worn flank on the ``side`` (+1 free end, -1 body) of the ridge, beyond it that of no limit."""
    slope = section.slope_right if side > 0 else section.slope_left
    half_angle = atan(1 / slope)
    depth = section.crest_radius - section.root_radius
    start = section.root_radius + wear.flank_down_to * depth
    loss = wear.flank_mm / cos(half_angle)  # along the axis
    # a step needs some height, or the ridge would overhang
    tread = depth * (1 - wear.flank_down_to)
    if wear.flank_form == "step":
        tread = min(max(0.08 * depth, 1.5 * wear.flank_mm / sin(half_angle)), tread)
    heights = np.array([section.root_radius - depth, start, start + tread, section.crest_radius + depth])
    growth = (heights[3] - heights[2]) / tread if wear.flank_form == "wedge" else 0.0
    lost = loss * np.array([0.0, 0.0, 1.0, 1.0 + growth])
    places = section.pitch / 4 - (heights - section.pitch_radius) / slope - lost

    def limit(s: Array) -> Array:
        height = np.interp(side * s, places[::-1], heights[::-1])
        return np.where(height > start, height, np.inf)

    return limit
