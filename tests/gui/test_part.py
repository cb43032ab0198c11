"""The place Part: findings, identity, budget, and what is set right by hand."""

from __future__ import annotations

import time
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np
import pyqtgraph as pg
import pytest
from PySide6.QtCore import QPointF, Qt
from PySide6.QtWidgets import QApplication, QLabel

import flankwise
from flankwise.bench import Bench
from flankwise.reasons import WINDOW, sentence
from gui.levels import levels_of
from gui.limit_bar import LimitBar
from gui.part.given import Given
from gui.picture_view import PictureView
from gui.piece import Choices
from gui.register.filing import Entry, Filed, file_piece
from records.reading import read_part
from records.register import open_register
from tests.records.registers import sextant_register
from threads.shared.formatting import format_quantity, write_quantity
from threads.shared.quantity import Quantity
from vision.result.dimensions import DRAWN
from vision.shared.plane import FixedScale

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from gui.part.place import PartPlace
    from gui.window import Window

SAMPLES = Path(__file__).parents[2] / "sample_images"
SCREW = str(SAMPLES / "sextant_index_arm_screw_4-40_bench_a.png")


@pytest.fixture
def part(by_hand: Window) -> PartPlace:
    """The index arm screw on the bench."""
    by_hand.open_picture(SCREW)
    assert by_hand.desk.work.wait()
    return by_hand.part


def pitch_diameter(part: PartPlace) -> float:
    piece = part.desk.piece
    assert piece is not None
    assert piece.measurement is not None
    return piece.measurement.thread.pitch_diameter.value


@pytest.mark.slow
def test_findings_say_value_u95_and_unit_in_either_unit(part: PartPlace, qtbot: QtBot) -> None:
    piece = part.desk.piece
    assert piece is not None
    assert piece.measurement is not None
    quantity = piece.measurement.thread.pitch_diameter
    written = write_quantity(quantity)
    assert written is not None
    assert part.findings.text("pitch_diameter") == f"pitch diameter: {written.value} ± {written.u95} mm"
    qtbot.keyClick(part, Qt.Key.Key_U, Qt.KeyboardModifier.ControlModifier)
    inches = write_quantity(quantity, inches=True)
    assert inches is not None
    assert part.findings.text("pitch_diameter") == f"pitch diameter: {inches.value} ± {inches.u95} in"
    qtbot.waitUntil(lambda: "diameter, in" in part.ridge.getAxis("left").labelText)


