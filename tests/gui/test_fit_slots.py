"""What may lie in the slots of Fit, how it gets there and out again, and the answers that follow from it."""

from __future__ import annotations

import itertools
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QPoint, Qt

from gui.fit.held import SEED, Held, OfClass, compared, held_piece, played
from gui.fit.looseness import Drawn, round_factor, thread_line
from gui.fit.verdicts import UNVERIFIED, verdict_words
from gui.piece import Choices, Piece, measure_piece
from gui.samples import sample_bench
from records.documenting import Place, document_measured
from records.register import open_register
from tests.gui.conftest import lay
from threads.judge.check import check
from threads.standards.designation import parse
from threads.standards.limits import limits_of
from threads.workshop.play import play
from vision.several.impression import as_hole, typed_shrinkage
from vision.several.together import readings
from vision.shared.plane import FixedScale

if TYPE_CHECKING:
    from PySide6.QtWidgets import QLabel
    from pytestqt.qtbot import QtBot

    from gui.fit.place import FitPlace
    from gui.window import Window

SAMPLES = Path(__file__).parents[2] / "sample_images"
ORIGINAL, REPLACEMENT = "sextant_index_arm_screw_4-40_bench_a.png", "sextant_index_arm_replacement_4-40_bench_a.png"


@cache
def piece(name: str) -> Piece:
    return measure_piece(str(SAMPLES / name), FixedScale(4.0, relative_u=1e-5, edge_offset_u_px=0.01), Choices())


@pytest.fixture
def fit(by_hand: Window) -> FitPlace:
    """Original and replacement in their slots, nothing known of the hole."""
    for name in (ORIGINAL, REPLACEMENT):
        lay(by_hand.desk, piece(name))
    by_hand.go("fit")
    assert by_hand.desk.work.wait()
    return by_hand.fit


def type_hole(fit: FitPlace, qtbot: QtBot, text: str) -> None:
    qtbot.keyClick(fit, Qt.Key.Key_H)  # the key leads to the field and selects what stands there
    field = fit.slots["hole"].designation
    assert field is not None
    qtbot.keyClicks(field, text)
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert fit.desk.work.wait()


def undo(fit: FitPlace) -> None:
    fit.desk.undo.undo()
    assert fit.desk.work.wait()


@pytest.mark.slow
def test_a_slot_shows_picture_name_and_sizes(fit: FitPlace) -> None:
    slot = fit.slots["original"]
    assert not slot.seen.pixmap().isNull()
    assert slot.name.text() == "sextant index arm screw 4-40 bench a"
    measured = piece(ORIGINAL).measurement
    assert measured is not None
    assert f"{measured.thread.pitch_diameter.value:.4f}" in slot.sizes[0].text()


@pytest.mark.slow
@pytest.mark.parametrize("by_gauges", [False, True])
def test_an_original_on_file_compares_like_its_picture(fit: FitPlace, by_gauges: bool) -> None:
    if by_gauges:
        plane = sample_bench()
        one, two = (measure_piece(str(SAMPLES / name), plane, Choices()) for name in (ORIGINAL, REPLACEMENT))
    else:
        one, two = piece(ORIGINAL), piece(REPLACEMENT)
    opened, replacement = held_piece(one), held_piece(two)
    assert opened is not None
    assert replacement is not None
    assert one.measurement is not None
    place = Place(instrument="sextant", position="index arm 3")
    done = document_measured(open_register(fit.desk.register_file, create=True), one.measurement, place)
    fit.put("replacement", replacement)
    fit.row.take_filed("original", done.part)
    assert fit.desk.work.wait()
    filed = fit.row.original
    assert filed is not None
    assert filed.folded is not None
    assert filed.name.startswith("part 1")
    wanted, found = compared(opened, replacement).found, compared(filed, replacement).found
    assert found.common_left_out
    for name, difference in wanted.differences.items():
        assert found.differences[name].value == pytest.approx(difference.value, abs=1e-6)
        assert found.differences[name].u95 == pytest.approx(difference.u95, rel=1e-3)
    assert "apart" not in fit.compare_view.note.text()


def test_an_original_whose_picture_is_gone_compares_by_its_sizes(fit: FitPlace) -> None:
    measured = piece(ORIGINAL).measurement
    assert measured is not None
    register = open_register(fit.desk.register_file, create=True)
    done = document_measured(register, measured, Place())
    for original in (register.store.folder / "originals").rglob("*.png"):
        original.unlink()
    fit.row.take_filed("original", done.part)
    assert fit.desk.work.wait()
    assert fit.row.original is not None
    assert fit.row.original.thread.pitch_diameter.value == pytest.approx(measured.thread.pitch_diameter.value)
    assert "only the sizes on file" in fit.compare_view.note.text()


