"""The die that a screw is cut with: its name, those on file offered, what it cuts, its label and the sheet of all."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtWidgets import QComboBox, QFileDialog, QHBoxLayout, QPushButton, QWidget

from gui.calm import calm
from gui.desk import Desk
from gui.elided import ElidedLabel
from gui.fit.attempts import KnownTool, die_on_paper, dies_at_hand
from gui.worded import spoken, worded


class DieField(QWidget):
    """``name`` is what was typed or chosen."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk, self._dies = desk, tuple[KnownTool, ...]()
        self.choice = calm(QComboBox())
        self.choice.setEditable(True)
        self.choice.setInsertPolicy(QComboBox.InsertPolicy.NoInsert)
        self.choice.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.choice.setMinimumContentsLength(10)
        self.choice.setAccessibleName(self.tr("The die"))
        self.says = ElidedLabel()
        self.says.setProperty("small", True)
        self.choice.currentTextChanged.connect(self._say)
        self.label = QPushButton(self.tr("Label…"))
        self.label.setToolTip(self.tr("Save the label for the box of this die"))
        self.label.clicked.connect(lambda: self._ask_for_paper(self.name))
        self.sheet = QPushButton(self.tr("All dies…"))
        self.sheet.setToolTip(self.tr("Save a sheet of all dies, by what they cut"))
        self.sheet.clicked.connect(lambda: self._ask_for_paper(""))
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self.choice, 1)
        row.addWidget(self.says, 2)
        for button in (self.label, self.sheet):
            button.setProperty("flat", True)
            row.addWidget(button)
        self._offer((), near=False)

    @property
    def name(self) -> str:
        return self.choice.currentText().strip()

    def read(self, part: int | None) -> None:
        """Offer the dies on file; the nearest to ``part``, a screw on file, first."""
        self._desk.work.run(
            self.tr("reading the dies"), dies_at_hand, self._desk.register_file, part, key="dies at hand",
            failed=self._desk.refuse, done=lambda dies: self._offer(dies, near=part is not None),
        )  # fmt: skip

    def _offer(self, dies: tuple[KnownTool, ...], *, near: bool) -> None:
        """What was typed stays; an only die is the one that is meant."""
        typed, self._dies = self.choice.currentText(), dies
        self.choice.clear()
        self.choice.addItems([one.name for one in dies])
        self.choice.setEditText(typed or (dies[0].name if len(dies) == 1 else ""))
        field = self.choice.lineEdit()
        assert field is not None
        nearest = self.tr("nearest: {name}") if near and len(dies) > 1 else self.tr("name of the die")
        field.setPlaceholderText(nearest.format(name=dies[0].name if dies else ""))
        self._say()

    def _say(self) -> None:
        """What the chosen die cuts."""
        die = next((one for one in self._dies if one.name.casefold() == self.name.casefold()), None)
        says = [] if die is None else [worded(one, inches=self._desk.inches) for one in die.says]
        self.says.setText("; ".join(says))
        self.label.setEnabled(die is not None)
        self.sheet.setEnabled(bool(self._dies))

    def _ask_for_paper(self, name: str) -> None:
        words, first = self.tr("Save the label"), f"{name}.pdf"
        if not name:
            words, first = self.tr("Save the sheet of all dies"), self.tr("dies") + ".pdf"
        path, _ = QFileDialog.getSaveFileName(self, words, first, "PDF (*.pdf)")
        if path:
            self.save_paper(name, path)

    def save_paper(self, name: str, path: str) -> None:
        """Save the label of a die, or with "" the sheet of all dies."""
        target = path if path.lower().endswith((".pdf", ".png")) else f"{path}.pdf"
        words = self.tr("writing {name}").format(name=Path(target).name)
        self._desk.work.run(
            words, die_on_paper, self._desk.register_file, name, target, spoken(inches=self._desk.inches),
            key="die on paper", failed=self._desk.refuse,
            done=lambda done: self._desk.note(self.tr("Written: {path}").format(path=done)),
        )  # fmt: skip
