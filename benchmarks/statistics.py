"""From outcomes to numbers: errors, coverage and the verdict against what was promised."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict, dataclass
from math import nan, sqrt
from typing import Any

import numpy as np

from benchmarks.outcome import UNITS, Outcome

LENGTHS = tuple(name for name, unit in UNITS.items() if unit == "um")


@dataclass(frozen=True)
class Errors:
    """A row of errors: how many, root mean square, the worst (signed) and its scene, mean."""

    n: int
    rms: float
    worst: float
    worst_seed: int | None
    bias: float


@dataclass(frozen=True)
class Summary:
    """One quantity over all measured scenes, in the unit of ``UNITS``; ``px`` the same divided by each scene's scale.

    ``coverage`` is the share (0 to 1) of scenes whose error is within U95, ``median_u95`` how wide that is. ``known_*``
    is with scale and edge offset known, ``textbook`` the textbook pipeline on the same pictures. ``bound`` is the
    median of the Cramer-Rao bounds, ``times_bound`` the root mean square of the known error in units of its own bound.
    """

    quantity: str
    unit: str
    errors: Errors
    px: Errors
    coverage: float
    median_u95: float
    known: Errors
    known_px: Errors
    known_coverage: float
    known_median_u95: float
    textbook: Errors
    textbook_px: Errors
    bound: float = nan
    times_bound: float = nan


@dataclass(frozen=True)
class Verdict:
    """One promise: the limit, what came out, and whether that is within the limit (None: not tried)."""

    what: str
    limit: str
    value: float
    met: bool | None


def errors_of(values: Sequence[tuple[int, float]]) -> Errors:
    """Statistics of (seed, error) pairs."""
    if not values:
        return Errors(0, nan, nan, None, nan)
    errors = np.array([error for _, error in values])
    worst = int(np.argmax(np.abs(errors)))
    return Errors(
        len(values), sqrt(float(np.mean(errors**2))), float(errors[worst]), values[worst][0], float(errors.mean())
    )


def summarise(outcomes: Sequence[Outcome]) -> dict[str, Summary]:
    """A summary for each quantity that any scene has."""
    found = {}
    for name, unit in UNITS.items():
        rows = [(outcome, outcome.compared[name]) for outcome in outcomes if name in outcome.compared]
        if not rows:
            continue
        ours = [(o.seed, c.error, o.um_per_px) for o, c in rows]
        known = [(o.seed, c.known_error, o.um_per_px) for o, c in rows if c.known_error is not None]
        plain = [(o.seed, c.textbook_error, o.um_per_px) for o, c in rows if c.textbook_error is not None]
        covered = [
            (abs(c.known_error) <= c.known_u95, c.known_u95)
            for _, c in rows
            if c.known_error is not None and c.known_u95 is not None
        ]
        bounded = [(c.known_error, c.bound) for _, c in rows if c.known_error is not None and c.bound]
        found[name] = Summary(
            quantity=name,
            unit=unit,
            errors=errors_of([(seed, e) for seed, e, _ in ours]),
            px=errors_of([(seed, e / scale) for seed, e, scale in ours]),
            coverage=float(np.mean([abs(c.error) <= c.u95 for _, c in rows])),
            median_u95=float(np.median([c.u95 for _, c in rows])),
            known=errors_of([(seed, e) for seed, e, _ in known]),
            known_px=errors_of([(seed, e / scale) for seed, e, scale in known]),
            known_coverage=float(np.mean([within for within, _ in covered])) if covered else nan,
            known_median_u95=float(np.median([u95 for _, u95 in covered])) if covered else nan,
            textbook=errors_of([(seed, e) for seed, e, _ in plain]),
            textbook_px=errors_of([(seed, e / scale) for seed, e, scale in plain]),
            bound=float(np.median([bound for _, bound in bounded])) if bounded else nan,
            times_bound=errors_of([(0, error / bound) for error, bound in bounded]).rms,
        )
    return found


def pitch_relative(outcomes: Sequence[Outcome]) -> Errors:
    """The error of the pitch as a fraction of it, with the scale known."""
    rows = [(o.seed, o.compared["pitch"]) for o in outcomes if "pitch" in o.compared]
    return errors_of([(seed, c.known_error / c.true) for seed, c in rows if c.known_error is not None])


def verdicts(outcomes: Sequence[Outcome], at_four: Sequence[Outcome]) -> list[Verdict]:
    """The promises, one by one.

    What is promised in pixels is about the picture and is judged with scale and edge offset known; the figure with the
    pins' errors in it stands in the table beside it. What is promised in micrometres, and the coverage, is judged with
    the calibration from the two pins.

    Args:
        outcomes: scenes of any scale.
        at_four: scenes at 4 um/px.
    """
    all_of = summarise(outcomes)
    four = summarise(at_four).get("pitch_diameter")
    rows = []
    for name, limit in (
        ("pitch_diameter", 0.15),
        ("major_diameter", 0.3),
        ("minor_diameter", 0.3),
        ("crest_width", 0.6),
        ("root_width", 0.6),
    ):
        value = all_of[name].known_px.rms if name in all_of else nan
        rows.append(_at_most(f"{name}: RMS, scale and offset known", limit, value, "px"))
    rows.append(_at_most("pitch_diameter: RMS at 4 um/px, with the pins", 1.0, four.errors.rms if four else nan, "um"))
    rows.append(_at_most("pitch: RMS, scale known", 0.02, 100 * pitch_relative(outcomes).rms, "%"))
    for name, limit in (("flank_angle_left", 0.2), ("flank_angle_right", 0.2), ("axis_tilt", 0.1)):
        rows.append(_at_most(f"{name}: RMS", limit, all_of[name].errors.rms if name in all_of else nan, "deg"))
    rows.append(
        _at_most("pitch_diameter: median U95 at 4 um/px, with the pins", 3.0, four.median_u95 if four else nan, "um")
    )
    for name, summary in all_of.items():
        share = 100 * summary.coverage
        rows.append(Verdict(f"{name}: U95 covers the truth", "93 to 99 %", share, 93 <= share <= 99))
    measured = sum(outcome.status == "measured" for outcome in outcomes)
    rows.append(Verdict("good pictures that were measured", "all", measured, measured == len(outcomes)))
    return rows


def _at_most(what: str, limit: float, value: float, unit: str) -> Verdict:
    return Verdict(what, f"<= {limit:g} {unit}", value, None if np.isnan(value) else value <= limit)


def to_json(outcomes: Sequence[Outcome], at_four: Sequence[Outcome]) -> dict[str, Any]:
    """Everything, for a file."""
    return {
        "summary": {name: asdict(summary) for name, summary in summarise(outcomes).items()},
        "summary_at_4_um_per_px": {name: asdict(summary) for name, summary in summarise(at_four).items()},
        "pitch_rms_relative_scale_known": pitch_relative(outcomes).rms,
        "verdicts": [asdict(verdict) for verdict in verdicts(outcomes, at_four)],
        "scenes": [outcome.to_dict() for outcome in outcomes],
        "scenes_at_4_um_per_px": [outcome.to_dict() for outcome in at_four],
    }
