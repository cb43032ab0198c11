"""The place Register: documenting part by part, searching, setting right, printing."""

from __future__ import annotations

import shutil
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PIL import Image
from PySide6.QtCore import QPoint, Qt
from PySide6.QtPrintSupport import QPrinter

from benchmarks.waiting import watched
from flankwise.bench import Bench
from gui.foot import Foot
from gui.register import deeds
from gui.samples import sample_bench
from records.entries import Part
from records.filing import add_instrument, add_part
from records.instrument_map import map_marks
from records.label_code import label_code
from records.listing import Conditions, page_of_parts
from records.next_position import next_position
from records.reading import read_part
from records.register import open_register
from sample_images.render import render_together
from tests.gui.conftest import lay
from tests.records.registers import sextant_register
from tests.vision.several.test_all_parts import PLANE, TRAY
from vision.shared.plane import FixedScale

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from gui.piece import Piece
    from gui.register.place import RegisterPlace
    from gui.window import Window

SAMPLES = Path(__file__).parents[2] / "sample_images"
NAMES = (
    "sextant_index_arm_screw_4-40_bench_a.png",
    "sextant_horizon_mirror_screw_2-64_bench_a.png",
    "sextant_index_arm_replacement_4-40_bench_a.png",
)
CTRL = Qt.KeyboardModifier.ControlModifier
LEFT = Qt.MouseButton.LeftButton


@dataclass
class Kept:
    """A register that was filed once, and the piece that was filed last."""

    folder: Path
    piece: Piece | None = None


def file_next(window: Window, qtbot: QtBot, picture: str) -> None:
    """One turn of the strip: picture, Enter."""
    window.open_picture(str(SAMPLES / picture))
    window.go("register")
    assert window.desk.work.wait()
    qtbot.keyClick(window.register.strip.position, Qt.Key.Key_Return)
    assert window.desk.work.wait()


@pytest.fixture
def documented(by_hand: Window, qtbot: QtBot) -> RegisterPlace:
    """Three parts of one job, filed through the strip a moment ago."""
    strip = by_hand.register.strip
    for field, text in (
        (strip.instrument, "marine sextant"),
        (strip.job, "overhaul 1"),
        (strip.position, "index arm 1"),
    ):
        qtbot.keyClicks(field, text)
    for name in NAMES:
        file_next(by_hand, qtbot, name)
    return by_hand.register


@pytest.fixture(scope="module")
def kept(tmp_path_factory: pytest.TempPathFactory) -> Kept:
    """What was filed once, for the tests that only need it to be there."""
    return Kept(tmp_path_factory.mktemp("kept"))


@pytest.fixture
def register(request: pytest.FixtureRequest, window: Window, kept: Kept) -> RegisterPlace:
    """Three parts of one job on file, the last of them on the bench; filed by another window."""
    if kept.piece is None:
        place: RegisterPlace = request.getfixturevalue("documented")
        for name in ("parts.sqlite", "parts.pictures"):
            source = Path(str(window.desk.register_file)).with_name(name)
            (shutil.copytree if source.is_dir() else shutil.copy)(source, kept.folder / name)
        kept.piece = window.desk.piece
        return place
    shutil.copytree(kept.folder, Path(str(window.desk.register_file)).parent, dirs_exist_ok=True)
    window.desk.bench = Bench(kept.piece.measurement.plane) if kept.piece.measurement else None
    strip = window.register.strip
    for field, text in (
        (strip.instrument, "marine sextant"),
        (strip.job, "overhaul 1"),
        (strip.position, "index arm 4"),
    ):
        field.setText(text)
    lay(window.desk, kept.piece)
    window.go("register")
    assert window.desk.work.wait()
    return window.register


def lines(register: RegisterPlace, conditions: Conditions = Conditions()) -> list[str | None]:  # noqa: B008
    with deeds.opened(register.desk.register_file).reading() as connection:
        return [line.name for line in page_of_parts(connection, conditions).lines]


