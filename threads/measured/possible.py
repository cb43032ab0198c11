"""What the numbers of a measured screw can be at all: far outside of every table, and inside of what can be computed.

A watch screw has a pitch of 0.08 mm and a diameter of 0.3 mm (NIHS 06-10), the largest tabled ones 8 mm and 600 mm
(ISO 261 up to 300 mm); a factor of ten on both sides is common practice, no source.
"""

from __future__ import annotations

from threads.measured.thread import MeasuredThread
from threads.shared.quantity import Quantity
from threads.shared.refusal import Reason

_LENGTH, _ANGLE = (-1.0, 6000.0, "mm"), (-180.0, 180.0, "deg")
_WITHIN: dict[str, tuple[float, float, str]] = {
    "pitch": (0.008, 80.0, "mm"),
    "lead": (0.008, 8000.0, "mm"),
    "threads_per_inch": (0.003, 3200.0, "1/in"),
    "major_diameter": (0.03, 6000.0, "mm"),
    "pitch_diameter": (0.03, 6000.0, "mm"),
    "minor_diameter": (0.001, 6000.0, "mm"),
    "virtual_pitch_diameter": (0.001, 6000.0, "mm"),
    "included_angle": (0.0, 180.0, "deg"),
    "flank_angle_left": (-45.0, 80.0, "deg"),
    "flank_angle_right": (-45.0, 80.0, "deg"),
    "taper": (-1000.0, 1000.0, "um/mm"),
    "axis_tilt": _ANGLE,
    "lead_angle": _ANGLE,
    "crest_width": _LENGTH,
    "root_width": _LENGTH,
    "crest_radius": _LENGTH,
    "root_radius": _LENGTH,
}
"""Least and greatest value, and unit."""

HANDS = ("right", "left", "not determined")
MOST_STARTS = 100
MOST_RIDGES = 10_000
"""More do not fit into a picture of 200 million pixels."""


def impossible(thread: MeasuredThread) -> Reason | None:
    """Why ``thread`` can be that of no screw and no hole; None where it can."""
    for name, (least, most, unit) in _WITHIN.items():
        quantity: Quantity | None = getattr(thread, name)
        if quantity is None:
            continue
        if quantity.unit != unit:
            return Reason("document.unit", quantity=name.replace("_", " "), unit=quantity.unit[:20], wanted=unit)
        if not least <= quantity.value <= most or not quantity.u95 <= most:
            return Reason("document.impossible", quantity=name.replace("_", " "), low=least, high=most, unit=unit)
    counts = {"starts": (thread.starts, MOST_STARTS), "threads in view": (thread.threads_in_view, MOST_RIDGES)}
    counts["ridges"] = (max(len(thread.per_thread), 1), MOST_RIDGES)
    for name, (count, limit) in counts.items():
        if not 1 <= count <= limit:
            return Reason("document.impossible", quantity=name, low=1, high=limit, unit="")
    return None if thread.hand in HANDS else Reason("document.entry", why="a hand that no thread has")
