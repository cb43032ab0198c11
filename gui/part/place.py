"""The place "Part": one screw. What is it, how sure is that, and what would settle the rest."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import (
    QApplication,
    QGraphicsOpacityEffect,
    QLabel,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from gui.desk import Desk
from gui.disclosure import Disclosure
from gui.figure_file import ask_for_figure, save_figure
from gui.flow import Flow
from gui.part.answer import AnswerLine, MakeWith
from gui.part.charts import Residuals, ThreadCharts
from gui.part.class_bars import ClassBars
from gui.part.findings import Findings
from gui.part.given import Given
from gui.part.identity import Identity
from gui.part.picture import PartPicture, legend
from gui.part.tables import BudgetTable, SectionsTable
from gui.piece import Piece
from gui.place import Place
from gui.register.deeds import instruments_on_file
from gui.register.stated_form import StatedForm
from gui.scrolling import upright
from gui.splitters import Folding, Splitter
from gui.switch import Switch
from gui.thread_view import Shown, ThreadView
from gui.tray.cards import Card
from gui.turns import Steps, Turns
from gui.worded import worded
from gui.words import caution
from records.figures.thread_view import zones_of
from threads.identify.stated import Stated
from threads.identify.told_apart import limits_told_apart
from threads.shared.formatting import format_quantity
from threads.shared.quantity import Quantity
from vision.result.dimensions import FlankSeen

MOST_ZONES = 3
DIMMED = 0.4
"""Opacity of what is about to be replaced: no longer to be read off, still there so that nothing jumps."""
_ONLY_A_NUMBER = 2  # parts in view, from which on a click chooses one


class PartPlace(Place):
    """The answer above all; the picture, the one-thread view and its neighbours below it; the numbers on the right."""

    NAME = "part"

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(desk, parent)
        self.picture = PartPicture(self.tr("Picture of the part"))
        self.picture.ends_set.connect(lambda ends: self._change(self.tr("end of the thread"), ends=ends))
        self.picture.mask_set.connect(self._mask)
        self.picture.part_chosen.connect(self._click)
        self.ridge = ThreadView(self.tr("Every ridge folded onto one"))
        self.charts, self.residuals = ThreadCharts(), Residuals()
        self.budget, self.sections = BudgetTable(), SectionsTable()
        self.findings, self.identity, self.given = Findings(), Identity(), Given(lambda: self.desk.inches)
        self.answer, self.classes, self.making = AnswerLine(self.given.beside), ClassBars(), MakeWith()
        self.findings.asked.connect(self._light)
        self.given.chosen.connect(self.desk.choose)
        self.stated = StatedForm()
        self.stated.said.connect(self._state)
        self.stated.taken_back.connect(lambda: self._change(self.tr("statement taken back"), stated=None, source=""))
        self.stated.refused.connect(lambda text: self.desk.noticed.emit("refusal", text))
        self.given.refused.connect(lambda text: self.desk.noticed.emit("refusal", text))
        self.of_thread = QLabel()
        self.of_thread.setWordWrap(True)
        self.of_thread.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.of_thread.setAccessibleName(self.tr("Numbers of the thread that was clicked on"))
        self.of_thread.setToolTip(
            self.tr("Counted from the free end. U95 is against the other threads; the flank angles are those of all")
        )
        self.of_thread.hide()
        self.marks = QLabel()
        self.marks.setProperty("faint", True)
        self.doubts = QLabel()
        self.doubts.setWordWrap(True)
        self.doubts.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.doubts.setAccessibleName(self.tr("Why numbers are doubtful"))
        self.why = QPushButton()
        self.why.setProperty("flat", True)
        self.why.setCheckable(True)
        self.why.toggled.connect(self._show_doubts)
        self.doubts.hide()
        self.refusal = QLabel()
        self.refusal.setProperty("heading", True)
        self.refusal.setWordWrap(True)
        self.empty = QLabel(
            self.tr("No part on the bench. Open a picture (Ctrl+O), drop one here, or take one at the bench (Ctrl+1).")
        )
        self.empty.setProperty("heading", True)
        self.empty.setWordWrap(True)
        self.switch = Switch(
            (
                ("ridge", self.tr("One thread"), self.ridge),
                ("charts", self.tr("Thread by thread"), self.charts),
                ("residuals", self.tr("Magnified"), self.residuals),
                ("budget", self.tr("Budget"), self.budget),
                ("sections", self.tr("Whole part"), self.sections),
            ),
            self._show_below,
        )
        self._make_actions()
        self._lay_out()
        self._stale = False
        self._turns = Turns(self)
        desk.piece_changed.connect(self._changed)
        desk.units_changed.connect(self._changed)
        desk.register_changed.connect(self._learn_instruments)
        self._show()

    # --- how it is laid out

    def _lay_out(self) -> None:
        left = Splitter(Qt.Orientation.Vertical, "part_left")
        left.addWidget(self._upper())
        left.addWidget(self._lower())
        left.setSizes([350, 310])
        whole = Folding("part")
        whole.addWidget(left)
        whole.addWidget(self._right())
        whole.setStretchFactor(0, 1)
        whole.setSizes([735, 525])
        self.source = QLabel()
        self.source.setWordWrap(True)
        self.source.setProperty("verdict", "bad")
        self.source.setAccessibleName(self.tr("What is to be doubted before anything is measured"))
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 4, 0, 4)
        column.addWidget(self.source)
        column.addWidget(self.answer)
        column.addWidget(whole, 1)

    def _upper(self) -> QWidget:
        """The picture, and what can be set right in it."""
        upper = QWidget()
        column = QVBoxLayout(upper)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addWidget(self.picture, 1)
        column.addWidget(self.of_thread)
        tools = Flow()
        for action in (self.mask_action, self.as_found_action):
            tools.add(self._button(action))
        tools.add(self.marks)
        column.addLayout(tools)
        return upper

    def _lower(self) -> QWidget:
        """The views below the picture, one at a time."""
        lower, self.below = QWidget(), QWidget()
        whole = QVBoxLayout(lower)  # its place is kept while there is nothing to show
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(self.below)
        column = QVBoxLayout(self.below)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        self.switch.row.add(self._button(self.flank_action))
        column.addLayout(self.switch.row)
        column.addWidget(self.switch.stack, 1)
        return lower

    def _right(self) -> QWidget:
        """Identity and findings, what the person knows, what can be done with the part."""
        inside = QWidget()
        right = QVBoxLayout(inside)
        right.setContentsMargins(8, 6, 8, 6)
        right.setSpacing(8)
        for widget in (self.empty, self.refusal, self.findings, self.classes, self.making, self.why, self.doubts):
            right.addWidget(widget)
        right.addWidget(self._button(self.file_action, main=True))
        self.candidates = Disclosure(self.tr("Candidates, and what tells them apart"), self.identity)
        right.addWidget(self.candidates)
        self.fields = Disclosure(self.tr("Name, series, hand, starts"), self.given)
        right.addWidget(self.fields)
        self.says = Disclosure(self.tr("What a drawing, a catalogue or a person says"), self.stated)
        right.addWidget(self.says)
        row = Flow()
        for action in (self.figure_action, self.copy_action):
            row.add(self._button(action))
        right.addLayout(row)
        note = QLabel(caution())
        note.setProperty("faint", True)
        note.setWordWrap(True)
        right.addWidget(note)
        right.addStretch(1)
        self._area, self._in_area = upright(inside), inside
        return self._area

    def _make_actions(self) -> None:
        self.mask_action = self.act(self.tr("Leave a place out"), "M", self._masking)
        self.mask_action.setCheckable(True)
        self.mask_action.setToolTip(
            self.tr("Draw a rectangle over a burr or a speck: the outline there does not count")
        )
        self.as_found_action = self.act(self.tr("Reset to automatic"), "Shift+M", self._as_found)
        self.flank_action = self.act(self.tr("Flank magnified"), "F", self._flank)
        self.flank_action.setCheckable(True)
        self.file_action = self.act(self.tr("File this part"), QKeySequence.StandardKey.Save, self._to_file)
        self.figure_action = self.act(self.tr("Save a figure…"), "Ctrl+Shift+S", self._save_figure)
        self.copy_action = self.act(self.tr("Copy the findings"), "Ctrl+Shift+C", self._copy)
        self.act(self.tr("Copy the numbers as a table"), "Ctrl+Alt+C", self._copy_table)
        self.act(self.tr("Next view below the picture"), "V", self.switch.show_next)
        self.last_action = self.act(self.tr("Compare with the last one"), "C", self._compare_with_last)
        self.original_action = self.act(self.tr("Use as the original in Fit"), "O", self._as_original)

    def _button(self, action: QAction, *, main: bool = False, on: QWidget | None = None) -> QPushButton:
        button = QPushButton(action.text(), on)
        button.setProperty("main" if main else "flat", True)
        button.setToolTip(f"{action.toolTip()}  ({action.shortcut().toString(QKeySequence.SequenceFormat.NativeText)})")
        button.setCheckable(action.isCheckable())
        button.clicked.connect(action.trigger)
        if action.isCheckable():
            action.toggled.connect(button.setChecked)
        return button

    # --- what is shown

    def _changed(self) -> None:
        """Show what there is now, or later, when the place comes to the front."""
        self._stale = not self.isVisible()
        if not self._stale:
            self._show()

    def _show(self) -> None:
        self._turns.begin(self._in_turns())

    def _in_turns(self) -> Steps:
        """What is read first is shown first."""
        self._show_findings()
        yield
        self.picture.show_piece(self.desk.piece, inches=self.desk.inches)
        self.findings.light(self.findings.lit if self.picture.lit else None)
        if self.picture.lit is None:
            self._say_thread(None)
        yield
        for widget in (self.classes, self.identity):
            widget.show_piece(self.desk.piece, inches=self.desk.inches)
            yield
        self._show_below()

    def _show_findings(self) -> None:
        piece = self.desk.piece
        for told in (self.answer, self.making, self.findings):
            told.show_piece(piece, inches=self.desk.inches)
        measured = piece is not None and piece.measurement is not None
        card = self.desk.tray.highlighted
        self.source.setText("" if card is None else "\n".join(map(worded, card.doubts)))
        self.source.setVisible(bool(self.source.text()))
        self.empty.setVisible(card is None)
        self.refusal.setVisible(card is not None and not measured)
        if piece is not None:
            self.given.show_choices(piece.choices)
        if card is not None:
            self.refusal.setText(self._refusal(piece, card))
        self._dim(measured and self.desk.pending)
        self.below.setVisible(measured)
        for widget in (self.classes, self.candidates, self.findings):
            widget.setVisible(measured)
        self.fields.setVisible(piece is not None)
        self.says.setVisible(measured)
        self.stated.back.setEnabled(piece is not None and piece.choices.stated is not None)
        self.marks.setText("" if piece is None else "   ".join(legend(piece)))
        warnings = () if piece is None or piece.measurement is None else piece.measurement.quality.warnings
        self.why.setVisible(bool(warnings))
        self.why.setText(self.tr("{count} remarks on this picture").format(count=len(warnings)))
        self.doubts.setText("\n".join(f"• {worded(w)}" for w in warnings))
        self.doubts.setVisible(bool(warnings) and self.why.isChecked())
        self._allow()

    def _show_doubts(self, wanted: bool) -> None:
        self.doubts.setVisible(wanted)
        if wanted:
            QTimer.singleShot(0, self, self._turn_to_doubts)  # once they have their place

    def _turn_to_doubts(self) -> None:
        above = self.doubts.parentWidget()
        while above is not None:
            if isinstance(above, QScrollArea):
                above.ensureWidgetVisible(self.doubts)
            above = above.parentWidget()

    def _dim(self, pending: bool) -> None:
        """Numbers and lines of before are paler while new ones are being computed."""
        for widget in (
            self.answer.sentence, self.making, self.classes, self.findings, self.identity, self.doubts, self.marks,
            self.budget, self.sections,
        ):  # fmt: skip
            effect = QGraphicsOpacityEffect(widget) if pending else None
            if effect is not None:
                effect.setOpacity(DIMMED)
            widget.setGraphicsEffect(effect)  # type: ignore[arg-type]
        for plot in (self.ridge, self.charts.pitch, self.charts.diameter, self.residuals):
            plot.frame.setOpacity(DIMMED if pending else 1.0)

    def _allow(self) -> None:
        """What can only be done with a measured part is possible while there is one, and the place is in front."""
        piece = self.desk.piece
        measured = piece is not None and piece.measurement is not None and self.isVisible()
        for action in (self.mask_action, self.as_found_action, self.flank_action):
            action.setEnabled(measured)
        for action in (self.copy_action, self.figure_action, self.original_action):  # not what is about to change
            action.setEnabled(measured and not self.desk.pending)
        self.file_action.setEnabled(self.desk.tray.highlighted is not None and self.isVisible())

    def _refusal(self, piece: Piece | None, card: Card) -> str:
        if self.desk.pending and (piece is None or not piece.reasons):
            return self.tr("{name} is being measured…").format(name=card.name)
        if piece is None:
            return ""
        if piece.reasons:
            return "\n".join(worded(reason) for reason in piece.reasons)
        return self.tr(
            "No calibration is in use: calibrate the bench, or open a calibration, and this picture is measured."
        )

    def _show_below(self) -> None:
        """Fill the view below the picture that is in front; the others when they are."""
        piece, inches = self.desk.piece, self.desk.inches
        front = self.switch.stack.currentWidget()
        if front is self.ridge:
            self._show_thread()
        else:
            for widget in (self.charts, self.residuals, self.budget, self.sections):
                if front is widget:
                    widget.show_piece(piece, inches=inches)

    def _show_thread(self) -> None:
        piece = self.desk.piece
        inches = self.desk.inches
        if piece is None or piece.folded is None or piece.measurement is None:
            self.ridge.set_threads((), inches=inches)
            return
        found = piece.identification
        limits = limits_told_apart(found) if found is not None else []
        zones = zones_of(limits, MOST_ZONES)
        diameter = piece.measurement.thread.pitch_diameter
        self.ridge.set_threads([Shown(piece.folded)], zones, diameter, inches=inches)
        if self.flank_action.isChecked():
            self.ridge.show_flank()

    def theme_changed(self) -> None:
        """Take the colours of the current theme."""
        for widget in (self.picture, self.ridge, self.charts, self.residuals, self.findings):
            widget.theme_changed()

    def entered(self) -> None:
        """The place comes to the front."""
        if self._stale:
            self._changed()
        self._learn_instruments()
        self._allow()

    def _learn_instruments(self) -> None:
        """Which instruments are on file, for the choice of which the part is one of."""
        if self.isVisible():
            self.desk.work.run(
                self.tr("reading the register"), instruments_on_file, self.desk.register_file,
                done=self.given.know_instruments, failed=lambda _: None, key="instruments of the part",
            )  # fmt: skip

    def views(self) -> Sequence[tuple[str, Callable[[], None]]]:
        """The views below the picture, and the remarks."""

        def view(name: str) -> Callable[[], None]:
            return lambda: self.show_view(name)

        return [
            *((name, view(name)) for name in self.switch.names),
            ("flank", self._front_flank),
            ("remarks", lambda: self.why.setChecked(True)),
        ]

    def show_view(self, name: str) -> None:
        """Bring the view of that name below the picture to the front."""
        self.switch.show(name)

    def _front_flank(self) -> None:
        self.show_view("ridge")
        self.flank_action.setChecked(True)
        self._flank()

    # --- what the person does

    def _change(self, words: str, **changed: object) -> None:
        if self.desk.piece is not None:
            self.desk.choose(replace(self.desk.piece.choices, **changed), words)  # type: ignore[arg-type]

    def _state(self, said: Stated, source: str) -> None:
        self._change(self.tr("statement"), stated=(said.text, said.by, said.weight), source=source)

    def _masking(self) -> None:
        self.picture.masking = self.mask_action.isChecked()
        self.picture.setCursor(Qt.CursorShape.CrossCursor if self.picture.masking else Qt.CursorShape.ArrowCursor)

    def _mask(self, mask: tuple[float, float, float, float]) -> None:
        if self.desk.piece is not None:
            self._change(self.tr("place left out"), masks=(*self.desk.piece.choices.masks, mask))
        self.mask_action.setChecked(False)
        self._masking()

    def _as_found(self) -> None:
        self._change(self.tr("as found"), ends=None, masks=())

    def _click(self, x: float, y: float) -> None:
        """Show the number of the flank that was clicked on; where there are several parts, choose the one."""
        piece = self.desk.piece
        if piece is None or piece.picture is None:
            return
        flank = self.picture.flank_near(x, y)
        if flank is not None:
            self._light(flank.quantity)
            self._say_thread(flank if self.findings.lit else None)
            return
        several = any(reason.code == "several_parts" for reason in piece.reasons) or piece.choices.part is not None
        if not several:
            return
        from vision.outline.silhouette import find_parts

        def chosen(boxes: tuple[tuple[int, int, int, int], ...]) -> None:
            for number, (left, top, width, height) in enumerate(boxes, start=1):
                if left <= x <= left + width and top <= y <= top + height and len(boxes) >= _ONLY_A_NUMBER:
                    self._change(self.tr("part in view"), part=number, ends=None, masks=())
                    return

        words = self.tr("looking for parts")
        self.desk.work.run(words, find_parts, piece.picture, done=chosen, failed=self.desk.refuse, key="parts")

    def _light(self, quantity: str) -> None:
        """Number and place in the picture stand out together; the same once more, and neither does."""
        self._say_thread(None)
        again = self.findings.lit == quantity
        found = self.picture.light(None if again else quantity)
        self.findings.light(quantity if found else None)
        if found:
            self._area.ensureVisible(0, self.findings.mapTo(self._in_area, self.findings.place_of(quantity)).y())

    def _say_thread(self, flank: FlankSeen | None) -> None:
        """Below the picture: the numbers of the one thread of that flank."""
        piece = self.desk.piece
        ridge = None if flank is None else flank.ridge
        self.of_thread.setVisible(ridge is not None)
        if flank is None or ridge is None or piece is None or piece.measurement is None:
            self.of_thread.clear()
            return
        thread, inches = piece.measurement.thread, self.desk.inches
        of, unit = (1.0, "mm") if inches else (1000.0, "um")
        error = Quantity(of * ridge.pitch_error, of * ridge.pitch_error_u, unit)
        diameter = Quantity(ridge.pitch_diameter, ridge.pitch_diameter_u, "mm")
        numbers = self.tr(
            "Thread {number}, {edge}: pitch error {error}, pitch diameter {diameter}; flanks {left} and {right}"
        )
        self.of_thread.setText(
            numbers.format(
                number=flank.number,
                edge=self.tr("upper edge") if ridge.edge > 0 else self.tr("lower edge"),
                error=format_quantity(error, inches=inches),
                diameter=format_quantity(diameter, inches=inches),
                left=format_quantity(thread.flank_angle_left),
                right=format_quantity(thread.flank_angle_right),
            )
        )

    def _flank(self) -> None:
        if self.flank_action.isChecked():
            self.show_view("ridge")
            self.ridge.show_flank()
        else:
            self.ridge.show_ridge()

    def _to_file(self) -> None:
        if self.desk.tray.highlighted is not None:
            self.desk.go.emit("register")
            self.desk.to_file.emit()

    def _as_original(self) -> None:
        if self.desk.piece is not None:
            self.desk.wanted_as_original.emit(self.desk.piece)
            self.desk.go.emit("fit")

    def _compare_with_last(self) -> None:
        """The part that was measured before this one is the original, this one the replacement."""
        piece = self.desk.piece
        measured = (one for one in self.desk.at_hand if one.measurement is not None)
        last = next((one for one in measured if piece is not None and one.path != piece.path), None)
        if last is None:
            self.desk.note(self.tr("No other measured part is in the tray."))
            return
        self.desk.wanted_as_original.emit(last)
        self.desk.go.emit("fit")

    def _copy_table(self) -> None:
        if self.desk.piece is not None and self.desk.piece.measurement is not None:
            QApplication.clipboard().setText(self.findings.table())
            self.desk.note(self.tr("The numbers are on the clipboard, as a table."))

    def _copy(self) -> None:
        piece = self.desk.piece
        if piece is None:
            return
        lines = [piece.name, self.answer.sentence.text(), *self.making.lines(), *self.findings.lines()]
        QApplication.clipboard().setText("\n".join(line for line in lines if line))
        self.desk.note(self.tr("The findings are on the clipboard."))

    def _save_figure(self) -> None:
        piece = self.desk.piece
        if piece is None or piece.measurement is None:
            return
        path = ask_for_figure(self, self.desk, piece.name)
        if path is not None:
            self.save_figure(path)

    def save_figure(self, path: Path) -> None:
        """Draw the part's page into ``path``: .pdf, .svg or .png."""
        piece = self.desk.piece
        if piece is None or piece.measurement is None:
            return
        measurement, found, inches = piece.measurement, piece.identification, self.desk.inches

        def draw() -> Any:
            from records.figures import pages

            if found is None:
                return pages.measurement_page(measurement, inches=inches)
            return pages.identification_page(measurement, found, inches=inches)

        save_figure(self.desk, path, draw)
