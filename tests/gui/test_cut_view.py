"""The loop at the lathe, through the real window: attempts come, are set right, are undone, and go on file."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt

from gui.fit.attempts import Attempt
from gui.fit.held import Held, held_piece
from gui.fit.slots import HOLE
from records.dies import known_dies
from records.documenting import Place, document_measured
from records.register import open_register
from tests.gui.conftest import lay
from tests.gui.test_fit_slots import ORIGINAL, REPLACEMENT, piece

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from gui.fit.cut_view import CutView
    from gui.window import Window


@pytest.fixture
def view(by_hand: Window) -> CutView:
    """The original in its slot, the page in front, no attempt yet."""
    lay(by_hand.desk, piece(ORIGINAL))
    by_hand.go("fit")
    by_hand.fit.row.bench_as("original")
    by_hand.fit.show_view("cut")
    assert by_hand.desk.work.wait()
    return by_hand.fit.cut_view


def attempt(larger: float, setting: str = "") -> Attempt:
    """The sextant's replacement, by so much larger than the original, mm."""
    held, original = held_piece(piece(REPLACEMENT)), held_piece(piece(ORIGINAL))
    assert held is not None
    assert held.measurement is not None
    assert original is not None
    step = original.thread.pitch_diameter.value + larger - held.thread.pitch_diameter.value
    thread = held.thread
    moved = {
        name: replace(getattr(thread, name), value=getattr(thread, name).value + step)
        for name in ("pitch_diameter", "virtual_pitch_diameter")
    }
    thread = replace(thread, **moved)
    measurement = replace(held.measurement, thread=thread)
    return Attempt(replace(held, thread=thread, measurement=measurement, path=f"{larger} {setting}"), setting)


def lines(view: CutView) -> str:
    assert view.desk.work.wait()
    return f"{view.line.text()} {view.more.text()}"


def test_a_new_picture_is_an_attempt_and_can_be_taken_back(view: CutView) -> None:
    assert lines(view).startswith("No attempt yet")
    assert not view.take.isEnabled()  # the original is no attempt at itself
    lay(view.desk, piece(REPLACEMENT))
    assert "cannot be put back: start anew with the die a little more open" in lines(view)
    assert [one.held.name for one in view.attempts] == ["sextant index arm replacement 4-40 bench a"]
    assert [row.diameter.text()[:4] for row in view.list.rows] == ["2.38"]
    assert view.list.rows[0].off.text().endswith(" µm too thin")
    view.desk.undo.undo()
    assert lines(view).startswith("No attempt yet")
    view.take_bench()
    assert len(view.attempts) == 1
    view.take_bench()
    assert "already" in view.window().notice.text
    view.list.rows[0].unwanted.emit()
    assert lines(view).startswith("No attempt yet")
    assert view.take.text() == "sextant index arm replaceme… is attempt 1"


def test_settings_that_are_typed_say_how_far_to_turn(view: CutView, qtbot: QtBot) -> None:
    view.put([attempt(-0.044, "0 turn"), attempt(-0.014)], "two attempts")
    assert "how far to turn cannot be said" in lines(view)
    field = view.list.rows[1].setting
    qtbot.keyClicks(field, "0.15 turn")
    qtbot.keyClick(field, Qt.Key.Key_Return)
    told = lines(view)
    assert "open the die by 14 µm (about a " in told
    assert "by your last two settings" in told
    assert "A turn moves the pitch diameter by" in told
    answer = view.chart._answer
    assert answer is not None
    assert answer.found.next_cut is not None
    view.put([*view.attempts, attempt(0.001, "0.22 turn")], "a third")
    assert lines(view).startswith("Good: stop.")
    view.chart.draw()
    ticks = view.chart.getAxis("bottom")._tickLevels[0]
    assert [words for _, words in ticks] == ["1\n0 turn", "2\n0.15 turn", "3\n0.22 turn"]


def test_a_class_and_a_hole_are_targets_too(view: CutView, qtbot: QtBot) -> None:
    view.put([attempt(0.1, "0 turn")], "an attempt")
    view.kind.setCurrentIndex(1)
    assert lines(view) == "Type the class to cut to. "
    qtbot.keyClicks(view.of_class, "4-40 NC-2")
    qtbot.keyClick(view.of_class, Qt.Key.Key_Return)
    assert "too thick by" in lines(view).lower()
    view.of_class.setText("4-41 NC-2")
    view.answer()
    assert lines(view) == "Type the class to cut to. "
    assert "4-41" in view.window().notice.text
    view.kind.setCurrentIndex(2)
    assert lines(view).startswith("Say what the hole is")
    view._slots.take_class("4-40 NC-2")
    assert view.desk.work.wait()
    assert view._slots.held[HOLE] is not None
    assert "too thick by" in lines(view).lower()


def test_attempts_go_on_file_as_cuts_of_the_die(view: CutView, tmp_path: Path) -> None:
    assert not view.keep.isEnabled()
    file = view.desk.register_file
    measurement = piece(ORIGINAL).measurement
    assert measurement is not None
    number = document_measured(open_register(file, create=True), measurement, Place(name="index arm screw")).part
    view._slots.take_filed("original", number)
    assert view.desk.work.wait()
    original = view._slots.original
    assert isinstance(original, Held)
    view.put([attempt(-0.02, "1/4 turn"), attempt(-0.01, "0.3 turn")], "attempts")
    assert view.desk.work.wait()
    assert view.keep.text() == f"File the attempts for part {number}"
    view.die.choice.setEditText("split die")
    view.keep_attempts()
    assert view.desk.work.wait()
    assert [one.filed for one in view.attempts] == [2, 3]
    assert not view.keep.isEnabled()
    assert view.die.says.text().startswith("cuts 2.4")
    assert view.die.label.isEnabled()
    for name, target in (("split die", tmp_path / "label.pdf"), ("", tmp_path / "dies.pdf")):
        view.die.save_paper(name, str(target))
        assert view.desk.work.wait()
        assert target.read_bytes().startswith(b"%PDF")
    with open_register(file).reading() as connection:
        (die,) = known_dies(connection)
    assert die.name == "split die"
    assert [cut.setting for cut in die.cuts] == ["1/4 turn", "0.3 turn"]
