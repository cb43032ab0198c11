"""The thread of a hole from a picture of its cast.

The cast fills the hole: its ridges are the hole's grooves. So the cast's major diameter is the hole's, its crests are
the hole's roots, its roots the hole's crests, and its left flank of a ridge stood against the right flank of the hole's
ridge to the left of it. A cast material shrinks as it sets, by s of all lengths: the hole is the cast over 1 - s.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np

from threads.measured.form_errors import FormErrors
from threads.measured.thread import Covariance, MeasuredThread, RidgeError
from threads.measured.virtual_pitch_diameter import virtual_pitch_diameter
from threads.shared.quantity import Quantity
from threads.shared.refusal import Reason
from threads.shared.typed import TypedError, parse_percent
from vision.fit.budget import BudgetTerm
from vision.result.measurement import Measurement

SHRINKAGE = "shrinkage of the cast"
UNKNOWN_SHRINKAGE = Quantity(0.25, 0.15, "%")
"""Assumed when none is stated: anything from none to half a per cent (common practice, no source)."""
UNSTATED_SHARE = 0.5
"""U95 of a shrinkage stated without one, in parts of it (judgement)."""
_MOST_PERCENT = 10.0  # that a cast may shrink

_SWAPPED = {
    "crest_width": "root_width",
    "root_width": "crest_width",
    "crest_radius": "root_radius",
    "root_radius": "crest_radius",
    "flank_angle_left": "flank_angle_right",
    "flank_angle_right": "flank_angle_left",
}
_LENGTHS = (
    "pitch", "lead", "major_diameter", "pitch_diameter", "minor_diameter", "crest_width", "root_width", "crest_radius",
    "root_radius",
)  # fmt: skip
_QUANTITIES = (
    *_LENGTHS, "threads_per_inch", "included_angle", "flank_angle_left", "flank_angle_right", "taper", "axis_tilt",
    "lead_angle",
)  # fmt: skip


def stated_shrinkage(percent: float, u95_percent: float | None) -> Quantity:
    """A shrinkage with its uncertainty; half of it where no U95 is stated."""
    u95 = UNSTATED_SHARE * percent if u95_percent is None else u95_percent
    return Quantity(percent, u95 / 2, "%")


def typed_shrinkage(
    text: str, u95: str | None = None, what: tuple[str, str] = ("the shrinkage", "its U95")
) -> Quantity:
    """The shrinkage typed as ``text``, such as 0.2%, and its ``u95``; ``what`` names the two in messages.

    Raises TypedError for what is no share below 10 %.
    """
    percent = parse_percent(text, what[0])
    u95_percent = None if u95 is None else parse_percent(u95, what[1])
    if percent >= _MOST_PERCENT or (u95_percent or 0) >= _MOST_PERCENT:
        raise TypedError("typed.shrinkage", what=what[0], typed=repr(text))
    return stated_shrinkage(percent, u95_percent)


def as_hole(cast: Measurement, shrinkage: Quantity | None = None) -> Measurement:
    """The hole that a cast came from, as a measurement with ``thread.internal``.

    Args:
        cast: the cast, measured as the external thread that it looks like.
        shrinkage: by how much the cast is smaller than the hole, per cent of the hole; UNKNOWN_SHRINKAGE if None.

    Left and right are as the hole has them with its inner end, where the cast's free end was, to the right. Taper
    stays: positive where the hole is wider away from that end. Hand and starts are those of the cast; ``pictures`` stay
    as they were measured, of the cast.
    """
    known = UNKNOWN_SHRINKAGE if shrinkage is None else shrinkage
    share = known.value / 100
    factor, u = 1 / (1 - share), known.standard_uncertainty / 100 / (1 - share)
    thread = _thread(cast.thread, factor, u)
    powers = {name: 1 if name in _LENGTHS else -1 if name == "threads_per_inch" else 0 for name in _QUANTITIES}
    shrunk = Covariance(thread.covariance.order, _shrinkage_covariance(thread, u))
    warnings = cast.quality.warnings
    if shrinkage is None:
        warnings += (Reason("shrinkage_unknown", percent=known.value, u95_percent=known.u95),)
    return replace(
        cast,
        thread=thread,
        shadow={_SWAPPED.get(n, n): _grown(q, factor, u, powers[n]) for n, q in cast.shadow.items()},
        budget={
            _SWAPPED.get(n, n): (
                *(replace(t, u=t.u * factor ** powers[n]) for t in terms),
                *_shrinkage_term(thread, _SWAPPED.get(n, n), u, powers[n]),
            )
            for n, terms in cast.budget.items()
        },
        by_source={name: _swap_covariance(c, factor) for name, c in cast.by_source.items()} | {SHRINKAGE: shrunk},
        form=None if cast.form is None else _form(cast.form, factor),
        quality=replace(cast.quality, warnings=warnings),
    )


def _thread(cast: MeasuredThread, factor: float, u: float) -> MeasuredThread:
    quantities: dict[str, Any] = {}
    for name in _QUANTITIES:
        q: Quantity | None = getattr(cast, name)
        power = 1 if name in _LENGTHS else -1 if name == "threads_per_inch" else 0
        quantities[_SWAPPED.get(name, name)] = None if q is None else _grown(q, factor, u, power)
    thread = replace(
        cast,
        **quantities,
        covariance=_swap_covariance(cast.covariance, factor),
        flat_crest=cast.flat_root,
        flat_root=cast.flat_crest,
        per_thread=tuple(_ridge(r, factor) for r in cast.per_thread),
        internal=True,
    )
    matrix = thread.covariance.matrix + _shrinkage_covariance(thread, u)
    thread = replace(thread, covariance=Covariance(thread.covariance.order, matrix))
    return replace(thread, virtual_pitch_diameter=virtual_pitch_diameter(thread).quantity)


def _grown(q: Quantity, factor: float, u: float, power: int) -> Quantity:
    """A quantity that goes with the ``power`` of the size, the relative uncertainty ``u`` of the factor added."""
    grow = factor**power
    value = q.value * grow
    own = float(np.hypot(q.standard_uncertainty * grow, power * value * u))
    return replace(q, value=value, standard_uncertainty=own, one_sided=q.one_sided * grow)


def _swap_covariance(c: Covariance, factor: float) -> Covariance:
    """Covariance of the hole's quantities, in the same order of names."""
    scale = np.array([factor if name in _LENGTHS else 1.0 for name in c.order])
    names = [_SWAPPED.get(name, name) for name in c.order]
    if set(names) != set(c.order):  # one of a pair may be missing: the other takes its name
        return Covariance(tuple(names), c.matrix * np.outer(scale, scale))
    rows = [names.index(name) for name in c.order]
    return Covariance(c.order, (c.matrix * np.outer(scale, scale))[np.ix_(rows, rows)])


