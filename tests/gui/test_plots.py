"""Plots: what stands on an axis is in the unit that its label names."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gui.app import create_application
from gui.plots import Plot

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot


def test_lengths_below_one_keep_their_unit_when_the_colours_change(qtbot: QtBot) -> None:
    create_application()
    plot = Plot("a plot")
    qtbot.addWidget(plot)
    plot.resize(400, 300)
    plot.show()
    for _ in range(2):
        plot.setLabel("bottom", "along the axis, mm")
        plot.setRange(xRange=(-0.4, 0.4), yRange=(0.0, 0.2), padding=0)
        plot.theme_changed()
        for side in ("left", "bottom"):
            axis = plot.getAxis(side)
            strings = axis.tickStrings([0.1, 0.2], axis.autoSIPrefixScale, 0.1)
            assert [float(text) for text in strings] == [0.1, 0.2]
