"""The scenes of ``benchmarks.traced``: which screws, surfaces, lenses and pads, and how they are made into pictures.

A *set-up* is one camera before one pad whose mask is changed: its first half cone is the one that the scores are about,
the second serves the method of two lights. A mask is never so narrow that the lens sees past it anywhere in the view: a
pad at the distance d behind the part must reach (h (1 / d + 1 / D) + opening) d, h being half the view and D the
camera's distance. Pins and a stage micrometer are traced in each set-up under each mask. The pins are
of lapped metal.
"""

from __future__ import annotations

import tempfile
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import cos, radians, sin
from pathlib import Path
from typing import Any

import numpy as np

from benchmarks.path_tracer import Lens, Light, Pad, blackened, mesh_in, metal, pin, trace
from benchmarks.traced_mesh import Array, Form, Mesh, screw, section_sizes
from vision.shared.opencv import cv2

ORDINARY_DEG = (3.0, 5.0)
"""Half cones of the set-ups that the promises are about."""
EXPOSURE = 0.8
"""Of full scale, where the pad is bare."""
RAYS = 64
PINS_MM = (1.0, 2.5)
DIVISION_MM = 0.1
SURFACES: dict[str, float] = {"polished": 0.015, "bright": 0.05, "dull": 0.12, "black": 0.0}
"""Roughness of the metal's microfacets; 0 is blackened, which scatters ``_BLACK`` of the light evenly."""
_LAPPED = 0.02
"""Roughness of a gauge pin."""
_BLACK = 0.04
_RULINGS, _RULING_WIDTH_MM, _RULINGS_TURN_DEG = 40, 0.016, 1.5
_PIN_TURN_DEG = 2.0

FORMS = {
    form.name: form
    for form in (
        Form("4-40", 0.635, 2.82, 2.42, 2.08),
        Form("M2.5", 0.45, 2.47, 2.182, 1.92, root_corner=None),
        Form("6BA", 0.53, 2.79, 2.471, 2.152, 23.75, 23.75, None, None),
        Form("3-32BSW", 0.5292, 2.372, 2.033, 1.694, 27.5, 27.5, None, None),
        Form("coarse", 0.794, 2.84, 2.33, 1.88, crest_corner=0.015, root_corner=0.04),
        Form("fine", 0.35, 2.48, 2.25, 2.06, crest_corner=0.006, root_corner=0.02),
        Form("worn", 0.635, 2.79, 2.425, 2.06, 29.4, 30.7, 0.035, 0.06),
        Form("M2", 0.4, 1.97, 1.73, 1.515, crest_corner=0.008, root_corner=None),
    )
}
"""Unified with sharp corners, ISO metric with a rounded root, British Association, Whitworth, a coarse thread (lead
angle 6 degrees), a fine one, a worn one with unequal flanks, and a thin one."""


@dataclass(frozen=True)
class SetUp:
    """A camera before a pad that is masked to one half cone or another."""

    name: str
    lens: Lens
    half_cones_deg: tuple[float, ...]

    def pad(self, cone_deg: float) -> Pad:
        return Pad(cone_deg)


@dataclass(frozen=True)
class Part:
    """A screw as it lies before the camera: the free end points along ``turn_deg`` and leans to it by ``tilt_deg``."""

    set_up: str
    form: Form
    surface: str
    turn_deg: float
    tilt_deg: float
    roll_deg: float
    shift_mm: tuple[float, float] = (0.0, 0.0)
    end_mm: float = 1.8
    roughness: float | None = None

    @property
    def name(self) -> str:
        return f"{self.set_up}_{self.form.name}_{self.surface}"

    @property
    def alpha(self) -> float:
        """Roughness of the microfacets, that of the surface's name where no other is given; 0 is blackened."""
        return SURFACES[self.surface] if self.roughness is None else self.roughness


SET_UPS = {
    set_up.name: set_up
    for set_up in (
        SetUp("a", Lens(200.0, 0.02), (3.0, 5.0)),
        SetUp("b", Lens(150.0, 0.035), (4.0, 6.0)),
        SetUp("c", Lens(250.0, 0.01), (4.0, 2.0)),
        SetUp("d", Lens(150.0, 0.06), (5.0, 8.0)),
        SetUp("w", Lens(200.0, 0.02), (11.0, 5.0)),
    )
}

