"""Points are stamped where they lie, at any zoom and in the colour they have."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
from PySide6.QtCore import QPointF
from PySide6.QtGui import QColor, QImage

from gui.app import create_application
from gui.plots import Plot
from gui.points import Points

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

RED = QColor(200, 0, 0)


def _plot(qtbot: QtBot, points: Points) -> Plot:
    create_application()
    plot = Plot("a plot")
    qtbot.addWidget(plot)
    plot.resize(400, 300)
    plot.addItem(points)
    plot.show()
    plot.setRange(xRange=(-1, 1), yRange=(-1, 1), padding=0)
    qtbot.waitUntil(lambda: not plot._veiled)
    return plot


def _image(plot: Plot) -> QImage:
    return plot.viewport().grab().toImage()


def _colour_at(plot: Plot, image: QImage, x: float, y: float) -> QColor:
    at = plot.box.mapViewToScene(QPointF(x, y))
    return QColor(image.pixel(round(at.x()), round(at.y())))


@pytest.mark.parametrize("square", [False, True])
def test_each_point_is_drawn_where_it_lies(qtbot: QtBot, square: bool) -> None:
    x, y = np.array([-0.5, 0.25, 0.6, np.nan]), np.array([0.5, -0.75, 0.1, 0.0])
    points = Points(x, y, RED, 8.0, square=square)
    plot = _plot(qtbot, points)
    assert len(points.places) == 3
    for window in ((-1, 1), (-2, 2)):
        plot.setRange(xRange=window, yRange=window, padding=0)
        qtbot.wait(20)
        image = _image(plot)
        for px, py in points.places:
            assert _colour_at(plot, image, px, py) == RED
        assert _colour_at(plot, image, 0.0, 0.75) != RED


def test_a_square_has_corners_and_a_disc_has_none(qtbot: QtBot) -> None:
    for square in (False, True):
        plot = _plot(qtbot, Points(np.zeros(1), np.zeros(1), RED, 12.0, square=square))
        at = plot.box.mapViewToScene(QPointF(0, 0))
        corner = QColor(_image(plot).pixel(round(at.x()) + 4, round(at.y()) + 4))
        assert (corner == RED) is square


def test_points_out_of_view_are_left_out(qtbot: QtBot) -> None:
    plot = _plot(qtbot, Points(np.array([50.0]), np.array([50.0]), RED, 8.0))
    image = _image(plot)
    assert all(QColor(image.pixel(x, y)) != RED for x in range(0, 400, 3) for y in range(0, 300, 3))


def test_no_points_are_nothing(qtbot: QtBot) -> None:
    plot = _plot(qtbot, Points(np.empty(0), np.empty(0), RED, 8.0))
    assert not _image(plot).isNull()
