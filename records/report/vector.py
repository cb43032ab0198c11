"""A figure as plain shapes in points (1/72 inch; x right, y up), drawn into a PDF by its own operators, or as SVG.

A chart of a drawing library costs a tenth of a second a page, most of it for text and marks that a PDF has anyway.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from html import escape
from typing import Literal

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]

HATCHES = {"////": (1,), "\\\\\\\\": (-1,), "xxxx": (1, -1), "----": (0,)}
"""Slopes of the lines of each hatch; any other hatch is dots."""
HATCH_STEP, HATCH_WIDE = 3.0, 0.6
"""Points between two lines, and their width."""
HATCH_DOTS = (0.0, HATCH_STEP)
"""Dashes of no length, which round ends make dots."""


@dataclass(frozen=True, eq=False)
class Line:
    """A line through ``points`` (n, 2). ``dashes``: lengths on and off, points."""

    points: Array
    colour: str
    wide: float
    dashes: tuple[float, ...] = ()


@dataclass(frozen=True, eq=False)
class Area:
    """What ``points`` (n, 2) surround: filled, and hatched as ``figures.style.Look`` names it."""

    points: Array
    colour: str
    opacity: float
    hatch: str = ""


@dataclass(frozen=True, eq=False)
class Dots:
    """A mark ``wide`` at each of ``points`` (n, 2): round, or square."""

    points: Array
    colour: str
    wide: float
    square: bool = False
    opacity: float = 0.7


@dataclass(frozen=True)
class Words:
    """Text with the ``place`` of its line at ``x, y``; ``turned``: it reads upward."""

    text: str
    x: float
    y: float
    size: float
    colour: str = "#000000"
    place: Literal["start", "middle", "end"] = "start"
    bold: bool = False
    turned: bool = False


@dataclass(frozen=True)
class Clipped:
    """``shapes`` inside a box: left, bottom, width, height."""

    box: tuple[float, float, float, float]
    shapes: tuple[Line | Area | Dots, ...]


Shape = Line | Area | Dots | Words | Clipped


@dataclass(frozen=True)
class VectorFigure:
    """Shapes, the first one at the back, on a place of this width and height."""

    width: float
    height: float
    shapes: tuple[Shape, ...]


def hatch_lines(points: Array, hatch: str) -> Array:
    """(n, 4) lines x, y to x, y that hatch the box round ``points``; for dots the rows of ``HATCH_DOTS``."""
    (left, bottom), (right, top) = points.min(axis=0), points.max(axis=0)
    left = np.floor(left / HATCH_STEP) * HATCH_STEP  # dots of all rows stand one over the other
    lines = []
    for slope in HATCHES.get(hatch, (0,)):
        corners = [y - slope * x for x in (left, right) for y in (bottom, top)]
        offsets = np.arange(np.ceil(min(corners) / HATCH_STEP), np.floor(max(corners) / HATCH_STEP) + 1) * HATCH_STEP
        low, high = np.full_like(offsets, left), np.full_like(offsets, right)
        lines.append(np.column_stack([low, slope * low + offsets, high, slope * high + offsets]))
    return np.vstack(lines)


def svg_of(figure: VectorFigure, title: str) -> str:
    """The figure as an ``svg`` element; ``title``: what a reader who does not see it is told."""
    drawn = "".join(_svg(figure.shapes, figure.height))
    wide, high = figure.width, figure.height
    style = f'style="width:{wide / 72:.2f}in;aspect-ratio:{wide:.1f}/{high:.1f}"'
    return (
        f'<svg class="figure" role="img" viewBox="0 0 {wide:.1f} {high:.1f}" {style}><title>{escape(title)}</title>'
        f"{drawn}</svg>"
    )


def apart(points: Array) -> Array:
    """The points to a tenth of a point (35 µm on paper), each once: what the marks of many more would look like."""
    return np.unique(np.round(points, 1), axis=0)


def _svg(shapes: tuple[Shape, ...], height: float) -> Iterator[str]:
    for one in shapes:
        if isinstance(one, Clipped):
            left, bottom, wide, high = one.box
            yield (
                f'<svg x="{left:.2f}" y="{height - bottom - high:.2f}" width="{wide:.2f}" height="{high:.2f}"'
                f' viewBox="{left:.2f} {height - bottom - high:.2f} {wide:.2f} {high:.2f}">'
            )
            yield from _svg(one.shapes, height)
            yield "</svg>"
        elif isinstance(one, Words):
            turned = f' transform="rotate(-90 {one.x:.1f} {height - one.y:.1f})"' if one.turned else ""
            bold = ' font-weight="bold"' if one.bold else ""
            yield (
                f'<text x="{one.x:.1f}" y="{height - one.y:.1f}" font-size="{one.size:g}" fill="{one.colour}"'
                f' text-anchor="{one.place}"{bold}{turned}>{_shown(one.text)}</text>'
            )
        elif isinstance(one, Dots):
            yield _svg_dots(one, height)
        elif isinstance(one, Area):
            yield from _svg_area(one, height)
        else:
            dashes = f' stroke-dasharray="{" ".join(f"{d:g}" for d in one.dashes)}"' if one.dashes else ""
            yield (
                f'<polyline points="{_points(one.points, height)}" fill="none" stroke="{one.colour}"'
                f' stroke-width="{one.wide:g}"{dashes}/>'
            )


def _svg_dots(one: Dots, height: float) -> str:
    start = -one.wide / 2 if one.square else 0.0
    cap, long = ("butt", one.wide) if one.square else ("round", 0.0)
    path = "".join(f"M{x + start:.1f} {height - y:.1f}h{long:g}" for x, y in apart(one.points).tolist())
    look = f'stroke="{one.colour}" stroke-width="{one.wide:g}" stroke-linecap="{cap}" stroke-opacity="{one.opacity:g}"'
    return f'<path d="{path}" {look}/>'


def _svg_area(one: Area, height: float) -> Iterator[str]:
    around = f'points="{_points(one.points, height)}"'
    yield f'<polygon {around} fill="{one.colour}" fill-opacity="{one.opacity:g}"/>'
    if one.hatch:
        step = HATCH_STEP
        name = f"h{ord(one.hatch[0])}{one.colour[1:]}{100 * one.opacity:.0f}"  # the same one in every figure
        lines = [
            f'<path d="M{-step:g} {step * s + (step if s <= 0 else 0):g}l{3 * step:g} {-3 * step * s:g}"/>'
            for s in HATCHES.get(one.hatch, ())
        ]
        inner = "".join(lines) or f'<path d="M{step / 2:g} {step / 2:g}h0" stroke-linecap="round"/>'
        yield (
            f'<pattern id="{name}" width="{step:g}" height="{step:g}" patternUnits="userSpaceOnUse"'
            f' stroke="{one.colour}" stroke-width="{HATCH_WIDE:g}" stroke-opacity="{one.opacity:g}">{inner}</pattern>'
            f'<polygon {around} fill="url(#{name})"/>'
        )


def _points(points: Array, height: float) -> str:
    return " ".join(f"{x:.2f},{height - y:.2f}" for x, y in points.tolist())


def _shown(text: str) -> str:
    return escape("".join(c if c.isprintable() else f"[U+{ord(c):04X}]" for c in text))
