"""What a part on file has to be when it is made again: its sections by their sizes, its thread by class or hole.

A section is drawn straight where it is a cylinder, and by the measured outline where it is a dome, a cone or unclear,
or where the outline leaves the cylinder, as that of a countersunk head does.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from records.from_memory import marked
from threads.hole.found_hole import ToMake
from threads.measured.axial_profile import AxialProfile, profile_of, zone_section
from threads.measured.measured_document import quantity_from_dict
from threads.measured.thread import MeasuredThread
from threads.shared.quantity import Quantity
from threads.shared.refusal import Reason
from threads.standards.limits import Limits
from threads.workshop.making import making_of
from threads.workshop.making_told import making_told

Array = npt.NDArray[np.float64]

CLASS, HOLE, OWN = "class", "hole", "own"
"""Where the tolerances of the thread come from: its class, the hole it goes into, or (of no class) its own sizes."""

_OFF, _OFF_SHARE = 0.03, 0.02
"""By so many mm, or this share of its radius, the outline of a cylinder may leave it; the ends are rounded by blur."""
_SLOPE = 0.05
_EXACT = 0.006
"""So near the measured outline the lines drawn of it lie, mm."""

GENERAL = ((6.0, 0.1), (30.0, 0.2), (120.0, 0.3), (400.0, 0.5))
"""Up to which length (mm) which deviation either way is allowed where none is given: ISO 2768-1:1989, table 1, class m
(from memory, unverified)."""


@dataclass(frozen=True)
class Range:
    """Least and greatest size of one quantity of the thread, mm; None where the standard sets none."""

    words: str
    low: float | None
    high: float | None


@dataclass(frozen=True)
class ThreadToMake:
    """The thread. ``name``: its class, or diameter and pitch; ``by``: where ``ranges`` come from (``CLASS`` ...).

    ``most``, ``least``: sections of most and least material, the same for a thread of no class. ``wires``: what it
    measures over three wires, a sentence.
    """

    name: str
    by: str
    pitch: float
    included_angle: float
    hand: str
    starts: int
    ranges: tuple[Range, ...]
    most: AxialProfile
    least: AxialProfile
    unverified: bool = False
    wires: Reason | None = None

    @property
    def marked(self) -> str:
        """Its name, with the mark where its limits are from memory."""
        return marked(self.name, from_memory=self.unverified)


@dataclass(frozen=True, eq=False)
class Piece:
    """A section, mm from the left end of what is in view.

    ``edge``: (n, 2) along and radius, the upper half of its outline; ``traced``: it is the measured one. ``diameter``,
    ``length``: measured, None where the picture does not give them. ``chamfer``: axial length and angle from the axis,
    at ``outer`` ("left", "right").
    """

    kind: str
    form: str
    start: float
    end: float
    edge: Array
    diameter: Quantity | None
    length: Quantity | None
    cone_angle: Quantity | None = None
    chamfer: tuple[float, float] | None = None
    outer: str = ""
    slot: tuple[float, float] | None = None
    measured: bool = False
    traced: bool = False

    @property
    def radius(self) -> float:
        return float(self.edge[:, 1].max())

    def middle_of(self, *, sloping: bool) -> tuple[float, float]:
        """Along and radius of the middle of its longest straight piece that slopes, or does not; of its own middle."""
        ends = list(zip(self.edge[:-1], self.edge[1:], strict=True))
        pieces = [
            (float(b[0] - a[0]), (a + b) / 2)
            for a, b in ends
            if (abs(b[1] - a[1]) > _SLOPE * max(b[0] - a[0], 1e-9)) == sloping
        ]
        if not pieces:
            x = (self.start + self.end) / 2
            return x, float(np.interp(x, self.edge[:, 0], self.edge[:, 1]))
        place = max(pieces, key=lambda one: one[0])[1]
        return float(place[0]), float(place[1])


@dataclass(frozen=True, eq=False)
class PartToMake:
    """The part. ``in_view``: whether its left and its right end are."""

    pieces: tuple[Piece, ...]
    in_view: tuple[bool, bool]
    thread: ThreadToMake

    @property
    def length(self) -> float:
        return self.pieces[-1].end

    @property
    def radius(self) -> float:
        return max(one.radius for one in self.pieces)

    @property
    def whole(self) -> bool:
        return all(self.in_view)


def general_tolerance(length: float) -> float | None:
    """The deviation that is allowed where none is given, mm; None above the table."""
    return next((allowed for most, allowed in GENERAL if length <= most), None)


def thread_to_make(thread: MeasuredThread, limits: Limits | None, hole: ToMake | None = None) -> ThreadToMake:
    """``limits`` of the class that it most probably has, None for a thread of none; ``hole``: what fits its hole."""
    zone = None if limits is None else zone_section(limits)
    named = (("major diameter", "major"), ("pitch diameter", "pitch_diameter"), ("minor diameter", "minor"))
    if limits is not None and zone is not None:
        bands = [(words, getattr(limits, name)) for words, name in named]
        ranges = [Range(words, band.low, band.high) for words, band in bands]
        name, by, angle = limits.designation, CLASS, zone.most.flank_left + zone.most.flank_right
        pitch, most, least = limits.pitch, zone.most, zone.least
    else:
        sizes = [(words, getattr(thread, words.replace(" ", "_"))) for words, _ in named]
        ranges = [Range(words, size.value - size.u95, size.value + size.u95) for words, size in sizes]
        most = least = profile_of(thread)
        name = f"⌀{thread.major_diameter.value:.2f} × {thread.pitch.value:.3f}"
        by, angle, pitch = OWN, thread.included_angle.value, thread.pitch.value
    wires = None
    if by == CLASS and limits is not None and hole is None:
        wires = next((told for told in making_told(making_of(limits)) if told.key == "making.wires"), None)
    if hole is not None:
        by = HOLE
        ranges[1] = Range("virtual pitch diameter", hole.low, hole.high)
    return ThreadToMake(
        name, by, pitch, angle, thread.hand, thread.starts, tuple(ranges), most, least,
        unverified=limits is not None and limits.unverified, wires=wires,
    )  # fmt: skip


def part_to_make(document: dict[str, Any], thread: ThreadToMake, outline: Array | None) -> PartToMake:
    """The part of a measurement's document. ``outline``: as ``records.drawing.Drawing`` has it, None for none."""
    part = document.get("part", {})
    rows = part.get("sections") or []
    ends = part.get("ends") or [{}, {}]
    if not rows:  # written before sections were
        long = document["thread"]["threads_in_view"] * thread.pitch
        rows = [{"kind": "thread", "form": "thread", "from": 0.0, "to": long, "cut_off": True, "measured": True}]
    in_view = tuple(bool(end.get("in_view", end.get("kind") not in (None, "cut off"))) for end in (ends[0], ends[-1]))
    left, right = in_view[0], in_view[-1]
    pieces = []
    for number, row in enumerate(rows):
        outer = "left" if number == 0 and left and number != len(rows) - 1 else ""
        if number == len(rows) - 1 and not outer:
            outer = "right" if right else "left" if left and len(rows) == 1 else ""
        pieces.append(_piece(row, thread, outline, outer))
    return PartToMake(tuple(pieces), (left, right), thread)