def on_file(register: RegisterPlace, number: int) -> Part:
    with deeds.opened(register.desk.register_file).reading() as connection:
        return read_part(connection, number)


@pytest.mark.slow
def test_the_strip_files_measurement_and_identity_and_counts_positions_on(
    documented: RegisterPlace, monkeypatch: pytest.MonkeyPatch
) -> None:
    parts = [on_file(documented, number) for number in (1, 2, 3)]
    assert [p.position.name for p in parts if p.position] == ["index arm 1", "index arm 2", "index arm 3"]
    assert all(p.instrument is not None and p.instrument.name == "marine sextant" for p in parts)
    for part in parts:
        assert part.measurement is not None
        assert part.measurement.identification is not None
    assert documented.strip.position.text() == "index arm 4"
    assert documented.desk.piece is not None
    assert documented.desk.piece.filed == 3
    assert documented.model.rowCount() == 3
    assert [filed.part for filed in documented.strip.last] == [1, 2, 3]
    # what was filed in English is read in the language that the window has now
    row = documented.model.index(2)
    assert ", 4-40 by NC or UNC" in documented.model.data(row)
    monkeypatch.setattr("gui.worded.language", lambda: "de")
    assert ", 4-40 nach NC oder UNC" in documented.model.data(row)


@pytest.mark.slow
def test_the_last_filing_is_undone_and_done_again(documented: RegisterPlace, qtbot: QtBot) -> None:
    qtbot.keyClick(documented, Qt.Key.Key_Z, CTRL)
    assert documented.desk.work.wait()
    assert len(lines(documented)) == 2
    assert documented.desk.piece is not None
    assert documented.desk.piece.filed is None
    documented.desk.undo.redo()
    assert documented.desk.work.wait()
    assert len(lines(documented)) == 3


@pytest.mark.slow
def test_the_last_filing_is_taken_back_though_the_next_picture_has_come(
    documented: RegisterPlace, qtbot: QtBot
) -> None:
    documented.desk.open_picture(str(SAMPLES / NAMES[0]))
    assert documented.desk.work.wait()
    assert not documented.desk.undo.canUndo()  # steps of the part that lay there are gone
    qtbot.mouseClick(documented.strip.back, LEFT)
    assert documented.desk.work.wait()
    assert [filed.part for filed in documented.strip.last] == [1, 2]
    assert on_file(documented, 3).withdrawn
    assert len(lines(documented)) == 2


@pytest.mark.slow
def test_what_is_typed_is_for_the_picture_that_is_being_measured(
    register: RegisterPlace, qtbot: QtBot, tmp_path: Path
) -> None:
    """Enter does not wait, and never takes the part before; the next picture may come at once."""
    desk, strip = register.desk, register.strip
    for number, picture in enumerate((NAMES[2], NAMES[1])):
        desk.open_picture(str(shutil.copy(SAMPLES / picture, tmp_path / f"shot {number}.png")))
        qtbot.keyClick(strip.position, Qt.Key.Key_Return)
    assert strip.queue.waiting == 2
    assert strip.position.text() == "index arm 6"
    assert desk.work.wait()
    parts = [on_file(register, number) for number in (4, 5)]
    assert [p.position.name for p in parts if p.position] == ["index arm 4", "index arm 5"]
    sizes = [p.measurement.thread.major_diameter.value for p in parts if p.measurement]
    assert sizes[0] > 2.5 > sizes[1]


