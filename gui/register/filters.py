"""Narrowing the list down: size, years, country, thread; each as one would say it."""

from __future__ import annotations

from PySide6.QtCore import QSize, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QCheckBox, QComboBox, QGridLayout, QLabel, QLineEdit, QWidget

from gui.calm import calm
from gui.countries import offer_countries
from gui.fields import ExampleField
from records.listing import Conditions
from threads.shared.typed import parse_length, parse_years
from threads.standards.series import series_names

_ANY_LENGTH = 1e4  # mm
_NARROWEST = 400  # px


class Filters(QWidget):
    """What the parts in the list have in common. ``changed``: other conditions hold."""

    changed = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.least, self.most, self.after, self.before, self.designation = (ExampleField() for _ in range(5))
        self.country, self.series = calm(QComboBox()), calm(QComboBox())
        _fill(self.country, self.tr("any"), ())
        offer_countries(self.country)
        _fill(self.series, self.tr("any"), series_names())
        self.withdrawn = QCheckBox(self.tr("withdrawn ones too"))
        self.least.setPlaceholderText("2.40mm")
        self.most.setPlaceholderText("0.0965in")
        self.designation.setPlaceholderText("4-40 NC")
        self.after.setPlaceholderText("1938")
        self.before.setPlaceholderText("1938")
        fields: tuple[tuple[str, QLineEdit | QComboBox], ...] = (
            (self.tr("pitch diameter from"), self.least),
            (self.tr("to"), self.most),
            (self.tr("made after"), self.after),
            (self.tr("made before"), self.before),
            (self.tr("country"), self.country),
            (self.tr("series"), self.series),
            (self.tr("thread"), self.designation),
        )
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setVerticalSpacing(2)
        self._pairs: list[tuple[QLabel, QWidget]] = []
        for words, field in fields:
            label = QLabel(words, self)
            label.setProperty("faint", True)
            label.setBuddy(field)
            field.setAccessibleName(words)
            self._pairs.append((label, field))
            if isinstance(field, QLineEdit):
                field.editingFinished.connect(self.changed)
            else:
                field.activated.connect(self.changed)
        self._pairs.append((QLabel(self), self.withdrawn))
        self.withdrawn.toggled.connect(self.changed)
        self._columns = 0
        self._arrange(len(self._pairs))

    def minimumSizeHint(self) -> QSize:
        """Narrower than all in one row: what does not fit goes into a second one."""
        return QSize(_NARROWEST, super().minimumSizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()

    def theme_changed(self) -> None:
        """The size of the text has changed."""
        self._fit()

    def _fit(self) -> None:
        """As many in a row as there is room for."""
        gap = max(self._grid.horizontalSpacing(), 6)
        widths = [max(one.minimumSizeHint().width() for one in pair) + gap for pair in self._pairs]
        columns = len(widths)
        while columns > 1 and _width(widths, columns) > self.width():
            columns -= 1
        self._arrange(columns)

    def _arrange(self, columns: int) -> None:
        if columns == self._columns:
            return
        self._columns = columns
        for number, (label, field) in enumerate(self._pairs):
            row, place = divmod(number, columns)
            self._grid.addWidget(label, 2 * row, place)
            label.setVisible(bool(label.text()) or row == 0)
            self._grid.addWidget(field, 2 * row + 1, place)
        for place in range(len(self._pairs)):
            self._grid.setColumnStretch(place, 1 if place < columns else 0)
        self.updateGeometry()

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


def _width(widths: list[int], columns: int) -> int:
    """How wide ``columns`` columns are, px."""
    return sum(max(widths[place::columns]) for place in range(columns))


def _fill(combo: QComboBox, first: str, names: tuple[str, ...]) -> None:
    combo.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
    combo.setMinimumContentsLength(8)
    combo.addItem(first, None)
    for name in names:
        combo.addItem(name, name)


def _length(field: QLineEdit, otherwise: float) -> float:
    text = field.text().strip()
    return parse_length(text, field.accessibleName()) if text else otherwise


def _year(field: QLineEdit, *, last: bool) -> int | None:
    text = field.text().strip()
    return parse_years(text, field.accessibleName())[1 if last else 0] if text else None