def _piece(row: dict[str, Any], thread: ThreadToMake, outline: Array | None, outer: str) -> Piece:
    start, end = float(row["from"]), float(row["to"])
    diameter, slot = _quantity(row, "diameter"), (_quantity(row, "slot_width"), _quantity(row, "slot_depth"))
    chamfer = _chamfer(row) if outer else None
    if row["kind"] == "thread":
        radius = thread.most.crest if row.get("measured") or diameter is None else diameter.value / 2
    else:
        seen = _seen(outline, start, end)
        radius = diameter.value / 2 if diameter is not None else float(seen[:, 1].max()) if len(seen) else 0.0
        if len(seen) > 1 and (row.get("form") != "cylinder" or _leaves(seen, radius)):
            return Piece(
                row["kind"], row.get("form", ""), start, end, _simple(seen), diameter, _quantity(row, "length"),
                _quantity(row, "cone_angle"), outer=outer, slot=_both(slot), traced=True,
            )  # fmt: skip
    edge = [(start, radius), (end, radius)]
    if chamfer is not None:
        along, angle = chamfer
        low = max(radius - along * math.tan(math.radians(angle)), 0.05 * radius)
        if outer == "left":
            edge = [(start, low), (start + along, radius), (end, radius)]
        else:
            edge = [(start, radius), (end - along, radius), (end, low)]
    return Piece(
        row["kind"], row.get("form", ""), start, end, np.array(edge), diameter, _quantity(row, "length"),
        _quantity(row, "cone_angle"), chamfer, outer, _both(slot), bool(row.get("measured")),
    )  # fmt: skip


def _chamfer(row: dict[str, Any]) -> tuple[float, float] | None:
    """Axial length and angle of the chamfer at the outer end."""
    return _both((_quantity(row, "chamfer_length"), _quantity(row, "chamfer_angle")))


def _both(two: tuple[Quantity | None, Quantity | None]) -> tuple[float, float] | None:
    first, second = two
    return None if first is None or second is None else (first.value, second.value)


def _quantity(row: dict[str, Any], name: str) -> Quantity | None:
    try:
        return None if row.get(name) is None else quantity_from_dict(row[name])
    except (KeyError, TypeError, ValueError):
        return None


def _seen(outline: Array | None, start: float, end: float) -> Array:
    """Along and mean radius of the measured outline between two places, thinned."""
    if outline is None or not outline.size:
        return np.empty((0, 2))
    inside = outline[(outline[:, 0] >= start) & (outline[:, 0] <= end)]
    radius = np.abs(inside[:, 1] - inside[:, 2]) / 2
    found = np.stack([inside[:, 0], radius], axis=1)[np.isfinite(radius)]
    if len(found):
        found[0, 0], found[-1, 0] = start, end
    return np.asarray(found)


def _leaves(seen: Array, radius: float) -> bool:
    """Whether the outline leaves the cylinder of this radius, beyond what blur rounds at its ends."""
    inner = seen[len(seen) // 12 : len(seen) - len(seen) // 12]
    return bool(len(inner)) and float(np.abs(inner[:, 1] - radius).max()) > max(_OFF, _OFF_SHARE * radius)


def _simple(points: Array) -> Array:
    """The points without which the line would leave them by more than ``_EXACT``."""
    if len(points) < 3:
        return points
    first, last = points[0], points[-1]
    along = (last - first) / np.hypot(*(last - first))
    off = np.abs((points - first) @ np.array([-along[1], along[0]]))
    at = int(np.argmax(off))
    if off[at] <= _EXACT:
        return np.array([first, last])
    return np.vstack([_simple(points[: at + 1])[:-1], _simple(points[at:])])
