"""Limits of size as bars, with the measured value and its U95 on them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from records.figures.style import BLACK, GREY, LOOKS, PALE, Look, Scale, plain_axes
from threads.judge.judgement import Judgement
from threads.shared.formatting import format_quantity
from threads.shared.quantity import Quantity
from threads.standards.limits import Band

if TYPE_CHECKING:
    from matplotlib.axes import Axes

_THICK = 0.56
_OPEN = 0.35  # of the width of the view, for a side without a limit
_ROOM = 0.12

SIGNS = {"conforms": "✔", "does_not_conform": "✘", "cannot_tell": "?", "not_limited": "–"}
"""Beside the words, never in their place."""


@dataclass(frozen=True)
class Bar:
    """One class: its name, its limits (mm), how it looks; and how wide the guard bands at its limits are."""

    name: str
    band: Band
    look: Look
    guard: tuple[float, float] = (0.0, 0.0)


def draw_bars(axes: Axes, bars: Sequence[Bar], measured: Quantity, title: str, scale: Scale) -> None:
    """One quantity: a bar for each class from its least to its greatest limit, the measured value across them all."""
    low, high = _view(bars, measured)
    span = high - low
    value, u95 = measured.value * scale.of, measured.u95 * scale.of
    axes.axvspan(value - u95, value + u95, facecolor=BLACK, alpha=0.14, linewidth=0, zorder=3)
    axes.axvline(value, color=BLACK, linewidth=1.4, zorder=4)
    for row, bar in enumerate(bars):
        y = len(bars) - 1 - row
        open_low, open_high = bar.band.low is None, bar.band.high is None
        left = low - span if bar.band.low is None else bar.band.low
        right = high + span if bar.band.high is None else bar.band.high
        axes.barh(
            y, (right - left) * scale.of, left=left * scale.of, height=_THICK, facecolor=bar.look.colour, alpha=0.35,
            edgecolor=bar.look.colour, hatch=bar.look.hatch, linewidth=0.0, zorder=1,
        )  # fmt: skip
        for limit, is_open in ((left, open_low), (right, open_high)):
            if not is_open:
                axes.plot(
                    [limit * scale.of] * 2, [y - _THICK / 2, y + _THICK / 2], color=BLACK, linewidth=1.1, zorder=2
                )
        for limit, guard, way in ((left, bar.guard[0], 1.0), (right, bar.guard[1], -1.0)):
            if guard > 0:
                axes.barh(
                    y, way * guard * scale.of, left=limit * scale.of, height=_THICK, facecolor="white", alpha=0.75,
                    edgecolor=GREY, linewidth=0.5, zorder=2,
                )  # fmt: skip
    axes.set_yticks(range(len(bars)), [bar.name for bar in reversed(bars)])
    axes.set_ylim(-0.6, len(bars) - 0.4)
    axes.set_xlim(low * scale.of, high * scale.of)
    axes.tick_params(axis="y", length=0)
    axes.locator_params(axis="x", nbins=6)
    axes.set_xlabel(scale.name)
    plain_axes(axes)
    axes.spines["left"].set_visible(False)
    inches = scale.of != 1
    axes.set_title(f"{title}: {format_quantity(measured, inches=inches)}", fontweight="normal", fontsize=8.5)


def check_bars(judgement: Judgement) -> Bar:
    """The bar of one judged quantity, with its guard bands."""
    guard = judgement.guard or 0.0
    low, high = judgement.low, judgement.high
    return Bar("", Band(low, high), LOOKS[0], (0.0 if low is None else guard, 0.0 if high is None else guard))


def draw_differences(axes: Axes, rows: Sequence[tuple[str, Quantity, bool]], scale: Scale, *, threshold: float) -> None:
    """Differences of lengths about zero with U95: name, difference (mm), whether it is significant."""
    reach = 0.0
    for row, (_, difference, significant) in enumerate(rows):
        y = len(rows) - 1 - row
        value, u95 = difference.value * scale.fine, difference.u95 * scale.fine
        limit = (threshold * difference.standard_uncertainty + abs(difference.one_sided)) * scale.fine
        axes.barh(y, 2 * limit, left=-limit, height=0.62, facecolor=PALE, edgecolor=GREY, linewidth=0.5, zorder=1)
        axes.errorbar(
            value, y, xerr=u95, color=BLACK, marker="D" if significant else "o", markersize=5.0,
            markerfacecolor=BLACK if significant else "white", capsize=3.0, linewidth=1.2, zorder=3,
        )  # fmt: skip
        reach = max(reach, abs(value) + u95, limit)
    axes.axvline(0.0, color=BLACK, linewidth=0.8, zorder=2)
    axes.set_yticks(range(len(rows)), [name for name, _, _ in reversed(rows)])
    axes.set_ylim(-0.6, len(rows) - 0.4)
    axes.set_xlim(-1.1 * reach, 1.1 * reach)
    axes.tick_params(axis="y", length=0)
    axes.set_xlabel(f"replacement less original, {scale.fine_name}")
    plain_axes(axes)
    axes.spines["left"].set_visible(False)


def _view(bars: Sequence[Bar], measured: Quantity) -> tuple[float, float]:
    """What the axis shows: all limits, the value with its U95, and some room."""
    ends = [measured.value - measured.u95, measured.value + measured.u95]
    ends += [limit for bar in bars for limit in (bar.band.low, bar.band.high) if limit is not None]
    low, high = min(ends), max(ends)
    span = max(high - low, 4 * measured.u95, 1e-6)
    lacks_low = any(bar.band.low is None for bar in bars)
    lacks_high = any(bar.band.high is None for bar in bars)
    return (
        float(low - span * (_OPEN if lacks_low else _ROOM)),
        float(np.add(high, span * (_OPEN if lacks_high else _ROOM))),
    )
