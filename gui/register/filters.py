"""Narrowing the list down: size, years, country, thread; each as one would say it."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QComboBox, QGridLayout, QLabel, QLineEdit, QWidget

from gui.bench.calm_combo import CalmCombo
from records.listing import Conditions
from threads.provenance import known_countries
from threads.series import series_names
from threads.typed import parse_length, parse_years

_ANY_LENGTH = 1e4  # mm


class Filters(QWidget):
    """What the parts in the list have in common. ``changed``: other conditions hold."""

    changed = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.least, self.most, self.after, self.before = QLineEdit(), QLineEdit(), QLineEdit(), QLineEdit()
        self.designation = QLineEdit()
        self.country, self.series = CalmCombo(), CalmCombo()
        _fill(self.country, self.tr("any"), known_countries())
        _fill(self.series, self.tr("any"), series_names())
        self.withdrawn = QCheckBox(self.tr("withdrawn ones too"))
        self.least.setPlaceholderText("2.40mm")
        self.most.setPlaceholderText("0.0965in")
        self.designation.setPlaceholderText("4-40 NC")
        self.after.setPlaceholderText("1936")
        self.before.setPlaceholderText("1936")
        fields: tuple[tuple[str, QLineEdit | QComboBox], ...] = (
            (self.tr("pitch diameter from"), self.least),
            (self.tr("to"), self.most),
            (self.tr("made after"), self.after),
            (self.tr("made before"), self.before),
            (self.tr("country"), self.country),
            (self.tr("series"), self.series),
            (self.tr("thread"), self.designation),
        )
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setVerticalSpacing(2)
        for place, (words, field) in enumerate(fields):
            label = QLabel(words)
            label.setProperty("faint", True)
            label.setBuddy(field)
            field.setAccessibleName(words)
            field.setMinimumWidth(60)
            grid.addWidget(label, 0, place)
            grid.addWidget(field, 1, place)
            grid.setColumnStretch(place, 1)
            if isinstance(field, QLineEdit):
                field.editingFinished.connect(self.changed)
            else:
                field.activated.connect(self.changed)
        grid.addWidget(self.withdrawn, 1, len(fields))
        self.withdrawn.toggled.connect(self.changed)

    def clear(self) -> None:
        """No conditions."""
        for line in (self.least, self.most, self.after, self.before, self.designation):
            line.clear()
        self.country.setCurrentIndex(0)
        self.series.setCurrentIndex(0)
        self.withdrawn.setChecked(False)
        self.changed.emit()

    def conditions(self) -> Conditions:
        """What is asked for. Raises TypedError where a length or a year cannot be meant."""
        between = {}
        if self.least.text().strip() or self.most.text().strip():
            between = {"pitch_diameter": (_length(self.least, 0.0), _length(self.most, _ANY_LENGTH))}
        return Conditions(
            between=between,
            made_after=_year(self.after, last=True),
            made_before=_year(self.before, last=False),
            country=self.country.currentData(),
            series=self.series.currentData(),
            designation=self.designation.text().strip() or None,
            with_withdrawn=self.withdrawn.isChecked(),
        )


def _fill(combo: QComboBox, first: str, names: tuple[str, ...]) -> None:
    combo.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
    combo.setMinimumContentsLength(4)
    combo.addItem(first, None)
    for name in names:
        combo.addItem(name, name)


def _length(field: QLineEdit, otherwise: float) -> float:
    text = field.text().strip()
    return parse_length(text, field.accessibleName()) if text else otherwise


def _year(field: QLineEdit, *, last: bool) -> int | None:
    text = field.text().strip()
    return parse_years(text, field.accessibleName())[1 if last else 0] if text else None