@pytest.mark.slow
def test_five_parts_are_queued_while_the_interface_goes_on(by_hand: Window, qtbot: QtBot, tmp_path: Path) -> None:
    strip, desk = by_hand.register.strip, by_hand.desk
    by_hand.go("register")
    qtbot.keyClicks(strip.instrument, "marine sextant")
    qtbot.keyClicks(strip.position, "index arm 1")
    paths = [shutil.copy(SAMPLES / NAMES[1], tmp_path / f"shot {number}.png") for number in range(5)]
    with watched() as blocked:
        for path in paths:
            desk.open_picture(str(path))
            qtbot.keyClick(strip.position, Qt.Key.Key_Return)
        assert strip.queue.waiting == 5
        while strip.queue.waiting:
            qtbot.keyClick(strip.name, Qt.Key.Key_X)  # typing goes on meanwhile
            qtbot.wait(50)
    typed = strip.name.text()
    assert len(typed) > 2
    assert set(typed) == {"x"}
    assert desk.work.wait()
    assert not blocked.stretches, blocked
    with deeds.opened(desk.register_file).reading() as connection:
        found = page_of_parts(connection, Conditions(instrument=1))
    assert [line.position for line in found.lines] == [f"index arm {number}" for number in range(1, 6)]
    assert all(line.pitch_diameter is not None for line in found.lines)


@pytest.mark.slow
def test_one_picture_is_not_filed_twice_without_a_word(register: RegisterPlace, qtbot: QtBot) -> None:
    strip = register.strip
    qtbot.keyClick(strip.position, Qt.Key.Key_Return)
    assert register.desk.work.wait()
    assert strip.done.text() == "On file as part 3"
    assert not strip.question.isVisible()
    qtbot.mouseClick(strip.once_more, LEFT)
    assert register.desk.work.wait()
    assert strip.position.text() == "index arm 5"
    assert strip.question.isVisible()
    assert "part 3" in strip.question.text.text()
    qtbot.keyClick(register, Qt.Key.Key_0, Qt.KeyboardModifier.AltModifier)
    assert not strip.question.isVisible()
    assert strip.position.text() == "index arm 4"  # it was not taken after all
    assert len(lines(register)) == 3


@pytest.mark.slow
def test_a_taken_position_is_a_question_with_two_answers(register: RegisterPlace, qtbot: QtBot) -> None:
    strip = register.strip
    for number, answer in enumerate((strip.question.first, strip.question.second)):
        shutil.copy(SAMPLES / NAMES[0], Path(str(register.desk.register_file)).with_name(f"again {number}.png"))
        register.desk.open_picture(str(Path(str(register.desk.register_file)).with_name(f"again {number}.png")))
        assert register.desk.work.wait()
        strip.position.setText("index arm 2")
        qtbot.keyClick(strip.position, Qt.Key.Key_Return)
        assert register.desk.work.wait()
        assert strip.question.isVisible()
        assert "--" not in strip.question.text.text()
        assert len(lines(register)) == 3
        qtbot.mouseClick(answer, LEFT)
        assert register.desk.work.wait()
        assert not strip.question.isVisible()
        assert len(on_file(register, 2).measurements) == 2
    assert len(lines(register)) == 4


@pytest.mark.slow
def test_a_slip_of_the_pen_is_a_question(register: RegisterPlace, qtbot: QtBot, tmp_path: Path) -> None:
    strip = register.strip
    register.desk.open_picture(str(shutil.copy(SAMPLES / NAMES[0], tmp_path / "shot.png")))
    assert register.desk.work.wait()
    strip.instrument.setText("marine sextnat")
    strip.job.clear()
    qtbot.keyClick(strip.position, Qt.Key.Key_Return)
    assert register.desk.work.wait()
    assert "marine sextant" in strip.question.first.text()
    qtbot.keyClick(register, Qt.Key.Key_1, Qt.KeyboardModifier.AltModifier)
    assert register.desk.work.wait()
    part = on_file(register, 4)
    assert part.instrument is not None
    assert part.instrument.name == "marine sextant"


@pytest.mark.slow
def test_searching_as_one_types_and_narrowing_down(register: RegisterPlace, qtbot: QtBot) -> None:
    qtbot.keyClicks(register.search, "mirror scr")
    qtbot.waitUntil(lambda: register.model.rowCount() == 1)
    register.search.clear()
    qtbot.waitUntil(lambda: register.model.rowCount() == 3)
    filters = register.filters
    qtbot.mouseClick(register.narrow, LEFT)
    for field, text in ((filters.least, "2.3mm"), (filters.most, "2.4mm")):
        qtbot.keyClicks(field, text)
    qtbot.keyClick(filters.most, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: register.model.rowCount() == 1)
    filters.most.setText("2.4")
    qtbot.keyClick(filters.most, Qt.Key.Key_Return)
    assert "has no unit" in register.window().notice.text
    qtbot.mouseClick(register.narrow, LEFT)  # folded away, it asks for nothing
    qtbot.waitUntil(lambda: register.model.rowCount() == 3)
    assert register.desk.work.wait()