@pytest.mark.slow
def test_a_class_typed_for_the_hole_is_looked_up_and_can_be_undone(fit: FitPlace, qtbot: QtBot) -> None:
    field = fit.slots["hole"].designation
    assert field is not None
    completer = field.completer()
    completer.setCompletionPrefix("4-40 nc")
    assert completer.completionCount() == 3

    type_hole(fit, qtbot, "4-40nc2")
    held = fit.held["hole"]
    assert isinstance(held, OfClass)
    assert field.text() == held.text == "4-40 NC-2"
    assert UNVERIFIED in fit.slots["hole"].name.text()
    steps = fit.desk.undo.count()
    type_hole(fit, qtbot, "4-40 NC-2")  # once more the same is no step
    assert fit.desk.undo.count() == steps

    type_hole(fit, qtbot, "4-41 NC-2")
    assert fit.held["hole"] is None
    assert field.property("wrong")
    assert "nearest: 4-40 NC-2" in fit.window().notice.text
    undo(fit)
    assert fit.held["hole"] is held
    assert field.text() == "4-40 NC-2"
    assert not field.property("wrong")
    undo(fit)
    assert fit.held["hole"] is None
    assert field.text() == ""


@pytest.mark.slow
def test_exchanging_with_an_empty_slot_moves_the_part(fit: FitPlace, qtbot: QtBot) -> None:
    original, replacement = fit.held["original"], fit.held["replacement"]
    fit.put("original", None)
    qtbot.keyClick(fit, Qt.Key.Key_X)
    assert fit.held["original"] is replacement
    assert fit.held["replacement"] is None
    undo(fit)
    undo(fit)
    assert fit.held["original"] is original
    assert fit.held["replacement"] is replacement
    qtbot.keyClick(fit, Qt.Key.Key_O)  # the part on the bench
    assert fit.held["original"] is not original
    assert fit.slots["original"].name.text() == "sextant index arm replacement 4-40 bench a"
    assert fit.desk.work.wait()


@pytest.mark.slow
@pytest.mark.parametrize("against", ["4-40 NC-2", "4-40 UNC-2A"])
def test_every_verdict_is_that_of_the_check(fit: FitPlace, qtbot: QtBot, against: str) -> None:
    fit.show_view("check")
    qtbot.keyClicks(fit.check_view.against, against)
    qtbot.keyClick(fit.check_view.against, Qt.Key.Key_Return)
    assert fit.desk.work.wait()
    measured = piece(REPLACEMENT).measurement
    assert measured is not None
    found = check(measured.thread, limits_of(parse(against)))
    shown = [label.text()[2:] for label in _labels(fit) if label.property("verdict") is not None]
    assert shown == [verdict_words(one.verdict) for one in found.judgements]
    assert fit.check_view.verdict.text().endswith(verdict_words(found.verdict))
    assert (UNVERIFIED in fit.check_view.verdict.text()) == limits_of(parse(against)).unverified


def _labels(fit: FitPlace) -> list[QLabel]:
    grid = fit.check_view._inside.layout()
    assert grid is not None
    return [item.widget() for n in range(grid.count()) if (item := grid.itemAt(n)) is not None]  # type: ignore[misc]


def test_what_was_refused_leaves_no_answer_of_before(fit: FitPlace, qtbot: QtBot) -> None:
    fit.show_view("check")
    fit.check_view.against.setText("4-40 NC-2")
    qtbot.keyClick(fit.check_view.against, Qt.Key.Key_Return)
    assert fit.desk.work.wait()
    assert "conform" in fit.check_view.verdict.text()
    fit.check_view.against.setText("6-32 UNC-2A")  # another size altogether
    qtbot.keyClick(fit.check_view.against, Qt.Key.Key_Return)
    assert fit.desk.work.wait()
    assert "conform" not in fit.check_view.verdict.text()
    assert "it is another size" in fit.window().notice.text

    type_hole(fit, qtbot, "4-40 NC-2")
    fit.show_view("play")
    assert fit.desk.work.wait()
    assert fit.play_view.table.rowCount() > 0
    fit.play_view.engagement.setValue(3)  # 0.3 mm, less than a turn
    assert fit.desk.work.wait()
    assert "less than one turn" in fit.play_view.sentence.text()
    assert fit.play_view.table.rowCount() == 0


