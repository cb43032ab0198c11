"""The findings: each quantity with its U95, large, and where it lies between the limits of the likeliest thread."""

from __future__ import annotations

from PySide6.QtCore import QPoint, QRect, Qt, Signal
from PySide6.QtGui import QColor, QMouseEvent, QPainter, QPaintEvent, QPalette, QPen
from PySide6.QtWidgets import QApplication, QGridLayout, QLabel, QWidget

from gui.disclosure import Disclosure
from gui.limit_bar import Between, LimitBar
from gui.part.explained import explained
from gui.piece import Piece
from gui.theme import figures_font, theme
from gui.worded import worded
from gui.words import quantity_word
from threads.identify.evidence import Evidence
from threads.shared.formatting import MM_PER_INCH, format_lengths, write_quantity
from threads.shared.quantity import Quantity
from threads.shared.quantity_words import QUANTITIES

LARGE = ("pitch", "major_diameter", "pitch_diameter", "minor_diameter", "included_angle")
"""These are read from 60 cm, and stand first."""
DOUBTED_BY = {
    "few_threads": ("pitch", "pitch_diameter"),
    "soft_focus": ("major_diameter", "minor_diameter"),
    "uneven_focus": ("major_diameter", "minor_diameter", "crest_width", "root_width"),
    "dirt_may_bias": ("pitch_diameter",),
    "root_hidden": ("minor_diameter", "root_width"),
    "crests_worn": ("major_diameter",),
    "scale_by_hand": tuple(name for name, _ in QUANTITIES),
    "poor_fit": tuple(name for name, _ in QUANTITIES),
}
"""Which quantities a warning makes doubtful; they are shown lighter."""


