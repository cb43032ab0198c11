"""A part lit from the front, its surface visible: what a plain photograph of it shows.

Rays are traced to the true surface (``rays``). The surface is shaded after Lambert, with highlights after Blinn
(Models of light reflection for computer synthesized pictures, SIGGRAPH 1977), or as metal that mirrors its
surroundings; what lies in the shadow of the part itself is lit by the surroundings only.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, radians, sin

import numpy as np
import numpy.typing as npt

from sample_images.geometry import Array, pieces_of, view_of
from sample_images.rays import Body, camera_rays, first_hits, into_part, leaves
from sample_images.scene import Scene
from vision.shared.opencv import cv2

Picture = npt.NDArray[np.uint8]


@dataclass(frozen=True)
class Lamp:
    """A distant lamp: where it stands in the picture (0 degrees right, 90 down) and how far from the line of sight."""

    toward_deg: float
    off_axis_deg: float
    strength: float = 0.6
    size: float = 0.0
    """Of its mirror image on metal, as the exponent of the highlight: larger is smaller; 0 mirrors nothing."""


@dataclass(frozen=True)
class Look:
    """How part and ground look, in shares of full scale.

    Attributes:
        lamps: what lights the part; the first casts shadows.
        ambient: light from everywhere, less of it in the roots.
        matt: how much of the lamps' light is thrown back evenly.
        shine: strength of highlights and mirror images.
        grain: standard deviation of the surface's brightness, and of the ground's.
        exposure: brightness that 97 % of the part stay below.
        ground: brightness of what lies behind the part.
        ground_slope: by how much it changes over the picture's width.
    """

    lamps: tuple[Lamp, ...] = (Lamp(-120.0, 45.0),)
    ambient: float = 0.12
    matt: float = 0.7
    shine: float = 0.3
    grain: float = 0.03
    exposure: float = 0.8
    ground: float = 0.3
    ground_slope: float = 0.1


def render_lit(scene: Scene, look: Look) -> Picture:
    """The picture (height, width), linear, 8 bits; noise and blur are those of the scene's camera.

    One ray a pixel: edges are true to half a pixel, which is enough to see where ridges run.

    Raises ValueError for a scene that cannot exist.
    """
    scene.check()
    camera = scene.camera
    rng = np.random.default_rng([scene.seed, 3])
    mm = camera.um_per_px * 1e-3
    turn = radians(scene.rotation_deg)
    c, s = cos(turn), sin(turn)
    x = np.arange(camera.width) - (camera.width - 1) / 2
    y = np.arange(camera.height)[:, None] - (camera.height - 1) / 2
    u, v = ((x * c + y * s) * mm).ravel(), ((y * c - x * s) * mm).ravel()
    reach = float(np.hypot(camera.width, camera.height)) / 2 * mm
    body, view = Body(tuple(pieces_of(scene, reach))), view_of(scene)
    near = np.flatnonzero(np.abs(v - view.across) < 1.2 * body.largest)
    origin, direction = camera_rays(view, u[near], v[near])
    at, hit = first_hits(body, origin, direction, samples=40)
    at, direction, on = at[hit], direction[hit], near[hit]
    normal = body.normal(at)
    depth = np.hypot(at[:, 1], at[:, 2]) / body.largest
    bright = look.ambient * np.clip(1 - 4 * (1 - depth), 0.15, 1.0)
    mirrored = direction - 2 * np.einsum("ij,ij->i", direction, normal)[:, None] * normal
    for i, lamp in enumerate(look.lamps):
        toward = into_part(view, _toward(lamp, turn)[None, :], place=False)
        lit = np.ones(len(at)) if i else leaves(body, at, np.broadcast_to(toward, at.shape), samples=24).astype(float)
        bright += look.matt * lamp.strength * lit * np.maximum(normal @ toward[0], 0.0)
        half = toward - direction
        half /= np.linalg.norm(half, axis=1, keepdims=True)
        gloss = np.maximum(np.einsum("ij,ij->i", half, normal), 0.0) ** 40
        if lamp.size:
            gloss = np.maximum(mirrored @ toward[0], 0.0) ** lamp.size
        bright += look.shine * lamp.strength * lit * gloss
    if bright.size:  # exposed for the part
        bright *= look.exposure / max(float(np.percentile(bright, 97)), 1e-9)
    picture = look.ground + look.ground_slope * np.broadcast_to(x / camera.width, (camera.height, camera.width))
    picture = (picture * (1 + look.grain * _grain(rng, picture.shape))).ravel()
    picture[on] = bright * (1 + look.grain * _grain(rng, (camera.height, camera.width)).ravel()[on])
    picture = picture.reshape(camera.height, camera.width)
    if camera.blur_sigma_px > 0:
        picture = np.asarray(
            cv2.GaussianBlur(picture, (0, 0), camera.blur_sigma_px, borderType=cv2.BORDER_REPLICATE), np.float64
        )
    picture = picture + camera.noise * rng.standard_normal(picture.shape)
    return np.clip(np.rint(picture * 255), 0, 255).astype(np.uint8)


def _toward(lamp: Lamp, turn: float) -> Array:
    """Direction to the lamp as (u, v, away from the camera)."""
    angle, off = radians(lamp.toward_deg) - turn, radians(lamp.off_axis_deg)
    return np.array([sin(off) * cos(angle), sin(off) * sin(angle), -cos(off)])


def _grain(rng: np.random.Generator, shape: tuple[int, ...]) -> Array:
    """Blotches about four pixels wide, standard deviation 1."""
    coarse = cv2.GaussianBlur(rng.standard_normal(shape), (0, 0), 2.0)
    return np.asarray(coarse / coarse.std())


def random_look(rng: np.random.Generator) -> Look:
    """Some light of a bench: one to four lamps anywhere in front of the part, dull to polished metal, any ground."""
    metal = rng.random() < 0.5
    lamps = tuple(
        Lamp(
            toward_deg=float(rng.uniform(0, 360)),
            off_axis_deg=float(rng.uniform(5, 75)),
            strength=float(rng.uniform(0.2, 0.9)),
            size=float(rng.choice([2.0, 6.0, 20.0, 60.0])) if metal else 0.0,
        )
        for _ in range(int(rng.integers(1, 5)))
    )
    return Look(
        lamps=lamps,
        ambient=float(rng.uniform(0.03, 0.25)),
        matt=float(rng.uniform(0.1, 0.4) if metal else rng.uniform(0.4, 1.0)),
        shine=float(rng.uniform(0.5, 1.2) if metal else rng.uniform(0.0, 0.4)),
        grain=float(rng.uniform(0.0, 0.1)),
        exposure=float(rng.uniform(0.2, 1.1)),
        ground=float(rng.choice([0.02, 0.15, 0.4, 0.8])),
        ground_slope=float(rng.uniform(-0.1, 0.1)),
    )
