"""On paper and away: the report of a job, previewed, saved and printed; export, import, backup, a look at the whole."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

from PySide6.QtGui import QPageSize, QPainter, QPixmap
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import (
    QComboBox,
    QFileDialog,
    QGridLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from gui.desk import Desk
from gui.levels import Bytes
from gui.picture_view import image_of
from gui.register import deeds
from gui.said import said
from records.entries import Job

SCREEN_DPI, PRINT_DPI = 75, 300
PAPERS = (("a4", "A4"), ("letter", "Letter"))


class Paper(QWidget):
    """The report of one job and what goes to or comes from elsewhere."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.desk = desk
        self.job, self.paper = QComboBox(), QComboBox()
        self.job.setAccessibleName(self.tr("Job whose report is made"))
        self.job.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.paper.setAccessibleName(self.tr("Paper"))
        for kept, words in PAPERS:
            self.paper.addItem(words, kept)
        self.preview = QScrollArea()
        self.preview.setAccessibleName(self.tr("Preview of the report"))
        self.preview.setWidgetResizable(True)
        self.sheets: list[QLabel] = []
        self.look = self._button(self.tr("Preview"), self.show_preview, main=True)
        self.save = self._button(self.tr("Save as PDF…"), self._save)
        self.print_it = self._button(self.tr("Print…"), self._print)
        self.export = self._button(self.tr("Export…"), self._export)
        self.bring = self._button(self.tr("Import…"), self._import)
        self.backup = self._button(self.tr("Back up…"), self._back_up)
        self.verify = self._button(self.tr("Verify"), self._verify)
        grid = QGridLayout()
        label = QLabel(self.tr("job"))
        label.setBuddy(self.job)
        for place, widget in enumerate((label, self.job, self.paper, self.look, self.save, self.print_it)):
            grid.addWidget(widget, 0, place)
        for place, widget in enumerate((self.export, self.bring, self.backup, self.verify), start=2):
            grid.addWidget(widget, 1, place)
        grid.setColumnStretch(1, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addLayout(grid)
        column.addWidget(self.preview, 1)
        self.know(())

    def _button(self, words: str, do: Callable[[], None], *, main: bool = False) -> QPushButton:
        button = QPushButton(words)
        if main:
            button.setProperty("main", True)
        button.clicked.connect(do)
        return button

    def know(self, jobs: tuple[Job, ...]) -> None:
        """The jobs that a report can be made of."""
        before = self.job.currentData()
        self.job.clear()
        for job in jobs:
            self.job.addItem(job.name, job.id)
        self.job.setCurrentIndex(max(self.job.findData(before), 0 if jobs else -1))
        for button in (self.look, self.save, self.print_it):
            button.setEnabled(bool(jobs))

    def show_preview(self) -> None:
        """Make the report and show its pages here."""

        def done(found: list[Bytes]) -> None:
            inside = QWidget()
            column = QVBoxLayout(inside)
            self.sheets = []
            for number, sheet in enumerate(found, start=1):
                label = QLabel()
                label.setPixmap(QPixmap.fromImage(image_of(sheet)))
                label.setAccessibleName(self.tr("page {number} of {count}").format(number=number, count=len(found)))
                label.setFrameShape(QLabel.Shape.Box)
                column.addWidget(label)
                self.sheets.append(label)
            column.addStretch(1)
            self.preview.setWidget(inside)

        self._make(deeds.pages, done, dots_per_inch=SCREEN_DPI)

    def _make(self, what: Callable[..., Any], done: Callable[[Any], None], *before: str, **named: Any) -> None:
        job = self.job.currentData()
        if job is None:
            return
        self.desk.work.run(
            self.tr("making the report"), what, self.desk.register_file, job, *before, self.paper.currentData(),
            inches=self.desk.inches, done=done, failed=self.desk.refuse, key="report", **named,
        )  # fmt: skip

    def _save(self) -> None:
        path = self._ask_to_save(self.tr("Save as PDF"), f"{self.job.currentText()}.pdf", "PDF (*.pdf)")
        if path is not None:
            self.save_pdf(path)

    def save_pdf(self, path: Path) -> None:
        """Make the report of the job as a PDF in ``path``."""

        def done(content: bytes) -> None:
            try:
                path.write_bytes(content)
            except OSError as error:
                self.desk.refuse(error)
                return
            self.desk.note(self.tr("The report is in {path}.").format(path=path))

        self._make(deeds.printed, done, "pdf")

    def _print(self) -> None:
        printer = QPrinter(QPrinter.PrinterMode.HighResolution)
        size = QPageSize.PageSizeId.Letter if self.paper.currentData() == "letter" else QPageSize.PageSizeId.A4
        printer.setPageSize(QPageSize(size))
        printer.setFullPage(True)
        if QPrintDialog(printer, self).exec():
            self.print_on(printer)

    def print_on(self, printer: QPrinter) -> None:
        """Print the report of the job."""

        def done(found: list[Bytes]) -> None:
            painter = QPainter(printer)
            for number, sheet in enumerate(found):
                if number:
                    printer.newPage()
                painter.drawImage(painter.viewport(), image_of(sheet))
            painter.end()
            self.desk.note(self.tr("{count} pages went to the printer.").format(count=len(found)))

        self._make(deeds.pages, done, dots_per_inch=PRINT_DPI)

    def _export(self) -> None:
        kinds = self.tr("Bundle, table, document") + " (*.zip *.csv *.json)"
        path = self._ask_to_save(self.tr("Export"), "parts.zip", kinds)
        if path is not None:
            text = self.tr("{count} parts are in {path}.")
            self._do(
                self.tr("exporting"),
                lambda: deeds.exported(self.desk.register_file, path, None),
                lambda count: text.format(count=count, path=path),
            )

    def _import(self) -> None:
        kinds = self.tr("Bundle, table, document") + " (*.zip *.csv *.json)"
        path, _ = QFileDialog.getOpenFileName(self, self.tr("Import"), self.desk.settings.text("exchange"), kinds)
        if path:
            self.take_in(Path(path))

    def take_in(self, path: Path) -> None:
        """Import what is in ``path``: all of it, or nothing."""

        def told(filed: dict[str, int]) -> str:
            self.desk.register_changed.emit()
            count = filed.get("parts", 0)
            return self.tr("{count} parts were taken in from {path}.").format(count=count, path=path.name)

        self._do(self.tr("importing"), lambda: deeds.imported(self.desk.register_file, path), told)

    def _back_up(self) -> None:
        folder = QFileDialog.getExistingDirectory(self, self.tr("An empty folder for the backup"))
        if folder:
            text = self.tr("The backup is in {path}.").format(path=folder)
            self._do(
                self.tr("backing up"),
                lambda: deeds.backed_up(self.desk.register_file, Path(folder)),
                lambda _: text,
            )

    def _verify(self) -> None:
        def told(faults: tuple[str, ...]) -> str:
            return "  ".join(map(said, faults)) or self.tr("The register is sound: rows, references and pictures.")

        self._do(self.tr("looking at the register"), lambda: deeds.verified(self.desk.register_file), told)

    def _do(self, words: str, what: Callable[[], object], told: Callable[..., str]) -> None:
        self.desk.work.run(
            words, what, done=lambda result: self.desk.note(told(result)), failed=self.desk.refuse, key="paper"
        )

    def _ask_to_save(self, title: str, name: str, kinds: str) -> Path | None:
        folder = self.desk.settings.text("exchange")
        path, _ = QFileDialog.getSaveFileName(self, title, str(Path(folder) / name), kinds)
        if not path:
            return None
        self.desk.settings.set_text("exchange", str(Path(path).parent))
        return Path(path)
