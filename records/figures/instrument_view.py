"""The chart of an instrument: every screw one point among the zones of the classes, and how the answer grew.

The pitch diameter less the basic one, in um, tells the systems apart: whoever looks sees that all originals lie above
what Unified allows.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import TYPE_CHECKING

from records.figures.style import BLACK, GREY, LOOKS, VERMILION, Scale, new_figure, plain_axes, scale_of

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

    from threads.identify.instrument import InstrumentFound
    from threads.shared.quantity import Quantity

_A_GAP = 0.8  # columns between two sizes
_MOST_SYSTEMS = 4
_WIDTH, _HEIGHT, _MARGIN = 0.34, 3.4, 1.6  # inches: of a column, of the chart, beside the columns
_LEAST_WIDTH, _MOST_WIDTH = 6.0, 22.0
_LABELS = 1.1  # inches below each chart for the names of the positions


@dataclass(frozen=True)
class ChartedScrew:
    """One point: what stands below it, its size, its pitch diameter, the basic one (mm), and why it is odd."""

    label: str
    size: str
    pitch_diameter: Quantity
    basic: float
    odd: str = ""


@dataclass(frozen=True)
class ChartedZone:
    """The zone of the pitch diameter of one class of a size, mm."""

    size: str
    name: str
    low: float
    high: float


def instrument_figure(
    title: str,
    screws: Sequence[ChartedScrew],
    zones: Sequence[ChartedZone],
    found: InstrumentFound,
    labels: Sequence[str],
    *,
    inches: bool = False,
) -> Figure:
    """Both charts, one above the other.

    ``screws``: those whose size is known, in their order; ``labels``: of all screws, in the order of ``found``.
    """
    width = min(max(_LEAST_WIDTH, _MARGIN + _WIDTH * len(screws)), _MOST_WIDTH)
    height = 2 * _HEIGHT + 2 * _LABELS + 1.6
    figure = new_figure((width, height))
    left, across = 0.75 / width, 1 - 1.0 / width
    chart = figure.add_axes((left, (height - 1.0 - _HEIGHT) / height, across, _HEIGHT / height))
    draw_chart(chart, screws, zones, scale_of(inches=inches))
    figure.suptitle(title, x=left, y=1 - 0.12 / height, ha="left", va="top", fontweight="bold", fontsize=11)
    grown = figure.add_axes((left, _LABELS / height, across, 0.8 * _HEIGHT / height))
    draw_growth(grown, labels, found)
    return figure


def draw_chart(axes: Axes, screws: Sequence[ChartedScrew], zones: Sequence[ChartedZone], scale: Scale) -> None:
    """Pitch diameter less basic of every screw with its U95, grouped by size, over the zones of the classes."""
    looks = {name: LOOKS[k % len(LOOKS)] for k, name in enumerate(dict.fromkeys(zone.name for zone in zones))}
    column, ticks, named = 0.0, [], set()
    for size, members in groupby(
        sorted(screws, key=lambda s: [x.size for x in screws].index(s.size)), lambda s: s.size
    ):
        start = column - 0.5
        for screw in members:
            value = (screw.pitch_diameter.value - screw.basic) * scale.fine
            colour = VERMILION if screw.odd else BLACK
            axes.errorbar(
                column, value, yerr=screw.pitch_diameter.u95 * scale.fine, color=colour, capsize=2.5, linewidth=1.1,
                marker="X" if screw.odd else "o", markersize=5.0, zorder=4,
            )  # fmt: skip
            if screw.odd:
                axes.annotate(
                    screw.odd, (column, value), xytext=(6, 6), textcoords="offset points", fontsize=7.5, color=colour
                )
            ticks.append((column, screw.label))
            basic = screw.basic
            column += 1.0
        for zone in (one for one in zones if one.size == size):
            look = looks[zone.name]
            low, high = ((edge - basic) * scale.fine for edge in (zone.low, zone.high))
            axes.fill_between(
                [start, column - 0.5], low, high, facecolor=look.colour, alpha=0.28, hatch=look.hatch,
                edgecolor=look.colour, linewidth=0.8, zorder=1, label=None if zone.name in named else zone.name,
            )  # fmt: skip
            named.add(zone.name)
        axes.text((start + column - 0.5) / 2, 1.01, size, transform=axes.get_xaxis_transform(), ha="center", fontsize=8)
        column += _A_GAP
    axes.axhline(0.0, color=GREY, linewidth=0.8, zorder=2)
    axes.set_xticks([at for at, _ in ticks], [label for _, label in ticks], rotation=60, ha="right")
    axes.set_ylabel(f"pitch diameter less basic, {scale.fine_name}")
    axes.margins(x=0.01)
    plain_axes(axes)
    axes.legend(loc="lower left", bbox_to_anchor=(0.0, 1.06), ncols=4, borderaxespad=0.0)


def draw_growth(axes: Axes, labels: Sequence[str], found: InstrumentFound) -> None:
    """The probability of each system as screws were added."""
    for k, system in enumerate(found.systems[:_MOST_SYSTEMS]):
        look = LOOKS[k % len(LOOKS)]
        axes.plot(
            range(len(labels) + 1), 100 * found.grown[:, k], color=look.colour, linestyle=look.dashes, marker=look.mark,
            markersize=4, label=system.system,
        )  # fmt: skip
    axes.set_xticks(range(len(labels) + 1), ["none", *labels], rotation=60, ha="right")
    axes.set_ylim(-3, 103)
    axes.set_ylabel("probability, %")
    axes.set_title("The thread system, as screws were added", pad=26)
    plain_axes(axes)
    axes.legend(loc="lower left", bbox_to_anchor=(0.0, 1.01), ncols=4, borderaxespad=0.0)
