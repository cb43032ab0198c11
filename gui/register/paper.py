"""On paper and away: the report of a job, previewed, saved and printed; export, import, backup, a look at the whole."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtGui import QPageLayout, QPageSize, QPixmap
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import (
    QComboBox,
    QFileDialog,
    QGridLayout,
    QLabel,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from gui.calm import calm
from gui.desk import Desk
from gui.levels import Bytes
from gui.picture_view import image_of
from gui.register import elsewhere, printing
from gui.scrolling import scrolling
from gui.worded import worded
from records.entries import Job
from records.report.printed import Printed
from threads.shared.file_name import file_name_for
from threads.shared.refusal import Reason

PRINT_DPI = 300
PAPERS = (("a4", "A4", 8.27), ("letter", "Letter", 8.5))
"""As kept, as said, and how wide, in."""
_BESIDE_PX = 40
_LEAST_DPI, _MOST_DPI = 60, 140


class Paper(QWidget):
    """The report of one job and what goes to or comes from elsewhere."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.desk = desk
        self.job, self.paper, self.unit, self.of = (calm(QComboBox()) for _ in range(4))
        self.job.setAccessibleName(self.tr("Job whose report is made"))
        self.job.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.job.setMinimumContentsLength(8)
        self.paper.setAccessibleName(self.tr("Paper"))
        self.unit.setAccessibleName(self.tr("Unit of the report"))
        self.of.setAccessibleName(self.tr("What is exported"))
        for kept, words, _ in PAPERS:
            self.paper.addItem(words, kept)
        for words, inches in (("mm", False), ("in", True)):
            self.unit.addItem(words, inches)
        self.of.addItem(self.tr("this job"), "job")
        self.of.addItem(self.tr("everything"), "")
        self.preview = scrolling()
        self.preview.setAccessibleName(self.tr("Preview of the report"))
        self.preview.setMinimumHeight(32)
        self.preview.setVerticalScrollBarPolicy(
            Qt.ScrollBarPolicy.ScrollBarAlwaysOn
        )  # pages are as wide as what is left
        self.sheets: list[QLabel] = []
        self.look = self._button(self.tr("Preview"), self.show_preview, main=True)
        self.save = self._button(self.tr("Save…"), self._save)
        self.print_it = self._button(self.tr("Print…"), self._print)
        self.export = self._button(self.tr("Export…"), self._export)
        self.bring = self._button(self.tr("Import…"), self._import)
        self.backup = self._button(self.tr("Back up…"), self._back_up)
        self.verify = self._button(self.tr("Verify"), self._verify)
        self._lay_out()
        desk.units_changed.connect(self._follow_unit)
        self._follow_unit()
        self.know(())

    def _button(self, words: str, do: Callable[[], None], *, main: bool = False) -> QPushButton:
        button = QPushButton(words)
        if main:
            button.setProperty("main", True)
        button.clicked.connect(do)
        return button

    def _lay_out(self) -> None:
        grid = QGridLayout()
        label = QLabel(self.tr("job"))
        label.setBuddy(self.job)
        grid.addWidget(label, 0, 0)
        grid.addWidget(self.job, 0, 1, 1, 2)
        grid.addWidget(self.paper, 0, 3)
        grid.addWidget(self.unit, 0, 4)
        for place, button in enumerate((self.look, self.save, self.print_it), start=1):
            grid.addWidget(button, 1, place)
        away = QLabel(self.tr("parts of"))
        away.setBuddy(self.of)
        grid.addWidget(away, 2, 0)
        grid.addWidget(self.of, 2, 1)
        for place, button in enumerate((self.export, self.bring, self.backup, self.verify), start=2):
            grid.addWidget(button, 2, place)
        grid.setColumnStretch(6, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(8, 4, 0, 0)
        column.addLayout(grid)
        column.addWidget(self.preview, 1)

    def _follow_unit(self) -> None:
        self.unit.setCurrentIndex(int(self.desk.inches))

    def know(self, jobs: tuple[Job, ...]) -> None:
        """The jobs that a report can be made of."""
        told = [(job.name, job.id) for job in jobs]
        if told == [(self.job.itemText(i), self.job.itemData(i)) for i in range(self.job.count())] and jobs:
            return
        before = self.job.currentData()
        self.job.clear()
        for name, number in told:
            self.job.addItem(name, number)
        self.job.setCurrentIndex(max(self.job.findData(before), 0 if jobs else -1))
        for button in (self.look, self.save, self.print_it):
            button.setEnabled(bool(jobs))
        if jobs and not self.sheets:
            self._say(self.tr("“Preview” shows the pages here as they will be printed."))
        elif not jobs:
            self._say(self.tr("A report is made of a job. Name one in the strip when you file a part."))

    def _say(self, text: str) -> None:
        label = QLabel(text)
        label.setWordWrap(True)
        label.setContentsMargins(16, 16, 16, 16)
        self.sheets = []
        self.preview.setWidget(label)

    # --- the report

    def show_preview(self) -> None:
        """Make the report and show its pages here, as wide as there is room."""

        def done(found: list[Bytes]) -> None:
            inside = QWidget()
            column = QVBoxLayout(inside)
            self.sheets = []
            for number, sheet in enumerate(found, start=1):
                label = QLabel()
                label.setPixmap(QPixmap.fromImage(image_of(sheet)))
                label.setAccessibleName(self.tr("page {number} of {count}").format(number=number, count=len(found)))
                label.setFrameShape(QLabel.Shape.Box)
                column.addWidget(label, 0, Qt.AlignmentFlag.AlignHCenter)
                self.sheets.append(label)
            column.addStretch(1)
            self.preview.setWidget(inside)

        wide = next(width for kept, _, width in PAPERS if kept == self.paper.currentData())
        dots = (self.preview.viewport().width() - _BESIDE_PX) / wide
        dots = min(max(dots, _LEAST_DPI), _MOST_DPI)
        self._make(printing.pages, done, self.paper.currentData(), dots_per_inch=dots, reports=True)

    def _make(self, what: Callable[..., Any], done: Callable[[Any], None], *rest: Any, **named: Any) -> None:
        job = self.job.currentData()
        if job is None:
            return
        self.desk.work.run(
            self.tr("making the report"), what, self.desk.register_file, job, *rest, inches=self.unit.currentData(),
            done=done, failed=self.desk.refuse, key="report", **named,
        )  # fmt: skip

    def _save(self) -> None:
        kinds = self.tr("PDF") + " (*.pdf);;" + self.tr("Web page") + " (*.html)"
        path = self._ask_to_save(self.tr("Save the report"), file_name_for(self.job.currentText(), ".pdf"), kinds)
        if path is not None:
            self.save_report(path)

    def save_report(self, path: Path) -> None:
        """Make the report of the job in ``path``, as a web page where its ending is .html, else as a PDF."""

        def done(made: Printed) -> None:
            text = self.tr("The report of {count} parts is in {path}.").format(count=made.parts, path=path)
            if made.missing:
                more = self.tr("No type on this machine has these letters, their codes stand for them: {letters}")
                text += "  " + more.format(letters=" ".join(made.missing))
            self.desk.noticed.emit("warning" if made.missing else "note", text)

        self._make(printing.saved, done, path, self.paper.currentData())

    def _print(self) -> None:
        printer = QPrinter(QPrinter.PrinterMode.HighResolution)
        if QPrintDialog(printer, self).exec():
            self.print_on(printer)

    def print_on(self, printer: QPrinter) -> None:
        """Print the report of the job."""
        size = QPageSize.PageSizeId.Letter if self.paper.currentData() == "letter" else QPageSize.PageSizeId.A4
        printer.setPageSize(QPageSize(size))
        printer.setPageOrientation(QPageLayout.Orientation.Portrait)
        printer.setFullPage(True)  # the pages have margins of their own
        text = self.tr("{count} pages went to the printer.")

        def done(count: int) -> None:
            self.desk.note(text.format(count=count))

        dots = min(printer.resolution(), PRINT_DPI)
        self._make(printing.put_on_paper, done, self.paper.currentData(), printer, dots_per_inch=dots, reports=True)

    # --- elsewhere

    def _export(self) -> None:
        kinds = ";;".join(
            (
                self.tr("Bundle with pictures") + " (*.flankwise *.zip)",
                self.tr("Table") + " (*.csv)",
                self.tr("Document") + " (*.json)",
            )
        )
        path = self._ask_to_save(self.tr("Export"), "parts.flankwise", kinds)
        if path is not None:
            self.export_to(path)

    def export_to(self, path: Path) -> None:
        """Write the parts of the job, or all, as the ending of ``path`` says."""
        job = self.job.currentData() if self.of.currentData() else None
        if path.suffix.lower() not in elsewhere.KINDS:
            text = self.tr("{name}: the ending says what is written: .flankwise or .zip, .csv or .json.")
            self.desk.noticed.emit("refusal", text.format(name=path.name))
            return
        text = self.tr("{count} parts are in {path}.")
        self._do(
            self.tr("exporting"),
            lambda: elsewhere.exported(self.desk.register_file, path, job),
            lambda found: self._written(found[1], text.format(count=found[0], path=path)),
        )

    def _import(self) -> None:
        kinds = self.tr("Bundle, table, document") + " (*.flankwise *.zip *.csv *.json)"
        path, _ = QFileDialog.getOpenFileName(self, self.tr("Import"), self.desk.settings.text("exchange"), kinds)
        if path:
            self.take_in(Path(path))

    def take_in(self, path: Path) -> None:
        """Import what is in ``path``: all of it, or nothing."""

        def told(filed: dict[str, int]) -> str:
            self.desk.register_changed.emit()
            count = filed.get("parts", 0)
            return self.tr("{count} parts were taken in from {path}.").format(count=count, path=path.name)

        self._do(self.tr("importing"), lambda: elsewhere.imported(self.desk.register_file, path), told)

    def _back_up(self) -> None:
        folder = QFileDialog.getExistingDirectory(
            self, self.tr("A folder for the backup: empty, or with an earlier one")
        )
        if folder:
            self.back_up_in(Path(folder))

    def back_up_in(self, folder: Path) -> None:
        """Copy the register into ``folder``."""
        text = self.tr("The backup is in {path}.").format(path=folder)
        self._do(
            self.tr("backing up"),
            lambda: elsewhere.backed_up(self.desk.register_file, folder),
            lambda missing: self._written(missing, text),
        )

    def _written(self, missing: tuple[Reason, ...], text: str) -> str:
        """``text``; where something had to be left out of what was written, that is told in its place."""
        if not missing:
            return text
        words = self.tr("Everything was written but for {count}:").format(count=len(missing))
        self.desk.noticed.emit("warning", "  ".join((words, *map(worded, missing))))
        return ""

    def _verify(self) -> None:
        def told(faults: tuple[Reason, ...]) -> str:
            if faults:
                self.desk.noticed.emit("warning", "  ".join(map(worded, faults)))
                return ""
            return self.tr("The register is sound: rows, references and pictures.")

        self._do(self.tr("looking at the register"), lambda: elsewhere.verified(self.desk.register_file), told)

    def _do(self, words: str, what: Callable[[], object], told: Callable[..., str]) -> None:
        def done(result: object) -> None:
            text = told(result)
            if text:
                self.desk.note(text)

        self.desk.work.run(words, what, done=done, failed=self.desk.refuse, keeps=True)

    def _ask_to_save(self, title: str, name: str, kinds: str) -> Path | None:
        folder = self.desk.settings.text("exchange")
        path, _ = QFileDialog.getSaveFileName(self, title, str(Path(folder) / name), kinds)
        if not path:
            return None
        self.desk.settings.set_text("exchange", str(Path(path).parent))
        return Path(path)
