"""The backlight that a polished part mirrors into the camera beside its outline, by tracing rays.

Just inside the outline a ray from the camera grazes the surface. It is mirrored at the true normal; if it then meets
the pad, which stands square on the optical axis, without meeting the part again, that place shines with the
reflectivity times the light. A pad far away is seen under the same half cone from everywhere. Nothing of
``vision.model.grazing`` is used. On a rough surface, or through a lens that sees from many places, rays are drawn at
random: each is mirrored at a microfacet whose slopes are normally distributed, and counts by how much of it is seen and
not shaded (Beckmann's distribution after Walter et al., Microfacet models for refraction through rough surfaces, EGSR
2007). Left out: light mirrored twice, the change of reflectivity with the angle, dirt on the shining band, and end
faces, which a line of sight along them does not meet.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import ceil, cos, hypot, radians, sin, sqrt, tan

import numpy as np
import numpy.typing as npt

from sample_images.focus import blurs, shares, through_the_lens
from sample_images.geometry import Array, View, outline_of, pieces_of, view_of
from sample_images.offset import moved
from sample_images.rays import Body, Bool, away_from_camera, camera_rays, first_hits, into_part, leaves
from sample_images.scene import Camera, Light, Scene
from vision.shared.opencv import cv2

F32 = npt.NDArray[np.float32]
Index = npt.NDArray[np.intp]

_COLUMN_PX = 0.25  # between the lines across the outline along which the shining band is sought
_DEPTHS = 14
_HALVINGS = 6
_MARGIN_PX = 12  # round the picture, for the blur
_DRAWN_DEPTHS = 20
_DRAWN_COLUMN_PX = 0.08  # between columns of rays drawn at random, of all places of the lens together
_ROUGH_TAIL = 3.0
"""Times the roughness, up to which grazing angles are drawn beyond those that a smooth surface shines at."""
_STEEPEST = 6.0
"""By how much flanks of 24 deg shine deeper than a cylinder, seen across the axis."""


@dataclass(frozen=True)
class Shine:
    """Small areas that shine: places (n, 2) in px, areas (n,) in px^2."""

    at: Array
    area: Array


@dataclass(frozen=True)
class _Columns:
    """Lines across the outline, at ``u`` (n,) mm along the axis; the outline stands at ``height`` (n,) mm there.

    ``seen`` is where the picture shows it, ``inward`` the direction of growing depth, -1 on the edge at +v and 1 on the
    other.
    """

    body: Body
    view: View
    u: Array
    height: Array
    seen: Array
    inward: int
    light: Light

    def shines(self, column: Index, depth: Array) -> Bool:
        """Whether the light is mirrored at ``depth`` (m,) mm inside the outline in columns ``column`` (m,)."""
        return self.mirrored(column, depth, None) > 0

    def mirrored(self, column: Index, depth: Array, rng: np.random.Generator | None) -> Array:
        """(m,) how much of the light is, of a perfect reflector; of a rough one by one ray that ``rng`` draws."""
        origin, direction = camera_rays(self.view, self.u[column], self.height[column] + self.inward * depth)
        at, hit = first_hits(self.body, origin, direction)
        bright = np.zeros(column.size)
        which = np.flatnonzero(hit)
        normal = self.body.normal(at[which])
        incoming = direction[which]
        facet, weight = normal, np.ones(which.size)
        if rng is not None and self.light.roughness > 0:
            facet, weight = _facets(normal, incoming, self.light.roughness, rng)
        facing = np.einsum("ij,ij->i", incoming, facet)
        mirrored = incoming - 2 * facing[:, None] * facet
        rises = np.einsum("ij,ij->i", mirrored, normal)
        if facet is not normal:
            weight = weight * _unshaded(rises, self.light.roughness)
        to_light = (facing < 0) & (rises > 0) & (weight > 0) & self._to_pad(at[which], mirrored)
        which, mirrored = which[to_light], mirrored[to_light]
        bright[which] = weight[to_light] * leaves(self.body, at[which], mirrored)
        return bright

    def drawn(self, rng: np.random.Generator, grazing: float) -> tuple[Index, Array, Array, Array]:
        """Column, smallest and largest depth (mm) and light of cells down to where the surface is met at ``grazing``
        (radians), one ray in each.
        """
        n = self.u.size
        steps = self.body.largest * _STEEPEST * grazing**2 / 2 * (np.arange(_DRAWN_DEPTHS + 1) / _DRAWN_DEPTHS) ** 2
        column = np.repeat(np.arange(n), _DRAWN_DEPTHS)
        top, bottom = np.tile(steps[:-1], n), np.tile(steps[1:], n)
        return column, top, bottom, self.mirrored(column, top + rng.random(column.size) * (bottom - top), rng)

    def _to_pad(self, at: Array, direction: Array) -> Bool:
        """Whether rays (n, 3) from places (n, 3), both in the frame of the part, meet the pad."""
        away = away_from_camera(self.view)
        along = direction @ away
        if self.light.pad_mm is None:
            return np.asarray(along > cos(radians(self.light.cone_deg)))
        beside = at - into_part(self.view, np.zeros((1, 3)), place=True)  # from where the optical axis passes
        steps = (self.light.pad_mm - beside @ away) / np.where(along > 0, along, np.inf)
        landing = beside + steps[:, None] * direction
        off_axis = landing - (landing @ away)[:, None] * away
        return np.asarray(
            (along > 0) & (np.linalg.norm(off_axis, axis=1) < self.light.pad_mm * tan(radians(self.light.cone_deg)))
        )

    def bands(self, depth: float) -> tuple[Index, Array, Array]:
        """Column, smallest and largest depth (mm) of every stretch that shines, down to ``depth`` or deeper."""
        n = self.u.size
        # closest together at the edge, where the light is
        steps = depth * (np.arange(_DEPTHS + 1) / _DEPTHS) ** 2
        steps[0] = 1e-3 * steps[1]
        flags = self.shines(np.repeat(np.arange(n), steps.size), np.tile(steps, n)).reshape(n, steps.size)
        if flags[:, -_DEPTHS // 4 :].any():
            return self.bands(2 * depth)
        column, step = np.nonzero(flags[:, 1:] != flags[:, :-1])
        lit_above = flags[column, step]
        top, bottom = steps[step], steps[step + 1]
        for _ in range(_HALVINGS):
            middle = (top + bottom) / 2
            same = self.shines(column, middle) == lit_above
            top, bottom = np.where(same, middle, top), np.where(same, bottom, middle)
        border = (top + bottom) / 2
        whole = np.nonzero(flags[:, 1:] & flags[:, :-1])
        return (
            np.concatenate([whole[0], column]),
            np.concatenate([steps[whole[1]], np.where(lit_above, steps[step], border)]),
            np.concatenate([steps[whole[1] + 1], np.where(lit_above, border, steps[step + 1])]),
        )


def mirrored_light(scene: Scene) -> F32:
    """(height, width) light that the part mirrors, as a share of the backlight, blur and pixel area included."""
    light, camera = scene.light, scene.camera
    out = np.zeros((camera.height, camera.width), np.float32)
    if light.cone_deg == 0 or light.reflectivity == 0 or light.background != "bright":
        return out
    places = through_the_lens(scene) if camera.opening else [scene]
    if len(places) == 1 and light.roughness == 0:
        shine = shine_of(scene)
    else:
        shine = together([drawn_shine_of(one, len(places), number) for number, one in enumerate(places)])
    levels = blurs(scene)
    if len(levels) == 1:
        out += _blurred(shine, camera, levels[0])
    else:
        for sigma, share in zip(levels, shares(scene, levels), strict=True):
            out += share * _blurred(shine, camera, sigma)
    return np.float32(light.reflectivity) * out


def shine_of(scene: Scene) -> Shine:
    """Where the part mirrors the backlight into the camera.

    The band is sought in columns across the axis, which cover every area once, whatever the slope of the edge.
    """
    at, columns = _columns_of(scene, _COLUMN_PX)
    each = []
    for edge in columns:
        column, top, bottom = edge.bands(2e-3 * scene.camera.um_per_px)
        each.append(at(edge, column, top, bottom))
    return together(each)


def drawn_shine_of(scene: Scene, places: int, number: int) -> Shine:
    """The same by rays drawn at random, one of ``places`` of the lens; its areas are so many times smaller."""
    light, rng = scene.light, np.random.default_rng([scene.seed, number, 11])
    grazing = radians(light.cone_deg) / 2 + hypot(*scene.camera.aside) + _ROUGH_TAIL * light.roughness
    at, columns = _columns_of(scene, _DRAWN_COLUMN_PX * places)
    each = []
    for edge in columns:
        column, top, bottom, bright = edge.drawn(rng, grazing)
        lit = np.flatnonzero(bright)
        shine = at(edge, column[lit], top[lit], bottom[lit])
        each.append(Shine(shine.at, shine.area * bright[lit] / places))
    return together(each)


def together(each: Sequence[Shine]) -> Shine:
    """All areas of several."""
    none = Shine(np.zeros((0, 2)), np.zeros(0))
    return Shine(np.concatenate([s.at for s in (none, *each)]), np.concatenate([s.area for s in (none, *each)]))


def _columns_of(
    scene: Scene, column_px: float
) -> tuple[Callable[[_Columns, Index, Array, Array], Shine], list[_Columns]]:
    """The columns of both edges that are in view, and what makes areas of their column, smallest and largest depth."""
    camera = scene.camera
    mm = camera.um_per_px * 1e-3
    half = np.array([camera.width - 1, camera.height - 1]) / 2
    reach = hypot(camera.width, camera.height) / 2
    outline = outline_of(scene)
    shifted = moved(outline, scene.edge_offset_px * mm)
    body = Body(tuple(pieces_of(scene, (reach + 16) * mm)))
    first, last = float(outline.u[0]), float(outline.u[-1])
    count = max(1, ceil((last - first) / (column_px * mm)))
    width = (last - first) / count
    u = first + (np.arange(count) + 0.5) * width
    c, s = cos(radians(scene.rotation_deg)), sin(radians(scene.rotation_deg))
    turn = np.array([[c, s], [-s, c]])
    columns = []
    for inward, edge, seen in ((-1, outline.high, shifted.high), (1, outline.low, shifted.low)):
        height, at = np.interp(u, outline.u, edge), np.interp(u, shifted.u, seen)
        in_view = (np.abs(np.stack([u, at], axis=1) @ turn) < (half + _MARGIN_PX) * mm).all(axis=1)
        if in_view.any():
            columns.append(
                _Columns(body, view_of(scene), u[in_view], height[in_view], at[in_view], inward, scene.light)
            )

    def areas(edge: _Columns, column: Index, top: Array, bottom: Array) -> Shine:
        across = edge.seen[column] + edge.inward * (top + bottom) / 2
        places = np.stack([edge.u[column], across], axis=1) @ turn / mm + half
        return Shine(places, (bottom - top) * width / mm**2)

    return areas, columns


def _facets(normal: Array, incoming: Array, roughness: float, rng: np.random.Generator) -> tuple[Array, Array]:
    """Normals (n, 3) of microfacets that rays meet, and how much each counts: by what of it they see."""
    up = -np.einsum("ij,ij->i", incoming, normal)
    ahead = -incoming - up[:, None] * normal
    level = np.maximum(np.linalg.norm(ahead, axis=1), 1e-12)
    ahead /= level[:, None]
    slope, across = rng.normal(0.0, roughness / sqrt(2), (2, up.size))
    facet = normal - slope[:, None] * ahead - across[:, None] * np.cross(normal, ahead)
    facet /= np.linalg.norm(facet, axis=1, keepdims=True)
    up = np.maximum(up, 1e-9)
    return facet, np.maximum(1 - slope * level / up, 0.0) * _unshaded(up, roughness)


def _unshaded(rise: Array, roughness: float) -> Array:
    """The share of the facets that is free along a ray that leaves the surface with this sine (Walter et al., 27)."""
    v = rise / np.sqrt(np.maximum(1 - rise**2, 1e-12)) / roughness
    return np.where(v < 1.6, np.maximum(v, 0.0) * (3.535 + 2.181 * v) / (1 + 2.276 * v + 2.577 * v**2), 1.0)


def _blurred(shine: Shine, camera: Camera, sigma: float) -> F32:
    """The areas spread by the lens, (height, width); on a finer raster where the blur is narrow, as in ``render``."""
    fine = 1 if sigma == 0 else min(6, ceil(1.5 / sigma))
    pad = ceil(4 * sigma) + 1
    columns, rows = (camera.width + 2 * pad) * fine, (camera.height + 2 * pad) * fine
    x, y = np.floor((shine.at + pad + 0.5) * fine).astype(np.int64).T
    seen = (x >= 0) & (x < columns) & (y >= 0) & (y < rows)
    bright = np.bincount(y[seen] * columns + x[seen], shine.area[seen] * fine**2, rows * columns)
    raster = bright.reshape(rows, columns).astype(np.float32)
    if sigma > 0:
        cv2.GaussianBlur(raster, (0, 0), sigma * fine, dst=raster, borderType=cv2.BORDER_REPLICATE)
    raster = raster[pad * fine : rows - pad * fine, pad * fine : columns - pad * fine]
    return np.asarray(raster.reshape(camera.height, fine, camera.width, fine).mean(axis=(1, 3), dtype=np.float32))
