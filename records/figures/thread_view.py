"""The one-thread view: every ridge folded onto one, magnified, over the zones of the classes that it may belong to.

The view shows the axial section. Its upright axis is the diameter, so that limits can be read off it; lengths along and
across the part are drawn to one scale.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from records.figures.style import BLACK, BLUE, GREY, LOOKS, ORANGE, VERMILION, Look, Scale, plain_axes, size_on_page
from threads.measured.axial_profile import AxialProfile, ZoneSection, zone_section
from threads.shared.formatting import MM_PER_INCH
from threads.shared.quantity import Quantity
from threads.standards.limits import Limits
from vision.result.folded import Folded

if TYPE_CHECKING:
    from matplotlib.axes import Axes

REACH = 0.62  # pitches to either side of the ridge's middle
DEEPER = 0.08  # of the depth, room below the root and above the crest


@dataclass(frozen=True)
class Zone:
    """A class whose zone is drawn: its name, its section, how it looks."""

    name: str
    section: ZoneSection
    look: Look


def zones_of(limits: Sequence[Limits], most: int = 3) -> tuple[Zone, ...]:
    """The zones of the first ``most`` classes that have one, each with its own look."""
    found: list[Zone] = []
    for one in limits:
        section = zone_section(one)
        if section is not None and len(found) < most:
            mark = " †" if one.unverified else ""
            found.append(Zone(f"{one.designation}{mark}", section, LOOKS[len(found)]))
    return tuple(found)


def draw_thread(axes: Axes, folded: Folded, zones: Sequence[Zone], scale: Scale) -> None:
    """The measured ridge over ``zones``."""
    for zone in zones:
        _band(axes, zone, scale)
    _points(axes, folded, scale)
    s, r = folded.section.curve(REACH)
    axes.plot(s * scale.of, 2 * r * scale.of, color=BLACK, linewidth=0.8, label="fitted axial section", zorder=5)
    _frame(axes, [folded.section], zones, scale)


def draw_overlay(
    axes: Axes, original: Folded, replacement: Folded, names: tuple[str, str], scale: Scale, *, turned: bool
) -> None:
    """Two ridges laid over each other: the metal that one has more than the other is hatched."""
    first, second = original.section, replacement.section.mirrored() if turned else replacement.section
    s = np.linspace(-REACH, REACH, 1600) * first.pitch
    one, two = first.radius(s), second.radius(s)
    for where, colour, hatch, words in (
        (two > one, ORANGE, "\\\\\\\\", "replacement has more metal"),
        (two < one, BLUE, "////", "original has more metal"),
    ):
        axes.fill_between(
            s * scale.of, 2 * one * scale.of, 2 * two * scale.of, where=where, facecolor=colour, alpha=0.35,
            edgecolor=colour, hatch=hatch, linewidth=0.0, label=words, zorder=1,
        )  # fmt: skip
    for folded, colour, mark, flip in (
        (original, BLUE, "o", 1.0),
        (replacement, VERMILION, "s", -1.0 if turned else 1.0),
    ):
        axes.plot(
            flip * folded.s * scale.of, 2 * folded.r * scale.of, mark, color=colour, markersize=1.2,
            markeredgewidth=0.0, alpha=0.25, zorder=2, rasterized=True,
        )  # fmt: skip
    axes.plot(s * scale.of, 2 * one * scale.of, color=BLUE, linewidth=1.6, label=names[0], zorder=4)
    dashed = (0, (6, 2.5))
    axes.plot(
        s * scale.of, 2 * two * scale.of, color=VERMILION, linewidth=1.4, linestyle=dashed, label=names[1], zorder=5
    )
    _frame(axes, [first, second], (), scale)


def draw_flank(axes: Axes, folded: Folded, zones: Sequence[Zone], scale: Scale, measured: Quantity) -> None:
    """The right flank where it crosses the pitch line, magnified again, over the same zones.

    What separates the classes is how thick the ridge is there. ``measured`` is the pitch diameter: its U95 is drawn
    along the flank's own direction, as the band within which the flank lies.
    """
    middle = folded.section.pitch / 4
    radius = float(folded.section.radius(middle))
    reach = flank_reach(folded, zones)
    for zone in zones:
        _band(axes, zone, scale, alpha=0.45)
    s = np.linspace(middle - 4 * reach, middle + 4 * reach, 400)
    r = folded.section.radius(s)
    low, high = (2 * r + sign * measured.u95 for sign in (-1, 1))
    axes.fill_between(s * scale.of, low * scale.of, high * scale.of, facecolor=BLACK, alpha=0.16, linewidth=0, zorder=3)
    _points(axes, folded, scale, size=3.6)
    axes.plot(s * scale.of, 2 * r * scale.of, color=BLACK, linewidth=0.9, zorder=5)
    axes.set_xlim((middle - reach) * scale.of, (middle + reach) * scale.of)
    axes.set_ylim(2 * (radius - reach) * scale.of, 2 * (radius + reach) * scale.of)
    axes.set_aspect(0.5, adjustable="box")
    _labels(axes, scale, "right flank at the pitch line")


def flank_reach(folded: Folded, zones: Sequence[Zone]) -> float:
    """Half of what the magnified flank shows, mm: the zones' width on the radius with room, an eighth of a pitch."""
    widths = [abs(z.section.most.pitch_radius - folded.section.pitch_radius) for z in zones]
    widths += [abs(z.section.least.pitch_radius - folded.section.pitch_radius) for z in zones]
    pitch = folded.section.pitch
    return float(np.clip(1.6 * max(widths, default=0.0), 0.02 * pitch, 0.12 * pitch))


