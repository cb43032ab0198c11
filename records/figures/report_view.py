"""The figure of a data sheet: the one-thread view, beside it the flank magnified again."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from records.figures.file import printed_jpeg
from records.figures.style import new_figure, scale_of, size_on_page
from records.figures.thread_view import draw_flank, draw_thread, magnification, zones_of
from threads.shared.quantity import Quantity
from threads.standards.limits import Limits
from vision.result.folded import Folded

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure


def report_view(
    folded: Folded, limits: Sequence[Limits], pitch_diameter: Quantity, size: tuple[float, float], *, inches: bool
) -> bytes:
    """The measured ridge over the zones of ``limits``, as JPEG: PDF takes that as it is, without packing it anew.

    ``size``: of the figure, inches, as it is printed.
    """
    return printed_jpeg(lambda: _drawn(folded, limits, pitch_diameter, size, inches=inches))


def _drawn(
    folded: Folded, limits: Sequence[Limits], pitch_diameter: Quantity, size: tuple[float, float], *, inches: bool
) -> Figure:
    figure, scale, zones = new_figure(size), scale_of(inches=inches), zones_of(limits)
    low, high = 0.46 / size[1], 1 - 0.30 / size[1]
    view = figure.add_axes((0.085, low, 0.545, high - low))
    draw_thread(view, folded, zones, scale)
    ridges = f"{folded.ridges} ridges folded onto one" if folded.ridges else "axial section"
    view.set_title(f"{ridges}, magnified {magnification(view, scale):.0f} times", y=1.03)
    middle = 1.32 / size[1]
    close = figure.add_axes((0.71, middle, 0.27, high - middle))
    draw_flank(close, folded, zones, scale, pitch_diameter)
    close.set_ylabel("")
    close.set_xlabel(f"along the axis, {scale.name}")
    for axes, most in ((view, 5), (close, 2)):  # inches take much room
        axes.set_anchor("NW")
        axes.locator_params(axis="x", nbins=most)
        _place_labels(axes)
    close.locator_params(axis="y", nbins=4)
    close.tick_params(labelsize=7.0)
    flank = f"right flank, {magnification(close, scale):.0f} times"
    close.set_title(flank, fontsize=8.5, fontweight="normal", y=1.05)
    handles, labels = view.get_legend_handles_labels()
    figure.legend(handles, labels, loc="lower left", bbox_to_anchor=(0.632, 0.0), fontsize=6.8, labelspacing=0.25)
    return figure


def _place_labels(axes: Axes) -> None:
    """Give the labels of the axes their places: left to itself, the library looks for them for as long as it draws."""
    axes.apply_aspect()
    wide, tall = size_on_page(axes)
    axes.xaxis.set_label_coords(0.5, -0.24 / tall)
    axes.yaxis.set_label_coords(-0.48 / wide, 0.5)
