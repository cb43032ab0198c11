"""The tray in the real window: nothing that arrives replaces, misplaces or loses another picture."""

from __future__ import annotations

import random
import shutil
import sqlite3
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtWidgets import QApplication, QWidget

import gui.app
from benchmarks import tray as rounds
from calib.file import save_calibration
from flankwise.bench import Bench
from gui.camera.watched_folder import WatchedFolder
from gui.settings import Settings
from gui.tour import sample_bench
from gui.tray.cards import State
from records.register import open_register
from vision.shared.plane import FixedScale

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from gui.window import Window

SAMPLES = Path(__file__).parents[2] / "sample_images"
LEFT = Qt.MouseButton.LeftButton


@pytest.fixture(scope="module")
def shots(tmp_path_factory: pytest.TempPathFactory) -> list[Path]:
    """Pictures of screws at half their size, no two alike, for the plane ``rounds.HALF``."""
    return rounds.make_pictures(tmp_path_factory.mktemp("shots"), 8)


@pytest.fixture
def filing(window: Window) -> Window:
    """The window with Register in front, and typed what the next part is."""
    window.desk.set_bench(Bench(rounds.HALF))
    window.go("register")
    strip = window.register.strip
    for field, text in ((strip.instrument, "marine sextant"), (strip.position, "index arm 1")):
        field.setText(text)
    return window


def states(window: Window) -> list[State]:
    return [card.state for card in window.desk.tray.cards]


def enter(window: Window, qtbot: QtBot) -> None:
    qtbot.keyClick(window.register.strip.position, Qt.Key.Key_Return)


def on_file(window: Window) -> dict[str, str]:
    """The file name of the picture at each position."""
    query = (
        "SELECT positions.name, pictures.file_name FROM parts JOIN positions ON positions.id = parts.position_id "
        "JOIN measurements ON measurements.part_id = parts.id JOIN pictures ON pictures.id = measurements.picture_id "
        "WHERE parts.withdrawn = 0"
    )
    with open_register(window.desk.register_file).reading() as connection:
        return dict(connection.execute(query).fetchall())


def darkest(window: Window, widget: QWidget) -> int:
    """Lightness of the darkest pixel of ``widget`` as it is drawn, 0 to 255: of its text by day."""
    image = window.grab(QRect(widget.mapTo(window, QPoint(0, 0)), widget.size())).toImage()
    return min(image.pixelColor(x, y).lightness() for x in range(image.width()) for y in range(image.height()))


@pytest.mark.slow
def test_whatever_arrives_every_part_carries_what_belongs_to_its_position(
    tmp_path: Path, shots: Sequence[Path]
) -> None:
    shots = shots[:5]
    numbers = rounds.numbers_of(shots)
    for number in range(2):
        folder = tmp_path / str(number)
        folder.mkdir()
        chance = random.Random(100 + number)
        found = rounds.one_round(folder, shots, numbers, chance, choosing=number == 1)
        assert (found.right, found.wrong) == (len(shots), [])


@pytest.mark.slow
def test_a_picture_that_arrives_leaves_the_one_in_the_work_where_it_is(
    filing: Window, qtbot: QtBot, shots: Sequence[Path]
) -> None:
    """A is measured and named on the button; B arrives; Enter, while B is being measured."""
    strip = filing.register.strip
    filing.open_picture(str(shots[0]))
    assert filing.desk.work.wait(200)
    filing.open_picture(str(shots[1]))
    assert strip.done.text() == "File this as index arm 1"
    assert states(filing) == [State.READY, State.WAITING]
    enter(filing, qtbot)
    assert strip.done.text() == "File this as index arm 2"
    enter(filing, qtbot)
    assert filing.desk.work.wait(200)
    assert on_file(filing) == {"index arm 1": shots[0].name, "index arm 2": shots[1].name}
    assert states(filing) == [State.FILED, State.FILED]
    filing.close()
    assert not filing.isVisible()  # nothing is left to ask about


