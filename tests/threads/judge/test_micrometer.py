"""A micrometer over wires joined with a picture: the joint estimate against a direct least-squares solution."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from tests.refused import refused
from tests.threads.measured_factory import measured_thread
from threads.judge.micrometer import DISAGREE, join_over_wires
from threads.judge.wires import WireError, best_wire, over_wires
from threads.measured.thread import MeasuredThread
from threads.shared.quantity import Quantity

P, E = 0.635, 2.40
WIRE = Quantity(best_wire(P, 30.0), 0.0005, "mm")


def picture(e: float = E, **more: float) -> MeasuredThread:
    return measured_thread(2.80, e, P, minor=2.0, **more)


def reading(e: float, u: float = 0.002) -> Quantity:
    return Quantity(over_wires(e, WIRE.value, P, 30.0), u, "mm")


def test_joined_as_two_observations_of_one_thread() -> None:
    """Generalised least squares over all dimensions and the wire, written out; agreement to 1 nm."""
    thread, read = picture(), reading(E + 0.003)
    joined = join_over_wires(thread, read, WIRE)
    order = thread.covariance.order
    x = np.array([getattr(thread, name).value for name in order])

    def measured(values: np.ndarray, wire: float) -> float:  # type: ignore[type-arg]
        at = dict(zip(order, values, strict=True))
        half = (at["flank_angle_left"] + at["flank_angle_right"]) / 2
        return over_wires(at["pitch_diameter"], wire, at["pitch"], half)

    steps = np.array([1e-3 if "angle" in name else 1e-5 for name in order])
    slope = np.array(
        [
            (measured(x + d, WIRE.value) - measured(x - d, WIRE.value)) / (2 * step)
            for d, step in zip(np.diag(steps), steps, strict=True)
        ]
    )
    wire_slope = (measured(x, WIRE.value + 1e-5) - measured(x, WIRE.value - 1e-5)) / 2e-5
    v = read.standard_uncertainty**2 + (wire_slope * WIRE.standard_uncertainty) ** 2
    information = np.linalg.inv(thread.covariance.matrix) + np.outer(slope, slope) / v
    covariance = np.linalg.inv(information)
    change = covariance @ slope * (read.value - measured(x, WIRE.value)) / v
    for name, step, u in zip(order, change, np.sqrt(np.diag(covariance)), strict=True):
        q = getattr(joined.thread, name)
        assert q.value == pytest.approx(getattr(thread, name).value + step, abs=1e-6)
        assert q.standard_uncertainty == pytest.approx(u, rel=1e-4)
    assert joined.agree


def test_the_better_one_has_the_larger_share_and_both_together_are_better() -> None:
    thread = picture()
    good, bad = (join_over_wires(thread, reading(E, u), replace(WIRE, standard_uncertainty=1e-5)) for u in (2e-4, 0.01))
    assert good.share > 0.9
    assert bad.share < 0.05
    for one in (good, bad):
        assert one.thread.pitch_diameter.u95 < min(one.by_picture.u95, one.by_wires.u95) * 1.0001


def test_what_the_errors_have_in_common_moves_the_other_diameters() -> None:
    joined = join_over_wires(picture(scale_u=2e-3), reading(E + 0.006, 2e-4), replace(WIRE, standard_uncertainty=1e-5))
    # nearly all of the error is the scale's, which acts on the pitch too: the major diameter grows in proportion
    grown = joined.thread.major_diameter.value / 2.80 - 1
    assert grown == pytest.approx(0.006 / (E - math.sqrt(0.75) * P), rel=0.1)
    assert joined.thread.major_diameter.u95 < 0.5 * picture(scale_u=2e-3).major_diameter.u95


def test_light_known_in_direction_only_is_weighed_and_gone() -> None:
    joined = join_over_wires(picture(one_sided=0.006), reading(E + 0.005, 1e-3), WIRE)
    assert joined.thread.pitch_diameter.one_sided == 0.0
    assert joined.agree
    assert E + 0.003 < joined.thread.pitch_diameter.value < E + 0.005
    held = join_over_wires(picture(one_sided=0.006), reading(E, 1e-3), WIRE).thread.pitch_diameter
    assert abs(held.value - E) < held.u95


def test_the_joint_estimate_holds_the_truth() -> None:
    """80 pictures and readings: U95 holds 95 % (3 standard deviations of luck)."""
    rng, inside = np.random.default_rng(4), 0
    for _ in range(80):
        thread = picture(noise=rng)
        wire = rng.normal(WIRE.value, WIRE.standard_uncertainty)
        read = Quantity(over_wires(E, wire, P, 30.0) + rng.normal(0, 0.002), 0.002, "mm")
        found = join_over_wires(thread, read, WIRE).thread.pitch_diameter
        inside += abs(found.value - E) <= found.u95
    assert inside >= 76 - 3 * math.sqrt(80 * 0.95 * 0.05)


def test_a_disagreement_is_said_and_covered() -> None:
    joined = join_over_wires(picture(), reading(E + 0.03), WIRE)
    assert not joined.agree
    assert joined.normalised_difference > DISAGREE
    found = joined.thread.pitch_diameter
    assert found.value - found.u95 < E
    assert found.value + found.u95 > E + 0.015
    matrix = joined.thread.covariance.matrix
    assert np.linalg.eigvalsh(matrix).min() > -1e-18
    content = joined.to_dict()
    assert content["agree"] is False
    assert content["over_wires"]["unit"] == "mm"


def test_readings_that_cannot_be_are_refused() -> None:
    with refused(WireError, match="not of this screw"):
        join_over_wires(picture(), reading(E + 0.2), WIRE)
    with refused(WireError, match="not holes"):
        join_over_wires(replace(picture(), internal=True), reading(E), WIRE)
    with pytest.raises(WireError):
        join_over_wires(picture(), reading(E), Quantity(5.0, 0.001, "mm"))
