"""What papers begin with: the workshop's letterhead, and whose the job is."""

from __future__ import annotations

from PySide6.QtWidgets import QFormLayout, QLineEdit, QPlainTextEdit, QPushButton, QWidget

from gui.desk import Desk
from gui.register import deeds
from gui.register.steps import Steps
from records.entries import Job
from records.letterhead import MOST_LINES


class HeadForm(QWidget):
    """The letterhead of the register, and the owner of the job that is shown."""

    def __init__(self, desk: Desk, steps: Steps, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.desk, self._steps = desk, steps
        self._job: Job | None = None
        self.lines = QPlainTextEdit()
        self.lines.setAccessibleName(self.tr("Letterhead"))
        self.lines.setPlaceholderText(self.tr("name of the workshop, then address and telephone"))
        self.lines.setFixedHeight(self.lines.fontMetrics().height() * (MOST_LINES - 2))
        self.lines.setTabChangesFocus(True)
        self.owner = QLineEdit()
        self.owner.setAccessibleName(self.tr("Owner"))
        self.keep = QPushButton(self.tr("Keep"))
        self.keep.clicked.connect(self.keep_both)
        self.owner.returnPressed.connect(self.keep_both)
        form = QFormLayout(self)
        form.setContentsMargins(0, 0, 0, 0)
        form.addRow(self.tr("letterhead"), self.lines)
        form.addRow(self.tr("owner of the job"), self.owner)
        form.addRow(self.keep)

    def show_job(self, job: Job | None) -> None:
        """The job whose owner is shown; what is being typed stays."""
        if job != self._job:
            self._job = job
            self.owner.setText("" if job is None else job.owner or "")
        self.owner.setEnabled(job is not None)

    def showEvent(self, event: object) -> None:
        """Read the letterhead when it is looked at."""
        super().showEvent(event)  # type: ignore[arg-type]
        if not self.lines.toPlainText():
            self.desk.work.run(
                self.tr("reading the register"), deeds.letterhead_lines, self.desk.register_file,
                done=self.lines.setPlainText, failed=lambda _: None, key="letterhead",
            )  # fmt: skip

    def keep_both(self) -> None:
        """Keep what is typed."""
        file, text, job, owner = self.desk.register_file, self.lines.toPlainText(), self._job, self.owner.text().strip()
        self.desk.work.run(
            self.tr("keeping the letterhead"), deeds.keep_head, file, text,
            done=lambda _: self.desk.note(self.tr("The letterhead is kept.")), failed=self.desk.refuse, keeps=True,
        )  # fmt: skip
        if job is not None and owner != (job.owner or ""):
            self._steps.do(
                self.tr("owner of the job"), lambda: deeds.correct_job(file, job.id, {"owner": owner or None})
            )
