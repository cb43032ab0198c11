"""How much too large the shadow of a thread reads: computed by the program's own model of the shadow.

``python docs/figures/excess.py`` prints the table of docs/9_published.md.
"""

from __future__ import annotations

import math
import sys
from pathlib import Path

import numpy as np
import numpy.typing as npt

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))  # runs in a checkout that is not installed

from vision.model.shadow import INDEX, ShadowParameters, outline

Array = npt.NDArray[np.float64]
INCH = 25.4
HALF_ANGLE = math.radians(30)
AMERICAN = (0.649519 / 2, 0.649519)
"""Addendum and depth in pitches: flats of p/8 on crest and root (ASA B1.1-1935; in part from memory, unverified)."""
METRIC = (0.649519 / 2, 0.5412659)
"""The ISO basic profile (ISO 68-1): a flat of p/8 on the crest, p/4 on the root."""
SIZES = (
    ("4-40", 0.112 * INCH, INCH / 40, AMERICAN, 24.6),
    ("M3x0.5", 3.0, 0.5, METRIC, 13.9),
    ("0-80", 0.060 * INCH, INCH / 80, AMERICAN, 11.5),
    ("10-32", 0.190 * INCH, INCH / 32, AMERICAN, 22.0),
)
"""Name, major diameter, pitch, form, and what a projection made apart from this program gives (um)."""
ROOT_WORKED_OUT_UM = 62.2


def basic(major: float, pitch: float, form: tuple[float, float], tilt_deg: float = 0.0, blur: float = 0.001) -> Array:
    """The basic profile (mm) before a telecentric camera."""
    return ShadowParameters(
        offset=0.0,
        rotation=0.0,
        phase=0.0,
        pitch=pitch,
        tilt=math.sin(math.radians(tilt_deg)),
        nearness=0.0,
        taper=0.0,
        crest=major / 2,
        pitch_radius=major / 2 - form[0] * pitch,
        root=major / 2 - form[1] * pitch,
        flank_right=HALF_ANGLE,
        flank_left=HALF_ANGLE,
        crest_corner=0.0,
        root_corner=0.0,
        blur=blur,
    ).to_array()


def edge(x: Array, ridges: float = 1.0, count: int = 40001) -> tuple[Array, Array]:
    """Places along the axis and heights of the shadow's upper edge (mm), from groove to groove."""
    u = np.linspace(-ridges / 2, ridges / 2, count) * x[INDEX["pitch"]]
    return u, outline(x, u, np.ones(u.size), (0.0, 0.0), gradient=False)[0]


def pitch_diameter_excess_um(x: Array) -> float:
    """Where ridge and groove of the shadow are equally wide, less the pitch diameter of the section."""
    return 2e3 * (float(np.median(edge(x)[1])) - float(x[INDEX["pitch_radius"]]))


def root_width_um(x: Array) -> float:
    """How wide the shadow shows the flat of the root."""
    u, height = edge(x)
    return 1e3 * float((height < x[INDEX["root"]] + 1e-9).sum()) * float(u[1] - u[0])


if __name__ == "__main__":
    print("pitch diameter of the shadow, less that of the section")
    for name, major, pitch, form, elsewhere in SIZES:
        found = pitch_diameter_excess_um(basic(major, pitch, form))
        print(f"{name:8} {found:6.1f} µm   worked out elsewhere {elsewhere:5.1f} µm")
    x = basic(*SIZES[0][1:4])
    print(
        f"root of 4-40: {1e3 * x[INDEX['pitch']] / 8:.1f} µm in the section, {root_width_um(x):.1f} µm in the shadow,"
    )
    print(f"              worked out elsewhere {ROOT_WORKED_OUT_UM:.1f} µm")
