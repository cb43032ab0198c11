"""The virtual pitch diameter: its parts, what is taken out for noise, and whether its U95 holds the truth."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.threads.measured_factory import measured_thread
from threads.measured.thread import Covariance, MeasuredThread, RidgeError
from threads.measured.virtual_pitch_diameter import (
    FAMILIES,
    angle_allowance,
    flanks_of,
    pitch_allowance,
    tabulated_pitch,
    usual_engagement,
    virtual_pitch_diameter,
)

PITCH = 0.635


def thread(
    left: float = 30.0, right: float = 30.0, pitch: float = PITCH, ridges: tuple[RidgeError, ...] = ()
) -> MeasuredThread:
    """A 4-40 screw without noise, its ridges given."""
    return replace(measured_thread(2.84, 2.42, pitch, flank_left=left, flank_right=right), per_thread=ridges)


def ridges(errors: list[float], u: float = 0.0, pitch: float = PITCH) -> tuple[RidgeError, ...]:
    """Ridges of one edge, a pitch apart."""
    return tuple(RidgeError(i * pitch, e, 2.42, u, 0.0, 1) for i, e in enumerate(errors))


def test_a_perfect_thread_is_not_enlarged_by_the_noise_of_measurement() -> None:
    found = virtual_pitch_diameter(thread(ridges=ridges([0.0003 * (-1) ** i for i in range(8)], u=0.0003)))
    assert found.quantity.value == pytest.approx(2.42, abs=1e-9)
    # U95 still leaves room for what absolute values would have added
    assert found.quantity.u95 > 0.002


def test_pitch_and_angle_errors_add_up() -> None:
    # half a degree a flank and 5 um between the first and the last thread, known well
    found = virtual_pitch_diameter(thread(30.5, 29.5, ridges=ridges([0.0, 0.001, 0.003, 0.005])), engagement_mm=2.0)
    assert found.pitch_part.value == pytest.approx(0.005 * math.sqrt(3), rel=0.03)
    assert found.angle_part.value == pytest.approx(math.radians(1.0) * 0.625 * PITCH, rel=0.03)
    assert found.quantity.value == pytest.approx(2.42 + found.pitch_part.value + found.angle_part.value, abs=1e-12)


@pytest.mark.parametrize("correlation", [-0.2, 0.0, 0.6])
def test_errors_of_diameter_and_angles_that_go_together_are_added_as_such(correlation: float) -> None:
    """Flanks a degree too large: u^2 = u_E^2 + 2 (c u_a)^2 + 4 r c u_a u_E, c by the angle part above."""
    made = measured_thread(2.84, 2.42, PITCH, flank_left=31.0, flank_right=31.0, scale_u=0.0)
    order = made.covariance.order
    diameter, *angles = (order.index(name) for name in ("pitch_diameter", "flank_angle_left", "flank_angle_right"))
    matrix = made.covariance.matrix.copy()
    matrix[order.index("pitch"), order.index("pitch")] = 0.0
    u_diameter, u_angle = math.sqrt(matrix[diameter, diameter]), math.sqrt(matrix[angles[0], angles[0]])
    for angle in angles:
        matrix[diameter, angle] = matrix[angle, diameter] = correlation * u_diameter * u_angle
    found = virtual_pitch_diameter(replace(made, covariance=Covariance(order, matrix), per_thread=()))
    c = math.radians(1.0) * 0.625 * PITCH * u_angle
    expected = math.sqrt(u_diameter**2 + 2 * c**2 + 4 * correlation * c * u_diameter)
    assert found.quantity.standard_uncertainty == pytest.approx(expected, rel=0.1)


def test_in_a_hole_they_are_taken_off() -> None:
    screw = thread(30.5, 29.5)
    outside = virtual_pitch_diameter(screw).quantity.value
    inside = virtual_pitch_diameter(replace(screw, internal=True)).quantity.value
    assert inside - 2.42 == pytest.approx(2.42 - outside, abs=1e-12)
    assert inside < 2.42


def test_a_wrong_pitch_counts_over_the_engagement() -> None:
    # 0.3 % on 2.54 mm is 7.6 um; its ridges are all where the wrong pitch has them
    long = thread(pitch=PITCH * 1.003, ridges=ridges([0.0] * 5))
    found = virtual_pitch_diameter(long, pitch_mm=PITCH, engagement_mm=2.54)
    assert found.pitch_part.value == pytest.approx(0.003 * 2.54 * math.sqrt(3), rel=0.03)
    half = virtual_pitch_diameter(long, pitch_mm=PITCH, engagement_mm=1.27)
    assert half.pitch_part.value == pytest.approx(found.pitch_part.value / 2, rel=0.1)
    # beyond the threads in view the pitch goes on
    twice = virtual_pitch_diameter(long, pitch_mm=PITCH, engagement_mm=5.08)
    assert twice.pitch_part.value == pytest.approx(2 * found.pitch_part.value, rel=0.05)


def test_without_a_table_that_has_the_pitch_only_differences_count() -> None:
    odd = thread(pitch=0.6)  # metric: M3.5
    assert virtual_pitch_diameter(odd).pitch_mm == pytest.approx(0.6)
    stray = virtual_pitch_diameter(thread(pitch=0.615, ridges=ridges([0.0, 0.004, 0.0], pitch=0.615)))
    assert stray.pitch_mm == pytest.approx(0.615)
    assert stray.pitch_part.value == pytest.approx(0.004 * math.sqrt(3), rel=1e-6)


def test_the_candidate_says_which_angle_is_right() -> None:
    found = virtual_pitch_diameter(thread(27.6, 27.4), form="ISO metric")
    assert found.flanks.half_angle_deg == 30.0
    # 5 degrees in all
    assert found.angle_part.value == pytest.approx(math.radians(5.0) * 0.625 * PITCH, rel=0.01)
    assert virtual_pitch_diameter(thread(27.6, 27.4)).flanks.half_angle_deg == 27.5


def test_the_usual_engagement_is_a_diameter_or_what_is_in_view() -> None:
    assert usual_engagement(thread()) == pytest.approx(2.84)
    assert usual_engagement(replace(thread(), threads_in_view=3)) == pytest.approx(3 * PITCH)


@pytest.mark.slow
@pytest.mark.parametrize("error", [0.0, 1.0, 2.5, 8.0])
def test_u95_holds_the_true_value(error: float) -> None:
    """400 measurements: flank angles off by ``error`` times their u, pitch as much, ridges 1 um noise each."""
    rng = np.random.default_rng(3)
    u_angle, u_ridge = 0.1, 0.001
    true_ridges = np.array([0.0, 1.0, -1.0, 0.0, 0.5, 0.0]) * error * u_ridge
    truth = 2.42 + angle_allowance(error * u_angle, error * u_angle, PITCH, FAMILIES[0])
    truth += pitch_allowance(float(np.ptp(true_ridges)), 30.0)
    inside, misses = 0, []
    for _ in range(400):
        seen = measured_thread(
            2.84, 2.42, PITCH, flank_left=30 + error * u_angle, flank_right=30 - error * u_angle, noise=rng
        )
        # the factory's pitch noise is 0.02 %; the pitch is taken as right here
        noisy = replace(
            seen,
            per_thread=ridges(list(true_ridges + u_ridge * rng.standard_normal(6)), u=u_ridge),
            pitch=replace(seen.pitch, value=PITCH),
        )
        found = virtual_pitch_diameter(noisy).quantity
        misses.append(found.value - truth)
        inside += abs(found.value - truth) <= found.u95
    # 95 % of 400 with four standard deviations of the count; more than 95 % is the price of symmetry
    assert inside >= 400 * 0.95 - 4 * math.sqrt(400 * 0.95 * 0.05)
    # plain absolute values would give 5.5 um too much at no error (4.4 um of pitch, 1.1 um of angle)
    assert abs(float(np.mean(misses))) < 0.0020


@given(st.floats(-0.05, 0.05), st.sampled_from([f.half_angle_deg for f in FAMILIES]))
def test_pitch_allowance_is_even_and_proportional(error: float, angle: float) -> None:
    assert pitch_allowance(error, angle) == pitch_allowance(-error, angle) >= 0
    assert pitch_allowance(2 * error, angle) == pytest.approx(2 * pitch_allowance(error, angle))


@given(st.floats(-2, 2), st.floats(-2, 2), st.sampled_from(FAMILIES), st.floats(0.2, 3.0))
def test_angle_allowance_is_a_sum_over_the_flanks(left: float, right: float, flanks: object, pitch: float) -> None:
    family = next(f for f in FAMILIES if f is flanks)
    both = angle_allowance(left, right, pitch, family)
    one = angle_allowance(left, 0.0, pitch, family) + angle_allowance(0.0, right, pitch, family)
    assert both == pytest.approx(one, abs=1e-12)
    assert both >= 0


def test_families_and_pitches_are_found() -> None:
    assert flanks_of(None, 29.2).half_angle_deg == 30.0
    assert flanks_of("BA", 30.0).half_angle_deg == 23.75
    assert flanks_of(None, 26.4).half_angle_deg == pytest.approx(26.565, abs=0.001)
    with pytest.raises(KeyError):
        flanks_of("no such form", 30.0)
    assert tabulated_pitch(0.3520, FAMILIES[0]) == pytest.approx(25.4 / 72)
    assert tabulated_pitch(0.3504, FAMILIES[0]) == pytest.approx(0.35)
    assert tabulated_pitch(0.415, FAMILIES[0]) is None
