"""A helicoid's shadow by brute force: every polar angle tried, no formula of the shadow (for tests)."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from vision.model.shadow import INDEX

Array = npt.NDArray[np.float64]

_COARSE = 2001
_FINE = 81


@dataclass(frozen=True)
class Profile:
    """An axial profile: flat or arc at crest and root, straight flanks, s = 0 in the middle of a ridge, mm and radians.

    The arcs are built from the condition that a circle of that radius touches the level line and the flank line.
    """

    pitch: float
    crest: float
    pitch_radius: float
    root: float
    right: float
    left: float
    crest_corner: float
    root_corner: float

    def radius(self, s: Array) -> Array:
        """Radius at axial places of any shape."""
        s = s - self.pitch * np.round(s / self.pitch)
        return np.where(s > 0, self._half(np.abs(s), self.right), self._half(np.abs(s), self.left))

    def _half(self, d: Array, angle: float) -> Array:
        slope = 1 / np.tan(angle)
        r = np.clip(self.pitch_radius - (d - self.pitch / 4) * slope, self.root, self.crest)
        for corner, level, sign in ((self.crest_corner, self.crest, 1), (self.root_corner, self.root, -1)):
            if corner <= 0:
                continue
            # where flank and level line meet, and how far from there the circle touches both
            meet = self.pitch / 4 - (level - self.pitch_radius) / slope
            tangent = corner * np.tan((np.pi / 2 - angle) / 2)
            centre = meet - sign * tangent
            first, last = sorted((centre, meet + sign * tangent * np.sin(angle)))
            arc = level - sign * (corner - np.sqrt(np.maximum(corner**2 - (d - centre) ** 2, 0.0)))
            r = np.where((d > first) & (d < last), arc, r)
        return r


def profile_of(x: Array) -> Profile:
    """The profile of an array of shadow parameters."""
    names = ("pitch", "crest", "pitch_radius", "root", "flank_right", "flank_left", "crest_corner", "root_corner")
    return Profile(*(float(x[INDEX[n]]) for n in names))


def brute_outline(x: Array, u: Array, side: Array, centre: tuple[float, float]) -> Array:
    """Largest height above the axis at each ``u`` (n,), as ``vision.model.shadow`` defines it, mm.

    For every polar angle of a grid the place on the profile that lands on ``u`` is found by iteration; then the grid is
    narrowed down round the highest point. Error below 0.002 um.
    """
    profile = profile_of(x)
    k = profile.pitch / (2 * np.pi)
    tilt = side * (x[INDEX["tilt"]] - x[INDEX["nearness"]] * (u - centre[0]))
    near = side * x[INDEX["nearness"]]
    across = side * (x[INDEX["offset"]] - centre[1])
    z = u - x[INDEX["phase"]] - np.where(side > 0, 0.0, profile.pitch / 2)
    grown = x[INDEX["taper"]] * u

    def height(phi: Array) -> Array:
        r = np.full(phi.shape, profile.pitch_radius)
        for _ in range(8):
            s = z[:, None] + r * np.sin(phi) * tilt[:, None] - k * phi
            r = profile.radius(s) + grown[:, None]
        return r * np.cos(phi) + near[:, None] * r * np.sin(phi) * (r * np.cos(phi) + across[:, None])

    return _highest(height, u.size, _reach(profile, float(np.abs(tilt).max()), float(np.abs(near).max())))


def brute_projection(
    profile: Profile, u: Array, side: int, *, phase: float, tilt: float, distance: float, across: float, hand: int = 1
) -> Array:
    """Height of the upper (side +1) or lower (-1) outline above the axis at picture places ``u`` (n,), mm.

    Every surface point is projected exactly, in space: nothing here is of first order.

    The axis passes ``across`` from the optical axis and is tilted by ``tilt`` radians, its +u end toward a pinhole at
    ``distance`` mm (infinite: telecentric); z = 0 lies at the optical axis. Heights and places are scaled to the plane
    of the axis.
    """
    k = hand * profile.pitch / (2 * np.pi)
    sin_t, cos_t = np.sin(tilt), np.cos(tilt)

    def height(turn: Array) -> Array:
        phi = turn if side > 0 else turn + np.pi
        z = np.broadcast_to(u[:, None] / cos_t, phi.shape)
        for _ in range(15):
            r = profile.radius(z - phase - k * phi)
            depth = z * sin_t + r * np.sin(phi) * cos_t
            nearer = 1 / (1 - depth / distance)
            z = (u[:, None] / nearer + r * np.sin(phi) * sin_t) / cos_t
        return side * ((r * np.cos(phi) + across) * nearer - across)

    oblique = abs(tilt) + float(np.abs(u).max()) / distance
    return _highest(height, u.size, _reach(profile, oblique, 1 / distance))


def _reach(profile: Profile, oblique: float, near: float) -> float:
    """Polar angle beyond which no point can be on the outline, with a third to spare, radians."""
    steepest = 1 / np.tan(min(profile.right, profile.left))
    lean = steepest * (profile.pitch / (2 * np.pi) / profile.root + oblique)
    return float(1.3 * np.arctan(lean) + 3 * near * profile.crest + 0.05)


def _highest(height: Callable[[Array], Array], n: int, reach: float) -> Array:
    """Largest value of ``height`` over polar angles, one for each of ``n`` places."""
    grid = np.linspace(-reach, reach, _COARSE)
    step = grid[1] - grid[0]
    best = grid[np.argmax(height(np.broadcast_to(grid, (n, _COARSE))), axis=1)]
    value = np.zeros(n)
    for _ in range(2):
        fine = best[:, None] + step * np.linspace(-1, 1, _FINE)
        heights = height(fine)
        pick = np.argmax(heights, axis=1)
        best, value = fine[np.arange(n), pick], heights.max(axis=1)
        step *= 2 / (_FINE - 1)
    return value
