"""The drawn dimensions of a photograph in a report: lines, arrow heads and texts, in its pixels (x right, y down)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from records.figures.part_view import dimension_text, text_angle
from vision.result.dimensions import Dimension

Array = npt.NDArray[np.float64]

LARGE, SMALL = 0.027, 0.062
"""Height of the type in widths of the photograph, as it stands on a data sheet (80 mm wide) and in a list (30 mm)."""
IN_A_LIST = ("major_diameter", "pitch")
"""What a photograph of a list has room for."""
_HEAD = 0.9, 0.17  # length of an arrow's head and half its width, in heights of the type
_MOST_OF_LINE = 0.4  # of its line, that each head takes
_OFF = 0.75  # heights of the type from the line to the middle of the text


@dataclass(frozen=True, eq=False)
class PlacedDimension:
    """One dimension as it is drawn.

    Attributes:
        lines: (n, 2) each. heads: (3, 2) each, corners of a filled triangle.
        text: its value. text_at: (2,) middle of the text. angle: degrees by which it is turned, counter-clockwise.
        size: height of the type.
    """

    lines: tuple[Array, ...]
    heads: tuple[Array, ...]
    text: str
    text_at: Array
    angle: float
    size: float


def moved(every: Sequence[Dimension], corner: Array, factor: float) -> tuple[Dimension, ...]:
    """Dimensions of a picture as those of a piece of it that begins at ``corner`` and is ``factor`` times as large."""

    def of(points: Array) -> Array:
        return (points - corner) * factor

    return tuple(
        replace(one, line=of(one.line), extensions=tuple(map(of, one.extensions)), text_at=of(one.text_at))
        for one in every
    )


def placed(every: Sequence[Dimension], width: float, *, detailed: bool, inches: bool) -> list[PlacedDimension]:
    """How ``every`` is drawn on a photograph ``width`` px wide; not ``detailed``: few of them, without their U95."""
    size = width * (LARGE if detailed else SMALL)
    found = []
    for one in every:
        if not detailed and one.quantity not in IN_A_LIST:
            continue
        ends = ((one.line[0], one.line[1]), (one.line[-1], one.line[-2]))
        long = min(_HEAD[0] * size, _MOST_OF_LINE * float(np.hypot(*np.diff(one.line, axis=0).T).sum()))
        found.append(
            PlacedDimension(
                lines=(*one.extensions, one.line),
                heads=tuple(_head(tip, behind, long) for tip, behind in ends),
                text=dimension_text(one, inches=inches, short=not detailed),
                text_at=one.text_at + _OFF * size * one.away,
                angle=text_angle(one),
                size=size,
            )
        )
    return found


def _head(tip: Array, behind: Array, long: float) -> Array:
    along = (behind - tip) / max(float(np.hypot(*(behind - tip))), 1e-12)
    across = np.array([-along[1], along[0]])
    back, half = tip + long * along, _HEAD[1] / _HEAD[0] * long * across
    return np.array([tip, back + half, back - half])