@pytest.mark.slow
def test_a_cast_is_the_hole_that_it_came_from(fit: FitPlace, qtbot: QtBot) -> None:
    slot = fit.slots["hole"]
    fit.show_view("play")
    slot.choose.setCurrentIndex(slot.choose.findData(str(SAMPLES / ORIGINAL)))
    slot.choose.activated.emit(slot.choose.currentIndex())
    assert fit.desk.work.wait()
    held = fit.held["hole"]
    assert isinstance(held, Held)
    assert held.thread.internal
    assert "Shrinkage of the cast not given" in fit.window().notice.text
    assert slot.shrinkage is not None
    assert slot.shrinkage.isVisible()

    qtbot.keyClicks(slot.shrinkage, "20%")
    qtbot.keyClick(slot.shrinkage, Qt.Key.Key_Return)
    assert "no cast shrinks by a tenth" in fit.window().notice.text
    assert slot.shrinkage.text() == ""
    qtbot.keyClicks(slot.shrinkage, "1%")
    qtbot.keyClick(slot.shrinkage, Qt.Key.Key_Return)
    assert fit.desk.work.wait()
    fit.put("original", None)  # alone with the hole: what they share is shared all the same
    assert fit.desk.work.wait()
    screw, cast = piece(REPLACEMENT).measurement, piece(ORIGINAL).measurement
    assert screw is not None
    assert cast is not None
    of_screw, in_hole = readings(screw, as_hole(cast, typed_shrinkage("1%")))
    found = play(of_screw, in_hole, engagement_mm=3.0, overhang_mm=40.0, seed=SEED)
    shown = fit.play_view.table.item(3, 1).text()
    assert float(shown.split()[0]) == pytest.approx(1000 * found.screw.end_movement.median, rel=0.01)
    replacement, hole = fit.held["replacement"], fit.held["hole"]
    assert isinstance(replacement, Held)
    assert hole is not None
    assert played(replacement, hole, None, 3.0, 40.0) == found  # to the last draw: what they share moves them alike
    undo(fit)
    undo(fit)
    assert fit.held["hole"] is held


def test_dragging_the_slider_answers_as_it_goes(fit: FitPlace, qtbot: QtBot) -> None:
    type_hole(fit, qtbot, "4-40 NC-2")
    fit.show_view("play")
    assert fit.desk.work.wait()
    view, slider = fit.play_view, fit.play_view.overhang
    assert "die" in view.more.text()
    asked: list[tuple[float, bool]] = []
    view.moved.connect(lambda _engagement, overhang, dragging: asked.append((overhang, dragging)))
    at = QPoint(round(slider.width() * slider.value() / slider.maximum()), slider.height() // 2)
    qtbot.mousePress(slider, Qt.MouseButton.LeftButton, pos=at)
    told = []
    for step in range(1, 4):
        qtbot.mouseMove(slider, at + QPoint(20 * step, 0))
        assert fit.desk.work.wait()
        told.append(float(view.table.item(4, 1).text().split()[0]))
    qtbot.mouseRelease(slider, Qt.MouseButton.LeftButton, pos=at + QPoint(60, 0))
    assert fit.desk.work.wait()
    assert told == sorted(told)
    assert told[0] < told[-1]
    assert all(dragging for _, dragging in asked[:-1])
    assert asked[-1] == (view.lengths[1], False)


@pytest.mark.slow
def test_the_figure_is_of_the_view_in_front(fit: FitPlace, tmp_path: Path) -> None:
    fit.save_figure(tmp_path / "figure.txt")
    assert "a figure is a pdf, an svg or a png" in fit.window().notice.text
    fit.check_view.against.setText("4-40 NC-2")
    fit.show_view("check")
    assert fit.desk.work.wait()
    fit.save_figure(tmp_path / "check.svg")
    assert fit.desk.work.wait()
    assert "4-40 NC-2" in (tmp_path / "check.svg").read_text(encoding="utf-8")


def test_the_factor_of_the_picture_is_a_round_number_that_is_not_too_large() -> None:
    assert round_factor(0.3) == 1.0
    for most in (1.0, 1.7, 9.99, 34.0, 420.0):
        factor = round_factor(most)
        assert most / 1.6 < factor <= most
        assert float(f"{factor:g}") == factor
        assert len(f"{factor:g}".rstrip("0")) <= 3


def test_the_thread_is_drawn_between_its_crests_and_roots() -> None:
    drawn = Drawn(2.8, 2.1, 0.635, 3.0, 40.0, 0.02, 0.5, 0.4, enters=True)
    one, other = (thread_line(drawn, side, 1.0, 4.0, 20.0) for side in (1, -1))
    for line in (one, other):
        assert line[0][0] == 1.0
        assert line[-1][0] == 4.0
        assert all(left[0] <= right[0] for left, right in itertools.pairwise(line))
        assert {round(radius, 9) for _, radius in line[1:-1]} == {1.4, 1.05}
    crests = [[z for z, radius in line[1:-1] if radius == 1.4] for line in (one, other)]
    between = min(abs(z - crests[1][0]) % 0.635 for z in crests[0])
    assert 0.2 < between < 0.45  # half a pitch apart
    assert len(thread_line(drawn, 1, 0.0, 3.0, 1.0)) == 2  # too small to tell ridges apart
