"""The backlight that a polished part mirrors into the camera beside its outline, by tracing rays.

Just inside the outline a ray from the camera grazes the surface. It is mirrored at the true normal; if it then meets
the pad, which stands square on the optical axis, without meeting the part again, that place shines with the
reflectivity times the light. A pad far away is seen under the same half cone from everywhere. Nothing of
``vision.model.grazing`` is used. Left out: light mirrored twice, the change of reflectivity with the angle and with
roughness, dirt on the shining band, and end faces, which a line of sight along them does not meet.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, cos, hypot, radians, sin, tan

import numpy as np
import numpy.typing as npt

from sample_images.focus import blurs, shares
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


@dataclass(frozen=True)
class Shine:
    """Small areas that shine: places (n, 2) in px, areas (n,) in px^2."""

    at: Array
    area: Array


@dataclass(frozen=True)
class _Columns:
    """Lines across the outline, at ``u`` (n,) mm along the axis; the outline stands at ``height`` (n,) mm there.

    ``inward`` is the direction of growing depth, -1 on the edge at +v and 1 on the other.
    """

    body: Body
    view: View
    u: Array
    height: Array
    inward: int
    light: Light

    def shines(self, column: Index, depth: Array) -> Bool:
        """Whether the light is mirrored at ``depth`` (m,) mm inside the outline in columns ``column`` (m,)."""
        origin, direction = camera_rays(self.view, self.u[column], self.height[column] + self.inward * depth)
        at, hit = first_hits(self.body, origin, direction)
        bright = np.zeros(column.size, bool)
        which = np.flatnonzero(hit)
        normal = self.body.normal(at[which])
        incoming = direction[which]
        facing = np.einsum("ij,ij->i", incoming, normal)
        mirrored = incoming - 2 * facing[:, None] * normal
        to_light = (facing < 0) & self._to_pad(at[which], mirrored)
        which, mirrored = which[to_light], mirrored[to_light]
        bright[which] = leaves(self.body, at[which], mirrored)
        return bright

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
    shine = shine_of(scene)
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
    camera = scene.camera
    mm = camera.um_per_px * 1e-3
    half = np.array([camera.width - 1, camera.height - 1]) / 2
    reach = hypot(camera.width, camera.height) / 2
    outline = outline_of(scene)
    shifted = moved(outline, scene.edge_offset_px * mm)
    body = Body(tuple(pieces_of(scene, (reach + 16) * mm)))
    first, last = float(outline.u[0]), float(outline.u[-1])
    count = max(1, ceil((last - first) / (_COLUMN_PX * mm)))
    width = (last - first) / count
    u = first + (np.arange(count) + 0.5) * width
    c, s = cos(radians(scene.rotation_deg)), sin(radians(scene.rotation_deg))
    turn = np.array([[c, s], [-s, c]])
    places, area = [np.zeros((0, 2))], [np.zeros(0)]
    for inward, edge, seen in ((-1, outline.high, shifted.high), (1, outline.low, shifted.low)):
        height, at = np.interp(u, outline.u, edge), np.interp(u, shifted.u, seen)
        in_view = (np.abs(np.stack([u, at], axis=1) @ turn) < (half + _MARGIN_PX) * mm).all(axis=1)
        columns = _Columns(body, view_of(scene), u[in_view], height[in_view], inward, scene.light)
        if columns.u.size:
            column, top, bottom = columns.bands(2 * mm)
            across = at[in_view][column] + inward * (top + bottom) / 2
            places.append(np.stack([columns.u[column], across], axis=1) @ turn / mm + half)
            area.append((bottom - top) * width / mm**2)
    return Shine(np.concatenate(places), np.concatenate(area))


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