@pytest.mark.slow
@pytest.mark.slow
def test_a_scanned_label_shows_its_part_whatever_is_chosen(register: RegisterPlace, qtbot: QtBot) -> None:
    """A scanner types the code and Enter."""
    register.tree.choose_first_instrument()
    register.show_view("paper")
    for part in (2, 1):
        qtbot.keyClicks(register.search, label_code(part))
        qtbot.keyClick(register.search, Qt.Key.Key_Return)
        assert register.desk.work.wait()
        assert [
            register.model.index(row).data(Qt.ItemDataRole.UserRole) for row in range(register.model.rowCount())
        ] == [part]
        # what is in the list is read once it stands there
        qtbot.waitUntil(lambda part=part: register.panel.part is not None and register.panel.part.id == part)
        assert register.switch.front == "part"


def test_the_positions_of_an_instrument_are_listed_and_chosen(register: RegisterPlace, qtbot: QtBot) -> None:
    tree = register.tree
    instrument = tree._find(("instrument", 1, 0))
    assert instrument is not None
    qtbot.mouseClick(tree.viewport(), LEFT, pos=tree.visualItemRect(instrument).center())
    assert register.desk.work.wait()
    instrument = tree._find(("instrument", 1, 0))  # the list may have been filled anew meanwhile
    assert instrument is not None
    assert [instrument.child(i).text(0) for i in range(3)] == ["index arm 1", "index arm 2", "index arm 3"]
    qtbot.mouseClick(tree.viewport(), LEFT, pos=tree.visualItemRect(instrument.child(1)).center())
    assert register.desk.work.wait()
    assert register.model.rowCount() == 1
    register.desk.register_changed.emit()
    assert register.desk.work.wait()
    assert tree.chosen == ("position", 2, 1)
    assert register.model.rowCount() == 1