def _band(axes: Axes, zone: Zone, scale: Scale, alpha: float = 0.30) -> None:
    """One zone between its least and its most material, both lines drawn."""
    pitch = zone.section.most.pitch
    s = np.linspace(-REACH, REACH, 1600) * pitch
    least, most = 2 * zone.section.least.radius(s) * scale.of, 2 * zone.section.most.radius(s) * scale.of
    look = zone.look
    axes.fill_between(
        s * scale.of, least, most, facecolor=look.colour, alpha=alpha, edgecolor=look.colour, hatch=look.hatch,
        linewidth=0.0, label=f"{zone.name}, least to most material", zorder=1,
    )  # fmt: skip
    for line in (least, most):
        axes.plot(s * scale.of, line, color=look.colour, linewidth=1.0, linestyle=look.dashes, zorder=2)


def _points(axes: Axes, folded: Folded, scale: Scale, size: float = 2.6) -> None:
    # the second edge smaller, so that neither hides the other
    for upper, colour, mark, part, words in (
        (True, BLUE, "o", 1.0, "edge points, one edge"),
        (False, VERMILION, "s", 0.55, "the opposite edge"),
    ):
        on = folded.upper == upper
        axes.plot(
            folded.s[on] * scale.of, 2 * folded.r[on] * scale.of, mark, color=colour, markersize=part * size,
            markeredgewidth=0.0, alpha=0.7, label=words, zorder=4, rasterized=True,
        )  # fmt: skip


def _frame(axes: Axes, sections: Sequence[AxialProfile], zones: Sequence[Zone], scale: Scale) -> None:
    tops = [s.crest for s in sections] + [z.section.most.crest for z in zones]
    roots = [s.root for s in sections] + [z.section.most.root for z in zones]
    depth = max(tops) - min(roots)
    pitch = sections[0].pitch
    axes.set_xlim(-REACH * pitch * scale.of, REACH * pitch * scale.of)
    axes.set_ylim(2 * (min(roots) - DEEPER * depth) * scale.of, 2 * (max(tops) + DEEPER * depth) * scale.of)
    axes.set_aspect(0.5, adjustable="box")  # the upright axis is a diameter: twice the radius
    middle = 2 * sections[0].pitch_radius * scale.of
    axes.axhline(middle, color=GREY, linewidth=0.6, linestyle=(0, (8, 3, 1, 3)), zorder=3)
    axes.text(
        REACH * pitch * scale.of, middle, "pitch line ", color=GREY, fontsize=7.5, ha="right", va="bottom", zorder=6
    )
    _labels(axes, scale, "")


def _labels(axes: Axes, scale: Scale, title: str) -> None:
    axes.set_xlabel(f"along the axis, from the middle of the ridge, {scale.name}")
    axes.set_ylabel(f"diameter, {scale.name}")
    plain_axes(axes)
    axes.set_title(title, fontweight="normal", fontsize=8.5)


def magnification(axes: Axes, scale: Scale) -> float:
    """How many times larger than life ``axes`` shows lengths along the axis, on the printed page."""
    axes.apply_aspect()
    width = size_on_page(axes)[0] * MM_PER_INCH
    low, high = axes.get_xlim()
    return float(width / ((high - low) / scale.of))
