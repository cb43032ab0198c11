"""The sections of a part, and the parts of a picture, as a person reads them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from cli.tables import Table, plain_table
from threads.shared.formatting import format_length, format_quantity
from threads.shared.quantity_words import OF_SECTIONS

if TYPE_CHECKING:
    from vision.part.part_outline import PartOutline
    from vision.several.all_parts import SeenPart
    from vision.several.stitch import Stitched

_OF_PARTS = ("pitch", "threads_per_inch", "major_diameter", "pitch_diameter")
_SHORT_LENGTH = 2


def sections_table(part: PartOutline, *, inches: bool) -> Table | None:
    """The sections from left to right; None where the part is one plain length of thread that says nothing more."""
    if len(part.sections) < _SHORT_LENGTH and not any(s.chamfer_angle or s.length for s in part.sections):
        return None
    table = plain_table("section", "from", "length", "diameter", "more", right=("from",), whole=("section",))
    for section in part.sections:
        length = "cut off" if section.cut_off else format_quantity(section.length, inches=inches)
        diameter = "" if section.diameter is None else format_quantity(section.diameter, inches=inches)
        more = []
        for name, words in OF_SECTIONS:
            quantity = getattr(section, name)
            # the taper of the measured thread stands in its own table; one that is not there need not be told
            told = quantity is not None and (name != "taper" or _tells(section.kind, quantity.value, quantity.u95))
            if told and not (name == "straightness" and quantity.value < quantity.u95):
                more.append(f"{words} {format_quantity(quantity, inches=inches)}")
        if section.kind == "thread" and not section.measured and section.pitch is not None:
            how = "" if section.fitted else ", not fitted"
            more.insert(0, f"pitch {format_quantity(section.pitch, inches=inches)}{how}")
        table.add_row(
            section.kind, format_length(round(section.start, 3), inches=inches), length, diameter, "; ".join(more)
        )
    if part.overall is not None:
        table.add_row("whole part", "", format_quantity(part.overall, inches=inches), "", "")
    return table


def _tells(kind: str, value: float, u95: float) -> bool:
    return kind != "thread" and abs(value) > u95


def joints_table(stitched: Stitched, *, inches: bool) -> Table:
    """How the pictures of a long part were joined."""
    table = plain_table("joint", "part moved by", "overlap", "found by", "apart", whole=("joint", "part moved by"))
    for joint in stitched.joints:
        found_by = f"{joint.ridges} ridges" if joint.ridges else "faces and edges"
        overlap = format_length(round(joint.overlap, 2), inches=inches)
        moved = format_quantity(joint.moved, inches=inches)
        table.add_row(f"{joint.left} and {joint.right}", moved, overlap, found_by, f"{joint.misfit_px:.2f} px (RMS)")
    return table


def parts_table(parts: Sequence[SeenPart], *, inches: bool) -> Table:
    """A row for each part in view."""
    from vision.result.measurement import Measurement

    heads = ("part", "what", *(name.replace("_", " ") for name in _OF_PARTS))
    table = plain_table(*heads, right=("part",), whole=heads)
    for part in parts:
        if isinstance(part.found, Measurement):
            thread = part.found.thread
            cells = [format_quantity(getattr(thread, name), inches=inches) for name in _OF_PARTS]
            table.add_row(str(part.number), f"thread, {thread.threads_in_view} in view", *cells)
        elif isinstance(part.found, tuple):
            table.add_row(str(part.number), f"refused: {part.found[0].code.replace('_', ' ')}")
        else:
            cells = ["", "", format_quantity(part.found.diameter, inches=inches), ""]
            table.add_row(str(part.number), "plain pin", *cells)
    return table
