"""The trials of a hole for the printed page: screws at their pitch diameters, the hole's range, the classes' zones."""

from __future__ import annotations

from typing import TYPE_CHECKING

from flankwise.reasons import sentence, word
from records.figures.file import printed_jpeg
from records.figures.style import BLACK, BLUE, LOOKS, VERMILION, new_figure, plain_axes, scale_of
from threads.hole.trial import MOVED, STOPPED
from threads.shared.refusal import Reason

if TYPE_CHECKING:
    from matplotlib.figure import Figure

    from threads.hole.found_hole import FoundHole

_MARKS = {STOPPED: "x", MOVED: "D"}
_ZONES, _SHOWN_FROM = 3, 0.03
_LEFT, _RIGHT, _BELOW, _ABOVE = 1.9, 0.25, 0.5, 0.32  # inches
_LONGEST = 25  # letters of a name


def hole_view(found: FoundHole, size: tuple[float, float], *, inches: bool, language: str = "en") -> bytes:
    """The chart as JPEG; ``size``: as it is printed, inches."""
    return printed_jpeg(lambda: hole_figure(found, size, inches=inches, language=language))


def hole_figure(found: FoundHole, size: tuple[float, float], *, inches: bool, language: str = "en") -> Figure:
    """One row a class, one a screw, smallest first; the band is the hole's 95 % range, the line its middle."""
    figure, scale = new_figure(size), scale_of(inches=inches)
    wide, high = size
    axes = figure.add_axes((_LEFT / wide, _BELOW / high, 1 - (_LEFT + _RIGHT) / wide, 1 - (_BELOW + _ABOVE) / high))
    plain_axes(axes)
    hole = found.pitch_diameter
    axes.axvspan(hole.low95 * scale.of, hole.high95 * scale.of, color=BLUE, alpha=0.18, linewidth=0)
    axes.axvline(hole.median * scale.of, color=BLUE, linewidth=1.6)
    zones = [one for one in found.classes if one.probability >= _SHOWN_FROM][:_ZONES]
    names = []
    for row, zone in enumerate(zones):
        look = LOOKS[row % len(LOOKS)]
        axes.barh(
            row, (zone.high - zone.low) * scale.of, left=zone.low * scale.of, height=0.5, facecolor="none",
            edgecolor=look.colour, hatch=look.hatch, linewidth=1.0,
        )  # fmt: skip
        names.append(zone.designation)
    for row, one in enumerate(sorted(found.trials, key=lambda one: one.size), len(zones)):
        colour = VERMILION if one.cause is not None else BLACK
        axes.errorbar(
            one.size * scale.of, row, xerr=one.u95 * scale.of, color=colour, capsize=2.5, linewidth=1.1,
            marker=_MARKS.get(one.trial.outcome, "^"), markersize=5.5, markeredgewidth=1.6, zorder=4,
        )  # fmt: skip
        name = one.trial.screw.name
        name = name.replace("part ", f"{word('part', language)} ", 1) if name.startswith("part ") else name
        names.append(name if len(name) <= _LONGEST else f"{name[: _LONGEST - 1]}…")
    axes.set_yticks(range(len(names)), names)
    axes.set_ylim(len(names) - 0.4, -0.6)
    label = Reason("hole_view.axis", unit=scale.name)
    axes.set_xlabel(sentence(label, language=language))
    axes.locator_params(axis="x", nbins=6)
    return figure
