"""The Bench by hand: calibrating as a guided task, verifying, a scale by hand, what is said of the bench current."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QImage
from PySide6.QtWidgets import QFileDialog, QPushButton, QWidget

from calib.bench import PIN
from calib.calibration import Calibration
from calib.file import load_calibration
from calib.history import Entry, history, note
from flankwise.bench import Bench
from gui.bench.gauge_row import GaugeRow
from gui.bench.laying import CHECK, DISTANCE, FOCUS, LIGHT, MASK, PINS
from gui.samples import sample_bench
from gui.theme import theme

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from gui.window import Window

SAMPLES = Path(__file__).parents[2] / "sample_images"
SMALL, LARGE = str(SAMPLES / "pin_1000_bench_a.png"), str(SAMPLES / "pin_2500_bench_a.png")


@pytest.fixture(autouse=True)
def _own_data(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("FLANKWISE_DATA", str(tmp_path / "data"))


@pytest.fixture(scope="module")
def bench_a() -> Calibration:
    return sample_bench()


def _lay_down(
    window: Window, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch, row: GaugeRow, size: str, u95: str, picture: str
) -> None:
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *_: (picture, ""))
    if window.bench.task.isVisible():
        window.bench.task.go(PINS)
    row.size_edit.setFocus()
    row.size_edit.clear()
    qtbot.keyClicks(row.size_edit, size)
    qtbot.keyClick(row.size_edit, Qt.Key.Key_Tab)
    qtbot.keyClicks(row.u95_edit, u95)
    qtbot.mouseClick(row.file, Qt.MouseButton.LeftButton)


@pytest.mark.slow
def test_two_pins_laid_down_by_clicks_and_keys_end_in_use_and_on_disk(
    window: Window, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    bench = window.bench
    qtbot.keyClick(bench.picture, Qt.Key.Key_G)
    task = bench.task
    assert task.isVisible()
    assert not task.calibrate.isEnabled()
    _lay_down(window, qtbot, monkeypatch, task.rows[0], "1.000 mm", "1 um", SMALL)
    _lay_down(window, qtbot, monkeypatch, task.rows[1], "2.500 mm", "1 um", LARGE)
    assert window.desk.work.wait()
    assert "249.5" in task.rows[0].status
    assert "624.499" in task.rows[1].status
    assert task.calibrate.isEnabled()
    task.calibrate.setFocus()
    qtbot.keyClick(task.calibrate, Qt.Key.Key_Space)
    assert window.desk.work.wait()
    assert task.step == CHECK
    assert task.facts.scale.text().startswith("4.000")
    assert task.telling.words[0].startswith("✓ yes 4-40 NC-2 against 4-40 UNC-2A")
    assert task.telling.words[-1].startswith("✗ no 4-40 NC-3 against 4-40 NC-2")
    assert "pin 1 mm" in task.facts.chart.accessibleDescription()
    assert window.desk.bench is None  # shown first, current when the person says so
    qtbot.mouseClick(task.keep, Qt.MouseButton.LeftButton)
    assert window.desk.work.wait()
    assert window.desk.bench is not None
    file = Path(window.desk.bench.file)
    assert file.parent == tmp_path / "data" / "calibrations"
    assert load_calibration(file).um_per_px == pytest.approx(4.0, abs=0.004)
    assert [(entry.event, entry.file) for entry in history()] == [("calibrated", file.name)]
    assert [(row.size_edit.text(), row.look) for row in task.rows] == [("1.000 mm", None), ("2.500 mm", None)]
    assert task.found is None
    assert bench.current_bench.isVisible()
    assert bench.current_bench.facts.scale.text().startswith("4.000")


def test_a_u95_without_unit_is_refused_in_a_sentence(
    window: Window, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    bench = window.bench
    bench.show_task()
    row = bench.task.rows[0]
    _lay_down(window, qtbot, monkeypatch, row, "2.5", "1", LARGE)
    assert window.desk.work.wait()
    row.u95_edit.setFocus()
    qtbot.keyClick(row.u95_edit, Qt.Key.Key_Return)
    assert "has no unit" in row.status
    assert not bench.task.calibrate.isEnabled()
    row.u95_edit.setFocus()
    qtbot.keyClicks(row.u95_edit, " um")
    assert "has no unit" not in row.status
    assert bench.task.calibrate.isEnabled()


@pytest.mark.slow
def test_swapped_sizes_are_refused_and_nothing_is_use_it(
    window: Window, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    bench = window.bench
    bench.show_task()
    _lay_down(window, qtbot, monkeypatch, bench.task.rows[0], "2.5mm", "1um", SMALL)
    _lay_down(window, qtbot, monkeypatch, bench.task.rows[1], "1mm", "1um", LARGE)
    assert window.desk.work.wait()
    qtbot.mouseClick(bench.task.calibrate, Qt.MouseButton.LeftButton)
    assert window.desk.work.wait()
    assert "swapped" in window.notice.text
    assert bench.task.found is None
    assert not bench.task.keep.isEnabled()


def test_a_picture_without_a_pin_says_so_in_its_row(
    window: Window, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    window.bench.show_task()
    row = window.bench.task.rows[0]
    _lay_down(
        window, qtbot, monkeypatch, row, "2.5mm", "1um", str(SAMPLES / "sextant_index_arm_screw_4-40_bench_a.png")
    )
    assert window.desk.work.wait()
    assert row.look is None
    assert "pin" in row.status
    assert row.status.endswith(".")


@pytest.mark.slow
def test_what_is_typed_after_calibrating_takes_the_outcome_away(
    window: Window, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    task = window.bench.task
    window.bench.show_task()
    _lay_down(window, qtbot, monkeypatch, task.rows[0], "2.5mm", "", LARGE)
    assert window.desk.work.wait()
    qtbot.mouseClick(task.calibrate, Qt.MouseButton.LeftButton)
    assert window.desk.work.wait()
    assert task.found is not None
    assert "assumed" in task.facts.remarks.text()  # one pin, and nobody said its U95
    task.go(MASK)
    task.form.light.setFocus()
    task.form.light.setCurrentIndex(2)
    assert task.found is None
    assert not task.calibrate.isEnabled()
    qtbot.keyClicks(task.form.patch, "10mm")
    qtbot.keyClicks(task.form.distance, "150mm")
    assert "1.9°" in task.form.effect
    assert "1.9°" in task.verdict.sentence
    assert task.verdict.good is True
    qtbot.mouseClick(task.next, Qt.MouseButton.LeftButton)
    assert task.step == PINS
    qtbot.mouseClick(task.calibrate, Qt.MouseButton.LeftButton)
    assert window.desk.work.wait()
    assert task.found is not None
    assert task.found.light_cone_deg == pytest.approx(1.909, abs=0.001)


def test_gauges_are_added_and_taken_away(window: Window, qtbot: QtBot) -> None:
    task = window.bench.task
    window.bench.show_task()
    task.go(PINS)
    qtbot.mouseClick(task.gauges.adders["grid"], Qt.MouseButton.LeftButton)
    assert [row.what for row in task.rows] == [PIN, PIN, "grid"]
    task.gauges.remove(task.rows[1])
    assert [row.what for row in task.rows] == [PIN, "grid"]


def test_a_scale_by_hand_says_that_no_gauge_stands_behind_it(window: Window, qtbot: QtBot) -> None:
    bench = window.bench
    qtbot.keyClick(bench.picture, Qt.Key.Key_H)
    by_hand = bench.by_hand
    qtbot.keyClicks(by_hand.edit, "4")
    qtbot.mouseClick(by_hand.go, Qt.MouseButton.LeftButton)
    assert "has no unit" in by_hand.problem.text()
    qtbot.keyClicks(by_hand.edit, " um")
    qtbot.keyClick(by_hand.edit, Qt.Key.Key_Return)
    assert window.desk.bench is not None
    assert not window.desk.bench.plane.traceable
    assert "no gauge" in bench.current_bench.state.text()
    by_hand.edit.setText("4 mm")
    by_hand.use_it()
    assert "not credible" in by_hand.problem.text()


@pytest.mark.slow
def test_the_bench_is_verified_with_a_pin(
    window: Window, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch, bench_a: Calibration
) -> None:
    window.desk.set_bench(Bench(bench_a, "bench_a.json"))
    bench = window.bench
    qtbot.keyClick(bench.picture, Qt.Key.Key_V)
    _lay_down(window, qtbot, monkeypatch, bench.verify.row, "2.5mm", "1um", LARGE)
    assert window.desk.work.wait()
    qtbot.mouseClick(bench.verify.go, Qt.MouseButton.LeftButton)
    assert window.desk.work.wait()
    assert bench.verify.word.text() == "The bench holds"
    bench.verify.row.size_edit.setText("2.51mm")
    assert bench.verify.word.text() == ""
    qtbot.mouseClick(bench.verify.go, Qt.MouseButton.LeftButton)
    assert window.desk.work.wait()
    assert bench.verify.word.text() == "The bench has changed"
    qtbot.mouseClick(bench.verify.back, Qt.MouseButton.LeftButton)
    assert "it did not hold" in bench.current_bench.state.text()
    assert "Calibrate again" in bench.current_bench.facts.remarks.text()
    assert [entry.holds for entry in history()] == [True, False]


def test_an_old_bench_and_a_picture_of_another_size_are_warned_of(window: Window, bench_a: Calibration) -> None:
    old = replace(bench_a, when="2020-01-01T00:00:00Z")
    window.desk.set_bench(Bench(old, "bench_a.json"))
    current = window.bench.current_bench
    assert "The bench was last checked" in current.facts.remarks.text()
    current.set_frame_size((640, 480))
    assert current.facts.remarks.text().startswith("Warning: The live picture has 640 × 480 pixels")
    current.set_frame_size((1280, 960))
    assert "640" not in current.facts.remarks.text()
    checked = Entry("verified", old.id, "2999-01-01T00:00:00Z", "a.json", "pin", 4.0, 0.004, 0.0, 0.2, 0.1, 1.0, True)
    assert note(checked)
    current.refresh()
    assert "was last checked" not in current.facts.remarks.text()


@pytest.mark.parametrize(("inches", "typed", "mm", "shown"), [
    (False, "1.000", 1.0, "1.000 mm"), (True, "0.0394", 1.00076, "0.0394 in"), (True, "1.000 mm", 1.0, "1.000 mm"),
    (False, "2,5", 2.5, "2.5 mm"),
])  # fmt: skip
def test_a_size_without_its_unit_is_in_that_of_the_window(
    window: Window, qtbot: QtBot, inches: bool, typed: str, mm: float, shown: str
) -> None:
    window.desk.set_inches(inches)
    window.bench.show_task()
    window.bench.task.go(PINS)
    row = window.bench.task.rows[0]
    qtbot.keyClicks(row.size_edit, typed)
    assert row.size_mm == pytest.approx(mm)
    qtbot.keyClick(row.size_edit, Qt.Key.Key_Tab)
    assert row.size_edit.text() == shown
    window.desk.set_inches(not inches)
    assert row.size_mm == pytest.approx(mm)


def test_the_picture_of_a_gauge_is_shown_with_the_edges_found_in_it(window: Window) -> None:
    window.bench.show_task()
    window.bench.task.go(PINS)
    row = window.bench.task.rows[0]
    row.set_picture(SMALL)
    assert window.desk.work.wait()
    assert row.seen.isVisible()
    seen = row.seen.seen
    assert seen is not None
    upper, lower = sorted(edge[:, 1].mean() for edge in seen.found.marks)
    assert lower - upper == pytest.approx(250, abs=2)  # the truth of the sample: 1.000 mm at 4 um a pixel
    blue = QColor(theme().outline)
    assert _pixels_like(row.seen.grab().toImage(), blue) > 20
    assert _pixels_like(window.bench.picture.grab().toImage(), blue) > 100
    assert "pin_1000_bench_a.png" in window.bench.shown.caption.text()


def _pixels_like(image: QImage, colour: QColor) -> int:
    wanted = colour.rgb() & 0xFFFFFF
    return sum(image.pixel(x, y) & 0xFFFFFF == wanted for x in range(image.width()) for y in range(image.height()))


@pytest.mark.parametrize("size", [(1280, 800), (1024, 700)])
def test_the_buttons_of_the_calibration_stay_in_view(window: Window, qtbot: QtBot, size: tuple[int, int]) -> None:
    window.resize(*size)
    window.bench.show_task()
    task = window.bench.task
    task.go(PINS)
    task.gauges.add(PIN)
    for row, typed, path in zip(task.rows, ("1.000", "2.500"), (SMALL, LARGE), strict=False):
        row.size_edit.setText(typed)
        row.set_picture(path)
    assert window.desk.work.wait()
    assert _in_view(task.calibrate)
    qtbot.mouseClick(task.calibrate, Qt.MouseButton.LeftButton)
    assert window.desk.work.wait()
    assert task.keep.isEnabled()
    assert _in_view(task.keep)


def _in_view(widget: QWidget) -> bool:
    return widget.visibleRegion().boundingRect().size() == widget.size()


def test_a_gauge_that_was_taken_away_is_laid_down_again_by_undo(window: Window, qtbot: QtBot) -> None:
    window.bench.show_task()
    task = window.bench.task
    task.go(PINS)
    first, second = task.rows
    first.size_edit.setText("1.000 mm")
    first.set_picture(SMALL)
    assert window.desk.work.wait()
    gone = next(b for b in first.findChildren(QPushButton) if b.text() == "×")
    qtbot.mouseClick(gone, Qt.MouseButton.LeftButton)
    assert task.rows == [second]
    assert not first.isVisible()
    assert "Ctrl+Z" in window.notice.text
    qtbot.keyClick(window.focusWidget(), Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert task.rows == [first, second]
    assert first.isVisible()
    assert first.complete


@pytest.mark.slow
def test_steps_are_judged_by_a_picture_and_those_that_are_good_are_passed_over(
    window: Window, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    bench, task = window.bench, window.bench.task
    qtbot.keyClick(bench.picture, Qt.Key.Key_G)
    assert task.step == LIGHT
    assert task.verdict.good is None
    assert not bench.signs.isVisible()
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *_: (LARGE, ""))
    qtbot.mouseClick(task.trial_file, Qt.MouseButton.LeftButton)
    assert window.desk.work.wait()
    assert task.verdict.good is True
    assert "Even" in task.verdict.sentence
    assert "seen" in bench.picture._lines
    qtbot.mouseClick(task.next, Qt.MouseButton.LeftButton)
    assert task.step == DISTANCE  # focus and alignment are good as well
    task.form.lens.setCurrentIndex(1)
    task.form.focus.setChecked(True)
    assert task.verdict.good is True
    qtbot.mouseClick(task.next, Qt.MouseButton.LeftButton)
    assert task.step == MASK
    qtbot.mouseClick(task.strip.buttons[1], Qt.MouseButton.LeftButton)
    assert task.step == FOCUS
    assert window.bench.takes_files([SMALL])  # dropped on the window while the bench is set up
    assert window.desk.work.wait()
    assert window.desk.piece is None
    qtbot.mouseClick(task.strip.buttons[5], Qt.MouseButton.LeftButton)
    assert window.bench.takes_files([SMALL])
    assert window.desk.work.wait()
    assert task.rows[0].look is not None


@pytest.mark.slow
def test_the_daily_check_takes_two_clicks_and_keeps_its_history(
    window: Window, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch, bench_a: Calibration
) -> None:
    window.desk.set_bench(Bench(bench_a, "bench_a.json"))
    bench = window.bench
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *_: (LARGE, ""))
    bench.show_verify()
    bench.verify.row.size_edit.setText("2.5 mm")
    qtbot.mouseClick(bench.verify.go, Qt.MouseButton.LeftButton)
    assert window.desk.work.wait()
    bench.show_bench()
    daily = next(b for b in bench.current_bench.findChildren(QPushButton) if "Daily" in b.text())
    qtbot.mouseClick(daily, Qt.MouseButton.LeftButton)  # the next day
    assert bench.verify.word.text() == ""
    qtbot.mouseClick(bench.verify.go, Qt.MouseButton.LeftButton)
    assert window.desk.work.wait()
    assert bench.verify.word.text() == "The bench holds"
    assert [entry.holds for entry in history()] == [True, True]
    bench.show_task()  # what was said of the lens for the calibration in use holds
    assert bench.task.form.lens.currentText() == "telecentric"
    bench.show_verify()
    qtbot.waitUntil(bench.verify.chart.isVisible)
    assert bench.verify.chart.isVisible()
    assert bench.verify.chart.accessibleDescription().count("limits") == 2
