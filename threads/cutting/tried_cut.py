"""A hole that screws were tried in, as a thread that a tap cut: its pitch diameter; all else is as its class has it."""

from __future__ import annotations

import math

import numpy as np

from threads.cutting.die_choice import MeasuredCut
from threads.cutting.to_fit import as_quantity
from threads.measured.thread import Covariance, MeasuredThread
from threads.rules.forms import FORMS
from threads.shared.formatting import MM_PER_INCH
from threads.shared.quantity import Quantity
from threads.workshop.drawn_thread import NAMES, TriedHole

_NOMINAL_PITCH, _NOMINAL_ANGLE_DEG = 5e-4, 0.3
"""Standard uncertainties of a tap's pitch (relative) and half angle, which no trial tells (common practice, no source):
what they do to the pitch diameter is in that already, as it is the virtual one."""


def tried_cut(hole: TriedHole) -> MeasuredCut:
    """The hole as something that was cut, or is to be cut again. Its setting and its bench are not known."""
    limits, size = hole.limits, as_quantity(hole)
    half = FORMS[limits.form].flank_angle_deg
    pitch = Quantity(limits.pitch, limits.pitch * _NOMINAL_PITCH, "mm")
    per_inch = MM_PER_INCH / limits.pitch
    angle = Quantity(half, _NOMINAL_ANGLE_DEG, "deg")
    diameters = {
        "major_diameter": Quantity(limits.basic_major, size.standard_uncertainty, "mm"),
        "pitch_diameter": size,
        "minor_diameter": Quantity(limits.basic_minor, size.standard_uncertainty, "mm"),
    }
    known = {**diameters, "pitch": pitch, "flank_angle_left": angle, "flank_angle_right": angle}
    variances = np.array([known[name].standard_uncertainty for name in NAMES]) ** 2
    none = Quantity(0.0, 0.0, "deg")
    return MeasuredCut(
        MeasuredThread(
            hand="not determined",
            starts=1,
            pitch=pitch,
            lead=pitch,
            threads_per_inch=Quantity(per_inch, per_inch * _NOMINAL_PITCH, "1/in"),
            major_diameter=diameters["major_diameter"],
            pitch_diameter=size,
            minor_diameter=diameters["minor_diameter"],
            virtual_pitch_diameter=size,
            included_angle=Quantity(2 * half, math.sqrt(2) * _NOMINAL_ANGLE_DEG, "deg"),
            flank_angle_left=angle,
            flank_angle_right=angle,
            crest_width=None,
            root_width=None,
            crest_radius=None,
            root_radius=None,
            taper=Quantity(0.0, 0.0, "um/mm"),
            axis_tilt=none,
            lead_angle=none,
            threads_in_view=0,
            covariance=Covariance(NAMES, np.diag(variances)),
            internal=True,
        )
    )