@pytest.mark.slow
def test_a_long_list_is_read_where_one_looks(window: Window, qtbot: QtBot) -> None:
    with open_register(window.desk.register_file, create=True).writing() as writing:
        owner = add_instrument(writing, "organ")
        for number in range(5000):
            add_part(writing, name=f"screw {number}", instrument=owner)
    model, parts = window.register.model, window.register.parts

    def look_through() -> None:
        window.go("bench")
        window.register.search.clear()
        window.go("register")
        qtbot.waitUntil(lambda: model.rowCount() == 5000)
        bar = parts.verticalScrollBar()
        for share in range(0, 101, 5):
            bar.setValue(share * bar.maximum() // 100)
            qtbot.wait(10)
        qtbot.waitUntil(lambda: model.index(4999).data() is not None)
        window.register.search.setText("screw 499")
        qtbot.waitUntil(lambda: 0 < model.rowCount() < 30)

    window.go("register")
    assert window.desk.work.wait()
    assert model.index(4999).data() is None
    with watched() as blocked:
        look_through()
    assert not blocked.stretches, blocked


@pytest.mark.slow
def test_a_name_a_place_a_note_and_a_replacement_are_steps(register: RegisterPlace, qtbot: QtBot) -> None:
    panel, right = register.panel, register.panel.right
    panel.show_part(1)
    assert register.desk.work.wait()
    right.name.selectAll()
    qtbot.keyClicks(right.name, "index arm screw, long")
    qtbot.keyClick(right.name, Qt.Key.Key_Return)
    assert register.desk.work.wait()
    assert "index arm screw, long" in lines(register)
    qtbot.keyClick(register, Qt.Key.Key_Z, CTRL)
    assert register.desk.work.wait()
    assert "index arm screw, long" not in lines(register)
    right.position.selectAll()
    qtbot.keyClicks(right.position, "handle")
    qtbot.keyClick(right.position, Qt.Key.Key_Return)
    qtbot.keyClicks(right.note, "slot burred")
    qtbot.keyClick(right.note, Qt.Key.Key_Return)
    qtbot.keyClicks(right.die, "4-40 split die")
    qtbot.keyClick(right.die, Qt.Key.Key_Return)
    assert register.desk.work.wait()
    for text in ("index arm 1 became handle", "slot burred", "4-40 split die"):
        assert text in panel.history.text()
    for _ in range(2):
        register.desk.undo.undo()  # faster than the workers
    register.desk.undo.redo()
    assert register.desk.work.wait()
    part = on_file(register, 1)
    assert part.replacements[0].withdrawn
    assert [note.withdrawn for note in part.notes] == [False]  # brought back, not written once more
    qtbot.mouseClick(panel.gone, LEFT)
    assert register.desk.work.wait()
    assert len(lines(register)) == 2
    qtbot.mouseClick(panel.gone, LEFT)
    assert register.desk.work.wait()
    assert len(lines(register)) == 3


@pytest.mark.slow
def test_the_part_on_file_goes_back_to_the_bench_and_to_fit(register: RegisterPlace, qtbot: QtBot) -> None:
    register.panel.show_part(1)
    assert register.desk.work.wait()
    assert not register.panel.picture.image.isNull()
    qtbot.mouseClick(register.panel.to_fit, LEFT)
    assert register.desk.work.wait()
    window = register.window()
    held = window.fit.held["original"]
    assert held is not None
    assert held.name.startswith("part 1")
    window.go("register")
    qtbot.mouseClick(register.panel.to_bench, LEFT)
    assert register.desk.work.wait()
    piece = register.desk.piece
    assert piece is not None
    assert piece.measurement is not None
    assert piece.filed == 1


@pytest.mark.slow
def test_a_part_is_measured_again_by_the_bench_it_was_filed_with(window: Window, qtbot: QtBot) -> None:
    desk, register = window.desk, window.register
    desk.set_bench(Bench(sample_bench()))
    file_next(window, qtbot, NAMES[0])
    filed = on_file(register, 1).measurement
    assert filed is not None
    desk.set_bench(Bench(FixedScale(8.0)))
    register.panel.show_part(1)
    assert desk.work.wait()
    qtbot.mouseClick(register.panel.to_bench, LEFT)
    assert desk.work.wait()
    assert desk.piece is not None
    assert desk.piece.measurement is not None
    again = desk.piece.measurement.thread.pitch_diameter.value
    assert again == pytest.approx(filed.thread.pitch_diameter.value, abs=1e-4)
    desk.set_tray(desk.tray.again(desk.tray.at))
    assert desk.work.wait()
    assert desk.piece.measurement.thread.pitch_diameter.value == pytest.approx(again, abs=1e-4)


@pytest.mark.slow
def test_parts_like_the_one_on_the_bench_are_found(register: RegisterPlace, qtbot: QtBot) -> None:
    qtbot.keyClick(register, Qt.Key.Key_L, CTRL)
    assert register.desk.work.wait()
    assert register.panel.part is not None
    assert register.panel.part.id == 1  # the other 4-40
    assert register.alike.isVisible()
    assert "not the same thread" in register.alike.lines[0].text()
    qtbot.mouseClick(register.alike.lines[1], LEFT)
    assert register.desk.work.wait()
    assert register.panel.part.id == 2


@pytest.mark.slow
def test_the_report_is_previewed_saved_and_printed(register: RegisterPlace, qtbot: QtBot, tmp_path: Path) -> None:
    pypdf = pytest.importorskip("pypdf")
    qtbot.keyClick(register, Qt.Key.Key_P, CTRL)
    qtbot.waitUntil(lambda: len(register.paper.sheets) >= 4)  # they are there when one looks
    assert not register.paper.sheets[0].pixmap().isNull()
    register.paper.save_report(tmp_path / "job.pdf")
    assert register.desk.work.wait()
    text = " ".join(pypdf.PdfReader(tmp_path / "job.pdf").pages[0].extract_text().split())
    assert all(Path(name).stem.replace("_", " ") in text for name in NAMES)
    register.paper.save_report(tmp_path / "job.html")
    assert register.desk.work.wait()
    assert "sextant index arm replacement 4-40 bench a" in (tmp_path / "job.html").read_text("utf-8")
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    printer.setOutputFileName(str(tmp_path / "printed.pdf"))
    printer.setResolution(100)
    register.paper.print_on(printer)
    assert register.desk.work.wait()
    assert len(pypdf.PdfReader(tmp_path / "printed.pdf").pages) == len(register.paper.sheets)


@pytest.mark.slow
def test_every_paper_is_previewed_from_the_menu(register: RegisterPlace, tmp_path: Path) -> None:
    window, paper = register.window(), register.paper
    window.go("register")
    register.parts.setCurrentIndex(register.model.index(0))
    assert register.desk.work.wait()
    paper.head.lines.setPlainText("Quayside Workshop")
    paper.choose("job")
    paper.head.owner.setText("harbour school")
    paper.head.keep_both()
    assert register.desk.work.wait()
    shown = {}
    for what, _ in paper.kinds():
        window.print_paper(what)
        assert register.desk.work.wait()
        shown[what] = [sheet.pixmap().width() > sheet.pixmap().height() for sheet in paper.sheets]
    # the report has a page for the job and one a part; a drawing lies across
    assert {what: len(pages) for what, pages in shown.items()} == {
        "job": 4, "part": 1, "labels": 1, "drawing": 1, "map": 1, "instrument": len(shown["instrument"]), "tray": 1,
        "dies": 1,
    }  # fmt: skip
    assert [what for what, pages in shown.items() if all(pages)] == ["drawing"]
    assert len(shown["instrument"]) >= 1
    paper.choose("labels")
    paper.more.setCurrentIndex(paper.more.count() - 1)  # a roll
    paper.show_preview()
    assert register.desk.work.wait()
    assert paper.sheets[0].pixmap().width() > paper.sheets[0].pixmap().height()
    paper.choose("drawing")
    paper.save_report(tmp_path / "part.dxf")
    assert register.desk.work.wait()
    assert (tmp_path / "part.dxf").read_bytes().startswith(b"  0")
    paper.choose("job")
    paper.save_report(tmp_path / "job.html")
    assert register.desk.work.wait()
    page = (tmp_path / "job.html").read_text("utf-8")
    assert "Quayside Workshop" in page
    assert "Owner: harbour school" in page


@pytest.mark.slow
def test_positions_are_marked_on_a_map_by_clicks_and_each_click_is_a_step(
    register: RegisterPlace, qtbot: QtBot, tmp_path: Path
) -> None:
    Image.new("RGB", (800, 400), (200, 200, 190)).save(tmp_path / "whole.png")
    register.tree.choose_first_instrument()
    register.show_view("instrument")
    assert register.desk.work.wait()
    form = register.whole.map
    form.open_picture(str(tmp_path / "whole.png"))
    assert register.desk.work.wait()
    first = form.position.currentText()
    form.picture.resize(400, 200)
    for at in (QPoint(100, 50), QPoint(300, 150)):
        qtbot.mouseClick(form.picture, LEFT, pos=at)
        assert register.desk.work.wait()
        form.picture.resize(400, 200)
    assert form.position.currentText() != first
    with open_register(register.desk.register_file).reading() as connection:
        marks = map_marks(connection, 1)
    assert [(one.across, one.down) for one in marks] == [
        (pytest.approx(0.25, abs=0.01), pytest.approx(0.25, abs=0.01)),
        (pytest.approx(0.75, abs=0.01), pytest.approx(0.75, abs=0.01)),
    ]
    register.desk.undo.undo()
    assert register.desk.work.wait()
    with open_register(register.desk.register_file).reading() as connection:
        assert [one.id for one in map_marks(connection, 1)] == [marks[0].id]


@pytest.mark.slow
def test_every_part_of_one_picture_is_filed_and_taken_back_in_one_go(
    by_hand: Window, qtbot: QtBot, tmp_path: Path
) -> None:
    levels, _ = render_together(TRAY)
    Image.fromarray(levels.astype("uint8")).save(tmp_path / "tray.png")
    by_hand.desk.set_bench(Bench(PLANE))
    by_hand.open_picture(str(tmp_path / "tray.png"))
    by_hand.go("register")
    assert by_hand.desk.work.wait()
    strip = by_hand.register.strip
    assert not strip.all_parts.isHidden()
    for field, text in ((strip.instrument, "marine sextant"), (strip.position, "shade 9")):
        field.setText(text)
    qtbot.mouseClick(strip.all_parts, LEFT)
    assert by_hand.desk.work.wait()
    assert "2 in the picture were not measured" in by_hand.notice.text

    def on_file() -> list[str | None]:
        with open_register(by_hand.desk.register_file).reading() as connection:
            return [line.position for line in page_of_parts(connection, Conditions()).lines]

    assert sorted(map(str, on_file())) == ["shade 10", "shade 9"]
    by_hand.desk.undo.undo()
    assert by_hand.desk.work.wait()
    assert on_file() == []


@pytest.mark.slow
def test_parts_go_away_and_come_back(register: RegisterPlace, tmp_path: Path) -> None:
    paper, desk = register.paper.away, register.desk
    paper.export_to(tmp_path / "job.zip")
    paper.back_up_in(tmp_path / "backup")
    paper._verify()
    assert desk.work.wait()
    assert (tmp_path / "backup" / "backup.json").is_file()
    desk.register_file = str(tmp_path / "other.sqlite")
    desk.register_changed.emit()
    assert desk.work.wait()
    paper.take_in(tmp_path / "job.zip")
    assert desk.work.wait()
    assert sorted(str(name) for name in lines(register)) == sorted(Path(n).stem.replace("_", " ") for n in NAMES)
    paper._verify()
    assert desk.work.wait()
    assert "sound" in register.window().notice.text


@pytest.mark.parametrize(
    ("position", "following"),
    [("index arm 3", "index arm 4"), ("handle", ""), ("shade 9b", "shade 10b"), ("a09", "a10")],
)
def test_the_next_position(position: str, following: str) -> None:
    assert next_position(position) == following


def test_the_next_position_is_one_that_is_free() -> None:
    assert next_position("index arm 3", frozenset({"index arm 4", "index arm 5"})) == "index arm 6"


@pytest.mark.slow
def test_an_empty_register_says_how_to_begin(window: Window) -> None:
    window.go("register")
    assert window.desk.work.wait()
    assert window.register.first_words.isVisible()
    assert "Nothing is on file yet" in window.register.first_words.text()


@pytest.mark.slow
def test_a_chosen_instrument_has_its_page_and_a_filed_part_changes_it(
    by_hand: Window, qtbot: QtBot, tmp_path: Path
) -> None:
    sextant_register(Path(str(by_hand.desk.register_file)).parent)
    by_hand.go("register")
    assert by_hand.desk.work.wait()
    place, view = by_hand.register, by_hand.register.whole
    place.tree.choose_first_instrument()  # the field theodolite, of which there is nothing yet
    assert by_hand.desk.work.wait()
    assert place.switch.front == "instrument"
    assert view.verdict.text() == "No screw of it is measured yet."
    place.tree.setCurrentItem(place.tree._find(("instrument", 1, 0)))
    assert by_hand.desk.work.wait()
    assert view.verdict.text().startswith("Its maker used American National threads")
    assert "8  screw 8: fits M3x0.5-6g (ISO metric): a later replacement" in view.odd.text()
    assert view.missing.text().splitlines()[1:] == [
        "screw 9: no part and no picture on file",
        "lost screw: a part on file, but no picture",
    ]
    qtbot.waitUntil(lambda: view.chart.odd == ["fits M3x0.5-6g (ISO metric)"])
    assert len(view.chart._at) == 8
    assert view.tools.text().splitlines()[1].startswith("die: 0-80 UNF (1), 2-64 UNF (1), 4-40 UNC (2)")
    first = view.plan.item(0)
    assert first is not None
    assert first.text().splitlines()[:2] == ["1  screw 1", "0-80 NF-2"]
    view.stated.text.setText("BA")
    view.stated.by.setCurrentIndex(view.stated.by.findData("catalogue"))
    assert view.stated.weight.value() == 20
    view.stated.done.click()
    assert by_hand.desk.work.wait()
    qtbot.waitUntil(lambda: view.notes.text().startswith("Stated: BA, by catalogue; counts 20 times."))
    assert "The measurements contradict what is stated of it" in view.notes.text()
    view.stated.back.click()
    assert by_hand.desk.work.wait()
    qtbot.waitUntil(lambda: "BA" not in view.notes.text())
    by_hand.desk.undo.undo()
    assert by_hand.desk.work.wait()
    qtbot.waitUntil(lambda: "BA" in view.notes.text())
    by_hand.desk.undo.undo()
    assert by_hand.desk.work.wait()
    qtbot.waitUntil(lambda: "BA" not in view.notes.text())
    view.save_tools(tmp_path / "tools.csv")
    view.save_sheet(tmp_path / "sheet.pdf")
    assert by_hand.desk.work.wait()
    assert "4-40 UNC" in (tmp_path / "tools.csv").read_text("utf-8")
    assert (tmp_path / "sheet.pdf").read_bytes().startswith(b"%PDF")
    by_hand.open_picture(str(SAMPLES / NAMES[0]))
    by_hand.go("register")
    assert by_hand.desk.work.wait()
    place.strip.instrument.setText("marine sextant")
    place.strip.position.setText("screw 9")
    place.strip.file_it()
    assert by_hand.desk.work.wait()
    qtbot.waitUntil(lambda: "screw 9" not in view.missing.text())
    assert "from 9 measured screws" in view.verdict.text()
    ninth = view.plan.item(8)
    assert ninth is not None
    view.plan.itemClicked.emit(ninth)
    assert by_hand.desk.work.wait()
    assert place.switch.front == "part"
    assert place.panel.part is not None
    assert place.panel.part.position is not None
    assert place.panel.part.position.name == "screw 9"


def test_another_writer_is_noticed_and_waited_for_and_nothing_that_was_typed_is_lost(
    window: Window, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = Path(str(window.desk.register_file))
    other = sextant_register(file.parent)
    monkeypatch.setattr("records.connection.connect.__kwdefaults__", {"foreign_keys": True, "timeout": 1.5})
    window.go("register")
    assert window.desk.work.wait()
    place, right = window.register, window.register.panel.right
    place.panel.show_part(1)
    assert window.desk.work.wait()
    qtbot.keyClicks(right.note, "slot burred")
    before = place.count.text()
    with other.writing("Ada") as writing:  # the command line, say
        add_part(writing, name="filed elsewhere")
    qtbot.waitUntil(lambda: place.count.text() != before)
    assert window.desk.work.wait()
    assert right.note.text() == "slot burred"
    words, foot = [], window.findChild(Foot)
    assert foot is not None
    window.desk.work.changed.connect(lambda: words.append(foot.doing.text()))
    with watched() as blocked, other.writing("Ada"):
        qtbot.keyClick(right.note, Qt.Key.Key_Return)
        assert right.note.text() == ""  # a second Enter files nothing twice
        assert window.desk.work.wait()
    assert not blocked.stretches, blocked
    assert any("another program" in text for text in words)
    assert right.note.text() == "slot burred"
    qtbot.keyClick(right.note, Qt.Key.Key_Return)
    assert window.desk.work.wait()
    with deeds.opened(str(file)).reading() as connection:
        assert [note.text for note in read_part(connection, 1).notes] == ["slot burred"]
