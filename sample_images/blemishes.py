"""Shapes of what lies on the outline or is broken out of it: specks, nicks, burrs, flakes, oil, shining flanks."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import cos, pi, radians, sin

import numpy as np
import numpy.typing as npt

from sample_images.condition import Blemishes
from sample_images.geometry import Array

Index = npt.NDArray[np.intp]

_MARGIN = 10  # px to the border of the picture within which nothing is put


@dataclass(frozen=True)
class Shape:
    """A polygon (n, 2) in px, and how dark it makes what it covers: 1 covers it like the part, -1 takes the part away.

    -0.3 lets three tenths of the light of the bright side shine where the part was.
    """

    polygon: Array
    weight: float


@dataclass(frozen=True)
class _Edge:
    """The outline in the picture, resampled to half a pixel: places (n, 2), outward normals, height over the axis."""

    at: Array
    normal: Array
    height: Array
    seen: npt.NDArray[np.bool_]

    def tangent(self, i: int) -> Array:
        return np.array([-self.normal[i, 1], self.normal[i, 0]])


def blemish_shapes(
    outline: Array,
    blemishes: Blemishes,
    *,
    size: tuple[int, int],
    rotation_deg: float,
    offset_px: float,
    pitch_px: float,
    seed: int,
) -> list[Shape]:
    """The shapes, in the order in which they go onto the picture.

    Args:
        outline: (n, 2) corners of the part's shadow, px.
        blemishes: how many of what.
        size: (width, height) of the picture.
        rotation_deg: direction of the axis in the picture, as in ``Scene``.
        offset_px: how far the axis passes from the centre, as in ``Scene``.
        pitch_px: distance of the ridges, 0 for a plain part, which has no roots, burrs or flanks.
        seed: of places and shapes.
    """
    edge = _edge_of(outline, size, radians(rotation_deg), offset_px)
    places = np.flatnonzero(edge.seen)
    if places.size < 10:
        return []
    shapes: list[Shape] = []

    def add(kind: int, count: int, make: Callable[[np.random.Generator], list[Shape]]) -> None:
        rng = np.random.default_rng([seed, 2, kind])
        for _ in range(count):
            shapes.extend(make(rng))

    def anywhere(rng: np.random.Generator) -> int:
        return int(places[rng.integers(places.size)])

    # what is broken out first, then what lies on it
    add(0, blemishes.nicks, lambda rng: [_nick(edge, anywhere(rng), rng)])
    add(1, blemishes.flakes, lambda rng: _flake(edge, anywhere(rng), rng))
    if pitch_px > 0:
        crests, roots, flanks = _regions(edge, pitch_px)
        add(2, blemishes.burrs if crests.size else 0, lambda rng: [_burr(edge, int(rng.choice(crests)), rng)])
        add(3, blemishes.oil_roots if roots.size else 0, lambda rng: _drop(edge, int(rng.choice(roots)), pitch_px, rng))
        shine = blemishes.glare_flanks if flanks.size else 0
        add(4, shine, lambda rng: _shine(edge, int(rng.choice(flanks)), flanks, blemishes.glare, rng))
    add(5, blemishes.oil_films, lambda rng: [_film(edge, anywhere(rng), rng)])
    if blemishes.spoiled > 0:
        shapes += _strewn(edge, blemishes.spoiled, np.random.default_rng([seed, 3]))
    return shapes


def _edge_of(outline: Array, size: tuple[int, int], rotation: float, offset: float) -> _Edge:
    step = np.diff(outline, axis=0, append=outline[:1])
    length = np.concatenate([[0.0], np.cumsum(np.hypot(step[:, 0], step[:, 1]))])
    closed = np.vstack([outline, outline[:1]])
    along = np.arange(0.0, length[-1], 0.5)
    at = np.column_stack([np.interp(along, length, closed[:, i]) for i in (0, 1)])
    ahead = np.roll(at, -4, axis=0) - np.roll(at, 4, axis=0)
    area = float(np.sum(at[:, 0] * np.roll(at[:, 1], -1) - at[:, 1] * np.roll(at[:, 0], -1)))
    normal = np.column_stack([ahead[:, 1], -ahead[:, 0]]) * np.sign(area)
    normal /= np.maximum(np.hypot(normal[:, 0], normal[:, 1]), 1e-9)[:, None]
    middle = (np.array(size) - 1) / 2
    height = np.abs((at[:, 1] - middle[1]) * cos(rotation) - (at[:, 0] - middle[0]) * sin(rotation) - offset)
    seen = np.asarray((at > _MARGIN).all(axis=1) & (at < np.array(size) - 1 - _MARGIN).all(axis=1), np.bool_)
    return _Edge(at, normal, height, seen)


def _regions(edge: _Edge, pitch: float) -> tuple[Index, Index, Index]:
    """Indices of crests, roots and flanks of the thread in view."""
    # a thread's outline between two crests is a little more than a pitch long, two samples a px
    reach = int(2.6 * pitch)
    n = edge.height.size
    wrapped = np.concatenate([edge.height[-reach:], edge.height, edge.height[:reach]])
    window = np.lib.stride_tricks.sliding_window_view(wrapped, 2 * reach + 1)[:n:1]
    top, bottom = window.max(axis=1), window.min(axis=1)
    depth = top - bottom
    # heads and ends are no ridges: a thread is 0.4 to 0.8 pitches deep
    thread = edge.seen & (depth > 0.35 * pitch) & (depth < 0.85 * pitch)
    place = (edge.height - bottom) / np.maximum(depth, 1e-9)
    return (
        np.flatnonzero(thread & (place > 0.95)),
        np.flatnonzero(thread & (place < 0.03)),
        np.flatnonzero(thread & (place > 0.2) & (place < 0.85)),
    )


def _blob(centre: Array, along: Array, a: float, b: float, rng: np.random.Generator, rough: float = 0.12) -> Array:
    """A rough ellipse with the half axes ``a`` along the unit vector ``along`` and ``b`` across it."""
    turn = np.linspace(0, 2 * pi, 60, endpoint=False)
    wobble = 1 + sum(rng.normal(0, rough) * np.cos(n * turn + rng.uniform(0, 2 * pi)) for n in (2, 3, 5))
    wobble = np.maximum(wobble, 0.3)
    across = np.array([-along[1], along[0]])
    return np.asarray(centre + np.outer(a * wobble * np.cos(turn), along) + np.outer(b * wobble * np.sin(turn), across))


def _nick(edge: _Edge, i: int, rng: np.random.Generator) -> Shape:
    half, deep = rng.uniform(1.5, 7.5), rng.uniform(1.5, 6)
    return Shape(_blob(edge.at[i], edge.tangent(i), half, deep, rng), -1.0)


def _speck(edge: _Edge, i: int, rng: np.random.Generator) -> Shape:
    radius = rng.uniform(3, 9)
    return Shape(_blob(edge.at[i] + rng.uniform(-0.7, 0.7, 2) * radius, np.array([1.0, 0.0]), radius, radius, rng), 1.0)


def _burr(edge: _Edge, i: int, rng: np.random.Generator) -> Shape:
    base, high, lean = rng.uniform(3, 8), rng.uniform(3, 10), rng.uniform(-0.7, 0.7)
    t, n = edge.tangent(i), edge.normal[i]
    top = edge.at[i] + high * (n + lean * t)
    foot = -2.0 * n
    corners = [
        edge.at[i] - t * base / 2 + foot, edge.at[i] - t * base / 3 + 0.5 * high * (n + 0.5 * lean * t), top,
        top + rng.uniform(0.8, 2.0) * t, edge.at[i] + t * base / 2 + 0.3 * high * n, edge.at[i] + t * base / 2 + foot,
    ]  # fmt: skip
    return Shape(np.array(corners), 1.0)


def _flake(edge: _Edge, i: int, rng: np.random.Generator) -> list[Shape]:
    length, thick, deep = rng.uniform(6, 20), rng.uniform(1, 2.5), rng.uniform(0.5, 1.5)
    lift = radians(rng.uniform(12, 50))
    way = int(rng.choice([-1, 1]))
    t, n = way * edge.tangent(i), edge.normal[i]
    line = cos(lift) * t + sin(lift) * n
    across = cos(lift) * n - sin(lift) * t
    root = edge.at[i] - 1.5 * n
    plate = np.array(
        [root, root + (length + 1) * line, root + (length - 1) * line + thick * across, root + thick * across]
    )
    run = _run(edge, i, 2 * length, way)
    return [Shape(_ribbon(edge, run, -deep, 2.0), -1.0), Shape(plate, 1.0)]


def _run(edge: _Edge, i: int, samples: float, way: int = 1) -> Index:
    """Indices of the outline from ``i`` over so many samples, in the outline's order."""
    last = i + way * max(int(samples), 6)
    first, stop = min(i, last), max(i, last)
    return np.arange(first, stop) % edge.height.size


