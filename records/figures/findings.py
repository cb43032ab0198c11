"""The findings beside a picture: dimensions with their U95, and the probabilities of an identity as lengths."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from records.figures.style import BLACK, GREY, PALE, Look
from threads.measured.thread import MeasuredThread
from threads.shared.formatting import NOT_DETERMINED, format_probability, write_quantity
from threads.shared.quantity_words import worded

if TYPE_CHECKING:
    from matplotlib.figure import Figure

ROWS = worded(
    "major_diameter", "pitch_diameter", "minor_diameter", "virtual_pitch_diameter", "pitch", "threads_per_inch",
    "flank_angle_left", "flank_angle_right", "crest_width", "crest_radius", "root_width", "root_radius", "taper",
)  # fmt: skip
_LINE = 0.0165
_SIZE = 8.5


def write_findings(figure: Figure, thread: MeasuredThread, place: tuple[float, float, float], *, inches: bool) -> None:
    """The dimensions as a table. ``place`` is left, right and top, in parts of the page."""
    left, right, y = place
    middle = left + 0.70 * (right - left)
    for name, words in ROWS:
        quantity = getattr(thread, name)
        if quantity is None:
            continue
        written = write_quantity(quantity, inches=inches)
        figure.text(left, y, words, fontsize=_SIZE, va="top")
        if written is None:
            figure.text(middle, y, NOT_DETERMINED, fontsize=_SIZE, va="top", color=GREY)
        else:
            figure.text(middle, y, written.value, fontsize=_SIZE, va="top", ha="right", fontweight="bold")
            figure.text(middle + 0.008, y, f"± {written.u95} {written.unit}", fontsize=_SIZE, va="top")
        y -= _LINE


def write_probabilities(
    figure: Figure, rows: Sequence[tuple[str, float, Look | None]], place: tuple[float, float, float]
) -> None:
    """Names with their probability as a length and a number; ``look`` is that of a class whose zone is drawn."""
    from matplotlib.patches import Rectangle

    left, right, y = place
    for name, probability, look in rows:
        figure.text(left, y, name, fontsize=_SIZE, va="top")
        figure.text(right, y, format_probability(probability), fontsize=_SIZE, va="top", ha="right")
        whole = Rectangle((left, y - 0.023), right - left, 0.008, facecolor="none", edgecolor=GREY, linewidth=0.5)
        length = max(probability, 0.0) * (right - left)
        colour, hatch = (PALE, "") if look is None else (look.colour, look.hatch)
        part = Rectangle(
            (left, y - 0.023), length, 0.008, facecolor=colour, hatch=hatch, edgecolor=BLACK, linewidth=0.5
        )
        for patch in (whole, part):
            patch.set_transform(figure.transFigure)
            figure.add_artist(patch)
        y -= 2.1 * _LINE
