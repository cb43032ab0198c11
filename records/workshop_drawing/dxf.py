"""The drawing of a part as DXF: 1 drawing unit is 1 mm, nominal sizes, true dimension entities.

Layers: ``EDGE``, ``THIN`` (thread roots, breaks), ``AXIS``, ``DIMENSIONS``, ``THREAD`` (the section of most material,
below the view), ``NOTES`` (limits and where they come from).
"""

from __future__ import annotations

import io
from textwrap import wrap
from typing import Any

import numpy as np

from records.exchange.dxf import plain_text
from records.report.spoken import Spoken
from records.workshop_drawing.part_to_make import PartToMake
from records.workshop_drawing.sheet import Title, notes_of, range_rows, scaled
from records.workshop_drawing.view import TYPE

_ROOM = (250.0, 105.0)  # mm: the type is as large beside the part as on a sheet
_NOTE_LETTERS = 80
_LAYERS = (
    ("EDGE", 7, "CONTINUOUS"), ("THIN", 8, "CONTINUOUS"), ("AXIS", 8, "CENTER"), ("DIMENSIONS", 5, "CONTINUOUS"),
    ("THREAD", 7, "CONTINUOUS"), ("NOTES", 8, "CONTINUOUS"),
)  # fmt: skip


def drawing_dxf(part: PartToMake, title: Title, spoken: Spoken) -> bytes:
    """The drawing file."""
    from ezdxf import units
    from ezdxf.filemanagement import new

    file: Any = new("R2010", setup=True, units=units.MM)
    file.header["$MEASUREMENT"] = 1
    for name, colour, kind in _LAYERS:
        file.layers.add(name, color=colour, linetype=kind)
    space = file.modelspace()
    scale, view = scaled(part, spoken, _ROOM)
    height = TYPE / scale
    for line in view.lines:
        space.add_lwpolyline([tuple(map(float, p)) for p in line.points], dxfattribs={"layer": line.weight})
    look = {"dimtxt": height, "dimasz": height, "dimexe": height / 2, "dimexo": height / 3, "dimgap": height / 4,
            "dimclrt": 256, "dimtad": 1, "dimtsz": 0.0, "dimtih": 0, "dimtoh": 0}  # fmt: skip
    for one in view.lengths:
        dimension = space.add_linear_dim(
            base=(one.start, one.y), p1=(one.start, one.from_y[0]), p2=(one.end, one.from_y[1]),
            text=one.text, dimstyle="Standard", override=look, dxfattribs={"layer": "DIMENSIONS"},
        )  # fmt: skip
        dimension.render()
    for leader in view.leaders:
        space.add_leader(
            [leader.tip, leader.foot], dimstyle="Standard", override={"dimasz": height},
            dxfattribs={"layer": "DIMENSIONS"},
        )  # fmt: skip
        _text(space, leader.text, leader.text_at, height, "DIMENSIONS", centred=True)
    top = view.low[1] - 3 * height
    section = part.thread.most
    s = np.linspace(-0.5, 1.5, 401) * section.pitch
    r = section.radius(s)
    depth = section.crest - section.root
    axis = top - depth - section.root
    space.add_lwpolyline(
        [(float(x), float(axis + y)) for x, y in zip(s, r, strict=True)], dxfattribs={"layer": "THREAD"}
    )
    rows = [(part.thread.marked, spoken.word("least"), spoken.word("most")), *range_rows(part.thread, spoken)]
    lines = [title.place, ", ".join(t for t in (title.part, title.instrument) if t)]
    lines += ["   ".join(cell for cell in row if cell) for row in rows]
    lines += [*notes_of(part, title, spoken), f"1 = 1 mm, {title.day}, flankwise {title.version}"]
    lines = [row for text in lines for row in wrap(text, _NOTE_LETTERS)]
    for number, text in enumerate(lines):
        _text(space, text, (0.0, top - depth - (number + 1) * 1.7 * height), height, "NOTES")
    written = io.StringIO()
    file.write(written)
    return written.getvalue().encode("utf-8", "replace")


def _text(
    space: Any, text: str, place: tuple[float, float], height: float, layer: str, *, centred: bool = False
) -> None:
    from ezdxf.enums import TextEntityAlignment

    align = TextEntityAlignment.BOTTOM_CENTER if centred else TextEntityAlignment.LEFT
    added = space.add_text(plain_text(text), height=height, dxfattribs={"layer": layer})
    added.set_placement(place, align=align)
