"""The place Fit: the answers of the command line, through the real window."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QPushButton

from gui.fit.held import SEED, held_piece
from gui.fit.trials import Tried
from threads.judge.check import check
from threads.standards.designation import parse
from threads.standards.limits import limits_of
from threads.workshop.play import Reading, play
from vision.several.together import common_part

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from gui.fit.place import FitPlace
    from gui.window import Window

SAMPLES = Path(__file__).parents[2] / "sample_images"


@pytest.fixture
def fit(by_hand: Window) -> FitPlace:
    """The sextant's index arm screw and, later, a screw cut today."""
    for name in ("sextant_index_arm_screw_4-40_bench_a.png", "sextant_index_arm_replacement_4-40_bench_a.png"):
        by_hand.open_picture(str(SAMPLES / name))
        assert by_hand.desk.work.wait()
    by_hand.go("fit")
    assert by_hand.desk.work.wait()
    return by_hand.fit


@pytest.mark.slow
def test_what_was_opened_before_is_the_original_and_the_differences_show(fit: FitPlace) -> None:
    original, replacement = fit.held["original"], fit.held["replacement"]
    assert original is not None
    assert replacement is not None
    assert original.name == "sextant index arm screw 4-40 bench a"
    assert replacement.name == "sextant index arm replacement 4-40 bench a"
    table = fit.compare_view.table
    rows = {table.item(r, 0).text(): [table.item(r, c).text() for c in range(5)] for r in range(table.rowCount())}
    assert rows["pitch diameter"][4] == "yes"
    assert rows["pitch diameter"][3].startswith("-4")
    assert rows["pitch"][4] == ""
    assert "thinner" in fit.compare_view.advice.text()


@pytest.mark.slow
def test_a_class_is_held_to_as_on_the_command_line(fit: FitPlace, qtbot: QtBot) -> None:
    fit.show_view("check")
    assert fit.desk.work.wait()
    for text in ("4-40 NC-2", "4-40 UNC-3A"):
        fit.check_view.against.setText(text)
        qtbot.keyClick(fit.check_view.against, Qt.Key.Key_Return)
        assert fit.desk.work.wait()
        held = fit.held["replacement"]
        assert held is not None
        found = check(held.thread, limits_of(parse(text)))
        assert found.verdict.replace("_", " ") in fit.check_view.verdict.text()
    fit.check_view.against.setText("4-41 NC-2")
    qtbot.keyClick(fit.check_view.against, Qt.Key.Key_Return)
    assert fit.desk.work.wait()
    assert "4-41" in fit.window().notice.text


@pytest.mark.slow
def test_sliders_move_the_end_as_the_prediction_says(fit: FitPlace, qtbot: QtBot) -> None:
    fit.show_view("play")
    designation = fit.slots["hole"].designation
    assert designation is not None
    qtbot.keyClicks(designation, "4-40 NC-2")
    qtbot.keyClick(designation, Qt.Key.Key_Return)
    assert fit.desk.work.wait()
    first = fit.play_view.table.item(4, 1).text()
    fit.play_view.overhang.setValue(800)
    assert fit.desk.work.wait()
    screw, original = fit.held["replacement"], fit.held["original"]
    assert screw is not None
    assert screw.measurement is not None
    assert original is not None
    assert original.measurement is not None
    common = common_part(screw.measurement, original.measurement)
    assert common is not None
    found = play(
        Reading(screw.thread, common[0]),
        limits_of(parse("4-40 NC-2", internal=True)),
        engagement_mm=3.0,
        overhang_mm=80.0,
        original=Reading(original.thread, common[1]),
        seed=SEED,
    )
    shown = fit.play_view.table.item(4, 1).text()
    assert shown != first
    assert float(shown.split()[0]) == pytest.approx(1000 * found.screw.end_movement.median, rel=0.01)
    assert "as loose as the original" in fit.play_view.sentence.text()
    assert fit.play_view.rod.times > 1
    fit.play_view.hangs.setText("2in")
    qtbot.keyClick(fit.play_view.hangs, Qt.Key.Key_Return)
    assert fit.play_view.lengths[1] == pytest.approx(50.8, abs=0.1)
    fit.play_view.hangs.setText("2")
    qtbot.keyClick(fit.play_view.hangs, Qt.Key.Key_Return)
    assert "has no unit" in fit.window().notice.text
    assert fit.desk.work.wait()