@pytest.mark.slow
def test_dropping_eight_pictures_makes_eight_cards(filing: Window, qtbot: QtBot, shots: Sequence[Path]) -> None:
    rounds.drop(filing, shots)
    assert [card.name for card in filing.desk.tray.cards] == [path.stem for path in shots]
    assert filing.front == "register"  # one who files is not led away
    qtbot.waitUntil(filing.tray.isVisible)
    filing.go("part")
    rounds.drop(filing, shots[3:5])
    assert len(filing.desk.tray.cards) == 8
    assert filing.desk.tray.at == 4  # it is there already, and shown
    assert "in the tray already" in filing.notice.text
    assert filing.desk.work.wait(200)
    assert states(filing) == [State.READY] * 8
    model = filing.tray.model
    assert model.rowCount() == 8
    assert model.index(3).data().startswith(f"{shots[3].stem}, ready, ")


def test_pictures_named_at_the_start_are_measured_with_the_current_bench(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    save_calibration(sample_bench(), tmp_path / "bench.json")
    monkeypatch.setenv("FLANKWISE_DATA", str(tmp_path))
    Settings().set_text("bench", str(tmp_path / "bench.json"))
    made: list[Window] = []
    create = gui.app.create_window

    def created() -> Window:
        made.append(create())
        qtbot.addWidget(made[0])
        return made[0]

    monkeypatch.setattr(gui.app, "create_window", created)
    monkeypatch.setattr(QApplication, "exec", lambda *_: 0)
    names = ["sextant_index_arm_screw_4-40_bench_a.png", "sextant_horizon_mirror_screw_2-64_bench_a.png"]
    assert gui.app.main([str(SAMPLES / name) for name in names]) == 0
    assert made[0].desk.work.wait(200)
    assert states(made[0]) == [State.READY, State.READY]
    assert all(card.bench is made[0].desk.bench is not None for card in made[0].desk.tray.cards)
    made[0].leave()


def test_every_picture_that_comes_into_the_folder_at_once_is_told_of(qtbot: QtBot, tmp_path: Path) -> None:
    folder = WatchedFolder(str(tmp_path), poll_ms=30)
    told: list[str] = []
    folder.arrived.connect(told.append)
    for number in range(3):
        (tmp_path / f"shot {number}.png").write_bytes(b"picture")
    qtbot.waitUntil(lambda: len(told) == 3, timeout=5000)
    assert sorted(told) == [str(tmp_path / f"shot {number}.png") for number in range(3)]
    folder.stop()


def test_a_file_that_is_overwritten_before_it_is_read_is_said_and_not_taken_for_the_other(
    filing: Window, tmp_path: Path, shots: Sequence[Path]
) -> None:
    path = tmp_path / "capture.png"
    shutil.copy(shots[0], path)
    filing.desk.take_in([str(path)])
    shutil.copy(shots[1], path)
    filing.desk.take_in([str(path)])
    assert filing.desk.work.wait(200)
    assert states(filing) == [State.REFUSED, State.READY]
    assert [reason.key for reason in filing.desk.tray.cards[0].piece.reasons] == ["picture_changed.on_card"]


@pytest.mark.slow
def test_do_not_file_it_gives_the_position_back(filing: Window, qtbot: QtBot, shots: Sequence[Path]) -> None:
    strip = filing.register.strip
    filing.open_pictures([str(path) for path in shots[:2]])
    enter(filing, qtbot)
    strip.instrument.setText("marine sextnat")
    strip.position.setText("frame 1")
    enter(filing, qtbot)
    assert filing.desk.work.wait(200)
    assert strip.question.isVisible()
    assert strip.position.text() == "frame 2"
    qtbot.mouseClick(strip.question.neither, LEFT)
    assert strip.position.text() == "frame 1"
    assert filing.desk.tray.cards[1].state is State.READY  # it is still there
    strip.position.setText("frame 7")
    filing.desk.highlight(2)
    enter(filing, qtbot)
    assert filing.desk.work.wait(200)
    qtbot.keyClicks(strip.position, "mirror")  # typed since: that stays
    qtbot.mouseClick(strip.question.neither, LEFT)
    assert strip.position.text() == "mirror"


@pytest.mark.slow
def test_a_register_that_another_program_holds_loses_nothing(
    filing: Window, qtbot: QtBot, shots: Sequence[Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("records.connection.BUSY_TIMEOUT_S", 0.1)
    monkeypatch.setattr("records.connection.connect.__kwdefaults__", {"foreign_keys": True, "timeout": 0.1})
    strip = filing.register.strip
    filing.open_pictures([str(path) for path in shots[:3]])
    enter(filing, qtbot)
    assert filing.desk.work.wait(200)
    other = sqlite3.connect(str(filing.desk.register_file), isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    strip.name.setText("clamp screw")
    enter(filing, qtbot)
    enter(filing, qtbot)
    assert filing.desk.work.wait(200)
    assert "another program" in strip.question.text.text()
    assert strip.question.open == 1  # the third waits behind it and is not asked about as well
    assert len(on_file(filing)) == 1
    qtbot.mouseClick(strip.question.first, LEFT)  # too early
    assert filing.desk.work.wait(200)
    assert strip.question.first.text() == "Try again"
    other.close()
    qtbot.mouseClick(strip.question.first, LEFT)
    assert filing.desk.work.wait(200)
    assert on_file(filing) == {f"index arm {n + 1}": shots[n].name for n in range(3)}
    assert [filed.name for filed in strip.last] == [shots[0].stem, "clamp screw", shots[2].stem]


@pytest.mark.slow
def test_what_the_command_line_files_is_seen_within_two_seconds(filing: Window, qtbot: QtBot) -> None:
    register = filing.register
    assert filing.desk.work.wait(200)
    add = ["record", "add", str(SAMPLES / "pin_1000_bench_a.png"), "--unmeasured", "--instrument", "theodolite"]
    done = subprocess.run(
        [sys.executable, "-c", "from cli.main import run; run()", *add, "--register", str(filing.desk.register_file)],
        cwd=SAMPLES.parent,
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    qtbot.waitUntil(lambda: register.model.rowCount() == 1, timeout=2000 + 8000)  # the machine may have other work
    told: list[int] = []
    filing.desk.register_changed.connect(lambda: told.append(1))
    qtbot.wait(2500)
    assert not told  # once: to read what is new is no change


def test_a_refused_part_leaves_no_axes_and_no_live_buttons(by_hand: Window) -> None:
    part = by_hand.part
    by_hand.open_picture(str(SAMPLES / "sextant_index_arm_screw_4-40_bench_a.png"))
    assert by_hand.desk.work.wait(200)
    actions = [part.mask_action, part.flank_action, part.copy_action, part.figure_action, part.original_action]
    assert part.ridge.isVisible()
    assert all(action.isEnabled() for action in actions)
    by_hand.open_picture(str(SAMPLES / "pin_1000_bench_a.png"))
    assert by_hand.desk.work.wait(200)
    assert part.refusal.isVisible()
    assert not part.ridge.isVisible()
    assert not part.switch.stack.isVisible()
    assert not any(action.isEnabled() for action in actions)


def test_numbers_of_before_are_paler_while_new_ones_are_computed(by_hand: Window) -> None:
    part, desk = by_hand.part, by_hand.desk
    by_hand.resize(1280, 1400)  # so that the number stays in view, whatever is said above it
    by_hand.open_picture(str(SAMPLES / "sextant_index_arm_screw_4-40_bench_a.png"))
    assert desk.work.wait(200)
    label = part.findings._rows["pitch_diameter"][1]
    ink, before = darkest(by_hand, label), label.text()
    desk.set_bench(Bench(FixedScale(8.0)))
    QApplication.processEvents()
    assert desk.pending
    assert label.text() == before
    assert darkest(by_hand, label) > ink + 40
    assert part.ridge.frame.opacity() < 0.5
    assert not part.copy_action.isEnabled()
    assert desk.work.wait(200)
    assert label.text() != before
    assert darkest(by_hand, label) == pytest.approx(ink, abs=10)
    assert part.ridge.frame.opacity() == 1.0


@pytest.mark.slow
def test_no_number_of_another_part_stands_beside_a_picture_that_is_being_measured(by_hand: Window) -> None:
    part = by_hand.part
    by_hand.open_picture(str(SAMPLES / "sextant_index_arm_screw_4-40_bench_a.png"))
    assert by_hand.desk.work.wait(200)
    by_hand.open_picture(str(SAMPLES / "sextant_horizon_mirror_screw_2-64_bench_a.png"))
    assert by_hand.desk.piece is None
    assert not part.findings.isVisible()
    assert "is being measured" in part.refusal.text()
    assert by_hand.desk.work.wait(200)
    assert part.findings.isVisible()


@pytest.mark.slow
def test_only_the_highlighted_card_keeps_its_picture(filing: Window, shots: Sequence[Path]) -> None:
    filing.open_pictures([str(path) for path in shots])
    assert filing.desk.work.wait(200)
    assert not any(card.piece.decoded for card in filing.desk.tray.cards)
    assert all(card.piece.small is not None for card in filing.desk.tray.cards)
    for number in (3, 8, 3):
        filing.desk.highlight(number)
        assert filing.desk.work.wait(200)
        piece = filing.desk.piece
        assert piece is not None
        assert piece.decoded
        assert Path(piece.path) == shots[number - 1]
        assert piece.measurement is not None
        assert piece.measurement.picture is piece.picture


def test_giving_up_leaves_cards_that_are_measured_when_they_are_chosen(filing: Window, shots: Sequence[Path]) -> None:
    filing.open_pictures([str(path) for path in shots[:3]])
    filing.measuring.go_on()
    assert states(filing) == [State.MEASURING, State.WAITING, State.WAITING]
    filing.desk.work.cancel_all()
    assert filing.desk.work.wait(200)
    assert states(filing) == [State.REFUSED] * 3
    filing.desk.highlight(2)
    assert filing.desk.work.wait(200)
    assert states(filing) == [State.REFUSED, State.READY, State.REFUSED]


@pytest.mark.slow
def test_a_card_is_taken_out_and_put_back(filing: Window, qtbot: QtBot, shots: Sequence[Path]) -> None:
    filing.open_pictures([str(path) for path in shots[:3]])
    qtbot.keyClick(filing, Qt.Key.Key_Right, Qt.KeyboardModifier.AltModifier)
    qtbot.keyClick(filing, Qt.Key.Key_Delete, Qt.KeyboardModifier.AltModifier)
    assert [card.number for card in filing.desk.tray.cards] == [1, 3]
    assert filing.desk.work.wait(200)
    qtbot.mouseClick(filing.tray.back, LEFT)
    assert filing.desk.work.wait(200)
    assert [card.number for card in filing.desk.tray.cards] == [1, 2, 3]
    assert states(filing) == [State.READY] * 3


@pytest.mark.slow
def test_enter_on_a_card_files_it_where_the_button_is_seen(filing: Window, qtbot: QtBot, shots: Sequence[Path]) -> None:
    filing.go("part")
    filing.open_picture(str(shots[0]))
    assert filing.desk.work.wait(200)
    qtbot.keyClick(filing.tray.cards, Qt.Key.Key_Return)
    assert filing.front == "register"  # first one sees as what
    assert not filing.desk.tray.cards[0].settled
    qtbot.keyClick(filing.tray.cards, Qt.Key.Key_Return)
    assert filing.desk.work.wait(200)
    assert on_file(filing) == {"index arm 1": shots[0].name}
