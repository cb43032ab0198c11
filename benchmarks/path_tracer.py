"""Pictures of a part before a light pad by a general-purpose path tracer: real metal, real pad, real aperture.

The tracer is ``mitsuba``, an optional extra (``pip install -e '.[trace]'``); its scalar variants need nothing else. It
knows nothing of threads: a mesh, a lit disc behind it and a lens with an aperture go in, light comes out.

World: x right and y down in the picture, z away from the camera, mm; the lens is focused on the plane z = 0. Almost all
of a silhouette is plainly bright or plainly dark: a coarse first pass finds where it is not, and only there many rays
are traced. The blur of the lens in focus is a Gaussian laid over the light.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import atan, degrees, radians, tan
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt

from vision.shared.opencv import cv2

Light = npt.NDArray[np.float64]

COARSE, COARSE_RAYS = 4, 16
"""Pixels that the first pass takes together, and its rays for each of them."""
TILE = 24
_UNEVEN = 0.04
"""Of the pad's light: where the first pass differs by more from what is beside it, there is an edge. Noise of the first
pass in a light that fades toward the corners stays below."""
_DEPTH = 4
"""Pad, at most two reflections, lens: light between two flanks included."""
_IRON = {"eta": 2.9, "k": 3.1}
"""Refractive index of iron at 580 nm (usual tables of optical constants, from memory)."""


@dataclass(frozen=True)
class Lens:
    """A camera: distance from the part to its pupil, mm, numerical aperture at the part, and its blur in focus, px."""

    distance: float
    opening: float
    um_per_px: float = 4.0
    blur_px: float = 0.9
    width: int = 1200
    height: int = 800


@dataclass(frozen=True)
class Pad:
    """A round lit patch ``behind`` mm behind the part, which sees it under a half cone."""

    half_cone_deg: float
    behind: float = 250.0

    @property
    def radius(self) -> float:
        return self.behind * tan(radians(self.half_cone_deg))


def metal(roughness: float) -> dict[str, Any]:
    """A surface of iron whose microfacets slope by ``roughness`` / root 2, root mean square."""
    return {"type": "roughconductor", "distribution": "beckmann", "alpha": roughness, **_IRON}


def blackened(reflects: float) -> dict[str, Any]:
    """A surface that scatters little light evenly."""
    return {"type": "diffuse", "reflectance": {"type": "rgb", "value": reflects}}


def mesh_in(path: Path, surface: dict[str, Any]) -> dict[str, Any]:
    """The part whose mesh is in a PLY file."""
    return {"type": "ply", "filename": str(path), "bsdf": surface}


def pin(diameter: float, turn_deg: float, surface: dict[str, Any]) -> dict[str, Any]:
    """A gauge pin across the whole view, its axis in the plane of focus, turned in the picture."""
    along = 50 * np.array([np.cos(radians(turn_deg)), np.sin(radians(turn_deg)), 0.0])
    return {
        "type": "cylinder",
        "p0": [float(v) for v in -along],
        "p1": [float(v) for v in along],
        "radius": diameter / 2,
        "bsdf": surface,
    }


def trace(part: dict[str, Any], lens: Lens, pad: Pad, rays: int, seed: int = 0) -> Light:
    """(height, width) light, 1 for the bare pad, of the part before the pad.

    Args:
        part: a shape of the tracer's.
        lens: the camera.
        pad: the light.
        rays: for each pixel near an edge.
        seed: of the rays.
    """
    import mitsuba  # noqa: PLC0415 - an optional extra; it loads for a second

    mitsuba.set_variant("scalar_rgb")
    mitsuba.set_log_level(mitsuba.LogLevel.Error)
    scene = mitsuba.load_dict(_scene(mitsuba, part, pad))
    small = _sensor(mitsuba, lens, lens.width // COARSE, lens.height // COARSE)
    first = np.array(mitsuba.render(scene, sensor=small, spp=COARSE_RAYS, seed=seed), np.float32)[..., 0]
    size, around = (lens.width, lens.height), np.ones((3, 3))
    light = cv2.resize(cv2.medianBlur(first, 3).astype(np.float64), size, interpolation=cv2.INTER_LINEAR)
    uneven = cv2.dilate(first, around) - cv2.erode(first, around) > _UNEVEN
    edge = cv2.resize(uneven.astype(np.uint8), size, interpolation=cv2.INTER_NEAREST)
    camera = _sensor(mitsuba, lens, lens.width, lens.height)
    told = mitsuba.traverse(camera)
    for number, (top, left) in enumerate(np.ndindex(-(-lens.height // TILE), -(-lens.width // TILE))):
        y, x = top * TILE, left * TILE
        here = edge[y : y + TILE, x : x + TILE]
        if not here.any():
            continue
        rows, columns = (np.flatnonzero(here.any(axis=axis)) for axis in (1, 0))
        y, x = y + int(rows[0]), x + int(columns[0])
        high, wide = int(np.ptp(rows)) + 1, int(np.ptp(columns)) + 1
        told["film.crop_offset"], told["film.crop_size"] = [x, y], [wide, high]
        told.update()
        tile = mitsuba.render(scene, sensor=camera, spp=rays, seed=seed + number + 1)
        light[y : y + high, x : x + wide] = np.array(tile)[..., 0]
    return np.asarray(cv2.GaussianBlur(light, (0, 0), lens.blur_px, borderType=cv2.BORDER_REPLICATE), np.float64)


def _scene(mitsuba: Any, part: dict[str, Any], pad: Pad) -> dict[str, Any]:
    place = mitsuba.ScalarTransform4f().translate([0.0, 0.0, pad.behind]).rotate([0, 1, 0], 180).scale(pad.radius)
    return {
        "type": "scene",
        "integrator": {"type": "path", "max_depth": _DEPTH},
        "part": part,
        "pad": {"type": "disk", "to_world": place, "emitter": {"type": "area", "radiance": 1.0}},
    }


def _sensor(mitsuba: Any, lens: Lens, width: int, height: int) -> Any:
    across = lens.width * lens.um_per_px * 1e-3
    return mitsuba.load_dict(
        {
            "type": "thinlens",
            "aperture_radius": lens.distance * tan(np.arcsin(lens.opening)),
            "focus_distance": lens.distance,
            "fov": degrees(2 * atan(across / 2 / lens.distance)),
            "fov_axis": "x",
            "near_clip": 1.0,
            "to_world": mitsuba.ScalarTransform4f().look_at([0, 0, -lens.distance], [0, 0, 0], [0, -1, 0]),
            "film": {
                "type": "hdrfilm",
                "width": width,
                "height": height,
                "pixel_format": "luminance",
                "rfilter": {"type": "box"},
            },
            "sampler": {"type": "multijitter"},
        }
    )
