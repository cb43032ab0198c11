"""The quantities of the axial section as functions of the fitted parameters, and how they follow them.

The model's axial lengths are those seen in the picture; a tilt t of the axis shortens them by cos(t),
which is undone here.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from vision.fit.limits import LIMITS
from vision.model.shadow import COUNT, INDEX, ShadowParameters, full_radii

Array = npt.NDArray[np.float64]

MM_PER_INCH = 25.4

UNITS: dict[str, str] = {
    "pitch": "mm",
    "lead": "mm",
    "threads_per_inch": "1/in",
    "major_diameter": "mm",
    "pitch_diameter": "mm",
    "minor_diameter": "mm",
    "included_angle": "deg",
    "flank_angle_left": "deg",
    "flank_angle_right": "deg",
    "crest_width": "mm",
    "root_width": "mm",
    "crest_radius": "mm",
    "root_radius": "mm",
    "taper": "um/mm",
    "axis_tilt": "deg",
    "lead_angle": "deg",
}
NAMES: tuple[str, ...] = tuple(UNITS)
LENGTHS: tuple[str, ...] = tuple(name for name, unit in UNITS.items() if unit == "mm")

COVARIANCE_NAMES: tuple[str, ...] = (
    "major_diameter",
    "pitch_diameter",
    "minor_diameter",
    "pitch",
    "flank_angle_left",
    "flank_angle_right",
    "crest_width",
    "root_width",
    "taper",
    "axis_tilt",
)


def quantities(x: Array, middle: float, free_end_right: bool, starts: int = 1) -> Array:
    """The quantities in the order of NAMES, mm and degrees.

    Taper is that of the diameter, um/mm, positive where the thread is thicker away from its free end. The tilt is
    positive where the free end comes toward the camera, for a right-hand thread; a left-hand one in the other tilt
    casts the same shadow.

    Args:
        x: (COUNT,) fitted parameters.
        middle: u at the middle of the threaded length, where the diameters of a tapered thread are stated, mm.
        free_end_right: whether the free end of the thread lies toward +u. "left" is the flank on the left of a ridge
            when the free end points right.
        starts: starts of the thread.

    The pitch diameter is the simple one: the diameter at which ridge and groove are equally wide (ISO 5408).
    Crest and root width run between the corners that the flanks make with crest and root lines, corner radii left away.
    """
    p = ShadowParameters(*(float(v) for v in x))
    sin_t = float(np.clip(p.tilt, -0.9, 0.9))
    cos_t = np.sqrt(1 - sin_t**2)
    pitch = p.pitch / cos_t
    grow = p.taper * middle
    major, effective, minor = 2 * (p.crest + grow), 2 * (p.pitch_radius + grow), 2 * (p.root + grow)
    right, left = np.arctan(np.tan(p.flank_right) / cos_t), np.arctan(np.tan(p.flank_left) / cos_t)
    if not free_end_right:
        right, left = left, right
    toward = 1.0 if free_end_right else -1.0
    spread = np.tan(right) + np.tan(left)
    crest_width = pitch / 2 - (p.crest - p.pitch_radius) * spread
    root_width = pitch / 2 - (p.pitch_radius - p.root) * spread
    return np.array(
        [
            pitch,
            starts * pitch,
            MM_PER_INCH / pitch,
            major,
            effective,
            minor,
            np.degrees(right + left),
            np.degrees(left),
            np.degrees(right),
            crest_width,
            root_width,
            p.crest_corner,
            p.root_corner,
            -toward * 2000 * p.taper / cos_t,
            toward * np.degrees(np.arcsin(sin_t)),
            np.degrees(np.arctan(starts * pitch / (np.pi * effective))),
        ]
    )


def sensitivity(x: Array, middle: float, free_end_right: bool, starts: int = 1) -> Array:
    """(len(NAMES), COUNT) derivatives of the quantities by the parameters: central differences of smooth functions."""
    out = np.empty((len(NAMES), COUNT))
    for j in range(COUNT):
        h = 1e-6
        up, down = x.copy(), x.copy()
        up[j] += h
        down[j] -= h
        out[:, j] = quantities(up, middle, free_end_right, starts) - quantities(down, middle, free_end_right, starts)
    return out / 2e-6


def roundness(x: Array, blur: float) -> tuple[bool | None, bool | None]:
    """Whether crest and root are flat (True), round (False) or not resolved (None).

    Round: the corner radius is nearly that of a full arc. A full arc can be told from a flat when its radius exceeds
    about 1.5 blur widths; below that both give the same contour.
    """
    crest_full, root_full = full_radii(x)
    out: list[bool | None] = []
    for name, full in (("crest_corner", crest_full), ("root_corner", root_full)):
        radius = x[INDEX[name]]
        if full < LIMITS.round_blur * blur:
            out.append(None)
        elif radius > LIMITS.round_share * full:
            out.append(False)
        elif radius < 0.5 * full:
            out.append(True)
        else:
            out.append(None)
    return out[0], out[1]
