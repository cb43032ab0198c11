"""The photographed part with the fitted outline on it, and the edge points that were left out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import numpy.typing as npt

from records.figures.style import BLACK, SKY, VERMILION, Scale, size_on_page
from threads.shared.formatting import NOT_DETERMINED, write_quantity
from vision.result.dimensions import DRAWN, Dimension, dimensions
from vision.result.fitted_outline import fitted_outline
from vision.result.measurement import Measurement

if TYPE_CHECKING:
    from matplotlib.axes import Axes

Array = npt.NDArray[np.float64]

_MOST_PIXELS = 1600  # of the longer side: more than print shows
_RULES = (0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0)
_RULES_IN = (0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0)
_DISPLAY_GAMMA = 2.2
_HEAD = 6.0  # px of the picture, along which an arrow's direction is taken
_TEXT_OFF = 6.0  # points from the line to the middle of the text
_UPRIGHT = 1.0  # degrees within which text stands upright whichever way the part is tilted


def draw_part(axes: Axes, measurement: Measurement, scale: Scale) -> None:
    """Draw the part, turned so that its axis lies level and its free end where it is in the picture, right or left.

    The picture is shown as it was taken when its axis is nearly level; otherwise in its own lie, so that it can be
    compared with what lies on the bench.
    """
    light = np.clip(measurement.picture.light, 0.0, 1.0) ** (1 / _DISPLAY_GAMMA)
    step = max(int(np.ceil(max(light.shape) / _MOST_PIXELS)), 1)
    height, width = light.shape
    edges = (-0.5, width - 0.5, height - 0.5, -0.5)
    axes.imshow(light[::step, ::step], cmap="gray", vmin=0, vmax=1, extent=edges, interpolation="bilinear")
    for line in fitted_outline(measurement):
        # white under blue: seen on dark metal and on the bright pad, and in grey print
        axes.plot(line[:, 0], line[:, 1], color="white", linewidth=2.2)
        axes.plot(line[:, 0], line[:, 1], color=SKY, linewidth=1.0)
    dirt = measurement.solution.rejected_xy
    if dirt.size:
        axes.plot(dirt[:, 0], dirt[:, 1], "x", color="white", markersize=5.0, markeredgewidth=2.0)
        axes.plot(dirt[:, 0], dirt[:, 1], "x", color=VERMILION, markersize=4.4, markeredgewidth=0.9)
    drawn = [one for one in dimensions(measurement) if one.quantity in DRAWN]
    _crop(axes, measurement, drawn)
    for one in drawn:
        _dimension(axes, one, scale)
    _rule(axes, measurement, scale)
    axes.set_xticks([])
    axes.set_yticks([])


def _dimension(axes: Axes, one: Dimension, scale: Scale) -> None:
    """Extension lines, a line with arrows, the value with its U95 over it; a white edge shows all of it on metal."""
    for colour, wide in (("white", 2.4), (BLACK, 0.6)):
        for line in (*one.extensions, one.line):
            axes.plot(line[:, 0], line[:, 1], color=colour, linewidth=wide, zorder=5)
    for tip, behind in ((one.line[0], one.line[1]), (one.line[-1], one.line[-2])):
        back = tip + _HEAD * (behind - tip) / max(float(np.hypot(*(behind - tip))), 1e-12)
        axes.annotate(
            "", xy=tuple(tip), xytext=tuple(back), zorder=6,
            arrowprops={"arrowstyle": "-|>", "color": BLACK, "linewidth": 0.6, "shrinkA": 0, "shrinkB": 0},
        )  # fmt: skip
    axes.annotate(
        dimension_text(one, inches=scale.of != 1), xy=tuple(one.text_at), textcoords="offset points",
        xytext=(_TEXT_OFF * one.away[0], -_TEXT_OFF * one.away[1]), rotation=text_angle(one), fontsize=6.5,
        ha="center", va="center", zorder=7, bbox={"facecolor": "white", "edgecolor": "none", "pad": 0.6, "alpha": 0.8},
    )  # fmt: skip


def dimension_text(one: Dimension, *, inches: bool, short: bool = False) -> str:
    """What stands over the line of a dimension; ``short``: without its U95, where that stands beside the picture."""
    sign = "⌀ " if one.quantity.endswith("diameter") else ""
    written = write_quantity(one.value, inches=inches)
    if written is None:
        return NOT_DETERMINED
    return f"{sign}{replace(written, u95='') if short else written}"


def text_angle(one: Dimension) -> float:
    """Degrees by which the text over a dimension is turned, counter-clockwise: along the line, read from the right."""
    across, down = one.away
    turned = float(np.degrees(np.arctan2(across, down)))  # the line lies square to what leads away from the part
    return (turned + 90) % 180 - 90 if abs(abs((turned + 90) % 180 - 90) - 90) > _UPRIGHT else 90.0


def _crop(axes: Axes, measurement: Measurement, drawn: Sequence[Dimension]) -> None:
    """Show the part with some room round it; a picture has much empty light pad."""
    corners = np.array(measurement.part.corners_px)
    view = measurement.part.view
    if view is not None:
        along = np.array([view.points[:, 0].min(), view.points[:, 0].max()])
        across = np.array([view.points[:, 1].min(), view.points[:, 1].max()])
        box = np.array([[u, w] for u in along for w in across])
        corners = np.vstack([corners, view.frame.to_picture(box)])
    size = np.array([measurement.picture.width_px, measurement.picture.height_px])
    room = 0.04 * float(size.max())
    low = np.maximum(corners.min(axis=0) - room, -0.5)
    high = np.minimum(corners.max(axis=0) + room, size - 0.5)
    lines = np.vstack([one.line for one in drawn])  # they may stand beyond the picture
    low = np.minimum(low, lines.min(axis=0) - room)
    below = 3.0 if any(one.quantity == "length" for one in drawn) else 1.0  # the scale bar stands clear of lengths
    high = np.maximum(high, lines.max(axis=0) + np.array([1.0, below]) * room)
    wanted, tall = size_on_page(axes)
    # fill the place it has: grow the shorter side as far as the picture goes
    for i, ratio in ((0, wanted / tall), (1, tall / wanted)):
        need = ratio * (high[1 - i] - low[1 - i])
        more = max(need - (high[i] - low[i]), 0.0) / 2
        low[i], high[i] = max(low[i] - more, min(low[i], -0.5)), min(high[i] + more, max(high[i], size[i] - 0.5))
    axes.set_xlim(low[0], high[0])
    axes.set_ylim(high[1], low[1])


def _rule(axes: Axes, measurement: Measurement, scale: Scale) -> None:
    """A length to compare with, in the lower left corner."""
    px = measurement.plane.um_per_px / 1000 * scale.of
    x0, x1 = axes.get_xlim()
    y0, y1 = axes.get_ylim()
    length = rule_within(0.25 * abs(x1 - x0) * px, inches=scale.of != 1)
    x, y = x0 + 0.03 * (x1 - x0), y0 + 0.06 * (y1 - y0)
    for colour, wide in (("white", 5.0), (BLACK, 2.4)):
        axes.plot([x, x + length / px], [y, y], color=colour, linewidth=wide, solid_capstyle="butt")
    axes.text(
        x, y + 0.025 * (y1 - y0), f"{length:g} {scale.name}", color=BLACK, fontsize=8.5, va="bottom",
        bbox={"facecolor": "white", "edgecolor": "none", "pad": 1.0, "alpha": 0.8},
    )  # fmt: skip


def rule_within(widest: float, *, inches: bool) -> float:
    """The longest round length, mm or in, that is shorter than ``widest``."""
    rules = _RULES_IN if inches else _RULES
    return max((rule for rule in rules if rule < widest), default=rules[0])