PARTS = (
    Part("a", FORMS["4-40"], "bright", 3.0, 0.4, 20.0),
    Part("a", FORMS["4-40"], "dull", -2.0, -0.6, 140.0),
    Part("a", FORMS["4-40"], "black", 1.5, 0.8, 250.0),
    Part("b", FORMS["M2.5"], "bright", 4.0, -0.5, 75.0, (0.0, 0.15)),
    Part("b", FORMS["M2.5"], "dull", 183.0, 0.7, 310.0),
    Part("b", FORMS["M2.5"], "black", -3.5, 0.2, 190.0, (0.1, -0.2)),
    Part("c", FORMS["6BA"], "bright", 2.5, -0.3, 15.0, (0.0, 0.1)),
    Part("c", FORMS["coarse"], "polished", -1.0, 0.5, 100.0),
    Part("d", FORMS["fine"], "bright", -4.0, 0.3, 333.0, (0.05, 0.2)),
    Part("d", FORMS["worn"], "dull", 1.0, -0.4, 210.0),
    Part("w", FORMS["M2"], "bright", 5.0, -0.2, 60.0, (0.0, -0.3)),
    Part("c", FORMS["3-32BSW"], "dull", 182.0, 0.6, 285.0),
    Part("a", FORMS["fine"], "polished", 3.5, 0.9, 45.0, (0.0, -0.15)),
    Part("w", FORMS["worn"], "polished", -1.5, 0.6, 120.0),
)


REDRAWN = next(part for part in PARTS if part.name == "a_4-40_black")
REDRAWN_CONE_DEG, REDRAWN_OPENINGS = 5.0, (0.005, 0.04, 0.06)
"""A part that mirrors nothing, under other openings of the lens than its set-up's: what they do to it, and nothing else
does. The mask is one that the widest does not see past."""


@dataclass(frozen=True)
class Shot:
    """One picture: a part, a pin (by its diameter) or the stage micrometer, under one mask.

    ``opening`` is that of the lens where it is not the set-up's.
    """

    set_up: SetUp
    cone_deg: float
    part: Part | None = None
    pin_mm: float | None = None
    opening: float | None = None

    @property
    def lens(self) -> Lens:
        lens = self.set_up.lens
        return lens if self.opening is None else replace(lens, opening=self.opening)

    @property
    def name(self) -> str:
        if self.part is not None:
            what = self.part.name
        else:
            what = f"{self.set_up.name}_" + ("rulings" if self.pin_mm is None else f"pin{1000 * self.pin_mm:.0f}")
        if self.opening is not None:
            what += f"_NA{self.opening:g}"
        return f"{what}_{self.cone_deg:g}deg.png"


def shots(set_ups: Sequence[SetUp] = tuple(SET_UPS.values()), parts: Sequence[Part] = PARTS) -> Iterator[Shot]:
    """Every picture: gauges of a set-up, then its parts."""
    for set_up in set_ups:
        for cone in set_up.half_cones_deg:
            yield from (Shot(set_up, cone, pin_mm=diameter) for diameter in PINS_MM)
            yield Shot(set_up, cone)
            yield from (Shot(set_up, cone, part) for part in parts if part.set_up == set_up.name)


def redraws() -> Iterator[Shot]:
    """``REDRAWN`` under each of the other openings."""
    for opening in REDRAWN_OPENINGS:
        yield Shot(SET_UPS[REDRAWN.set_up], REDRAWN_CONE_DEG, REDRAWN, opening=opening)


def pose(part: Part) -> tuple[Array, Array]:
    """The turn (3, 3) and shift (3,) that lay the mesh before the camera; the middle of the view lies on the axis."""
    roll, tilt, turn = radians(part.roll_deg), radians(part.tilt_deg), radians(part.turn_deg)
    about_axis = np.array([[1, 0, 0], [0, cos(roll), -sin(roll)], [0, sin(roll), cos(roll)]])
    lean = np.array([[cos(tilt), 0, sin(tilt)], [0, 1, 0], [-sin(tilt), 0, cos(tilt)]])
    in_picture = np.array([[cos(turn), -sin(turn), 0], [sin(turn), cos(turn), 0], [0, 0, 1]])
    return in_picture @ lean @ about_axis, np.array([*part.shift_mm, 0.0])


