"""Paper: reports, labels, drawings, maps and sheets, previewed, saved and printed; and what goes elsewhere."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QPageLayout, QPageSize, QPixmap, QShowEvent
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import QComboBox, QLabel, QPushButton, QSizePolicy, QSpinBox, QVBoxLayout, QWidget

from gui.calm import calm
from gui.desk import Desk
from gui.disclosure import Disclosure
from gui.flow import Flow
from gui.levels import Bytes
from gui.picture_view import image_of
from gui.register import printing
from gui.register.away import Away, ask_to_save
from gui.register.head_form import HeadForm
from gui.register.steps import Steps
from gui.scrolling import scrolling
from gui.turns import Soon
from gui.worded import spoken
from records.overview import Overview
from records.papers import ALSO_AS, DIES, DRAWING, INSTRUMENT, JOB, LABELS, MAP, OF, PART, TRAY, Wanted, tried_holes
from records.report.label_page import SHEETS, LabelSheet
from records.report.printed import Printed
from threads.shared.file_name import file_name_for

PRINT_DPI = 300
PAPERS = (("a4", "A4", 8.27), ("letter", "Letter", 8.5))
"""As kept, as said, and how wide, in."""
ROLLS = ((50.0, 25.0), (62.0, 29.0), (100.0, 50.0))
"""Labels of a roll, mm (common practice, no source)."""
ACROSS = (DRAWING,)
"""Papers that are laid across."""
_BESIDE_PX = 40
_LEAST_DPI, _MOST_DPI = 40, 140


class Sheet(QLabel):
    """A page, as wide as there is room."""

    def __init__(self, page: QPixmap) -> None:
        super().__init__()
        self.setPixmap(page)
        self.setScaledContents(True)
        self.setFrameShape(QLabel.Shape.Box)
        policy = QSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def minimumSizeHint(self) -> QSize:
        return QSize(1, 1)

    def heightForWidth(self, width: int) -> int:
        return round(width * self.pixmap().height() / max(self.pixmap().width(), 1))


class Paper(QWidget):
    """What is printed, of what, and its pages; ``away`` is what goes to or comes from elsewhere."""

    def __init__(self, desk: Desk, steps: Steps, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.desk = desk
        self.what, self.subject, self.more, self.paper, self.unit = (calm(QComboBox()) for _ in range(5))
        self.first = calm(QSpinBox())
        self.first.setMinimum(1)
        self.first.setPrefix(self.tr("from label "))
        self._name_fields()
        for what, words in self.kinds():
            self.what.addItem(words, what)
        for kept, words, _ in PAPERS:
            self.paper.addItem(words, kept)
        for words, inches in (("mm", False), ("in", True)):
            self.unit.addItem(words, inches)
        self.preview = scrolling()
        self.preview.setAccessibleName(self.tr("Preview of the report"))
        self.preview.setVerticalScrollBarPolicy(
            Qt.ScrollBarPolicy.ScrollBarAlwaysOn
        )  # pages are as wide as what is left
        self.sheets: list[QLabel] = []
        self.save = self._button(self.tr("Save…"), self._save, main=True)
        self.print_it = self._button(self.tr("Print…"), self._print)
        self.away = Away(desk, self._job)
        self.head = HeadForm(desk, steps)
        self._overview: Overview | None = None
        self._part: tuple[int, str] | None = None
        self._holes: list[tuple[int, str]] = []
        self._lay_out()
        self.what.currentIndexChanged.connect(self._follow_what)
        self.paper.currentIndexChanged.connect(self._fill_more)
        self.subject.currentIndexChanged.connect(self._follow_subject)
        self.more.currentIndexChanged.connect(self._follow_more)
        desk.units_changed.connect(self._follow_unit)
        self._follow_unit()
        self._follow_what()
        self._due = True
        self._soon = Soon(self, self._look_again, 0)
        for box in (self.what, self.subject, self.more, self.paper, self.unit):
            box.currentIndexChanged.connect(self._want)
        self.first.valueChanged.connect(self._want)
        desk.register_changed.connect(self._want)

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._soon.want()

    def _want(self) -> None:
        """The pages are others: they are made when somebody looks."""
        self._due = True
        self._soon.want()

    def _look_again(self) -> None:
        if self._due and self.isVisible():
            self.show_preview()

    def kinds(self) -> tuple[tuple[str, str], ...]:
        """The papers, each with its words."""
        return (
            (JOB, self.tr("Report of a job")),
            (PART, self.tr("Data sheet of a part")),
            (LABELS, self.tr("Labels")),
            (DRAWING, self.tr("Drawing to make a part again")),
            (MAP, self.tr("Map of an instrument")),
            (INSTRUMENT, self.tr("Sheet of an instrument")),
            (TRAY, self.tr("Sheet of a tray")),
            (DIES, self.tr("Sheet of dies and taps")),
        )

    def _name_fields(self) -> None:
        for field, words, letters in (
            (self.what, self.tr("What is printed"), 22),
            (self.subject, self.tr("About which job, part or instrument"), 14),
            (self.more, self.tr("Size of labels, or what a drawing is made to fit"), 18),
            (self.paper, self.tr("Paper"), 0),
            (self.unit, self.tr("Unit of the report"), 0),
        ):
            field.setAccessibleName(words)
            if letters:
                field.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
                field.setMinimumContentsLength(letters)
        self.first.setAccessibleName(self.tr("The first label that is not used up"))

    def _button(self, words: str, do: Callable[[], None], *, main: bool = False) -> QPushButton:
        button = QPushButton(words)
        if main:
            button.setProperty("main", True)
        button.clicked.connect(do)
        return button

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(8, 4, 0, 0)
        for line in (
            (self.what, self.subject),
            (self.more, self.first, self.paper, self.unit, self.save, self.print_it),
        ):
            row = Flow()
            for widget in line:
                row.add(widget)
            column.addLayout(row)
        column.addWidget(Disclosure(self.tr("Letterhead, and whose the job is"), self.head))
        column.addWidget(self.preview, 1)
        column.addWidget(self.away)

    # --- what there is to choose

    def _follow_unit(self) -> None:
        self.unit.setCurrentIndex(int(self.desk.inches))

    def choose(self, what: str) -> None:
        """Turn to this paper."""
        self.what.setCurrentIndex(self.what.findData(what))

    def choose_part(self, number: int | None, words: str = "") -> None:
        """The part that is chosen in the list: papers of one part are about it."""
        self._part = None if number is None else (number, words)
        if PART in OF[self.what.currentData()]:
            self._fill_subjects()

    def know(self, overview: Overview) -> None:
        """The jobs and instruments that a paper can be about."""
        self._overview = overview
        self._fill_subjects()
        if self.what.currentData() == DRAWING:
            self._ask_for_holes()

    def _follow_what(self) -> None:
        self._fill_subjects()
        self._fill_more()
        if self.what.currentData() == DRAWING:
            self._ask_for_holes()

    def _fill_subjects(self) -> None:
        """What the chosen paper can be about; the one that was chosen stays."""
        of, seen = OF[self.what.currentData()], self._overview
        told: list[tuple[str, tuple[str, int]]] = []
        if PART in of and self._part is not None:
            told.append((self._part[1], (PART, self._part[0])))
        if seen is not None:
            told += [(one.name, (JOB, one.id)) for one in seen.jobs if JOB in of]
            told += [(one.name, (INSTRUMENT, one.id)) for one in seen.instruments if INSTRUMENT in of]
        if DIES in of:
            told.append((self.tr("all of the workshop"), (DIES, 0)))
        count = self.subject.count()
        if told != [(self.subject.itemText(i), self.subject.itemData(i)) for i in range(count)]:
            before = self.subject.currentData()
            self.subject.blockSignals(True)  # one change, told once
            self.subject.clear()
            for words, key in told:
                self.subject.addItem(words, key)
            kept = next((n for n, (_, key) in enumerate(told) if key == before), 0 if told else -1)
            self.subject.setCurrentIndex(kept)
            self.subject.blockSignals(False)
        self._follow_subject()

    def _follow_subject(self) -> None:
        there = self.subject.currentData() is not None
        for button in (self.save, self.print_it):
            button.setEnabled(there)
        job = self._job()
        found = next((one for one in (self._overview.jobs if self._overview else ()) if one.id == job), None)
        self.head.show_job(found)
        if not there:
            self._say(
                self.tr("Choose a part in the list: the paper is about it.")
                if PART in OF[self.what.currentData()]
                else self.tr("A report is made of a job. Name one in the strip when you file a part.")
            )

    def _fill_more(self) -> None:
        """Sizes of labels, or the holes that a drawing can be made to fit."""
        what, paper = self.what.currentData(), self.paper.currentData()
        self.more.blockSignals(True)
        self.more.clear()
        if what == LABELS:
            for sheet in SHEETS[paper]:
                size = f"{sheet.size[0]:g} × {sheet.size[1]:g} mm"
                self.more.addItem(f"{sheet.columns} × {sheet.rows}: {size}", sheet)
            for wide, high in ROLLS:
                self.more.addItem(self.tr("roll: {size}").format(size=f"{wide:g} × {high:g} mm"), (wide, high))
        elif what == DRAWING:
            self.more.addItem(self.tr("limits of its class"), None)
            for part, words in self._holes:
                self.more.addItem(self.tr("to fit hole {number}: {words}").format(number=part, words=words), part)
        self.more.blockSignals(False)
        self.more.setVisible(self.more.count() > 0)
        self._follow_more()

    def _follow_more(self) -> None:
        sheet = self.more.currentData() if self.what.currentData() == LABELS else None
        on_sheet = isinstance(sheet, LabelSheet)
        self.first.setVisible(on_sheet)
        if isinstance(sheet, LabelSheet):
            self.first.setMaximum(sheet.columns * sheet.rows)

    def _ask_for_holes(self) -> None:
        def done(found: list[tuple[int, str]]) -> None:
            if found != self._holes:
                self._holes = found
                self._fill_more()

        def read() -> list[tuple[int, str]]:
            from gui.register.deeds import opened

            return tried_holes(opened(self.desk.register_file))

        self.desk.work.run(
            self.tr("reading the register"), read, done=done, failed=lambda _: None, key="holes of the paper"
        )

    def _job(self) -> int | None:
        of, key = self.subject.currentData() or ("", 0)
        return key if of == JOB else None

    def wanted(self) -> Wanted | None:
        """The paper as chosen; None where it is about nothing yet."""
        subject, more = self.subject.currentData(), self.more.currentData()
        if subject is None:
            return None
        what, paper, (of, key) = self.what.currentData(), self.paper.currentData(), subject
        if what == LABELS and isinstance(more, tuple):
            return Wanted(what, of, key, paper, size_mm=more)
        if what == LABELS:
            return Wanted(what, of, key, paper, sheet=more, first=self.first.value())
        return Wanted(what, of, key, paper, hole=more)

    def _say(self, text: str) -> None:
        label = QLabel(text)
        label.setWordWrap(True)
        label.setContentsMargins(16, 16, 16, 16)
        self.sheets = []
        self.preview.setWidget(label)

    # --- the paper

    def show_preview(self) -> None:
        """Make the paper and show its pages here, as wide as there is room."""
        self._due = False

        def done(found: list[Bytes]) -> None:
            inside = QWidget()
            column = QVBoxLayout(inside)
            self.sheets = []
            for number, sheet in enumerate(found, start=1):
                label = Sheet(QPixmap.fromImage(image_of(sheet)))
                label.setAccessibleName(self.tr("page {number} of {count}").format(number=number, count=len(found)))
                column.addWidget(label)
                self.sheets.append(label)
            column.addStretch(1)
            self.preview.setWidget(inside)

        wanted = self.wanted()
        if wanted is None:
            return
        dots = (self.preview.viewport().width() - _BESIDE_PX) / self._wide(wanted)
        dots = min(max(dots, _LEAST_DPI), _MOST_DPI)
        self._make(printing.pages, done, dots_per_inch=dots, key="report")

    def _wide(self, wanted: Wanted) -> float:
        """How wide its pages are, in."""
        if wanted.what == LABELS and wanted.sheet is None:
            return wanted.size_mm[0] / 25.4
        upright = next(width for kept, _, width in PAPERS if kept == wanted.paper)
        return upright if wanted.what not in ACROSS else {"a4": 11.69, "letter": 11.0}[wanted.paper]

    def _make(self, what: Callable[..., Any], done: Callable[[Any], None], *rest: Any, **named: Any) -> None:
        """Only a preview has a key: another one ends it, but what is being saved or printed goes on."""
        wanted = self.wanted()
        if wanted is None:
            return
        self.desk.work.run(
            self.tr("making the report"), what, self.desk.register_file, wanted,
            spoken(inches=self.unit.currentData()), *rest, done=done, failed=self.desk.refuse,
            reports=True, **named,
        )  # fmt: skip

    def _save(self) -> None:
        words = {"pdf": "PDF", "html": self.tr("Web page"), "dxf": self.tr("Drawing for machines")}
        kinds = ALSO_AS.get(self.what.currentData(), ("pdf",))
        filters = ";;".join(f"{words[kind]} (*.{kind})" for kind in kinds)
        name = file_name_for(self.subject.currentText(), ".pdf")
        path = ask_to_save(self, self.desk, self.tr("Save the report"), name, filters)
        if path is not None:
            self.save_report(path)

    def save_report(self, path: Path) -> None:
        """Make the paper in ``path``, of the kind that its ending says."""

        def done(made: Printed) -> None:
            text = self.tr("The report of {count} parts is in {path}.").format(count=made.parts, path=path)
            if self.what.currentData() not in (JOB, LABELS):
                text = self.tr("It is in {path}.").format(path=path)
            if made.missing:
                more = self.tr("No type on this machine has these letters, their codes stand for them: {letters}")
                text += "  " + more.format(letters=" ".join(made.missing))
            self.desk.saved(text, path, "warning" if made.missing else "note")

        self._make(printing.saved, done, path)

    def _print(self) -> None:
        printer = QPrinter(QPrinter.PrinterMode.HighResolution)
        if QPrintDialog(printer, self).exec():
            self.print_on(printer)

    def print_on(self, printer: QPrinter) -> None:
        """Print the paper at its true size."""
        wanted = self.wanted()
        if wanted is None:
            return
        if wanted.what == LABELS and wanted.sheet is None:
            from PySide6.QtCore import QSizeF

            size = QPageSize(QSizeF(*wanted.size_mm), QPageSize.Unit.Millimeter)
        else:
            size = QPageSize(QPageSize.PageSizeId.Letter if wanted.paper == "letter" else QPageSize.PageSizeId.A4)
        across = wanted.what in ACROSS
        printer.setPageSize(size)
        printer.setPageOrientation(QPageLayout.Orientation.Landscape if across else QPageLayout.Orientation.Portrait)
        printer.setFullPage(True)  # the pages have margins of their own
        text = self.tr("{count} pages went to the printer.")

        def done(count: int) -> None:
            self.desk.note(text.format(count=count))

        dots = min(printer.resolution(), PRINT_DPI)
        self._make(printing.put_on_paper, done, printer, dots_per_inch=dots)