@pytest.mark.slow
def test_origin_and_year_weigh_at_once_and_can_be_undone(part: PartPlace, qtbot: QtBot) -> None:
    def shares_of_series() -> dict[str, float]:
        piece = part.desk.piece
        assert piece is not None
        assert piece.identification is not None
        found: dict[str, float] = {}
        for c in piece.identification.candidates:
            found[c.limits.series] = found.get(c.limits.series, 0.0) + c.probability
        return found

    before = shares_of_series()
    part.given.origin.setCurrentIndex(part.given.origin.findData("US"))
    part.given.origin.activated.emit(0)
    part.given.made.setText("1938")
    qtbot.keyClick(part.given.made, Qt.Key.Key_Return)
    assert part.desk.work.wait()
    after = shares_of_series()
    assert after.get("UNC", 0.0) < 0.1 * before["UNC"]
    assert after["NC"] > before["NC"]
    for _ in range(2):
        qtbot.keyClick(part, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
        assert part.desk.work.wait()
    assert shares_of_series() == before
    part.given.made.setText("19x6")
    qtbot.keyClick(part.given.made, Qt.Key.Key_Return)
    assert "is not a year" in part.window().notice.text
    assert shares_of_series() == before


@pytest.mark.slow
def test_a_place_left_out_refits_and_undo_restores_the_exact_value(part: PartPlace, qtbot: QtBot) -> None:
    before = pitch_diameter(part)
    qtbot.keyClick(part, Qt.Key.Key_M)
    assert part.picture.masking
    view = part.picture
    corners = []
    for x, y in ((600.0, 100.0), (700.0, 300.0)):
        scene = view.ground.mapViewToScene(QPointF(x, y))
        corners.append(view.mapFromScene(scene))
    start = time.thread_time()
    qtbot.mousePress(view.viewport(), Qt.MouseButton.LeftButton, pos=corners[0])
    qtbot.mouseMove(view.viewport(), corners[1])
    qtbot.mouseRelease(view.viewport(), Qt.MouseButton.LeftButton, pos=corners[1])
    assert time.thread_time() - start < 0.5
    assert part.desk.work.wait()
    piece = part.desk.piece
    assert piece is not None
    assert len(piece.choices.masks) == 1
    assert np.allclose(piece.choices.masks[0], (600, 100, 700, 300), atol=6)
    assert pitch_diameter(part) != before
    assert "left out by hand" in part.doubts.text()
    qtbot.keyClick(part, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert part.desk.work.wait()
    assert pitch_diameter(part) == before


@pytest.mark.slow
def test_a_dragged_end_shortens_the_thread(part: PartPlace) -> None:
    piece = part.desk.piece
    assert piece is not None
    assert piece.measurement is not None
    before = piece.measurement.thread.threads_in_view
    handle = part.picture._handles[1]
    x, y = handle.pos().x(), handle.pos().y()
    handle.setPos(x - 350, y)
    handle.sigPositionChangeFinished.emit(handle)
    assert part.desk.work.wait()
    now = part.desk.piece
    assert now is not None
    assert now.measurement is not None
    assert now.measurement.thread.threads_in_view < before
    part.as_found_action.trigger()
    assert part.desk.work.wait()
    assert part.desk.piece is not None
    assert part.desk.piece.choices.ends is None


@pytest.mark.slow
def test_the_budget_shows_every_term_and_shares_of_the_whole(part: PartPlace) -> None:
    part.show_view("budget")
    table = part.budget.table
    piece = part.desk.piece
    assert piece is not None
    assert piece.measurement is not None
    terms = piece.measurement.budget["pitch_diameter"]
    assert table.rowCount() == len(terms)
    told = [table.item(row, 2).text() for row in range(table.rowCount())]
    assert sum(float(t.split()[0]) for t in told if t.endswith("%")) == pytest.approx(100, abs=0.3)


@pytest.mark.slow
def test_every_view_below_the_picture_is_reached_by_the_key(part: PartPlace, qtbot: QtBot) -> None:
    seen = []
    for _ in range(5):
        qtbot.keyClick(part, Qt.Key.Key_V)
        seen.append(part.switch.stack.currentIndex())
    assert seen == [1, 2, 3, 4, 0]
    part.show_view("charts")
    qtbot.waitUntil(lambda: len(part.charts.pitch.box.addedItems) > 2)
    assert part.sections.table.rowCount() > 0


@pytest.mark.slow
def test_a_refused_picture_is_shown_with_its_sentence(by_hand: Window) -> None:
    by_hand.open_picture(str(SAMPLES / "pin_1000_bench_a.png"))
    assert by_hand.desk.work.wait()
    assert by_hand.part.refusal.isVisible()
    assert "No thread in view" in by_hand.part.refusal.text()
    assert by_hand.part.picture.levels.size == (1280, 960)
    assert not by_hand.part.findings.isVisible()


@pytest.mark.slow
def test_the_findings_are_copied_as_text_and_drawn_as_a_page(part: PartPlace, tmp_path: Path) -> None:
    part.copy_action.trigger()
    assert part.findings.text("pitch_diameter") in QApplication.clipboard().text()
    part.save_figure(tmp_path / "screw.svg")
    assert part.desk.work.wait()
    assert (tmp_path / "screw.svg").stat().st_size > 10_000


def test_24_megapixels_are_drawn_in_less_than_33_ms_at_any_zoom(qtbot: QtBot) -> None:
    rng = np.random.default_rng(1)
    picture = rng.integers(0, 255, (4000, 6000), dtype=np.uint8)
    view = PictureView("large")
    qtbot.addWidget(view)
    view.resize(1280, 800)
    view.set_levels(levels_of(picture))
    view.show()
    qtbot.waitExposed(view)
    used = []
    for number in range(24):
        if number % 6 == 5:
            view.show_all()
        qtbot.keyClick(view, (Qt.Key.Key_Plus, Qt.Key.Key_Right)[number % 2])
        start = time.thread_time()
        view.grab()
        used.append(time.thread_time() - start)
    assert float(np.median(used)) < 0.033
    before = view.ground.viewRect().width()
    qtbot.keyClick(view, Qt.Key.Key_Minus)
    assert view.ground.viewRect().width() > before
    qtbot.keyClick(view, Qt.Key.Key_0)
    assert view.ground.viewRect().width() >= 6000


@pytest.mark.slow
def test_the_answer_of_the_front_floor_stands_on_top_and_follows_origin_and_year(part: PartPlace, qtbot: QtBot) -> None:
    """The two surfaces say one sentence: expected is what the call of the front floor gives for the same part."""

    def of_the_call(**given: object) -> str:
        piece = part.desk.piece
        assert piece is not None
        assert piece.measurement is not None
        told = flankwise.identify(flankwise.Part(piece.measurement), **given)  # type: ignore[arg-type]
        return sentence(told.answer.sentence, place=WINDOW)

    assert part.answer.sentence.text() == of_the_call()
    assert "origin and year" in part.answer.more.text()
    qtbot.keyClicks(part.given.made, "1938")
    qtbot.keyClick(part.given.made, Qt.Key.Key_Return)
    part.given.origin.setCurrentIndex(part.given.origin.findData("US"))
    part.given.origin.activated.emit(0)
    assert part.desk.work.wait()
    assert part.answer.sentence.text() == of_the_call(origin="US", made=1938)
    assert "UNC" not in part.answer.sentence.text()
    assert "die 4-40 UNC" in part.making.tools.text()
    assert "over three wires" in part.making.more.text()
    assert not part.candidates.inside.isVisible()
    qtbot.mouseClick(part.candidates.button, Qt.MouseButton.LeftButton)
    assert part.candidates.inside.isVisible()


@pytest.mark.slow
def test_the_other_screws_of_its_instrument_count_where_it_is_part_of_it(part: PartPlace, qtbot: QtBot) -> None:
    register = sextant_register(Path(str(part.desk.register_file)).parent)
    assert str(register.path) == part.desk.register_file
    part.desk.register_changed.emit()
    box = part.given.instrument
    qtbot.waitUntil(lambda: box.findData("marine sextant") > 0)
    assert "UNC" in part.answer.sentence.text()
    box.setCurrentIndex(box.findData("marine sextant"))
    box.activated.emit(0)
    assert part.desk.work.wait()
    assert "UNC" not in part.answer.sentence.text()
    assert part.answer.more.text().startswith("As part of marine sextant: 8 other screws say American National")
    box.setCurrentIndex(0)
    box.activated.emit(0)
    assert part.desk.work.wait()
    assert "UNC" in part.answer.sentence.text()


@pytest.mark.slow
def test_what_is_stated_counts_is_shown_and_is_filed_as_a_note(part: PartPlace, tmp_path: Path) -> None:
    form = part.stated
    form.text.setText("UNC")
    form.by.setCurrentIndex(form.by.findData("drawing"))
    form.weight.setValue(5000)
    form.source.setText("sheet 12")
    form.done.click()
    assert part.desk.work.wait()
    assert "(Unified)" in part.answer.sentence.text()
    assert "Stated: UNC, by drawing; counts 5000 times." in part.answer.more.text()
    piece = part.desk.piece
    assert piece is not None
    filed = file_piece(str(tmp_path / "said.sqlite"), piece, Entry("marine sextant", "", "arm 1", "screw"))
    assert isinstance(filed, Filed)
    with open_register(tmp_path / "said.sqlite").reading() as connection:
        (note,) = read_part(connection, filed.part).notes
    assert note.text == "stated: UNC, by drawing, weight 5000; source: sheet 12"
    form.back.click()
    assert part.desk.work.wait()
    assert "Stated" not in part.answer.more.text()
    form.text.setText("M3")
    form.done.click()
    assert part.desk.work.wait()
    assert "The measurement contradicts what is stated (M3, by drawing)" in part.answer.more.text()


@pytest.mark.slow
def test_where_nothing_fits_the_bench_is_doubted_and_the_nearest_dies_are_named(
    by_hand: Window, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("FLANKWISE_DATA", str(tmp_path))  # no bench of another test in the history
    by_hand.desk.set_bench(Bench(FixedScale(8.0, relative_u=1e-5, edge_offset_u_px=0.01)))  # twice what it was
    by_hand.open_picture(SCREW)
    assert by_hand.desk.work.wait()
    part = by_hand.part
    assert part.answer.sentence.text().startswith("No known thread")
    assert "0.5 times" in part.answer.more.text()
    assert "Nearest dies" in part.making.more.text()


@pytest.mark.slow
def test_no_number_on_the_right_is_cut_in_a_small_window(part: PartPlace, qtbot: QtBot) -> None:
    window = part.window()
    window.resize(1024, 700)
    qtbot.waitUntil(lambda: window.size().width() == 1024)
    for row in part.findings._rows.values():
        for label in row[:3]:
            if label.isVisible():
                assert label.width() >= label.sizeHint().width()
                right = label.mapTo(part._area.viewport(), label.rect().topRight()).x()
                assert right < part._area.viewport().width()


@pytest.mark.slow
def test_each_class_has_a_bar_to_one_scale_and_says_why_it_is_out(part: PartPlace) -> None:
    """4-40 UNC-2A reaches to 0.0950 in (ASME B1.1-2003, table 2A): the sample's 2.428 mm is 15 µm above."""
    box = part.classes._inside
    bars = box.findChildren(LimitBar)
    assert len(bars) >= 3
    assert len({bar._view for bar in bars}) == 1
    assert len({bar._between.value for bar in bars if bar._between is not None}) == 1
    said = [label.text() for label in box.findChildren(QLabel)]
    by = 1000 * (pitch_diameter(part) - 0.0950 * 25.4)
    assert f"Out: its pitch diameter is {by:.0f} µm above the largest 4-40 UNC-2A." in said


@pytest.mark.slow
def test_a_number_and_its_place_in_the_picture_stand_out_together(part: PartPlace, qtbot: QtBot) -> None:
    picture, findings = part.picture, part.findings
    texts = [item.toPlainText() for item in picture._dimension_items if isinstance(item, pg.TextItem)]
    written = write_quantity(part.desk.piece.measurement.thread.pitch_diameter)  # type: ignore[union-attr]
    assert written is not None
    assert f"⌀ {written.value} mm" in texts
    always = [one for one in picture._dimensions if one.quantity in DRAWN]
    assert len(texts) == len(always)
    findings.more.button.setChecked(True)
    qtbot.waitUntil(lambda: findings.place_of("taper").y() > findings.place_of("crest_width").y() > 0)
    qtbot.mouseClick(findings, Qt.MouseButton.LeftButton, pos=findings.place_of("crest_width"))
    assert picture.lit == findings.lit == "crest_width"
    assert len([item for item in picture._dimension_items if isinstance(item, pg.TextItem)]) == len(always) + 1
    qtbot.mouseClick(findings, Qt.MouseButton.LeftButton, pos=findings.place_of("crest_width"))
    assert picture.lit is findings.lit is None
    qtbot.mouseClick(findings, Qt.MouseButton.LeftButton, pos=findings.place_of("taper"))  # it has no one place
    assert picture.lit is findings.lit is None
    flank = next(one for one in picture._dimensions if one.quantity == "included_angle").extensions[0]
    on_edge = flank[0] + 0.4 * (flank[0] - flank[1])  # from the crest of its ridge into the groove
    at = picture.mapFromScene(picture.ground.mapViewToScene(QPointF(*on_edge)))
    qtbot.mouseClick(picture.viewport(), Qt.MouseButton.LeftButton, pos=at)
    assert picture.lit == findings.lit
    assert str(findings.lit).startswith("flank_angle_")
    text, threads = part.of_thread.text(), part.desk.piece.measurement.thread.per_thread  # type: ignore[union-attr]
    own = [format_quantity(Quantity(one.pitch_diameter, one.pitch_diameter_u, "mm")) for one in threads]
    assert part.of_thread.isVisible()
    assert any(f"pitch diameter {diameter};" in text for diameter in own)
    at = picture.mapFromScene(picture.ground.mapViewToScene(QPointF(*on_edge)))  # the words below made it smaller
    qtbot.mouseClick(picture.viewport(), Qt.MouseButton.LeftButton, pos=at)
    assert not part.of_thread.isVisible()


@pytest.mark.slow
def test_the_scale_bar_is_a_round_length_and_follows_zoom_and_unit(part: PartPlace, qtbot: QtBot) -> None:
    part.picture.grab()
    whole = part.picture.scale_bar
    assert whole.endswith(" mm")
    for _ in range(12):
        qtbot.keyClick(part.picture, Qt.Key.Key_Plus)
    part.picture.grab()
    assert float(part.picture.scale_bar.split()[0]) < float(whole.split()[0])
    qtbot.keyClick(part, Qt.Key.Key_U, Qt.KeyboardModifier.ControlModifier)

    def in_inches() -> bool:
        texts = [item.toPlainText() for item in part.picture._dimension_items if isinstance(item, pg.TextItem)]
        return any(text.endswith(" in") for text in texts)

    qtbot.waitUntil(in_inches)
    part.picture.grab()
    assert part.picture.scale_bar.endswith(" in")


def test_one_click_says_what_the_surface_is(qtbot: QtBot) -> None:
    given = Given(lambda: False)
    qtbot.addWidget(given)
    qtbot.addWidget(given.beside)
    given.beside.show()
    for surface in ("dull", "black", None):
        with qtbot.waitSignal(given.chosen) as told:
            qtbot.mouseClick(given.surface.button(surface), Qt.MouseButton.LeftButton)
        assert told.args[0].surface == surface
        assert given.surface.current == surface
    given.show_choices(Choices(surface="bright"))
    assert given.surface.button("bright").isChecked()


def test_where_along_the_part_its_diameters_hold(part: PartPlace) -> None:
    piece = part.desk.piece
    assert piece is not None
    assert piece.measurement is not None
    held = piece.measurement.part.middle_from_free_end
    assert held is not None
    part.sections.show_piece(piece, inches=False)
    assert f"{held:.3f}" in part.sections.holds.text()


@pytest.mark.slow
def test_every_number_explains_itself_and_goes_into_a_spreadsheet(part: PartPlace, qtbot: QtBot) -> None:
    findings, piece = part.findings, part.desk.piece
    assert piece is not None
    assert piece.measurement is not None
    written = write_quantity(piece.measurement.thread.pitch_diameter)
    assert written is not None
    qtbot.keyClick(part, Qt.Key.Key_C, Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.AltModifier)
    rows = [line.split("\t") for line in QApplication.clipboard().text().split("\n")]
    assert {len(row) for row in rows} == {5}
    found = next(row for row in rows if row[0] == "pitch diameter")
    assert found[1:3] == [written.value, f"{written.u95} mm"]
    assert float(found[3].split()[0]) < float(found[4].split()[0])  # limits of the likeliest thread
    value = findings._rows["pitch_diameter"][1]
    assert "what decides the fit" in value.toolTip()
    assert "grey because" in value.toolTip()  # a scale by hand
    assert value.accessibleName().startswith(f"pitch diameter {written.value}")
    assert f"limits {found[3]} to {found[4]}" in value.accessibleName()
    assert all(item.isClipped() for items in part.picture._lines.values() for item in items)
    part.window().open_picture(SCREW.replace("screw", "replacement"))  # type: ignore[attr-defined]
    assert part.desk.work.wait()
    qtbot.keyClick(part, Qt.Key.Key_C)
    fit = part.window().fit  # type: ignore[attr-defined]
    assert fit.isVisible()
    assert fit.row.original is not None
    assert fit.row.original.path == SCREW
