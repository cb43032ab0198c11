"""The chart of an instrument: every screw one point among the zones of the classes, and how the answer grew.

The pitch diameter less the basic one, in um, tells the systems apart: whoever looks sees that all originals lie above
what Unified allows.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import groupby
from typing import TYPE_CHECKING, Any

from flankwise.reasons import word
from records.figures.file import printed_jpeg
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
_TURNED: dict[bool, dict[str, Any]] = {False: {"rotation": 60, "ha": "right"}, True: {}}
_LABELS = 1.1  # inches below each chart for the names of the positions


@dataclass(frozen=True)
class ChartedScrew:
    """One point: what stands below it, its size, its pitch diameter, the basic one (mm), why it is odd, its part."""

    label: str
    size: str
    pitch_diameter: Quantity
    basic: float
    odd: str = ""
    part: int = 0


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
    language: str = "en",
) -> Figure:
    """Both charts, one above the other, in "en" or "de".

    ``screws``: those whose size is known, in their order; ``labels``: of all screws, in the order of ``found``.
    """
    width = min(max(_LEAST_WIDTH, _MARGIN + _WIDTH * len(screws)), _MOST_WIDTH)
    height = 2 * _HEIGHT + 2 * _LABELS + 1.6
    figure = new_figure((width, height))
    left, across = 0.75 / width, 1 - 1.0 / width
    chart = figure.add_axes((left, (height - 1.0 - _HEIGHT) / height, across, _HEIGHT / height))
    draw_chart(chart, screws, zones, scale_of(inches=inches), language)
    figure.suptitle(title, x=left, y=1 - 0.12 / height, ha="left", va="top", fontweight="bold", fontsize=11)
    grown = figure.add_axes((left, _LABELS / height, across, 0.8 * _HEIGHT / height))
    draw_growth(grown, labels, found, language)
    return figure


def chart_jpeg(
    screws: Sequence[ChartedScrew],
    zones: Sequence[ChartedZone],
    numbers: Mapping[int, int],
    size: tuple[float, float],
    *,
    inches: bool,
    language: str,
) -> bytes:
    """The chart alone, ``size`` inches; below the points stand the ``numbers`` of their parts in the plan."""

    def draw(axes: Axes) -> None:
        numbered = [replace(one, label=str(numbers.get(one.part, one.label))) for one in screws]
        draw_chart(axes, numbered, zones, scale_of(inches=inches), language, upright=True)

    return _jpeg(draw, size)


def growth_jpeg(numbers: Sequence[int], found: InstrumentFound, size: tuple[float, float], *, language: str) -> bytes:
    """How the answer grew, alone, ``size`` inches; ``numbers`` of the screws in the plan, in the order of ``found``."""
    return _jpeg(lambda axes: draw_growth(axes, [str(n) for n in numbers], found, language, upright=True), size)


def _jpeg(draw: Callable[[Axes], None], size: tuple[float, float]) -> bytes:
    def figure() -> Figure:
        made = new_figure(size)
        width, height = size
        draw(made.add_axes((0.62 / width, 0.30 / height, 1 - 0.66 / width, 1 - 0.85 / height)))
        return made

    return printed_jpeg(figure)


def by_size(screws: Sequence[ChartedScrew]) -> list[tuple[str, list[ChartedScrew]]]:
    """The screws of each size side by side, sizes in the order in which they come first."""
    order = list(dict.fromkeys(screw.size for screw in screws))
    ordered = sorted(screws, key=lambda screw: order.index(screw.size))
    return [(size, list(members)) for size, members in groupby(ordered, lambda screw: screw.size)]


def draw_chart(
    axes: Axes,
    screws: Sequence[ChartedScrew],
    zones: Sequence[ChartedZone],
    scale: Scale,
    language: str = "en",
    *,
    upright: bool = False,
) -> None:
    """Pitch diameter less basic of every screw with its U95, grouped by size, over the zones of the classes."""
    looks = {name: LOOKS[k % len(LOOKS)] for k, name in enumerate(dict.fromkeys(zone.name for zone in zones))}
    column, ticks, named = 0.0, [], set()
    for size, members in by_size(screws):
        start = column - 0.5
        for screw in members:
            value = (screw.pitch_diameter.value - screw.basic) * scale.fine
            colour = VERMILION if screw.odd else BLACK
            axes.errorbar(
                column, value, yerr=screw.pitch_diameter.u95 * scale.fine, color=colour, capsize=2.5, linewidth=1.1,
                marker="X" if screw.odd else "o", markersize=5.0, zorder=4,
            )  # fmt: skip
            if screw.odd:
                left = column > len(screws) / 2  # the words stay within the chart
                axes.annotate(
                    screw.odd, (column, value), xytext=(-6 if left else 6, 6), textcoords="offset points", fontsize=7.5,
                    color=colour, ha="right" if left else "left", zorder=6,
                    bbox={"facecolor": "white", "edgecolor": "none", "pad": 0.8, "alpha": 0.85},
                )  # fmt: skip
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
    axes.set_xticks([at for at, _ in ticks], [label for _, label in ticks], **_TURNED[upright])
    axes.set_ylabel(f"{word('pitch diameter less basic', language)}, {scale.fine_name}")
    axes.set_xlim(-0.8, column - _A_GAP + 0.2)
    plain_axes(axes)
    axes.legend(loc="lower left", bbox_to_anchor=(0.0, 1.06), ncols=4, borderaxespad=0.0)


def draw_growth(
    axes: Axes, labels: Sequence[str], found: InstrumentFound, language: str = "en", *, upright: bool = False
) -> None:
    """The probability of each system as screws were added."""
    for k, system in enumerate(found.systems[:_MOST_SYSTEMS]):
        look = LOOKS[k % len(LOOKS)]
        axes.plot(
            range(len(labels) + 1), 100 * found.grown[:, k], color=look.colour, linestyle=look.dashes, marker=look.mark,
            markersize=4, label=word(system.system, language),
        )  # fmt: skip
    axes.set_xticks(
        range(len(labels) + 1), ["–" if upright else word("no screw", language), *labels], **_TURNED[upright]
    )
    axes.set_ylim(-3, 103)
    axes.set_ylabel(word("probability, %", language))
    axes.set_title(word("The thread system, as screws were added", language), pad=26)
    plain_axes(axes)
    axes.legend(loc="lower left", bbox_to_anchor=(0.0, 1.01), ncols=4, borderaxespad=0.0)
