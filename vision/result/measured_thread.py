"""From the fitted parameters and their budget to the measured thread, its hand included."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import numpy.typing as npt

from threads.measured.thread import Covariance, MeasuredThread, RidgeError
from threads.measured.virtual_pitch_diameter import virtual_pitch_diameter
from threads.shared.quantity import Quantity
from vision.fit.budget import Budget
from vision.fit.quantities import COVARIANCE_NAMES, NAMES, UNITS, roundness
from vision.fit.solve import Solution
from vision.model.shadow import INDEX

Array = npt.NDArray[np.float64]

HAND_CERTAIN = 8.0
"""Standard uncertainties by which the camera must be near (judgement: a wrong hand is worse than none, and the fit's u
knows neither errors of form nor of the lens)."""
HAND_NEAREST = (0.004, 0.06)
"""1 / distance, 1/mm, that is believed: cameras from 17 to 250 mm away (workshop assumption)."""


def thread_of(
    solution: Solution, values: Array, budget: Budget, ridges: tuple[RidgeError, ...], hand: str
) -> MeasuredThread:
    """The measured thread of a fit; ``values`` in the order of NAMES, ``hand`` "right", "left" or "not determined"."""
    value = dict(zip(NAMES, (float(v) for v in values), strict=True))
    u = {n: float(np.sqrt(max(budget.covariance[i, i], 0.0))) for i, n in enumerate(NAMES)}
    if hand == "left":  # the fit takes the thread for a right-hand one; a left-hand one leans the other way
        value["axis_tilt"] = -value["axis_tilt"]
    q = {n: Quantity(value[n], u[n], UNITS[n]) for n in NAMES}
    flat_crest, flat_root = _forms(solution)
    rows = [NAMES.index(n) for n in COVARIANCE_NAMES]
    thread = MeasuredThread(
        hand=hand,
        starts=solution.seen.starts,
        pitch=q["pitch"],
        lead=q["lead"],
        threads_per_inch=q["threads_per_inch"],
        major_diameter=q["major_diameter"],
        pitch_diameter=q["pitch_diameter"],
        minor_diameter=q["minor_diameter"],
        virtual_pitch_diameter=q["pitch_diameter"],
        included_angle=q["included_angle"],
        flank_angle_left=q["flank_angle_left"],
        flank_angle_right=q["flank_angle_right"],
        crest_width=None if flat_crest is False else q["crest_width"],
        root_width=None if flat_root is False else q["root_width"],
        crest_radius=q["crest_radius"] if flat_crest is False else None,
        root_radius=q["root_radius"] if flat_root is False else None,
        taper=q["taper"],
        axis_tilt=q["axis_tilt"],
        lead_angle=q["lead_angle"],
        threads_in_view=int(np.floor((solution.end - solution.start) / solution.parameters.pitch + 0.25)),
        covariance=Covariance(COVARIANCE_NAMES, budget.covariance[np.ix_(rows, rows)]),
        flat_crest=flat_crest,
        flat_root=flat_root,
        per_thread=ridges,
    )
    return replace(thread, virtual_pitch_diameter=virtual_pitch_diameter(thread).quantity)


def _forms(solution: Solution) -> tuple[bool | None, bool | None]:
    """Whether crest and root are flat, None where the picture allows both."""
    found = [roundness(x, solution.edge_blur) for x in (solution.fit.x, *solution.other_forms)]
    crest, root = zip(*found, strict=True)
    return (crest[0] if len(set(crest)) == 1 else None), (root[0] if len(set(root)) == 1 else None)


def hand_of(solution: Solution, budget: Budget) -> str:
    """The hand as a near camera shows it; see ``hand_of_nearness``."""
    j = INDEX["nearness"]
    inverse = np.linalg.pinv(solution.fit.normal_matrix)
    u = solution.fit.scale * float(np.sqrt(max(inverse[j, j], 0.0) * budget.correlation))
    return hand_of_nearness(float(solution.fit.x[j]), u)


def hand_of_nearness(nearness: float, u: float) -> str:
    """The hand from 1 / distance of the camera (1/mm, standard uncertainty ``u``) as fitted to a right-hand thread.

    A shadow seen from far away is the same for both hands; a near camera looks at the two ends from different sides.
    With the hand taken as right, the closeness of the camera must come out positive. Only a clear answer counts.
    """
    if abs(nearness) < max(HAND_CERTAIN * u, HAND_NEAREST[0]) or abs(nearness) > HAND_NEAREST[1]:
        return "not determined"
    return "right" if nearness > 0 else "left"
