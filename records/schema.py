"""What other modules have to know of the tables of the parts register.

The tables are made by ``records/migrations``. Every row that another workshop may receive has a ``uid`` of its own, so
that registers can be joined without clashes; ``id`` is good in one register only. Rows of measurements,
identifications, checks, pictures and calibrations are never changed (triggers see to it): a new result is a new row.
What can be set right (``CORRECTABLE``) keeps the value before, who and when in ``corrections``. Times are UTC, ISO
8601, to the millisecond. Lengths are mm, angles degrees.
"""

from __future__ import annotations

QUANTITIES = (
    "pitch", "major_diameter", "pitch_diameter", "minor_diameter", "virtual_pitch_diameter",
    "flank_angle_left", "flank_angle_right", "included_angle",
)  # fmt: skip
"""Quantities of a measurement with columns of their own: ``NAME`` and ``NAME_u95``."""

MOST_NAME, MOST_TEXT = 1000, 100_000
_LONG = ("text", "remark", "about", "owner_note", "why", "before", "after")
_SHORT = {"made": 100, "tried": 100, "thread": 100, "cuts": 100, "version": 100}
_UNBOUND = ("document",)
"""Documents are checked as such."""


def most_characters(column: str) -> int | None:
    """How long a text in ``column`` may be, here and in what comes from elsewhere (``parts_1.schema.json``)."""
    if column in _UNBOUND:
        return None
    return MOST_TEXT if column in _LONG else _SHORT.get(column, MOST_NAME)


CORRECTABLE: dict[str, tuple[str, ...]] = {
    "instruments": ("name", "maker", "model", "serial", "made_from", "made_to", "country", "owner_note"),
    "jobs": ("name", "instrument_id", "about", "owner"),
    "positions": ("name", "place"),
    "parts": ("name", "instrument_id", "position_id", "job_id", "withdrawn"),
    "measurements": ("withdrawn",),
    "dies": ("name", "cuts", "remark", "withdrawn"),
    "replacements": ("made_part_id", "cut_by_id", "made", "die", "setting", "stock", "remark", "withdrawn"),
    "notes": ("text", "withdrawn"),
    "holes": ("engagement", "depth"),
    "trials": ("remark", "withdrawn"),
    "map_marks": ("across", "down", "withdrawn"),
}
"""What ``records.correction`` may change, each change noted; everything else stays as written."""
