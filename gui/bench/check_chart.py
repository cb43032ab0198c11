"""The checks of the bench over time: each a point with its limits, calibrations as upright lines between them."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pyqtgraph as pg
from PySide6.QtCore import QCoreApplication, Qt
from PySide6.QtGui import QColor
from PySide6.QtWidgets import QWidget

from calib.history import Entry
from gui.plots import Plot, drawn, pen, zone_brush
from gui.points import Points
from gui.theme import theme

MOST = 30
"""Checks that are shown: the newest."""
_ROOM, _LEAST_UM = 1.15, 1.0
_BAND = 0


class CheckChart(Plot):
    """Measured less known diameter of the pin, µm, over the limits within which it may lie."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(QCoreApplication.translate("CheckChart", "The checks of the bench over time"), parent)
        self._entries: tuple[Entry, ...] = ()
        self.setMouseEnabled(False, False)
        self.setFixedHeight(11 * self.fontMetrics().height())

    def show_history(self, entries: Sequence[Entry]) -> None:
        """Draw the checks among ``entries``, the oldest first."""
        checks = [entry for entry in entries if entry.event == "verified"][-MOST:]
        since = checks[0].when if checks else ""
        self._entries = tuple(entry for entry in entries if entry in checks or (entry.when >= since and checks))
        self.setVisible(bool(checks))
        self.setAccessibleDescription(
            "; ".join(
                self.tr("{day}: {off} µm, limits ± {limit} µm").format(
                    day=entry.when[:10], off=f"{entry.difference_um:+.1f}", limit=f"{entry.difference_u95_um:.1f}"
                )
                for entry in checks
            )
        )
        self.redraw()

    def draw(self) -> None:
        """Limits, points, calibrations."""
        self.clear()
        now = theme()
        checks = [entry for entry in self._entries if entry.event == "verified"]
        if not checks:
            return
        off, limit = (
            np.array([getattr(one, name) for one in checks]) for name in ("difference_um", "difference_u95_um")
        )
        x = np.arange(1.0, len(checks) + 1)
        edges = np.concatenate([[0.5], np.repeat(x[:-1] + 0.5, 2), [len(checks) + 0.5]])
        top = np.repeat(limit, 2)
        band = pg.arrayToQPath(np.concatenate([edges, edges[::-1]]), np.concatenate([top, -top[::-1]]))
        self.addItem(drawn(band, pen=pen(now.zones[_BAND], 1.0), brush=zone_brush(_BAND)))
        self.addItem(pg.InfiniteLine(0.0, angle=0, pen=pen(now.ink, 1.0, Qt.PenStyle.DashLine)))
        at = 0
        for entry in self._entries:
            if entry.event == "verified":
                at += 1
            else:
                self.addItem(pg.InfiniteLine(at + 0.5, angle=90, pen=pen(now.faint, 1.4, Qt.PenStyle.DotLine)))
        held = np.array([bool(one.holds) for one in checks])
        self.addItem(Points(x[held], off[held], QColor(now.outline), 9.0))
        self.addItem(Points(x[~held], off[~held], QColor(now.rejected), 11.0, square=True))
        reach = max(float(np.max(np.abs(off))), float(limit.max()), _LEAST_UM) * _ROOM
        self.setYRange(-reach, reach, padding=0)
        self.setXRange(0.4, max(len(checks), 5) + 0.6, padding=0)
        self.setTitle(self.tr("pin, measured less known, µm"), color=now.ink, size="9pt")
        shown = {1, len(checks)}
        self.getAxis("bottom").setTicks([[(k, checks[k - 1].when[5:10]) for k in sorted(shown)]])
