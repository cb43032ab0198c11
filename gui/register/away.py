"""Parts that go to other workshops or come from there; backup, and a look at the whole register."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtWidgets import QComboBox, QFileDialog, QLabel, QPushButton, QWidget

from gui.calm import calm
from gui.desk import Desk
from gui.flow import Flow
from gui.register import elsewhere
from gui.worded import worded
from threads.shared.refusal import Reason


class Away(QWidget):
    """``job``: gives the number of the chosen job, None for none."""

    def __init__(self, desk: Desk, job: Callable[[], int | None], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.desk, self._job = desk, job
        self.of = calm(QComboBox())
        self.of.setAccessibleName(self.tr("What is exported"))
        self.of.addItem(self.tr("this job"), "job")
        self.of.addItem(self.tr("everything"), "")
        self.export = self._button(self.tr("Export…"), self._export)
        self.bring = self._button(self.tr("Import…"), self._import)
        self.backup = self._button(self.tr("Back up…"), self._back_up)
        self.verify = self._button(self.tr("Verify"), self._verify)
        label = QLabel(self.tr("parts of"))
        label.setBuddy(self.of)
        row = Flow(self)
        for widget in (label, self.of, self.export, self.bring, self.backup, self.verify):
            row.add(widget)

    def _button(self, words: str, do: Callable[[], None]) -> QPushButton:
        button = QPushButton(words)
        button.clicked.connect(do)
        return button

    def _export(self) -> None:
        kinds = ";;".join(
            (
                self.tr("Bundle with pictures") + " (*.flankwise *.zip)",
                self.tr("Table") + " (*.csv)",
                self.tr("Document") + " (*.json)",
            )
        )
        path = ask_to_save(self, self.desk, self.tr("Export"), "parts.flankwise", kinds)
        if path is not None:
            self.export_to(path)

    def export_to(self, path: Path) -> None:
        """Write the parts of the job, or all, as the ending of ``path`` says."""
        job = self._job() if self.of.currentData() else None
        if path.suffix.lower() not in elsewhere.KINDS:
            text = self.tr("{name}: the ending says what is written: .flankwise or .zip, .csv or .json.")
            self.desk.noticed.emit("refusal", text.format(name=path.name))
            return
        text = self.tr("{count} parts are in {path}.")
        self._do(
            self.tr("exporting"),
            lambda: elsewhere.exported(self.desk.register_file, path, job),
            lambda found: self._written(found[1], text.format(count=found[0], path=path)),
            path.parent,
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
            folder,
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

    def _do(
        self, words: str, what: Callable[[], object], told: Callable[..., str], written: Path | None = None
    ) -> None:
        def done(result: object) -> None:
            text = told(result)
            if text:
                self.desk.note(text)
                if written is not None:
                    self.desk.written.emit(str(written))

        self.desk.work.run(words, what, done=done, failed=self.desk.refuse, keeps=True)


def ask_to_save(parent: QWidget, desk: Desk, title: str, name: str, kinds: str) -> Path | None:
    """Where a file is to go; None where the person thought better of it."""
    folder = desk.settings.text("exchange")
    path, _ = QFileDialog.getSaveFileName(parent, title, str(Path(folder) / name), kinds)
    if not path:
        return None
    desk.settings.set_text("exchange", str(Path(path).parent))
    return Path(path)