def _ribbon(edge: _Edge, run: Index, inner: float | Array, outer: float | Array) -> Array:
    """The strip of the outline's ``run`` between two distances outward."""
    low = edge.at[run] + edge.normal[run] * np.broadcast_to(inner, run.shape)[:, None]
    high = edge.at[run] + edge.normal[run] * np.broadcast_to(outer, run.shape)[:, None]
    return np.concatenate([low, high[::-1]])


def _film(edge: _Edge, i: int, rng: np.random.Generator) -> Shape:
    run = _run(edge, i, 2 * rng.uniform(60, 300))
    thick = rng.uniform(0.5, 2.5) * np.sin(np.linspace(0, pi, run.size)) ** 0.5
    return Shape(_ribbon(edge, run, -1.0, thick), 1.0)


def _shine(edge: _Edge, i: int, flanks: Index, glare: float, rng: np.random.Generator) -> list[Shape]:
    """The whole flank that ``i`` belongs to."""
    place = int(np.searchsorted(flanks, i))
    breaks = np.flatnonzero(np.diff(flanks) > 1)
    first = int(flanks[breaks[breaks < place][-1] + 1]) if (breaks < place).any() else int(flanks[0])
    last = int(flanks[breaks[breaks >= place][0]]) if (breaks >= place).any() else int(flanks[-1])
    run = np.arange(first, last + 1)
    if run.size < 8:
        return []
    return [Shape(_ribbon(edge, run, -rng.uniform(1.5, 5), 1.0), -glare * rng.uniform(0.5, 1))]


