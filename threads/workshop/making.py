"""From what a screw is to how it is made again: die and tap by name, blank, wires, drill, and what to ask a dealer for.

For a thread of the tables the figures are those of the class that it most probably has; for one of no series they are
its own dimensions, with the tools to be had that come nearest. The cautions are those of the trade (common practice, no
source); ``CAUTIONS`` holds them for every screw, ``Making.notes`` those of this one.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from threads.judge.wires import WireError, best_wire, over_wires, wire_sizes
from threads.measured.thread import MeasuredThread
from threads.shared.refusal import Reason
from threads.standards.designation import UnknownDesignationError, parse
from threads.standards.limits import Limits, limits_of
from threads.workshop.closer_die import nearby
from threads.workshop.tap_drill import DrillChoice, tap_drill
from threads.workshop.tools import tools_of

NAMED_NEAREST = 3
"""So many of the nearest tools are named."""

Span = tuple[float | None, float | None]

CAUTIONS = (
    Reason("making_caution.original"),
    Reason("making_caution.taper"),
    Reason("making_caution.cool"),
    Reason("making_caution.worn_hole"),
)


@dataclass(frozen=True)
class NearestTool:
    """A die to be had that comes near: ``name``, and how the middle of its usual class differs from the screw, mm."""

    name: str
    difference: float
    errors: float

    def to_dict(self) -> dict[str, Any]:
        """The plain form used in JSON."""
        off = {"pitch_diameter_difference": self.difference, "errors_of_pitch_and_angle": self.errors}
        return {"die": self.name, **off}


@dataclass(frozen=True)
class Making:
    """What to make the screw with. Lengths are mm.

    Attributes:
        designation: the thread made; None for one of no series, which is made to its own dimensions.
        die: what to ask for; tap: the same, None where no nut of this series is known. tap_class: the limit of the tap.
        sold: whether such a die is sold by this name.
        blank: least and greatest diameter of the blank, where a die cuts and does not press.
        wire: the best wire; over_wires: least and greatest measurement over three of them.
        drill: for the hole; None where none is known.
        supplier: what to ask a dealer for and why, where the name of today means another allowance.
        nearest: tools that come near one of no series.
        notes: cautions that this screw calls for.
    """

    designation: str | None
    die: str
    tap: str | None
    tap_class: str | None
    sold: bool
    blank: Span
    wire: float
    over_wires: Span
    drill: DrillChoice | None
    supplier: Reason | None
    nearest: tuple[NearestTool, ...]
    notes: tuple[Reason, ...]

    def to_dict(self) -> dict[str, Any]:
        """The plain form used in JSON."""
        return {
            "designation": self.designation,
            "die": self.die,
            "tap": self.tap,
            "tap_class": self.tap_class,
            "sold_by_this_name": self.sold,
            "blank_diameter": {"min": self.blank[0], "max": self.blank[1]},
            "over_wires": {"wire": self.wire, "min": self.over_wires[0], "max": self.over_wires[1]},
            "tap_drill": None if self.drill is None else self.drill.to_dict(),
            "ask_supplier": None if self.supplier is None else self.supplier.to_dict(),
            "nearest": [one.to_dict() for one in self.nearest],
            "cautions": [one.to_dict() for one in (*self.notes, *CAUTIONS)],
        }


def making_of(limits: Limits) -> Making:
    """How to make a screw of these limits. Raises ValueError for those of a nut."""
    if limits.internal:
        raise ValueError(f"{limits.designation} is a nut: a screw is made here")
    tools = tools_of(limits)
    wires = wire_sizes(limits)
    hole = _hole_of(limits)
    tap = None if hole is None else tools_of(hole)
    drill = None if hole is None else tap_drill(hole)
    return Making(
        designation=limits.designation,
        die=tools.ask_for,
        tap=None if tap is None else tap.ask_for,
        tap_class=None if tap is None else tap.tap_class,
        sold=tools.gives is not None,
        blank=(limits.major.low, limits.major.high),
        wire=wires.wire,
        over_wires=(wires.least, wires.greatest),
        drill=None if drill is None else next((one for one in drill.recommended if one.within), None),
        supplier=_supplier(limits, tools.gives, tools.looser),
        nearest=(),
        notes=_notes(limits, hole, None if tap is None else tap.looser, None if tap is None else tap.gives),
    )


def for_hand(making: Making, hand: str) -> Making:
    """The same for a screw of that hand: die and tap of a left-hand one are asked for as such."""
    if hand != "left":
        return making
    return replace(making, die=f"{making.die} LH", tap=None if making.tap is None else f"{making.tap} LH")


def making_of_its_own(thread: MeasuredThread) -> Making:
    """How to make a screw like ``thread``, which no series has."""
    half = (thread.flank_angle_left.value + thread.flank_angle_right.value) / 2
    pitch, major, pd = thread.pitch.value, thread.major_diameter, thread.pitch_diameter
    wire = best_wire(pitch, half)
    try:
        over: Span = tuple(over_wires(pd.value + sign * pd.u95, wire, pitch, half) for sign in (-1, 1))  # type: ignore[assignment]
    except WireError:
        over = (None, None)
    return Making(
        designation=None,
        die=f"{major.value:.3f} mm, {_pitch_words(pitch)}, {2 * half:.1f}°",
        tap=None,
        tap_class=None,
        sold=False,
        blank=(major.value - major.u95, major.value + major.u95),
        wire=wire,
        over_wires=over,
        drill=None,
        supplier=None,
        nearest=_nearest(thread),
        notes=(),
    )


def _hole_of(limits: Limits) -> Limits | None:
    size = limits.designation.removesuffix(limits.thread_class).rstrip(" -")
    try:
        return limits_of(parse(size, internal=True))
    except (UnknownDesignationError, ValueError):
        return None


def _supplier(limits: Limits, gives: str | None, looser: float | None) -> Reason | None:
    if gives is None:
        return Reason("ask_supplier.by_dimensions", series=limits.series)
    if not looser or looser <= 0:
        return None
    return Reason("ask_supplier.old", series=limits.series, today=gives, looser=looser)


def _notes(limits: Limits, hole: Limits | None, wider: float | None, tap: str | None) -> tuple[Reason, ...]:
    notes = []
    if hole is not None and tap is not None and wider is not None and wider > 0:
        notes.append(Reason("making_caution.tap", tap=tap, wider=wider, hole=hole.designation))
    if limits.unverified:
        notes.append(Reason("making_caution.unverified", designation=limits.designation))
    return tuple(notes)


def _nearest(thread: MeasuredThread) -> tuple[NearestTool, ...]:
    found: dict[str, NearestTool] = {}
    for one in nearby(thread):
        tools = tools_of(one.limits)
        if tools.gives is not None and tools.ask_for not in found:
            found[tools.ask_for] = NearestTool(tools.ask_for, one.pitch_diameter, one.errors)
    return tuple(found.values())[:NAMED_NEAREST]


def _pitch_words(pitch: float) -> str:
    per_inch = 25.4 / pitch
    whole = round(per_inch)
    near = abs(per_inch / whole - 1) < abs(pitch / round(pitch, 2) - 1)
    return f"{whole}/in" if near else f"P {pitch:.3f} mm"
