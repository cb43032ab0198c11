"""Bend and drunkenness of the true helicoid, and what they would else do to the dimensions."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from sample_images.imperfections import Imperfections
from tests.vision.scenes import ACROSS, photograph
from tests.vision.solutions import NOISE, PX, TRUE, edge_points, places, solution
from threads.measured.form_errors import cumulative_pitch_error
from vision.fit.form_fit import fit_form, form_doubts, form_errors
from vision.fit.ridges import ridge_errors
from vision.model.shadow import INDEX
from vision.result.measure import measure_picture
from vision.result.measurement import Measurement
from vision.shared.plane import FixedScale

PLANE = FixedScale(6.0, relative_u=1e-4, edge_offset_u_px=0.02, light_cone_deg=0.0)


@cache
def measured(errors: Imperfections) -> Measurement:
    """A 4-40 screw of 2.42 mm pitch diameter, eight threads at 6 um a pixel."""
    return measure_picture(photograph(replace(ACROSS, form_errors=errors))[0], PLANE)


def codes(m: Measurement) -> set[str]:
    return {w.code for w in m.quality.warnings}


BENT = Imperfections(bend_radius_mm=300.0, bent_at_deg=180.0)
SLIGHTLY_BENT = Imperfections(bend_radius_mm=3000.0)
DRUNKEN = Imperfections(drunkenness_um=8.0, drunken_at_deg=90.0)


def test_a_good_thread_shows_neither() -> None:
    m = measured(Imperfections())
    assert m.form is not None
    assert m.form_fit is not None
    assert abs(m.form_fit.bend) <= 2 * m.form_fit.bend_u < 0.0006
    assert abs(m.form_fit.drunkenness) <= 2 * m.form_fit.drunkenness_u < 0.0002
    assert not m.form_fit.plain_to_see
    assert not {"bent", "drunken"} & codes(m)
    assert m.form.cumulative_pitch_error is not None
    assert m.form.cumulative_pitch_error.value <= m.form.cumulative_pitch_error.u95 < 0.0003


@pytest.mark.slow
@pytest.mark.parametrize("errors", [BENT, SLIGHTLY_BENT])
def test_bend_is_the_sagitta_over_the_threads_in_view(errors: Imperfections) -> None:
    m = measured(errors)
    assert m.form is not None
    bend = m.form.axis_bend
    assert bend is not None
    truth = m.form.length_mm**2 / (8 * errors.bend_radius_mm)
    assert bend.value == pytest.approx(truth, abs=1e-4)
    assert abs(bend.value - truth) <= bend.u95 < 0.0006


def test_what_tilt_or_light_explain_is_not_called_drunken() -> None:
    """0.7 um is told of a part that lies square in narrow light, not at 11 deg, nor in light of 8 deg."""
    form = measured(DRUNKEN).form_fit
    assert form is not None
    slight = replace(form, drunkenness=0.0007, bend=0.0)
    assert [reason.code for reason in form_doubts(slight)] == ["drunken"]
    straight = slight.straight
    x = straight.fit.x.copy()
    x[INDEX["tilt"]] = np.sin(np.radians(11.0))
    wide = replace(straight.seen, recession=0.85 * np.radians(8.0) ** 2 / 8)
    for other in (replace(straight, fit=replace(straight.fit, x=x)), replace(straight, seen=wide)):
        explained = replace(slight, straight=other)
        assert not explained.plain_to_see
        assert not form_doubts(explained)


def test_drunkenness_is_seen_from_where_it_is_largest() -> None:
    m = measured(DRUNKEN)
    assert m.form is not None
    assert m.form.drunkenness_seen is not None
    assert m.form.drunkenness is None
    assert m.form.drunkenness_seen.value == pytest.approx(0.008, abs=1e-4)


@pytest.mark.parametrize(("errors", "code"), [(BENT, "bent"), (DRUNKEN, "drunken")])
def test_dimensions_are_those_without_it(errors: Imperfections, code: str) -> None:
    """Within 0.3 um and 0.03 deg; without the form fit the pitch diameter errs by 2.3 um on the drunken thread."""
    thread = measured(errors).thread
    assert code in codes(measured(errors))
    assert thread.pitch_diameter.value == pytest.approx(2.42, abs=3e-4)
    assert thread.major_diameter.value == pytest.approx(2.81, abs=3e-4)
    assert thread.pitch.value == pytest.approx(0.635, abs=5e-5)
    assert thread.flank_angle_left.value == pytest.approx(30.3, abs=0.03)
    assert thread.pitch_diameter.standard_uncertainty < 0.001


def test_a_bent_thread_has_wider_ridges_outside() -> None:
    """The edges' pitches differ by r / R each way: over 4.4 mm of one edge 4.4 x 1.21 / 300 = 17.8 um."""
    found = measured(BENT).form
    assert found is not None
    assert found.cumulative_pitch_error is not None
    rows = [r for r in measured(BENT).thread.per_thread if r.edge == 1]
    span = rows[-1].position - rows[0].position
    assert found.cumulative_pitch_error.value == pytest.approx(span * 1.21 / 300, rel=0.03)


def test_a_wandering_lead_is_in_the_single_threads() -> None:
    """Up by 10 um at the middle of the picture, straight lines from 4 mm to both sides."""
    m = measured(Imperfections(lead_errors=((16.0, 0.0), (20.0, 10.0), (24.0, 0.0))))
    rows = [r for r in m.thread.per_thread if r.edge == 1]
    errors = np.array([r.pitch_error for r in rows])
    middle = m.part.threaded_length / 2
    away = np.abs(np.array([r.position for r in rows]) - middle)
    expected = -2.5e-3 * away
    apart = errors - expected - np.mean(errors - expected)
    # half a pitch of a flank's height averages the corner in the middle: a third of the corner's 0.8 um
    assert np.abs(apart).max() < 0.5e-3
    total = cumulative_pitch_error(rows)
    assert total is not None
    assert total.value == pytest.approx(float(np.ptp(expected)), abs=0.5e-3)


def test_the_uncertainty_of_single_ridges_is_their_scatter() -> None:
    """Six noisy outlines of one thread, 96 ridges: errors over their u scatter by 1, within four standard errors."""
    u, side = places(4000)
    ratio_pitch, ratio_diameter = [], []
    for seed in range(6):
        noise = NOISE * np.random.default_rng(seed).standard_normal(u.size)
        found = solution(edge_points(TRUE, u, side, noise))
        form = fit_form(found)
        for r in ridge_errors(found, form):
            ratio_pitch.append(r.pitch_error / r.pitch_error_u)
            ratio_diameter.append((r.pitch_diameter - 2 * TRUE[INDEX["pitch_radius"]]) / r.pitch_diameter_u)
    assert 0.7 < float(np.std(ratio_pitch)) < 1.3
    assert 0.7 < float(np.std(ratio_diameter)) < 1.3


def test_dirt_is_no_bend() -> None:
    u, side = places(4000)
    rng = np.random.default_rng(5)
    outward = NOISE * rng.standard_normal(u.size)
    outward[1500:1700] += 4 * PX
    form = fit_form(solution(edge_points(TRUE, u, side, outward)))
    assert abs(form.bend) < 0.2 * PX
    assert form_errors(form, ()).cumulative_pitch_error is None
