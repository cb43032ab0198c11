"""Habits of the window: keys, tour, what a crash left, size of the text, language, defects."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QLocale, Qt, QUrl
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import QLabel, QPushButton, QSplitter

from flankwise.bench import Bench
from gui.app import create_window, renewed, report_defect
from gui.foot import Foot
from gui.language import language_of, speak
from gui.piece import Choices, Piece
from gui.register.filing import Entry
from gui.settings import Settings
from gui.theme import choose_size
from gui.tray.cards import State, Whence
from gui.tray.tray import Tray
from gui.unfinished import Left, left_behind, write_down
from gui.window import Window
from tests.gui.test_camera import write_video
from threads.identify.provenance import known_countries
from vision.shared.opencv import cv2
from vision.shared.plane import FixedScale

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

SAMPLES = Path(__file__).parents[2] / "sample_images"
SCREW = str(SAMPLES / "sextant_index_arm_screw_4-40_bench_a.png")


def test_the_list_of_keys_names_what_the_menus_have(window: Window, qtbot: QtBot) -> None:
    qtbot.keyClick(window, Qt.Key.Key_F1)
    assert window.keys.isVisible()
    texts = {label.text() for label in window.keys.findChildren(QLabel)}
    assert {"Ctrl+U", "Ctrl+1", "F1"} <= texts
    for action in window.places[window.front].actions_here:
        if not action.shortcut().isEmpty():
            assert action.text().replace("&", "") in texts
    qtbot.keyClick(window, Qt.Key.Key_F1)
    assert not window.keys.isVisible()


def test_no_two_actions_share_a_key_where_both_work(window: Window) -> None:
    common = [a.shortcut().toString() for m in window.menuBar().actions() for a in m.menu().actions() if a.shortcut()]
    for place in window.places.values():
        keys = [k for k in common + [a.shortcut().toString() for a in place.actions_here] if k]
        assert len(keys) == len(set(keys)), place.NAME


@pytest.mark.slow
def test_the_tour_runs_to_its_end_on_the_sample_pictures(window: Window, qtbot: QtBot) -> None:
    window.tour.begin()
    seen = []
    while window.tour.isVisible():
        assert window.desk.work.wait()
        seen.append(window.front)
        qtbot.mouseClick(window.tour.next, Qt.MouseButton.LeftButton)
    assert seen == ["bench", "part", "part", "fit", "register"]
    assert window.desk.bench is None
    assert all(p.measurement is not None and p.measurement.plane.traceable for p in window.desk.at_hand)
    assert [piece.name for piece in window.desk.at_hand] == [
        "sextant index arm replacement 4-40 bench a",
        "sextant index arm screw 4-40 bench a",
    ]
    assert window.desk.settings.text("toured") == "yes"


@pytest.mark.slow
def test_the_calibration_of_the_tour_is_marked_and_refused_for_other_pictures_and_goes_with_it(
    window: Window, tmp_path: Path
) -> None:
    desk, own = window.desk, Bench(FixedScale(6.5), "own.json")
    desk.set_bench(own)
    window.tour.begin()
    assert desk.work.wait()
    card = window.bench.current_bench
    assert "Sample calibration" in card.state.text()
    assert "Calibrated" not in card.state.text()
    assert "sample" in window.findChild(Foot).bench.text()
    assert not any(b.isEnabled() for b in card.findChildren(QPushButton) if "Verify" in b.text())
    window.tour.go_on()
    assert desk.work.wait()
    assert desk.piece is not None
    assert desk.piece.measurement is not None
    sample = desk.piece.measurement.thread.major_diameter.value
    assert "sample_calibration" in [w.code for w in desk.piece.measurement.quality.warnings]
    levels = cv2.imread(SCREW, cv2.IMREAD_UNCHANGED)
    levels[0, 0] ^= 1
    cv2.imwrite(str(tmp_path / "own.png"), levels)
    window.open_picture(str(tmp_path / "own.png"))
    assert desk.work.wait()
    assert desk.piece.measurement is None
    assert [reason.code for reason in desk.piece.reasons] == ["sample_calibration"]
    window.tour.end()
    assert desk.work.wait()
    assert desk.bench is own
    assert desk.settings.text("bench") == "own.json"
    mine, of_the_tour = desk.piece, next(p for p in desk.at_hand if p.path == SCREW)
    assert mine.measurement is not None
    assert mine.measurement.plane is own.plane
    assert of_the_tour.measurement is not None
    assert of_the_tour.measurement.thread.major_diameter.value == sample


def test_a_tour_that_ends_at_once_leaves_no_calibration(window: Window) -> None:
    window.tour.begin()
    window.tour.end()
    assert window.desk.work.wait()
    assert window.desk.bench is None


@pytest.mark.slow
def test_what_a_crash_left_is_back_in_the_tray(window: Window, tmp_path: Path) -> None:
    said = Choices(name="index arm screw", origin="US", made=(1938, 1938))
    meant = Entry("sextant", "overhaul", "index arm 3", "index arm screw")
    left, missing = Piece(SCREW, said), Piece(SCREW + "2", Choices())
    folder = tmp_path / "left"
    folder.mkdir()
    tray = Tray().with_arrived(left, Whence.OPENED, None).with_arrived(missing, Whence.WATCHED, None)
    write_down(folder / "unfinished-999999.json", "", tray.give(1, meant).unfiled)
    found = left_behind(folder)
    assert found is not None
    assert not found.kept
    assert found.cards == (Left(SCREW, said, meant), Left(SCREW + "2", Choices()))
    assert left_behind(folder) is None, "it is offered once"
    window.desk.set_bench(Bench(FixedScale(4.0)))
    window._left = found
    window.greet()
    assert window.desk.work.wait()
    assert window.desk.piece is not None
    assert window.desk.piece.choices == said
    assert window.desk.piece.measurement is not None
    strip = window.register.strip
    assert strip.entry() == meant  # nothing is filed before somebody presses Enter
    assert strip.done.text() == "File this as index arm 3"
    assert [card.state for card in window.desk.tray.cards] == [State.READY, State.REFUSED]


@pytest.mark.slow
def test_every_step_is_written_down_until_the_window_closes(by_hand: Window, qtbot: QtBot) -> None:
    by_hand.open_picture(SCREW)
    qtbot.waitUntil(by_hand._file.exists)  # it is not even measured
    assert [entry["path"] for entry in json.loads(by_hand._file.read_text("utf-8"))["cards"]] == [SCREW]
    assert by_hand.desk.work.wait()
    by_hand.desk.choose(Choices(name="stud"), "name")
    assert by_hand.desk.work.wait()
    kept = json.loads(by_hand._file.read_text("utf-8"))
    assert [entry["choices"]["name"] for entry in kept["cards"]] == ["stud"]
    assert not by_hand.close()
    ask = by_hand.leaving.question
    assert ask.text.text() == "One picture in the tray is not on file."
    qtbot.mouseClick(ask.neither, Qt.MouseButton.LeftButton)
    assert by_hand.isVisible()
    assert not by_hand.leaving.isVisible()
    by_hand.close()
    qtbot.mouseClick(ask.second, Qt.MouseButton.LeftButton)
    assert not by_hand.isVisible()
    assert not by_hand._file.exists()


def test_pictures_that_are_not_on_file_are_kept_for_the_next_time(by_hand: Window, qtbot: QtBot) -> None:
    by_hand.open_picture(SCREW)
    by_hand.close()
    qtbot.mouseClick(by_hand.leaving.question.first, Qt.MouseButton.LeftButton)
    assert not by_hand.isVisible()
    found = left_behind(by_hand._file.parent)
    assert found is not None
    assert found.kept
    assert [left.path for left in found.cards] == [SCREW]


def test_what_was_left_in_a_broken_file_is_nothing(tmp_path: Path) -> None:
    for number, text in enumerate(("", "[]", '{"schema": "flankwise/unfinished/1"}', '{"schema": 3, "cards": [1]}')):
        (tmp_path / f"unfinished-99999{number}.json").write_text(text)
    assert left_behind(tmp_path) is None


def test_a_defect_is_said_in_the_window_and_it_goes_on(qtbot: QtBot, tmp_path: Path) -> None:
    window = create_window(Settings(tmp_path / "window.ini"))
    qtbot.addWidget(window)
    window.show()

    def broken() -> None:
        raise ZeroDivisionError("by nought")

    window.desk.work.run("trying", broken, done=lambda _: None)
    assert window.desk.work.wait()
    assert "ZeroDivisionError" in window.notice.text
    report_defect(window, ValueError("again"))
    assert "again" in window.notice.text


def test_work_that_was_given_up_hands_nothing_over(window: Window) -> None:
    got: list[int] = []
    window.desk.work.run("first", lambda: 1, done=got.append, key="same")
    window.desk.work.run("second", lambda: 2, done=got.append, key="same")
    assert window.desk.work.wait()
    assert got == [2]
    window.desk.work.run("third", lambda: 3, done=got.append)
    window.desk.work.cancel_all()
    assert window.desk.work.wait()
    assert got == [2]


@pytest.mark.slow
def test_the_size_of_the_text_is_remembered(window: Window, qtbot: QtBot, tmp_path: Path) -> None:
    try:
        window.choose_size("150")
        other = create_window(Settings(tmp_path / "window.ini"))
        qtbot.addWidget(other)
        assert other.font().pointSizeF() == 1.5 * 11
    finally:
        choose_size(100)


def test_a_language_nobody_translated_is_english() -> None:
    assert language_of("xx") in {"en", "de"}
    assert language_of("de") == "de"


@pytest.mark.slow
def test_opencv_before_qt_leaves_the_window_alone(tmp_path: Path) -> None:
    code = (
        "import sys, cv2\nfrom gui.app import create_application, create_window\nfrom gui.settings import Settings\n"
        "a = create_application(); w = create_window(Settings(sys.argv[1])); w.show(); a.processEvents()\n"
        "print(a.platformName(), w.isVisible()); w.close()\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code, str(tmp_path / "window.ini")],
        capture_output=True,
        text=True,
        env={**os.environ, "QT_QPA_PLATFORM": "offscreen"},
        timeout=600,
        check=False,
    )
    assert done.stdout.split() == ["offscreen", "True"], done.stderr


@pytest.mark.slow
def test_the_borders_between_views_are_remembered(window: Window, tmp_path: Path) -> None:
    splitter = window.findChild(QSplitter, "part")
    assert isinstance(splitter, QSplitter)
    window.go("part")
    splitter.setSizes([600, 500])
    left = splitter.sizes()
    window.leave()
    again = create_window(Settings(tmp_path / "window.ini"))
    other = again.findChild(QSplitter, "part")
    assert isinstance(other, QSplitter)
    again.resize(window.size())
    again.show()
    again.go("part")
    assert other.sizes() == pytest.approx(left, abs=30)
    again.close()


@pytest.mark.parametrize("language", ["en", "de"])
def test_one_alt_key_opens_one_menu(qtbot: QtBot, tmp_path: Path, language: str) -> None:
    settings = Settings(tmp_path / "window.ini")
    settings.set_text("language", language)
    window = create_window(settings)
    qtbot.addWidget(window)
    try:
        letters = [action.text()[action.text().index("&") + 1].lower() for action in window.menuBar().actions()]
        assert len(letters) == len(set(letters)) >= 6
    finally:
        window.leave()
        speak("en")


def test_another_language_needs_no_other_start(by_hand: Window, qtbot: QtBot, tmp_path: Path) -> None:
    by_hand.bench.source.use_video(write_video(tmp_path / "screw.avi", 2))
    by_hand.open_picture(SCREW)
    assert by_hand.desk.work.wait()
    by_hand.choose_language("de")
    made = renewed(by_hand)
    try:
        assert (made.front, made.desk.inches) == ("part", by_hand.desk.inches)
        qtbot.waitUntil(lambda: "4-40" in made.part.answer.sentence.text())
        assert "Gewindebohrer" in made.part.answer.sentence.text()  # not measured anew, but said anew
        assert made.desk.piece is not None
        assert made.bench.source.video == str(tmp_path / "screw.avi")
        assert made.part.findings.text("major_diameter").startswith("Außendurchmesser: 2.8")
    finally:
        made.leave()
        made.deleteLater()
        speak("en")


def test_the_guide_is_searched_and_read_offline(window: Window, qtbot: QtBot) -> None:
    qtbot.keyClick(window, Qt.Key.Key_F1, Qt.KeyboardModifier.ShiftModifier)
    guide = window.guide
    assert guide.isVisible()
    assert guide.list.count() > 10
    assert "Quayside Workshop" in guide.page.toPlainText()
    qtbot.keyClicks(guide.search, "three wires")
    shown = [guide.list.item(row).text() for row in range(guide.list.count())]
    assert shown
    assert all("wires" in text.lower() for text in shown)
    guide.list.setCurrentRow(0)
    assert "wires" in guide.page.textCursor().block().text().lower() or guide.page.textCursor().hasSelection()
    guide.page.anchorClicked.emit(QUrl("6_numbers.md"))
    assert guide.page.source().fileName() == "6_numbers.md"
    guide.page.anchorClicked.emit(QUrl("https://example.org/"))
    assert guide.page.source().fileName() == "6_numbers.md"  # nothing is fetched
    qtbot.keyClick(guide, Qt.Key.Key_Escape)
    assert not guide.isVisible()


def test_what_was_opened_is_offered_again_and_what_was_saved_is_opened(
    window: Window, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    mine = [tmp_path / "one.png", tmp_path / "two.png"]
    for path in mine:
        path.write_bytes(b"no picture")
    window.open_pictures([str(path) for path in mine])
    assert window.recent_pictures.paths == [str(mine[1]), str(mine[0])]
    mine[1].unlink()
    assert window.recent_pictures.paths == [str(mine[0])]  # what is gone is not offered
    opened: list[QUrl] = []
    monkeypatch.setattr(QDesktopServices, "openUrl", opened.append)
    window.desk.saved("It is there.", mine[0])
    assert window.notice.text == "It is there."
    qtbot.mouseClick(window.notice.open, Qt.MouseButton.LeftButton)
    assert [url.toLocalFile() for url in opened] == [str(mine[0])]
    window.desk.note("Something else.")
    assert not window.notice.open.isVisible()
    assert window.desk.work.wait()


def test_countries_have_the_names_that_the_system_knows(window: Window) -> None:
    # names of the Unicode Common Locale Data Repository, as Qt carries them; it has none for a country that is no more
    box = window.part.given.origin
    told = {box.itemData(row): box.itemText(row) for row in range(1, box.count())}
    assert set(told) == set(known_countries())
    for code, name in told.items():
        if code != "YU":
            assert name == QLocale.territoryToString(QLocale.codeToTerritory(code))
