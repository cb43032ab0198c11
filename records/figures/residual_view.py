"""What is left when the fitted thread is taken away, magnified: edge points and ridges along the thread."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from records.figures.style import BLACK, BLUE, GREY, VERMILION, Scale, plain_axes, size_on_page
from threads.measured.thread import RidgeError
from threads.shared.formatting import MM_PER_INCH
from threads.shared.quantity import COVERAGE_FACTOR
from vision.result.folded import Folded

if TYPE_CHECKING:
    from matplotlib.axes import Axes

_LEAST_UM = 0.5
_EDGES = ((True, 1, BLUE, "o", "one edge"), (False, -1, VERMILION, "s", "the opposite edge"))


def draw_residuals(axes: Axes, folded: Folded, scale: Scale) -> None:
    """How far outside the fitted thread each edge point lies, along the thread; outward is up."""
    for upper, _, colour, mark, words in _EDGES:
        on = folded.upper == upper
        axes.plot(
            folded.along[on] * scale.of, folded.out[on] * scale.fine, mark, color=colour, markersize=1.6,
            markeredgewidth=0.0, alpha=0.6, label=words, rasterized=True,
        )  # fmt: skip
    axes.axhline(0.0, color=BLACK, linewidth=0.7)
    reach = max(float(np.quantile(np.abs(folded.out), 0.998)) * 1.25, _LEAST_UM / 1000) if folded.out.size else 0.001
    axes.set_ylim(-reach * scale.fine, reach * scale.fine)
    axes.set_ylabel(f"outside the fit, {scale.fine_name}")
    axes.set_xlabel(f"along the thread in view, toward the free end, {scale.name}")
    plain_axes(axes)


def draw_pitch_errors(
    axes: Axes, ridges: tuple[RidgeError, ...], scale: Scale, *, length: float, toward: float
) -> None:
    """How far each ridge stands from where an even pitch would have it, with U95.

    ``length`` is that of the thread in view, mm; ``toward`` +1 or -1, as positions run toward the free end or from it.
    """
    for _, edge, colour, mark, words in _EDGES:
        on = [ridge for ridge in ridges if ridge.edge == edge]
        if not on:
            continue
        axes.errorbar(
            [toward * (ridge.position - length / 2) * scale.of for ridge in on],
            [toward * ridge.pitch_error * scale.fine for ridge in on],
            yerr=[COVERAGE_FACTOR * ridge.pitch_error_u * scale.fine for ridge in on],
            color=colour, marker=mark, markersize=4.0, linestyle="none", capsize=2.0, linewidth=0.9, label=words,
        )  # fmt: skip
    axes.axhline(0.0, color=GREY, linewidth=0.7)
    low, high = axes.get_ylim()
    reach = max(abs(low), abs(high), _LEAST_UM / 1000 * scale.fine)
    axes.set_ylim(-reach, reach)
    axes.set_ylabel(f"pitch error, {scale.fine_name}")
    axes.set_xlabel(f"along the thread in view, toward the free end, {scale.name}")
    plain_axes(axes)


def height_magnification(axes: Axes, scale: Scale) -> float:
    """How many times larger than life ``axes`` shows what is left, on the printed page."""
    height = size_on_page(axes)[1] * MM_PER_INCH
    low, high = axes.get_ylim()
    return float(height / ((high - low) / scale.fine))
