"""How far a perfect screw can move in a perfect hole of the same form: rigid contact in a plane through both axes.

Symbols: c radial clearance of the flanks, half the difference of the pitch diameters; a half angle; L length of
engagement; z along the axis of the hole from the middle of the engagement, r the distance from it. In that plane the
screw has two rows of ridges, between two rows of the hole's. It is moved by e across the axis, by x along it, and
tilted by t about the middle.

*Axis in the middle.* Each flank has a gap c tan a along the axis, so the backlash is 2 c tan a from stop to stop.

*Across the axis.* The flanks of one row meet together after e = c; crests and roots may do so before.

*Tilted.* Turn the section by half a turn about the middle: the upper row comes to lie on the lower one, each flank on
one that leans as much, and so do those of the hole. So with (e, x) also (-e, -x) is possible at the same tilt, and as
what is possible is bounded by straight lines (a corner against a flank), so is (0, 0) between the two: the greatest
tilt is that of a screw turned about the middle, until a corner of a crest at the end of the engagement meets the flank
opposite. A point (z, r) of the screw goes to (z cos t - r sin t, z sin t + r cos t); the flank is the line on which
z - r tan a is constant, c tan a away from it at first. With q = z - r tan a and s = r + z tan a

    q cos t - s sin t = q - c tan a,

which has a closed solution. To first order t = c / (L/2 + r_o cot a), r_o being the outermost radius at which flanks
bear; with r_o = E/2 it is 2 c / (L + E cot a). Crests meet roots in the same manner, without flanks.

*The free end.* To first order the room for e at tilt t is c - t L/2 (both flanks of one row at the mouth of the hole;
the row opposite stays clear), so that a point at H outside the mouth moves by c + t H to each side at most.

The flanks are taken to bear up to both ends of the engagement. A thread of whole ridges has its last corners up to one
pitch farther in and tilts by so much more, depending on how it is turned. Derived here; ``tests/threads/test_contact``
compares it with sampled profiles, moved and turned until they overlap.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]


@dataclass(frozen=True)
class MatedThreads:
    """A screw in a hole, n times drawn; diameters are (n,), mm, and those of perfect threads.

    Attributes:
        screw_major, screw_pitch_diameter, screw_minor: of the screw. ``screw_minor`` None: its root is always clear.
        hole_major, hole_pitch_diameter, hole_minor: of the hole. None: that place is always clear.
        half_angle_deg: of both.
        engagement: length over which they engage, mm.
        rounding: radial height of the crest's rounding, where straight flanks have ended, mm.
    """

    screw_major: Array
    screw_pitch_diameter: Array
    screw_minor: Array | None
    hole_major: Array | None
    hole_pitch_diameter: Array
    hole_minor: Array | None
    half_angle_deg: float
    engagement: float
    rounding: float = 0.0


def flank_clearance(fit: MatedThreads) -> Array:
    """(n,) how far the screw's axis can move off the hole's before flanks touch, mm; negative: they overlap."""
    return (fit.hole_pitch_diameter - fit.screw_pitch_diameter) / 2


def crest_clearance(fit: MatedThreads) -> Array:
    """(n,) the same of the screw's crests in the hole's roots, mm; infinite where the root is not known."""
    if fit.hole_major is None:
        return np.full_like(fit.screw_major, math.inf)
    return (fit.hole_major - fit.screw_major) / 2


def root_clearance(fit: MatedThreads) -> Array:
    """(n,) the same of the hole's crests in the screw's roots, mm; infinite where one of them is not known."""
    if fit.hole_minor is None or fit.screw_minor is None:
        return np.full_like(fit.screw_major, math.inf)
    return (fit.hole_minor - fit.screw_minor) / 2


def radial_clearance(fit: MatedThreads) -> Array:
    """(n,) how far the screw's axis can move off the hole's, to one side, mm; negative: it does not enter."""
    return np.minimum(flank_clearance(fit), np.minimum(crest_clearance(fit), root_clearance(fit)))


def axial_backlash(fit: MatedThreads) -> Array:
    """(n,) way along the axis from stop to stop, the screw not turning, mm; 0 where it does not enter.

    >>> one = np.ones(1)
    >>> fit = MatedThreads(2.8 * one, 2.4 * one, None, None, 2.42 * one, None, 30.0, 3.0)
    >>> float(axial_backlash(fit)[0].round(6))  # 2 * 0.01 mm * tan 30 deg
    0.011547
    """
    enters = radial_clearance(fit) >= 0
    return np.where(enters, 2 * math.tan(math.radians(fit.half_angle_deg)) * flank_clearance(fit), 0.0)


def tilt(fit: MatedThreads) -> Array:
    """(n,) greatest angle between the axes, to one side, radians; 0 where the screw does not enter."""
    z = fit.engagement / 2
    angle = _until_flanks_meet(fit, z)
    if fit.hole_major is not None:
        # the corner of a crest at the end of the engagement rises to the hole's root: z sin t + r cos t = R
        r, root = fit.screw_major / 2, fit.hole_major / 2
        reach = np.hypot(z, r)
        angle = np.minimum(angle, np.where(root < reach, np.arcsin(_ratio(root, reach)) - np.arctan2(r, z), np.inf))
    if fit.hole_minor is not None and fit.screw_minor is not None:
        # seen from the screw the corner of the hole's crest sinks to the screw's root: r cos t - z sin t = R
        r, root = fit.hole_minor / 2, fit.screw_minor / 2
        angle = np.minimum(angle, np.arccos(_ratio(root, np.hypot(z, r))) - np.arctan2(z, r))
    return np.where(radial_clearance(fit) >= 0, np.maximum(angle, 0.0), 0.0)


def end_movement(fit: MatedThreads, overhang: float) -> Array:
    """(n,) how far a point of the screw's axis ``overhang`` mm outside the mouth moves to one side, mm."""
    return np.maximum(radial_clearance(fit), 0.0) + overhang * np.tan(tilt(fit))


def _until_flanks_meet(fit: MatedThreads, z: float) -> Array:
    tan = math.tan(math.radians(fit.half_angle_deg))
    r = np.maximum(fit.screw_major / 2 - fit.rounding, fit.screw_pitch_diameter / 2)
    q, s = z - r * tan, r + z * tan
    reach = np.hypot(q, s)
    return np.arccos(_ratio(q - flank_clearance(fit) * tan, reach)) - np.arctan2(s, q)


def _ratio(part: Array, whole: Array) -> Array:
    """``part`` / ``whole`` within the range of a sine; beyond it the parts never meet, or overlap from the start."""
    return np.clip(part / whole, -1.0, 1.0)
