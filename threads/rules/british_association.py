"""Limits of size of British Association threads (BA), close and normal bolts and nuts, by BS 93.

Basic sizes are those of the table, which rounds them; tolerances follow the formulas of BS 93:2008, Annex B, to 1 um.
"""

from __future__ import annotations

from functools import cache

from threads.rules.rounding import round_to
from threads.rules.table import rows
from threads.rules.zone import Edge, Zone

CLASSES = ("close", "normal")
INTERNAL_CLASSES = ("nut",)

SOURCE = "tolerances by the formulas of BS 93:2008, Annex B"

_NORMAL_ALLOWANCE = 0.025  # mm, off all three diameters of a normal bolt of sizes 0 to 10


@cache
def _sizes() -> dict[str, dict[str, str]]:
    return {row["size"]: row for row in rows("british_association.csv")}


def zone(size: str, thread_class: str) -> Zone:
    """Limits of BA bolt or nut number ``size``, mm. ``thread_class``: ``close``, ``normal`` (bolts) or ``nut``.

    With the pitch P, a close bolt may be below basic by 0.15 P (major), 0.08 P + 0.02 (effective, that is pitch
    diameter) and 0.16 P + 0.04 (minor); a normal bolt by 0.20 P (sizes 11 to 16: 0.25 P), 0.10 P + 0.025 and
    0.20 P + 0.05, all lowered by 0.025 for sizes 0 to 10. A nut may be above basic by 0.12 P + 0.03 (effective) and
    0.375 P (minor); its greatest major diameter is not limited.
    Raises KeyError for an unknown size.
    """
    row = _sizes()[size]
    pitch, major = float(row["pitch_mm"]), float(row["major_mm"])
    effective, minor = float(row["pitch_diameter_mm"]), float(row["minor_mm"])
    small = int(size) > 10
    allowance = _NORMAL_ALLOWANCE if thread_class == "normal" and not small else 0.0

    def below(basic: float, tolerance: float) -> Edge:
        return round_to(basic - allowance - tolerance, 3), round_to(basic - allowance, 3)

    def above(basic: float, tolerance: float) -> Edge:
        return basic, round_to(basic + tolerance, 3)

    if thread_class == "nut":
        edges: tuple[Edge, Edge, Edge] = (
            (major, None),
            above(effective, 0.12 * pitch + 0.03),
            above(minor, 0.375 * pitch),
        )
    elif thread_class == "close":
        edges = (
            below(major, 0.15 * pitch),
            below(effective, 0.08 * pitch + 0.02),
            below(minor, 0.16 * pitch + 0.04),
        )
    else:
        edges = (
            below(major, (0.25 if small else 0.20) * pitch),
            below(effective, 0.10 * pitch + 0.025),
            below(minor, 0.20 * pitch + 0.05),
        )
    return Zone(
        unit="mm",
        basic_major=major,
        basic_pitch_diameter=effective,
        basic_minor=minor,
        allowance=allowance,
        major=edges[0],
        pitch_diameter=edges[1],
        minor=edges[2],
        source=SOURCE,
    )
