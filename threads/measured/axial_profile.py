"""The axial section of one ridge: that of a measured thread, and the least and most material that limits allow."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from threads.measured.thread import MeasuredThread
from threads.rules.forms import FORMS
from threads.standards.limits import Limits

Array = npt.NDArray[np.float64]


@dataclass(frozen=True)
class AxialProfile:
    """One ridge of the axial section, its middle at s = 0; lengths mm, angles degrees.

    Attributes:
        pitch: mm.
        crest, pitch_radius, root: radii; on ``pitch_radius`` ridge and groove are equally wide.
        flank_left, flank_right: half angles of the flanks at s < 0 and s > 0.
        crest_corner, root_corner: radii of the corners; 0 is sharp.
    """

    pitch: float
    crest: float
    pitch_radius: float
    root: float
    flank_left: float
    flank_right: float
    crest_corner: float = 0.0
    root_corner: float = 0.0

    def radius(self, s: npt.ArrayLike) -> Array:
        """Radius at ``s`` (any shape), repeated over every pitch, mm."""
        s = np.asarray(s, dtype=np.float64)
        s = s - self.pitch * np.rint(s / self.pitch)
        a = np.radians(np.where(s < 0, self.flank_left, self.flank_right))
        sin_a, cos_a, quarter, d = np.sin(a), np.cos(a), self.pitch / 4, np.abs(s)
        r = np.clip(self.pitch_radius - (d - quarter) * cos_a / sin_a, self.root, self.crest)
        centre = self.crest - self.crest_corner
        begin = quarter - (self.crest_corner + sin_a * (centre - self.pitch_radius)) / cos_a
        on = np.clip(d - begin, 0.0, self.crest_corner * cos_a)
        rounded = centre + np.sqrt(np.maximum(self.crest_corner**2 - on**2, 0.0))
        r = np.where((d > begin) & (d < begin + self.crest_corner * cos_a), rounded, r)
        centre = self.root + self.root_corner
        end = quarter + (self.root_corner - sin_a * (centre - self.pitch_radius)) / cos_a
        on = np.clip(end - d, 0.0, self.root_corner * cos_a)
        rounded = centre - np.sqrt(np.maximum(self.root_corner**2 - on**2, 0.0))
        return np.asarray(np.where((d < end) & (d > end - self.root_corner * cos_a), rounded, r))

    def normal(self, s: npt.ArrayLike) -> tuple[Array, Array]:
        """Outward normal of the section at ``s``: its parts along s and r."""
        s = np.asarray(s, dtype=np.float64)
        step = 1e-5 * self.pitch
        slope = (self.radius(s + step) - self.radius(s - step)) / (2 * step)
        length = np.sqrt(1 + slope**2)
        return -slope / length, 1 / length

    def mirrored(self) -> AxialProfile:
        """The same ridge seen from the other end: left is right."""
        return replace(self, flank_left=self.flank_right, flank_right=self.flank_left)

    def curve(self, reach: float = 0.5, points: int = 1200) -> tuple[Array, Array]:
        """(s, r), each (points,), from ``-reach`` to ``reach`` pitches."""
        s = np.linspace(-reach, reach, points) * self.pitch
        return s, self.radius(s)


def profile_of(thread: MeasuredThread, *, crest_corner: float = 0.0, root_corner: float = 0.0) -> AxialProfile:
    """The section of a measured screw.

    ``crest_corner`` and ``root_corner``: radii of its corners where it is flat, mm; a rounded crest or root has the
    radius measured.
    """
    crest = crest_corner if thread.crest_radius is None else thread.crest_radius.value
    root = root_corner if thread.root_radius is None else thread.root_radius.value
    return AxialProfile(
        pitch=thread.pitch.value,
        crest=thread.major_diameter.value / 2,
        pitch_radius=thread.pitch_diameter.value / 2,
        root=thread.minor_diameter.value / 2,
        flank_left=thread.flank_angle_left.value,
        flank_right=thread.flank_angle_right.value,
        crest_corner=max(crest, 0.0),
        root_corner=max(root, 0.0),
    )


@dataclass(frozen=True)
class ZoneSection:
    """The least and the most material that a class allows, as sections of one ridge with nominal pitch and angle.

    A root without a least limit is drawn down to where the flanks meet in the groove.
    """

    designation: str
    least: AxialProfile
    most: AxialProfile


def zone_section(limits: Limits) -> ZoneSection | None:
    """The zone of a screw; None where major or pitch diameter have no limits, or it is a nut."""
    e_low, e_high = limits.pitch_diameter.low, limits.pitch_diameter.high
    d_low, d_high = limits.major.low, limits.major.high
    if limits.internal or e_low is None or e_high is None or d_low is None or d_high is None:
        return None
    half = FORMS[limits.form].flank_angle_deg
    sharp = limits.pitch / 2 / math.tan(math.radians(half))  # from pitch diameter to where the flanks meet, on diameter
    lowest, highest = e_low - sharp, e_high - sharp
    minor_low, minor_high = limits.minor.low, limits.minor.high

    def section(major: float, pitch_diameter: float, minor: float) -> AxialProfile:
        return AxialProfile(limits.pitch, major / 2, pitch_diameter / 2, minor / 2, half, half)

    return ZoneSection(
        designation=limits.designation,
        least=section(d_low, e_low, lowest if minor_low is None else max(minor_low, lowest)),
        most=section(d_high, e_high, highest if minor_high is None else max(minor_high, highest)),
    )