class Findings(QWidget):
    """A row a quantity. Rows are made once and filled anew.

    ``asked(name)``: the person clicked on a row and wants to see where in the picture it was taken.
    """

    asked = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(self.tr("Findings"))
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(6)
        grid.setVerticalSpacing(3)
        self._rows: dict[str, tuple[QLabel, QLabel, QLabel, LimitBar]] = {}
        order = [*LARGE, *(name for name, _ in QUANTITIES if name not in LARGE)]
        words = dict(QUANTITIES)
        for row, name in enumerate(order):
            label = QLabel(quantity_word(words[name]))
            label.setProperty("faint", True)
            label.setWordWrap(True)
            value, spread = QLabel(), QLabel()
            value.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
            bar = LimitBar()
            bar.setMinimumWidth(40)
            for column, widget in enumerate((label, value, spread, bar)):
                grid.addWidget(widget, row, column)
            self._rows[name] = (label, value, spread, bar)
        self.more = Disclosure(self.tr("More numbers"), QWidget())
        self.more.button.toggled.connect(self._show_rows)
        grid.addWidget(self.more, len(order), 0, 1, 4)
        grid.setColumnStretch(3, 1)
        self._known: set[str] = set()
        self._limits: dict[str, tuple[str, str]] = {}
        self.theme_changed()
        self.lit: str | None = None
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setToolTip(self.tr("Click on a number to see where in the picture it was taken"))

    def theme_changed(self) -> None:
        """Take the size of the text in use."""
        for name, (_, value, spread, _) in self._rows.items():
            large = name in LARGE
            value.setFont(figures_font(QApplication.font(), scale=1.35 if large else 1.0, bold=large))
            spread.setFont(figures_font(QApplication.font()))

    def light(self, name: str | None) -> None:
        """Let the row of that quantity stand out."""
        self.lit = name
        if name is not None and name not in LARGE:
            self.more.button.setChecked(True)
        self.update()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        for name in self._rows:
            if self._of_row(name).contains(event.position().toPoint()):
                self.asked.emit(name)
                return
        super().mouseReleaseEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: ARG002
        if self.lit is not None and not (place := self._of_row(self.lit)).isEmpty():
            painter = QPainter(self)
            painter.setPen(QPen(QColor(theme().accent), 2.0))
            painter.drawRect(place.adjusted(1, 0, -1, 0))

    def place_of(self, name: str) -> QPoint:
        """The middle of that row."""
        return self._of_row(name).center()

    def _of_row(self, name: str) -> QRect:
        """The whole width of the row; empty where it is not shown."""
        label, value, *_ = self._rows[name]
        if value.isHidden():
            return QRect()
        place = label.geometry().united(value.geometry())
        return QRect(0, place.top() - 1, self.width(), place.height() + 2)

    def show_piece(self, piece: Piece | None, *, inches: bool) -> None:
        """Fill the rows from ``piece``."""
        measurement = None if piece is None else piece.measurement
        evidence = {} if piece is None else _evidence(piece)
        doubts: dict[str, list[str]] = {}
        for warning in () if measurement is None else measurement.quality.warnings:
            for name in DOUBTED_BY.get(warning.code, ()):
                doubts.setdefault(name, []).append(worded(warning, inches=inches))
        for name in self._rows:
            quantity = None if measurement is None else getattr(measurement.thread, name)
            lead = name == "lead" and measurement is not None and measurement.thread.starts == 1
            (self._known.discard if quantity is None or lead else self._known.add)(name)
            if quantity is not None:
                self._fill(name, quantity, evidence.get(name), doubts.get(name, []), inches=inches)

        self._show_rows()

    def _show_rows(self) -> None:
        """The large ones; the others where the person wants them."""
        more = self.more.button.isChecked()
        for name, row in self._rows.items():
            for widget in row:
                widget.setVisible(name in self._known and (more or name in LARGE))

    def text(self, name: str) -> str:
        """What the row of that quantity says, for copying and tests."""
        label, value, spread, _ = self._rows[name]
        return "" if name not in self._known else f"{label.text()}: {value.text()} {spread.text()}"

    def lines(self) -> list[str]:
        """Every row that is shown, as text."""
        return [text for name in self._rows if (text := self.text(name))]

    def table(self) -> str:
        """Every row that is shown, in columns between tabulators, as spreadsheets take them."""
        heads = (self.tr("quantity"), self.tr("value"), self.tr("with U95"), self.tr("from"), self.tr("to"))
        rows = [
            (label.text(), value.text(), spread.text().removeprefix("± "), *self._limits.get(name, ("", "")))
            for name, (label, value, spread, _) in self._rows.items()
            if name in self._known
        ]
        return "\n".join("\t".join(row) for row in (heads, *rows))

    def _fill(
        self,
        name: str,
        quantity: Quantity,
        evidence: Evidence | None,
        doubts: list[str],
        *,
        inches: bool,
    ) -> None:
        label, value, spread, bar = self._rows[name]
        written = write_quantity(quantity, inches=inches)
        if written is None:
            value.setText(self.tr("not determined"))
            spread.setText("")
            return
        value.setText(written.value)
        spread.setText(f"± {written.u95} {written.unit}" if written.u95 else written.unit)
        tip = [explained(name), *([f"{write_quantity(quantity)}"] if inches and quantity.unit == "mm" else [])]
        tip += [self.tr("It is grey because: {why}").format(why=why) for why in doubts]
        for widget in (label, value, spread):
            widget.setToolTip("\n".join(f"<p>{line}</p>" for line in tip if line))
        for widget in (value, spread):  # by its palette: the style sheet takes a millisecond for each
            widget.setForegroundRole(QPalette.ColorRole.PlaceholderText if doubts else QPalette.ColorRole.WindowText)
        label.setBuddy(value)
        value.setAccessibleName(f"{label.text()} {written}")
        if evidence is None or evidence.low is None or evidence.high is None:
            bar.set_between(None)
            self._limits[name] = ("", "")
            return
        of = 1 / MM_PER_INCH if inches and quantity.unit == "mm" else 1.0
        low, high = evidence.low * of, evidence.high * of
        ends = (
            format_lengths([evidence.low, evidence.high], inches=inches)
            if quantity.unit == "mm"
            else [f"{evidence.low:.2f}°", f"{evidence.high:.2f}°"]
        )
        words = self.tr("{name}: limits {low} to {high}").format(name=label.text(), low=ends[0], high=ends[1])
        self._limits[name] = (ends[0], ends[1])
        value.setAccessibleName(f"{label.text()} {written}; {words}")
        bar.set_between(Between(quantity.value * of, quantity.u95 * of, low, high), words)


def _evidence(piece: Piece) -> dict[str, Evidence]:
    """That of the likeliest candidate, by quantity."""
    found = piece.identification
    if found is None or not found.candidates:
        return {}
    return {e.quantity: e for e in found.candidates[0].evidence}
