"""The place Register: documenting part by part, searching, setting right, printing."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt

from gui.register import deeds
from gui.register.deeds import next_position
from records.listing import Conditions, page_of_parts
from records.reading import read_part

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from gui.register.place import RegisterPlace
    from gui.window import Window

SAMPLES = Path(__file__).parents[2] / "sample_images"
NAMES = ("clarinet_post_screw_4-40.png", "clarinet_key_screw_2-56.png", "theodolite_clamp_screw_4-40.png")


def file_next(window: Window, qtbot: QtBot, picture: str) -> None:
    """One turn of the strip: picture, Enter."""
    window.open_picture(str(SAMPLES / picture))
    window.go("register")
    assert window.desk.work.wait()
    qtbot.keyClick(window.register.strip.position, Qt.Key.Key_Return)
    assert window.desk.work.wait()


@pytest.fixture
def register(by_hand: Window, qtbot: QtBot) -> RegisterPlace:
    """Three parts of one job on file."""
    strip = by_hand.register.strip
    for field, text in ((strip.instrument, "bass clarinet"), (strip.job, "overhaul 1"), (strip.position, "post 1")):
        qtbot.keyClicks(field, text)
    for name in NAMES:
        file_next(by_hand, qtbot, name)
    return by_hand.register


def lines(register: RegisterPlace, conditions: Conditions = Conditions()) -> list[str | None]:  # noqa: B008
    with deeds.opened(register.desk.register_file).reading() as connection:
        return [line.name for line in page_of_parts(connection, conditions).lines]


def test_the_strip_files_measurement_and_identity_and_counts_positions_on(register: RegisterPlace) -> None:
    with deeds.opened(register.desk.register_file).reading() as connection:
        parts = [read_part(connection, number) for number in (1, 2, 3)]
    assert [p.position.name for p in parts if p.position] == ["post 1", "post 2", "post 3"]
    assert all(p.instrument is not None and p.instrument.name == "bass clarinet" for p in parts)
    for part in parts:
        assert part.measurement is not None
        assert part.measurement.identification is not None
    assert register.strip.position.text() == "post 4"
    assert register.desk.piece is not None
    assert register.desk.piece.filed == 3
    assert register.model.rowCount() == 3
    assert len(register.strip._shown) == 3


def test_the_last_filing_is_undone_and_done_again(register: RegisterPlace, qtbot: QtBot) -> None:
    qtbot.keyClick(register, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert register.desk.work.wait()
    assert len(lines(register)) == 2
    register.desk.undo.redo()
    assert register.desk.work.wait()
    assert len(lines(register)) == 3


def test_searching_as_one_types_and_by_size(register: RegisterPlace, qtbot: QtBot) -> None:
    qtbot.keyClicks(register.search, "key scr")
    qtbot.waitUntil(lambda: register.model.rowCount() == 1, timeout=5000)
    register.search.clear()
    qtbot.waitUntil(lambda: register.model.rowCount() == 3, timeout=5000)
    register.least.setText("2.3mm")
    register.most.setText("2.4mm")
    qtbot.keyClick(register.most, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: register.model.rowCount() == 1, timeout=5000)
    register.most.setText("2.4")
    qtbot.keyClick(register.most, Qt.Key.Key_Return)
    assert "has no unit" in register.window().notice.text
    assert register.desk.work.wait()


def test_a_taken_position_is_a_question_with_two_answers(register: RegisterPlace, qtbot: QtBot) -> None:
    strip = register.strip
    strip.position.setText("post 2")
    qtbot.keyClick(strip.position, Qt.Key.Key_Return)
    assert register.desk.work.wait()
    assert strip.question.isVisible()
    assert len(lines(register)) == 3
    qtbot.mouseClick(strip.yes, Qt.MouseButton.LeftButton)
    assert register.desk.work.wait()
    assert not strip.question.isVisible()
    assert len(lines(register)) == 4


def test_a_name_a_note_and_a_replacement_are_steps(register: RegisterPlace, qtbot: QtBot) -> None:
    panel = register.panel
    panel.show_part(1)
    assert register.desk.work.wait()
    qtbot.keyClicks(panel.name, "post screw, long")
    qtbot.keyClick(panel.name, Qt.Key.Key_Return)
    assert register.desk.work.wait()
    assert "post screw, long" in lines(register)
    qtbot.keyClick(register, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert register.desk.work.wait()
    assert "post screw, long" not in lines(register)
    qtbot.keyClicks(panel.note, "slot burred")
    qtbot.keyClick(panel.note, Qt.Key.Key_Return)
    qtbot.keyClicks(panel.die, "4-40 split die")
    qtbot.keyClick(panel.die, Qt.Key.Key_Return)
    assert register.desk.work.wait()
    assert "slot burred" in panel.history.text()
    assert "4-40 split die" in panel.history.text()
    qtbot.mouseClick(panel.gone, Qt.MouseButton.LeftButton)
    assert register.desk.work.wait()
    assert len(lines(register)) == 2


def test_the_part_on_file_goes_back_to_the_bench_and_to_fit(register: RegisterPlace, qtbot: QtBot) -> None:
    register.panel.show_part(1)
    assert register.desk.work.wait()
    qtbot.mouseClick(register.panel.to_fit, Qt.MouseButton.LeftButton)
    assert register.desk.work.wait()
    window = register.window()
    held = window.fit.held["original"]
    assert held is not None
    assert held.name.startswith("part 1")
    qtbot.mouseClick(register.panel.to_bench, Qt.MouseButton.LeftButton)
    assert register.desk.work.wait()
    assert register.desk.piece is not None
    assert register.desk.piece.measurement is not None


def test_parts_like_the_one_on_the_bench_are_found(register: RegisterPlace) -> None:
    register._like()
    assert register.desk.work.wait()
    assert register.panel.part is not None
    assert register.panel.part.id != 3  # itself


def test_the_report_is_previewed_and_saved(register: RegisterPlace, tmp_path: Path) -> None:
    pypdf = pytest.importorskip("pypdf")
    register.show_view("paper")
    register.paper.show_preview()
    assert register.desk.work.wait()
    assert len(register.paper.sheets) >= 4
    assert not register.paper.sheets[0].pixmap().isNull()
    register.paper.save_pdf(tmp_path / "job.pdf")
    assert register.desk.work.wait()
    text = pypdf.PdfReader(tmp_path / "job.pdf").pages[0].extract_text()
    assert "clarinet key screw 2-56" in text
    register.paper._verify()
    assert register.desk.work.wait()
    assert "sound" in register.window().notice.text


@pytest.mark.parametrize(
    ("position", "following"), [("post 3", "post 4"), ("bell brace", ""), ("key 9b", "key 10b"), ("a09", "a10")]
)
def test_the_next_position(position: str, following: str) -> None:
    assert next_position(position) == following


def test_an_empty_register_says_how_to_begin(window: Window) -> None:
    window.go("register")
    assert window.desk.work.wait()
    assert "Nothing is on file yet" in window.register.count.text()