def _drop(edge: _Edge, i: int, pitch: float, rng: np.random.Generator) -> list[Shape]:
    """Oil in the root at ``i``: from flank to flank, its surface hollow."""
    n = edge.height.size
    near = np.arange(i - int(1.4 * pitch), i + int(1.4 * pitch)) % n
    depth = float(np.ptp(edge.height[near]))
    level = edge.height[i] + rng.uniform(0.17, 0.5) * depth
    first, last = i, i
    while edge.height[first % n] < level and i - first < 2 * pitch:
        first -= 1
    while edge.height[last % n] < level and last - i < 2 * pitch:
        last += 1
    run = np.arange(first, last + 1) % n
    if run.size < 12:
        return []
    start, end = edge.at[run[0]], edge.at[run[-1]]
    s = np.linspace(0, 1, 40)[:, None]
    sag = rng.uniform(0.1, 0.35) * (level - edge.height[i])
    inward = -edge.normal[i]
    surface = start + (end - start) * s + 4 * s * (1 - s) * sag * inward
    bottom = edge.at[run] + inward * 1.0
    return [Shape(np.concatenate([bottom, surface[::-1]]), 1.0)]


def _strewn(edge: _Edge, share: float, rng: np.random.Generator) -> list[Shape]:
    """Specks and nicks, half and half, until they touch ``share`` of the outline in view."""
    places = np.flatnonzero(edge.seen)
    touched = np.zeros(edge.height.size, np.bool_)
    shapes: list[Shape] = []
    while touched[places].mean() < share and len(shapes) < 2000:
        i = int(places[rng.integers(places.size)])
        shape = _speck(edge, i, rng) if rng.random() < 0.5 else _nick(edge, i, rng)
        shapes.append(shape)
        centre = shape.polygon.mean(axis=0)
        reach = float(np.hypot(*(shape.polygon - centre).T).mean())
        touched |= np.hypot(*(edge.at - centre).T) < reach
    return sorted(shapes, key=lambda s: s.weight)
