"""When a bench was last checked, and one gauge read by itself."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import numpy as np
import pytest

from calib.bench import PIN, calibrate_bench
from calib.calibration import Calibration, new_calibration
from calib.gauge_detection import detect_gauge
from calib.history import Entry, history, note_calibration
from calib.last_check import last_check
from calib.lens import NO_LENS
from vision.pictures.picture import read_picture

SAMPLES = Path(__file__).parents[2] / "sample_images"
NOW = datetime(2026, 5, 1, tzinfo=UTC)


def _bench(days: float) -> Calibration:
    return new_calibration(
        gauges=[], um_per_px=4.0, edge_offset_px=0.0, covariance=np.diag([1e-6, 1e-2]), lens=NO_LENS,
        light_cone_deg=None, picture_width_px=640, picture_height_px=480, when=NOW - timedelta(days=days),
    )  # fmt: skip


def _verified(bench: Calibration, days: float, *, holds: bool) -> Entry:
    when = (NOW - timedelta(days=days)).isoformat()
    return Entry("verified", bench.id, when, "a.json", "pin", 4.0, 0.002, 0.0, 0.2, 0.3, 1.0, holds)


def test_an_old_bench_is_warned_of_until_it_is_verified() -> None:
    bench = _bench(90)
    assert [w.code for w in last_check(bench, (), NOW).warnings] == ["check_old"]
    checked = last_check(bench, [_verified(bench, 2, holds=True)], NOW)
    assert checked.verified
    assert checked.days == pytest.approx(2)
    assert checked.warnings == ()
    assert last_check(_bench(3), (), NOW).warnings == ()


def test_a_bench_that_did_not_hold_says_so_until_it_does() -> None:
    bench = _bench(10)
    failed = _verified(bench, 2, holds=False)
    assert [w.code for w in last_check(bench, [failed], NOW).warnings] == ["bench_did_not_hold"]
    assert last_check(bench, [failed, _verified(bench, 1, holds=True)], NOW).holds
    other = replace(failed, id="another")
    assert last_check(bench, [other], NOW).holds


def test_a_gauge_by_itself_reads_as_in_the_calibration(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("FLANKWISE_DATA", str(tmp_path))
    file = SAMPLES / "pin_1000_bench_a.png"
    look = detect_gauge(PIN, file)
    bench = calibrate_bench(pins=[(read_picture(file), 1.0)], pin_u95_mm=0.001)
    assert look.step_px == pytest.approx(bench.gauges[0].diameter_px, rel=1e-9)
    assert look.u_px == pytest.approx(bench.gauges[0].u_px, rel=1e-9)
    assert note_calibration(bench, "bench.json")
    assert [(entry.event, entry.gauges) for entry in history()] == [("calibrated", "1 pin")]