@pytest.mark.slow
def test_exchanging_the_two_is_one_step_that_can_be_undone(fit: FitPlace, qtbot: QtBot) -> None:
    before = dict(fit.held)
    qtbot.keyClick(fit, Qt.Key.Key_X)
    assert fit.desk.work.wait()
    assert fit.held["original"] is before["replacement"]
    assert fit.held["replacement"] is before["original"]
    qtbot.keyClick(fit, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert fit.desk.work.wait()
    assert fit.held == before


@pytest.mark.slow
def test_a_micrometer_reading_over_wires_joins_in(fit: FitPlace, qtbot: QtBot) -> None:
    fit.show_view("check")
    fit.check_view.against.setText("4-40 NC-2")
    fit.check_view.over_wires.setText("2.9500mm")
    fit.check_view.wire.setText("0.3666mm")
    qtbot.keyClick(fit.check_view.wire, Qt.Key.Key_Return)
    assert fit.desk.work.wait()
    assert "over wires" in fit.check_view.by_wires.text() or "wire" in fit.window().notice.text


@pytest.mark.slow
def test_readings_may_be_typed_with_their_u95(fit: FitPlace) -> None:
    fit.check_view.over_wires.setText("2.9500mm ± 6um")
    fit.check_view.wire.setText("0.3666mm +- 2um")
    wires = fit.check_view.wires()
    assert wires is not None
    assert [q.u95 for q in wires] == pytest.approx([0.006, 0.002])
    fit.check_view.wire.setText("0.3666mm")
    plain = fit.check_view.wires()
    assert plain is not None
    assert plain[0] == wires[0]
    assert plain[1].u95 != wires[1].u95
    fit.check_view.over_wires.setText("2.9500mm ± 6")
    assert fit.check_view.wires() is None
    assert "no unit" in fit.window().notice.text


@pytest.mark.slow
def test_a_figure_of_the_comparison_is_saved(fit: FitPlace, tmp_path: Path) -> None:
    fit.save_figure(tmp_path / "both.svg")
    assert fit.desk.work.wait()
    assert (tmp_path / "both.svg").stat().st_size > 10_000


def test_an_unmeasured_piece_is_in_no_slot() -> None:
    assert held_piece(None) is None


def test_no_looseness_is_shown_for_a_hole_of_another_pitch(fit: FitPlace, qtbot: QtBot) -> None:
    fit.show_view("play")
    designation = fit.slots["hole"].designation
    assert designation is not None
    qtbot.keyClicks(designation, "M3-6H")
    qtbot.keyClick(designation, Qt.Key.Key_Return)
    assert fit.desk.work.wait()
    assert "its pitch is another" in fit.play_view.sentence.text()
    assert "it binds after" in fit.play_view.sentence.text()
    table = fit.play_view.table
    rows = {table.item(r, 0).text(): table.item(r, 1).text() for r in range(table.rowCount())}
    assert rows["radial clearance"] == rows["tilt"] == rows["enters"] == "–"


@pytest.mark.slow
def test_a_hole_is_filed_and_every_screw_that_is_tried_in_it_becomes_a_trial(fit: FitPlace, qtbot: QtBot) -> None:
    view, desk = fit.hole_view, fit.desk
    fit.show_view("hole")
    view.thread_field.setText("4-40")
    view.engaged_field.setText("3")  # a bare number is in the window's unit
    view.name_field.setText("index arm post")
    view.depth_field.setText("2 mm")
    view.filing.findChildren(QPushButton)[-1].click()
    assert desk.work.wait()
    assert "2 mm deep" in fit.window().notice.text
    view.depth_field.clear()
    view.filing.findChildren(QPushButton)[-1].click()
    assert desk.work.wait()
    assert "no screw has gone in yet" in view.sentence.text()
    view.stopped.click()  # the replacement: nothing is known of the hole yet
    assert desk.work.wait()
    fit.row.swap()
    for field, text in ((view.movement, "0.42"), (view.overhang, "20 mm")):
        field.setText(text)
    qtbot.mouseClick(view.moved, Qt.MouseButton.LeftButton)
    assert desk.work.wait()
    hole = fit.row.hole
    assert isinstance(hole, Tried)
    assert hole.answer is not None
    assert [one.trial.outcome for one in hole.answer.found.trials] == ["stopped", "moved"]
    assert "burr" in view.more.text()  # the smaller one stopped
    assert view.movement.text() == ""
    desk.undo.undo()  # the trial
    assert desk.work.wait()
    assert "no screw has gone in yet" in view.sentence.text()
    desk.undo.redo()
    assert desk.work.wait()
    assert "pitch diameter of 2." in view.sentence.text()
    fit.show_view("play")
    assert desk.work.wait()
    # the original, which travelled 0.42 mm at 20 mm, so it moves 0.21 mm to each side there
    fit.play_view.overhang.setValue(200)
    assert desk.work.wait()
    assert float(fit.play_view.table.item(4, 1).text().split()[0]) == pytest.approx(210, rel=0.1)
    desk.wanted_filed.emit(hole.number)  # from the register
    assert desk.work.wait()
    assert isinstance(fit.row.hole, Tried)
    view.turns.setText("soon")
    fit.show_view("hole")
    view.stopped.click()
    assert "no number of turns" in fit.window().notice.text
