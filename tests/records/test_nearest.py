"""The parts on file that are most like a thread in hand."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from records import filing
from records.correction import correct
from records.covariance import ORDER, SIZE, packed, unpacked
from records.nearest import COMPARED, LEVEL, nearest_parts
from records.register import Register
from tests.records.registers import new_register
from tests.threads.measured.test_measured_document import document_of
from tests.threads.measured_factory import measured_thread
from threads.measured.thread import Covariance, MeasuredThread

SIZES = ((2.80, 2.42, 0.635), (2.83, 2.43, 0.635), (2.47, 2.20, 0.45), (4.76, 4.30, 1.058))


@pytest.fixture(scope="module")
def register(tmp_path_factory: pytest.TempPathFactory) -> Register:
    register = new_register(tmp_path_factory.mktemp("nearest"))
    with register.writing() as writing:
        for size in SIZES:
            filing.add_measurement(writing, filing.add_part(writing), document_of(measured_thread(*size)))
    return register


def like(register: Register, thread: MeasuredThread, **options: int) -> list[tuple[int, bool]]:
    with register.reading() as connection:
        return [(one.part, one.alike) for one in nearest_parts(connection, thread, **options)]


def test_the_same_thread_is_found_and_others_are_put_in_order(register: Register) -> None:
    assert like(register, measured_thread(*SIZES[0])) == [(1, True), (2, False), (3, False), (4, False)]
    assert like(register, measured_thread(*SIZES[2]), most=1) == [(3, True)]
    assert like(register, measured_thread(*SIZES[2]), without_part=3)[0] == (1, False)


def test_the_distance_is_that_of_the_joint_covariance(register: Register) -> None:
    thread = measured_thread(2.804, 2.421, 0.6351, flank_left=30.1)
    with register.reading() as connection:
        one = next(found for found in nearest_parts(connection, thread) if found.part == 1)
    other = measured_thread(*SIZES[0])
    d = np.array([getattr(other, name).value - getattr(thread, name).value for name in COMPARED])
    total = thread.covariance.of(COMPARED) + other.covariance.of(COMPARED)
    assert one.distance == pytest.approx(float(np.sqrt(d @ np.linalg.inv(total) @ d)), rel=1e-9)
    assert one.differences["pitch_diameter"][0] == pytest.approx(-0.001, abs=1e-12)
    # U95 of the difference: 2 u of both together
    assert one.differences["pitch_diameter"][1] == pytest.approx(2 * np.sqrt(total[1, 1]), rel=1e-9)


def test_measurements_of_one_thread_are_called_alike_as_often_as_promised(register: Register) -> None:
    draw = np.random.default_rng(5)
    tries = 300
    missed = 0
    with register.reading() as connection:
        for _ in range(tries):
            # both errors in one: the filed value is the true one, so the one in hand gets the sum of both covariances
            hand = measured_thread(*SIZES[0])
            error = draw.multivariate_normal(np.zeros(len(COMPARED)), 2 * hand.covariance.of(COMPARED))
            moved = {
                name: replace(getattr(hand, name), value=getattr(hand, name).value + e)
                for name, e in zip(COMPARED, error, strict=True)
            }
            found = nearest_parts(connection, replace(hand, **moved), most=1)
            missed += not (found[0].part == 1 and found[0].alike)
    # 5 % of 300 with a binomial spread of 3.8: within four of these
    assert abs(missed - LEVEL * tries) < 15


def test_what_light_may_hide_is_allowed_for(register: Register) -> None:
    smaller = measured_thread(2.80, 2.414, 0.635)
    assert like(register, smaller)[0] == (1, False)
    hidden = replace(smaller, pitch_diameter=replace(smaller.pitch_diameter, one_sided=0.007))
    assert like(register, hidden)[0] == (1, True)
    larger = measured_thread(2.80, 2.426, 0.635)
    hidden = replace(larger, pitch_diameter=replace(larger.pitch_diameter, one_sided=0.007))
    assert like(register, hidden)[0] == (1, False)  # it may be larger still, not smaller


def test_a_poor_measurement_on_file_is_not_overlooked(tmp_path: Path) -> None:
    register = new_register(tmp_path)
    poor = measured_thread(2.80, 2.42, 0.635)
    poor = replace(
        poor,
        covariance=Covariance(poor.covariance.order, 1e4 * poor.covariance.matrix),
        **{
            n: replace(getattr(poor, n), standard_uncertainty=100 * getattr(poor, n).standard_uncertainty)
            for n in ORDER
        },
    )
    with register.writing() as writing:
        filing.add_measurement(writing, filing.add_part(writing), document_of(poor))
        for step in range(12):
            document = document_of(measured_thread(2.9, 2.55 + step / 50, 0.635))
            filing.add_measurement(writing, filing.add_part(writing), document)
    assert like(register, measured_thread(2.9, 2.55, 0.635), most=5)[:2] == [(2, True), (1, True)]


def test_withdrawn_parts_holes_and_old_measurements_are_left_out(tmp_path: Path) -> None:
    register = new_register(tmp_path)
    thread = measured_thread(*SIZES[0])
    with register.writing() as writing:
        hole, twice, withdrawn = (filing.add_part(writing) for _ in range(3))
        filing.add_measurement(writing, hole, document_of(replace(thread, internal=True)))
        filing.add_measurement(writing, twice, document_of(thread), measured="2026-01-01")
        filing.add_measurement(writing, twice, document_of(measured_thread(*SIZES[3])), measured="2026-01-02")
        filing.add_measurement(writing, withdrawn, document_of(thread))
        correct(writing, "parts", withdrawn, {"withdrawn": 1})
    assert like(register, thread) == [(twice, False)]
    assert like(register, replace(thread, internal=True)) == [(hole, True)]
    assert like(new_register(tmp_path / "empty"), thread) == []


def test_covariances_are_kept_to_the_last_bit() -> None:
    thread = measured_thread(*SIZES[0])
    kept = unpacked(packed(thread.covariance) + packed(thread.covariance))
    assert kept.shape == (2, SIZE, SIZE)
    np.testing.assert_array_equal(kept[1], thread.covariance.of(ORDER))
    partly = unpacked(packed(Covariance(("pitch",), np.array([[4.0]]))))[0]
    assert partly[ORDER.index("pitch"), ORDER.index("pitch")] == 4.0
    assert np.isnan(partly).sum() == SIZE * SIZE - 1
