"""Makes measured threads with chosen dimensions, for tests that need one without a picture."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from threads.measured.thread import Covariance, MeasuredThread
from threads.shared.quantity import Quantity

ORDER = (
    "major_diameter",
    "pitch_diameter",
    "minor_diameter",
    "pitch",
    "flank_angle_left",
    "flank_angle_right",
    "crest_width",
    "root_width",
)
U_DIAMETER = {"major_diameter": 0.0012, "pitch_diameter": 0.0010, "minor_diameter": 0.0012}
U_PITCH = 2e-4  # relative
U_ANGLE = 0.1  # degrees
U_WIDTH = 0.0015
U_TAPER = 0.5  # um/mm


def measured_thread(
    major: float,
    pitch_diameter: float,
    pitch: float,
    *,
    minor: float | None = None,
    flank_left: float = 30.0,
    flank_right: float = 30.0,
    taper: float = 0.0,
    scale_u: float = 1e-4,
    one_sided: float = 0.0,
    noise: np.random.Generator | None = None,
) -> MeasuredThread:
    """A thread with these true dimensions (mm, degrees) as a good picture would give it.

    Standard uncertainties: pitch diameter 1 um, major and minor 1.2 um, pitch 0.02 %, flank angles 0.1 degrees, and a
    relative error of the scale ``scale_u`` common to all lengths. ``minor``: by default the sharp root p/8 flat.
    ``one_sided``: uncorrected effect on the pitch diameter, mm; a quarter of it on major and minor diameter.
    ``noise``: draws the measurement's error; without it the values are the true ones.
    """
    left, right = math.radians(flank_left), math.radians(flank_right)
    crest = pitch / 2 - (major - pitch_diameter) / 2 * (math.tan(left) + math.tan(right))
    if minor is None:
        minor = pitch_diameter - (pitch / 2 - pitch / 8) * 2 / (math.tan(left) + math.tan(right))
    root = pitch / 2 - (pitch_diameter - minor) / 2 * (math.tan(left) + math.tan(right))
    true = np.array([major, pitch_diameter, minor, pitch, flank_left, flank_right, crest, root])
    own = np.array([*U_DIAMETER.values(), U_PITCH * pitch, U_ANGLE, U_ANGLE, U_WIDTH, U_WIDTH])
    common = true * scale_u * np.array([1, 1, 1, 1, 0, 0, 1, 1])
    matrix = np.diag(own**2) + np.outer(common, common)
    values = true if noise is None else noise.multivariate_normal(true, matrix)
    u = np.sqrt(np.diag(matrix))
    q = {
        name: Quantity(float(value), float(sigma), "deg" if "angle" in name else "mm")
        for name, value, sigma in zip(ORDER, values, u, strict=True)
    }
    if one_sided:
        for name, bound in (("pitch_diameter", 1.0), ("major_diameter", 0.25), ("minor_diameter", 0.25)):
            q[name] = replace(q[name], one_sided=bound * one_sided)
    tpi = 25.4 / q["pitch"].value
    engaged = (
        0.0109 * q["pitch"].value * (abs(q["flank_angle_left"].value - 30) + abs(q["flank_angle_right"].value - 30))
    )
    return MeasuredThread(
        hand="right",
        starts=1,
        lead=q["pitch"],
        threads_per_inch=Quantity(tpi, tpi * q["pitch"].standard_uncertainty / q["pitch"].value, "1/in"),
        virtual_pitch_diameter=Quantity(q["pitch_diameter"].value + engaged, 0.002, "mm"),
        included_angle=Quantity(
            q["flank_angle_left"].value + q["flank_angle_right"].value, math.sqrt(2) * U_ANGLE, "deg"
        ),
        crest_radius=None,
        root_radius=None,
        taper=Quantity(taper if noise is None else float(noise.normal(taper, U_TAPER)), U_TAPER, "um/mm"),
        axis_tilt=Quantity(0.0, 0.05, "deg"),
        lead_angle=Quantity(math.degrees(math.atan2(pitch, math.pi * pitch_diameter)), 0.01, "deg"),
        threads_in_view=10,
        covariance=Covariance(ORDER, matrix),
        flat_crest=True,
        **q,
    )
