"""Whether the bench still holds."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from calib.bench import calibrate_bench
from calib.calibration import Calibration
from calib.verification import OLD_DAYS, age_days, verify_bench
from tests.calib.bench_pictures import UM_PER_PX, picture_of, pin
from tests.vision.flat_pictures import CHESSBOARD, seen
from threads.shared.refusal import RefusalError


@pytest.fixture(scope="module")
def bench() -> Calibration:
    return calibrate_bench(pins=[(picture_of(pin(d)), d) for d in (0.8, 2.0)], pin_u95_mm=0.001)


def test_an_untouched_bench_holds(bench: Calibration) -> None:
    found = verify_bench(bench, picture_of(pin(1.5)), 1.5, pin_u95_mm=0.001)
    assert found.holds
    assert found.measured_mm == pytest.approx(1.5, abs=2e-4)
    assert abs(found.difference_um) < found.difference_u95_um < 3
    assert found.normalised_error < 0.3
    assert found.warnings == ()
    assert found.to_dict()["status"] == "holds"


@pytest.mark.parametrize(("mm", "um_per_px"), [(1.5, UM_PER_PX * 1.004), (1.51, UM_PER_PX)])
def test_a_moved_camera_or_another_pin_does_not(bench: Calibration, mm: float, um_per_px: float) -> None:
    found = verify_bench(bench, picture_of(pin(1.5, um_per_px=um_per_px)), mm, pin_u95_mm=0.001)
    assert not found.holds
    assert found.normalised_error > 1.5
    assert found.to_dict()["status"] == "changed"


def test_age(bench: Calibration) -> None:
    made = datetime.fromisoformat(bench.when)
    late = made + timedelta(days=OLD_DAYS + 11)
    found = verify_bench(bench, picture_of(pin(1.5)), 1.5, pin_u95_mm=0.001, now=late)
    assert [w.code for w in found.warnings] == ["calibration_old"]
    assert found.age_days == pytest.approx(OLD_DAYS + 11)
    assert age_days(bench, made - timedelta(days=3)) == 0.0
    assert age_days(replace(bench, when="long ago"), datetime.now(UTC)) == 0.0
    assert age_days(replace(bench, when="2020-01-01T00:00:00"), datetime(2020, 1, 2, tzinfo=UTC)) == 1.0


def test_rulings_calibrate_pins_verify(bench: Calibration) -> None:
    """A flat scale of unknown light allows for what a cone of 4 deg takes from the pin."""
    flat = replace(bench, gauges=(replace(bench.gauges[0], what="grid"),))
    wide = verify_bench(flat, picture_of(pin(1.5)), 1.5, pin_u95_mm=0.001)
    narrow = verify_bench(bench, picture_of(pin(1.5)), 1.5, pin_u95_mm=0.001)
    known = verify_bench(replace(flat, light_cone_deg=0.0), picture_of(pin(1.5)), 1.5, pin_u95_mm=0.001)
    assert wide.holds
    assert wide.difference_u95_um > narrow.difference_u95_um
    assert known.difference_um == pytest.approx(narrow.difference_um)


def test_refused(bench: Calibration) -> None:
    for size, u95 in ((0.0, 0.001), (1.5, 0.5)):
        with pytest.raises(RefusalError) as caught:
            verify_bench(bench, picture_of(pin(1.5)), size, pin_u95_mm=u95)
        assert caught.value.reasons[0].code == "bad_gauge"
    with pytest.raises(RefusalError) as caught:
        verify_bench(bench, seen(CHESSBOARD), 1.5, pin_u95_mm=0.001)
    assert caught.value.reasons[0].code == "calibration_picture_size"