def _shrinkage_covariance(thread: MeasuredThread, u: float) -> np.ndarray[Any, np.dtype[np.float64]]:
    order = thread.covariance.order
    quantities = [getattr(thread, n) if n in _LENGTHS else None for n in order]
    along = np.array([0.0 if q is None else q.value for q in quantities]) * u
    return np.outer(along, along)


def _shrinkage_term(thread: MeasuredThread, name: str, u: float, power: int) -> tuple[BudgetTerm, ...]:
    q: Quantity | None = getattr(thread, name)
    return (BudgetTerm(SHRINKAGE, abs(q.value) * u, q.unit),) if power and q is not None else ()


def _ridge(r: RidgeError, factor: float) -> RidgeError:
    return replace(
        r,
        position=r.position * factor,
        pitch_error=r.pitch_error * factor,
        pitch_diameter=r.pitch_diameter * factor,
        pitch_error_u=r.pitch_error_u * factor,
        pitch_diameter_u=r.pitch_diameter_u * factor,
    )


def _form(form: FormErrors, factor: float) -> FormErrors:
    grown = {
        name: None if q is None else _grown(q, factor, 0.0, 1)
        for name, q in vars(form).items()
        if q is None or isinstance(q, Quantity)
    }
    kept: dict[str, Any] = grown
    return replace(form, length_mm=form.length_mm * factor, **kept)
