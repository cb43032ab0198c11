"""By how much each gauge's reading differs from what the calibration predicts, drawn to scale."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from calib.calibration import Calibration
from gui.theme import figures_font, theme
from threads.shared.quantity import COVERAGE_FACTOR


@dataclass(frozen=True)
class Residual:
    """One gauge: its name, the residual and its U95, µm."""

    name: str
    um: float
    u95_um: float


def residuals_of(found: Calibration) -> tuple[Residual, ...]:
    """Those of ``found``; the U95 is that of the gauge and of its reading together."""
    out = []
    for gauge in found.gauges:
        read = gauge.u_px * gauge.steps * found.um_per_px
        u = ((1000 * gauge.u95_mm / COVERAGE_FACTOR) ** 2 + read**2) ** 0.5
        out.append(Residual(f"{gauge.what} {gauge.nominal_mm:g} mm", gauge.residual_um, COVERAGE_FACTOR * u))
    return tuple(out)


class ResidualChart(QWidget):
    """A row a gauge: a line as long as its U95 about the place where it lies, zero in the middle."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._rows: tuple[Residual, ...] = ()
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName(self.tr("Residual of each gauge"))

    def show_residuals(self, rows: tuple[Residual, ...]) -> None:
        """Draw ``rows``."""
        self._rows = rows
        self.setAccessibleDescription("; ".join(f"{r.name}: {r.um:+.2f} µm ± {r.u95_um:.2f} µm" for r in rows))
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(260, round(1.7 * self.fontMetrics().height() * max(len(self._rows), 1)))

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: ARG002
        if not self._rows:
            return
        now = theme()
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setFont(figures_font(self.font()))
        metrics = painter.fontMetrics()
        left = max(metrics.horizontalAdvance(row.name) for row in self._rows) + 12
        right = metrics.horizontalAdvance("+00.00 µm") + 10
        height = self.height() / len(self._rows)
        reach = max(abs(row.um) + row.u95_um for row in self._rows) or 1.0
        middle = (left + self.width() - right) / 2
        unit = max(self.width() - right - left, 20) / 2 / reach
        painter.setPen(QPen(QColor(now.line), 1.4))
        painter.drawLine(QPointF(middle, 0), QPointF(middle, self.height()))
        for number, row in enumerate(self._rows):
            top = number * height
            y, x = top + height / 2, middle + row.um * unit
            within = abs(row.um) <= row.u95_um
            painter.setPen(QColor(now.ink))
            painter.drawText(QRectF(0, top, left, height), Qt.AlignmentFlag.AlignVCenter, row.name)
            painter.drawText(
                QRectF(self.width() - right, top, right, height),
                Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignRight,
                f"{row.um:+.2f} µm",
            )
            colour = QColor(now.ink if within else now.bad)
            painter.setPen(QPen(colour, 2.0))
            painter.drawLine(QPointF(x - row.u95_um * unit, y), QPointF(x + row.u95_um * unit, y))
            painter.setBrush(colour if within else QColor(now.raised))
            size = 0.2 * height
            painter.drawPolygon(
                [QPointF(x - size, y), QPointF(x, y - size), QPointF(x + size, y), QPointF(x, y + size)]
            )
