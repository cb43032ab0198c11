"""Rays against the true surface of the part: the first place a ray meets, and the surface's normal there.

The surface is r = R(z, phi) of ``geometry``; no formula of its shadow and none of its reflections is used. Points and
directions are (n, 3) arrays in the frame of the part, mm: z along the axis toward the free end, X toward +v (phi = 0),
Y away from the camera where the part is not tilted (phi = 90 degrees).
"""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, sin

import numpy as np
import numpy.typing as npt

from sample_images.geometry import Array, Piece, View

Bool = npt.NDArray[np.bool_]

_GOLDEN = (5**0.5 - 1) / 2
_CHUNK = 60_000  # surface points at a time: they stay in the processor's cache
_SIDE = 1e-6  # mm to both sides of a point where the slope of its surface is taken


@dataclass(frozen=True)
class Body:
    """A part made of pieces, free end first, each behind the other."""

    pieces: tuple[Piece, ...]

    @property
    def largest(self) -> float:
        return max(piece.largest for piece in self.pieces)

    @property
    def ends(self) -> tuple[float, float]:
        return self.pieces[-1].start, self.pieces[0].stop

    def radius(self, z: Array, phi: Array) -> Array:
        """Radius at (z, phi), arrays of one shape; beyond the ends that of the end."""
        if len(self.pieces) == 1:
            piece = self.pieces[0]
            return piece.radius(np.clip(z, piece.start, piece.stop), phi)
        out = np.empty(z.shape)
        z = np.clip(z, *self.ends)
        left = np.ones(z.shape, bool)
        for piece in self.pieces:
            here = left & (z >= piece.start)
            if here.any():
                out[here] = piece.radius(z[here], phi[here])
            left &= ~here
        return out

    def outside(self, z: Array, x: Array, y: Array) -> Array:
        """Above 0 outside of the part, below 0 inside: height over the surface, or distance beyond an end."""
        low, high = self.ends
        height = np.hypot(x, y) - self.radius(z, np.arctan2(y, x))
        return np.maximum(height, np.maximum(z - high, low - z))

    def normal(self, at: Array) -> Array:
        """Outward unit normals (n, 3) at points of the surface, from differences of the radius."""
        z, x, y = at.T
        phi, r = np.arctan2(y, x), np.hypot(x, y)
        along = (self.radius(z + _SIDE, phi) - self.radius(z - _SIDE, phi)) / (2 * _SIDE)
        turn = _SIDE / r
        around = (self.radius(z, phi + turn) - self.radius(z, phi - turn)) / (2 * _SIDE)
        c, s = x / r, y / r
        n = np.stack([-along, c + around * s, s - around * c], axis=1)
        return np.asarray(n / np.linalg.norm(n, axis=1, keepdims=True))


def camera_rays(view: View, u: Array, v: Array) -> tuple[Array, Array]:
    """Origins and unit directions (n, 3) of the rays that land on (u, v), n places in the plane of the axis, mm.

    The origins lie where the rays pass the plane of the axis.
    """
    away = np.stack([u / view.distance - view.aside[0], v / view.distance - view.aside[1], np.ones(u.size)], axis=1)
    away /= np.linalg.norm(away, axis=1, keepdims=True)
    origin = np.stack([u, v, np.zeros(u.size)], axis=1)
    return into_part(view, origin, place=True), into_part(view, away, place=False)


def into_part(view: View, seen: Array, *, place: bool) -> Array:
    """Points (``place``) or directions (n, 3) given as (u, v, away from the camera) in the frame of the part."""
    c, s = cos(view.tilt), sin(view.tilt)
    u, v, a = seen.T
    z, x, y = u * c - a * s, v, u * s + a * c
    if place:
        z, x = z + view.z_centre, x - view.across
    return np.stack([z, x, y], axis=1)


def away_from_camera(view: View) -> Array:
    """(3,) the optical axis in the frame of the part, pointing away from the camera."""
    return np.array([-sin(view.tilt), 0.0, cos(view.tilt)])