def mesh_of(part: Part) -> Mesh:
    """The screw of a part, as ``traced_mesh.screw`` lays it."""
    return screw(part.form, -3.2 - part.form.pitch, part.end_mm)


def rulings() -> Mesh:
    """The dark lines of a stage micrometer in the plane of focus, every fifth and tenth longer."""
    turn = radians(_RULINGS_TURN_DEG)
    across, along = np.array([cos(turn), sin(turn), 0.0]), np.array([-sin(turn), cos(turn), 0.0])
    corners = []
    for line in range(_RULINGS + 1):
        length = 0.8 if line % 10 == 0 else 0.65 if line % 5 == 0 else 0.5
        left = (line - _RULINGS / 2) * DIVISION_MM - _RULING_WIDTH_MM / 2
        corners += [
            (left + i * _RULING_WIDTH_MM) * across + (j * length - 0.3) * along
            for i, j in ((0, 0), (1, 0), (1, 1), (0, 1))
        ]
    first = 4 * np.arange(_RULINGS + 1)[:, None]
    triangles = np.vstack([first + np.array(corner) for corner in ((0, 2, 1), (0, 3, 2))])
    vertices = np.array(corners)
    return Mesh(vertices, np.tile([0.0, 0.0, -1.0], (len(vertices), 1)), triangles)


def truth_of(shot: Shot) -> dict[str, Any]:
    """What is true of a picture; the section's sizes are read off the mesh, mm and degrees."""
    lens, pad = shot.lens, shot.set_up.pad(shot.cone_deg)
    truth: dict[str, Any] = {
        "set_up": shot.set_up.name,
        "first_light": shot.cone_deg == shot.set_up.half_cones_deg[0],
        "light": {
            "half_cone_deg": shot.cone_deg,
            "patch_mm": round(2 * pad.radius, 4),
            "distance_mm": pad.behind,
        },
        "camera": {
            "working_distance_mm": lens.distance,
            "lens_opening": lens.opening,
            "um_per_px": lens.um_per_px,
            "blur_px": lens.blur_px,
        },
    }
    if shot.pin_mm is not None:
        return truth | {"kind": "pin", "diameter_mm": shot.pin_mm}
    if shot.part is None:
        return truth | {"kind": "stage_micrometer", "division_mm": DIVISION_MM}
    part, form = shot.part, shot.part.form
    rounded = (form.crest_corner is None, form.root_corner is None)
    section = section_sizes(mesh_of(part), -2.4, part.end_mm - 0.6, rounded=rounded)
    redrawn = shot.opening is not None
    others = [] if redrawn else [c for c in shot.set_up.half_cones_deg if c != shot.cone_deg]
    return truth | {
        "kind": "redrawn" if redrawn else "screw",
        "form": form.name,
        "surface": part.surface,
        "roughness": part.alpha,
        "other_light": [Shot(shot.set_up, c, part).name for c in others],
        "section": {k: round(v, 6) for k, v in section.items()} | {"axis_tilt": part.tilt_deg},
    }


def light_of(shot: Shot, seed: int) -> Light:
    """Trace a picture."""
    lens, pad = shot.lens, shot.set_up.pad(shot.cone_deg)
    if shot.pin_mm is not None:
        return trace(pin(shot.pin_mm, _PIN_TURN_DEG, metal(_LAPPED)), lens, pad, RAYS, seed)
    with tempfile.TemporaryDirectory(prefix="flankwise-traced-") as folder:
        path = Path(folder) / "part.ply"
        if shot.part is None:
            rulings().write(path)
            return trace(mesh_in(path, blackened(0.0)), lens, pad, RAYS // 2, seed)
        mesh_of(shot.part).moved(*pose(shot.part)).write(path)
        surface = metal(shot.part.alpha) if shot.part.alpha else blackened(_BLACK)
        return trace(mesh_in(path, surface), lens, pad, RAYS, seed)


def keep(shot: Shot, folder: Path, seed: int) -> None:
    """Trace a picture and write it as grey PNG of 8 bits, linear."""
    levels = np.clip(np.rint(255 * EXPOSURE * light_of(shot, seed)), 0, 255).astype(np.uint8)
    cv2.imwrite(str(folder / shot.name), levels, [cv2.IMWRITE_PNG_COMPRESSION, 9])
