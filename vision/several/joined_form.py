"""Errors of form of a part pictured from several sides: ovality, drunkenness and bend all round."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import numpy.typing as npt

from threads.measured.form_errors import FormErrors
from threads.shared.quantity import Quantity
from threads.shared.refusal import Reason
from vision.result.measurement import Measurement
from vision.several.rotations import Rotations, amplitude, bend_of_part, seen_range, sides

Array = npt.NDArray[np.float64]


def join_form(
    measurements: Sequence[Measurement], turns: Rotations, values: Array, own: Array, names: Sequence[str]
) -> tuple[FormErrors, tuple[Reason, ...]]:
    """Errors of form from all pictures, and what keeps them from being known better.

    Args:
        measurements: the pictures.
        turns: how the part lay in them.
        values: (k, n) quantities of the pictures.
        own: (k, n, n) their own covariances.
        names: of the n quantities.
    """
    seen = [m.form for m in measurements if m.form is not None]
    fits = [m.form_fit for m in measurements if m.form_fit is not None]
    lengths = np.array([f.length_mm for f in seen])
    length = float(lengths.mean())
    form = FormErrors(
        length_mm=length,
        cumulative_pitch_error=_largest([f.cumulative_pitch_error for f in seen]),
        axis_bend=_largest([f.axis_bend for f in seen]),
        drunkenness_seen=_largest([f.drunkenness_seen for f in seen]),
    )
    count = sides(turns.turns)
    doubts: list[Reason] = []
    if count == 0:
        doubts.append(Reason("turn_not_known"))
    if len(fits) == len(measurements) and all(f.shown for f in fits):
        # the sagitta grows with the square of the length: all are taken to the mean one
        scale = (length / lengths) ** 2
        bends = np.array([bend_of_part(m) for m in measurements]) * scale
        round_bend = amplitude(turns.turns, bends, np.array([f.bend_u for f in fits]) * scale, order=1)
        drunk = np.array([f.drunkenness for f in fits])
        form = replace(
            form,
            axis_bend=round_bend or form.axis_bend,
            drunkenness=amplitude(turns.turns, drunk, np.array([f.drunkenness_u for f in fits]), order=1),
        )
    if count < 2:
        return form, tuple(doubts)
    ovality: dict[str, Quantity] = {}
    at_least = False
    for name in ("pitch_diameter", "major_diameter"):
        j = list(names).index(name)
        x, u = values[:, j], np.sqrt(own[:, j, j])
        found = amplitude(turns.turns, x, u, order=2)
        if found is None:
            at_least = True
            known = [i for i, turn in enumerate(turns.turns) if turn is not None]
            ovality[name] = seen_range(x[known], u[known])
        else:
            part = _off_section(measurements) if name == "pitch_diameter" else 1.0
            ovality[name] = Quantity(2 * found.value / part, 2 * found.standard_uncertainty / part, "mm")
    if at_least:
        doubts.append(Reason("few_sides", sides=count))
    return replace(
        form,
        ovality_pitch_diameter=ovality["pitch_diameter"],
        ovality_major_diameter=ovality["major_diameter"],
        ovality_at_least=at_least,
    ), tuple(doubts)


def _off_section(measurements: Sequence[Measurement]) -> float:
    """Part of the ovality that flanks show: the shadow touches them a little to both sides of the section.

    The cosine of twice the polar angle k / (r tan(a)) of vision.model.shadow, k = lead / 2 pi.
    """
    thread = measurements[0].thread
    slope = np.tan(np.radians(thread.included_angle.value / 2))
    return float(np.cos(2 * thread.lead.value / (np.pi * thread.pitch_diameter.value * slope)))


def _largest(found: Sequence[Quantity | None]) -> Quantity | None:
    return max((q for q in found if q is not None), key=lambda q: q.value, default=None)
