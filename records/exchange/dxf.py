"""The measured outline and the measured axial section as DXF, at true scale: 1 drawing unit is 1 mm.

Layers: ``OUTLINE`` (both edges of the part as seen, its axis on the x axis, the left end of what is in view at x = 0),
``SECTION`` (the section of the thread over the threads in view, below the outline, on an axis of its own), ``AXIS``,
``NOTES`` (what was measured, with U95).
"""

from __future__ import annotations

import io
import re
from collections.abc import Sequence
from typing import Any

import numpy as np
import numpy.typing as npt

from records.drawing import Drawing, without_picture
from threads.measured.thread import MeasuredThread
from threads.shared.formatting import format_quantity

Array = npt.NDArray[np.float64]

_TOLERANCE_MM = 2e-5
"""By so much the section's polyline may leave the section: a fiftieth of a micrometre."""

_GAP = 3.0
_TEXT_HEIGHT = 0.5
_QUANTITIES = ("major_diameter", "pitch_diameter", "minor_diameter", "pitch", "flank_angle_left", "flank_angle_right")


def dxf_of(thread: MeasuredThread, drawing: Drawing | None, title: Sequence[str]) -> bytes:
    """The drawing file. ``title``: lines of its note; without a ``drawing`` there is no outline."""
    from ezdxf import units
    from ezdxf.filemanagement import new

    file: Any = new("R2010", setup=["linetypes"], units=units.MM)
    file.header["$MEASUREMENT"] = 1
    file.header["$LUNITS"] = 2
    for name, colour, line in (("OUTLINE", 7, "CONTINUOUS"), ("SECTION", 5, "CONTINUOUS"), ("AXIS", 8, "CENTER"),
                               ("NOTES", 8, "CONTINUOUS")):  # fmt: skip
        file.layers.add(name, color=colour, linetype=line)
    space = file.modelspace()
    low, long = 0.0, thread.threads_in_view * thread.pitch.value
    if drawing is not None and drawing.outline.size:
        along = drawing.outline[:, 0]
        for edge in (drawing.outline[:, 1], drawing.outline[:, 2]):
            for run in _runs(along, edge):
                space.add_lwpolyline(run, dxfattribs={"layer": "OUTLINE"})
        space.add_line((-1, 0), (float(along[-1]) + 1, 0), dxfattribs={"layer": "AXIS"})
        low = float(min(np.nanmin(drawing.outline[:, 2]), 0.0))
    axis = low - _GAP - thread.major_diameter.value / 2
    folded = without_picture(thread) if drawing is None else drawing.folded
    s = np.linspace(0.0, long, 400 * max(thread.threads_in_view, 1) + 1)
    radius = folded.section.radius(s)
    for sign, shift in ((1.0, 0.0), (-1.0, thread.starts * thread.pitch.value / 2)):
        r = radius if shift == 0 else folded.section.radius(s - shift)
        points = _fewest(np.stack([s, axis + sign * r], axis=1))
        space.add_lwpolyline([(float(x), float(y)) for x, y in points], dxfattribs={"layer": "SECTION"})
    space.add_line((-1, axis), (long + 1, axis), dxfattribs={"layer": "AXIS"})
    lines = [*title, "1 unit = 1 mm"]
    lines += [f"{name.replace('_', ' ')} {format_quantity(getattr(thread, name))}" for name in _QUANTITIES]
    for number, text in enumerate(lines):
        place = (0.0, axis - thread.major_diameter.value / 2 - _GAP / 2 - number * 1.6 * _TEXT_HEIGHT)
        space.add_text(plain_text(text), height=_TEXT_HEIGHT, dxfattribs={"layer": "NOTES"}).set_placement(place)
    written = io.StringIO()
    file.write(written)
    return written.getvalue().encode("utf-8", "replace")


def _runs(along: Array, edge: Array) -> list[list[tuple[float, float]]]:
    """The stretches of an edge that are in view."""
    seen = np.flatnonzero(np.isfinite(edge))
    parts = np.split(seen, np.flatnonzero(np.diff(seen) > 1) + 1)
    return [[(float(along[i]), float(edge[i])) for i in part] for part in parts if part.size > 1]


def _fewest(points: Array) -> Array:
    """The points without which the line would leave them by more than the tolerance."""
    kept, start = [0], 0
    for end in range(2, len(points)):
        a, b = points[start], points[end]
        between = points[start + 1 : end]
        direction = (b - a) / np.hypot(*(b - a))
        off = (between - a) @ np.array([-direction[1], direction[0]])
        if np.abs(off).max() > _TOLERANCE_MM:
            start = end - 1
            kept.append(start)
    return points[[*kept, len(points) - 1]]


def plain_text(text: str) -> str:
    r"""``text`` without what a drawing program takes for a code: %%c, \U+00B1, \M+1xxxx, ^J."""
    text = "".join(c if c.isprintable() else "?" for c in text)
    return re.sub(r"\\(?=[UuMm]\+)", "/", text).replace("%%", "% %").replace("^", "^ ")