def first_hits(body: Body, origin: Array, direction: Array, *, samples: int = 64) -> tuple[Array, Bool]:
    """Where rays first meet the part.

    Along each ray ``samples`` places inside the part's largest radius are tried; where none of them is inside the part
    the neighbourhood of the lowest is searched, so that rays which only graze it are found.

    Returns:
        points (n, 3) mm, just outside of the surface, and whether there is one.
    """
    points, found = np.array(origin), np.zeros(len(origin), bool)
    for part in np.array_split(np.arange(len(origin)), max(1, len(origin) * samples // _CHUNK)):
        points[part], found[part] = _first_hits(body, origin[part], direction[part], samples)
    return points, found


def leaves(body: Body, start: Array, direction: Array, *, samples: int = 48) -> Bool:
    """Whether rays from points of the surface get away without meeting the part again, (n,)."""
    free = np.zeros(len(start), bool)
    share = (np.arange(1, samples + 1) / samples) ** 2  # closest together where the ray is near the surface
    for part in np.array_split(np.arange(len(start)), max(1, len(start) * samples // _CHUNK)):
        middle, half = _chord(body.largest, start[part], direction[part])
        t = np.maximum(middle + half, 0.0)[:, None] * share
        free[part] = (_height(body, start[part], direction[part], t) > -_SIDE).all(axis=1)
    return free


def _first_hits(body: Body, origin: Array, direction: Array, samples: int) -> tuple[Array, Bool]:
    middle, half = _chord(body.largest, origin, direction)
    grid = middle[:, None] + half[:, None] * np.linspace(-1, 1, samples)
    value = _height(body, origin, direction, grid)
    rows = np.arange(len(origin))
    inside = value < 0
    hit: Bool = np.asarray(inside.any(axis=1), bool)
    pick = np.where(hit, inside.argmax(axis=1), value.argmin(axis=1))
    before, behind = grid[rows, np.maximum(pick - 1, 0)], grid[rows, np.minimum(pick + 1, samples - 1)]
    within = grid[rows, pick]
    near = np.flatnonzero(~hit & (half > 0))
    if near.size:
        within[near], hit[near] = _lowest(body, origin[near], direction[near], before[near], behind[near])
    for _ in range(20):
        between = (before + within) / 2
        deep = _height(body, origin, direction, between) < 0
        within, before = np.where(deep, between, within), np.where(deep, before, between)
    return origin + before[:, None] * direction, hit


def _lowest(body: Body, origin: Array, direction: Array, low: Array, high: Array) -> tuple[Array, Bool]:
    """Golden section for the lowest place of rays between ``low`` and ``high``, and whether it is inside the part."""
    a, b = high - _GOLDEN * (high - low), low + _GOLDEN * (high - low)
    at_a, at_b = _height(body, origin, direction, a), _height(body, origin, direction, b)
    for _ in range(16):
        left = at_a < at_b
        low, high = np.where(left, low, a), np.where(left, b, high)
        new = np.where(left, high - _GOLDEN * (high - low), low + _GOLDEN * (high - low))
        at_new = _height(body, origin, direction, new)
        a, b = np.where(left, new, b), np.where(left, a, new)
        at_a, at_b = np.where(left, at_new, at_b), np.where(left, at_a, at_new)
    return np.where(at_a < at_b, a, b), np.minimum(at_a, at_b) < 0


def _height(body: Body, origin: Array, direction: Array, t: Array) -> Array:
    """``Body.outside`` at ``t`` along rays: (n,) or (n, m) mm."""
    if t.ndim == 1:
        z, x, y = (origin + t[:, None] * direction).T
        return body.outside(z, x, y)
    z, x, y = (origin[:, i, None] + t * direction[:, i, None] for i in range(3))
    return body.outside(z, x, y)


def _chord(radius: float, origin: Array, direction: Array) -> tuple[Array, Array]:
    """Middle and half length, along rays, of what lies inside a cylinder round the axis; half 0 where they miss it."""
    across = direction[:, 1] ** 2 + direction[:, 2] ** 2
    middle = -(origin[:, 1] * direction[:, 1] + origin[:, 2] * direction[:, 2]) / across
    gap = (origin[:, 1] + middle * direction[:, 1]) ** 2 + (origin[:, 2] + middle * direction[:, 2]) ** 2
    return middle, np.sqrt(np.maximum((radius * (1 + 1e-6)) ** 2 - gap, 0.0) / across)
