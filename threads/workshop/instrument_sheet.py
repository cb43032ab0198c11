"""What follows for the bench from one instrument's screws: sizes with mean and spread, why odd ones are odd, tools."""

from __future__ import annotations

import math
from collections.abc import Hashable, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from threads.identify.instrument import LEAST_SCREWS, InstrumentFound, OddOne, one_thread_each
from threads.identify.screw_evidence import Screw
from threads.identify.stated import CONTRADICTED
from threads.identify.systems import system_of
from threads.identify.thread_share import same_thread, thread_name
from threads.shared.normal import chi_square_tail
from threads.shared.quantity import Quantity
from threads.shared.refusal import Reason
from threads.standards.designation import parse
from threads.standards.limits import Limits, limits_of
from threads.workshop.making import Making, making_of

DIE_SCATTER_MM = 0.005
"""Standard deviation of the pitch diameters that one die cuts (workshop assumption; its own dies tell more)."""
ONE_DIE_FROM = 0.05
"""Where a spread as large would come about in fewer cases, one die does not explain it."""
CLASSES_FROM = 0.01
TOLD_ALONE = 0.9
"""From this probability by the measurements alone on, origin and year that speak against a system contradict them."""
AGAINST = 1 / 6
"""They speak against a system of which less than this share of the usual one of that place and time was to be had."""
PINS_MM = (0.5, 1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0)
"""Gauge pins as sets have them (common practice, no source)."""


@dataclass(frozen=True)
class SizeSheet:
    """The screws of one thread.

    Attributes:
        thread: its name. parts: the screws. limits: the class that fits them best.
        mean, spread: of the pitch diameters, mm; ``spread`` None for one screw.
        one_die: whether one die may have cut them all; None for one screw.
        classes: designations with their probabilities, the screws taken together.
    """

    thread: str
    parts: tuple[Hashable, ...]
    limits: Limits
    mean: Quantity
    spread: Quantity | None
    one_die: bool | None
    classes: tuple[tuple[str, float], ...]

    def to_dict(self) -> dict[str, Any]:
        """The plain form used in JSON."""
        return {
            "thread": self.thread,
            "parts": list(self.parts),
            "pitch_diameter": {
                "mean": self.mean.to_dict(),
                "spread": None if self.spread is None else self.spread.to_dict(),
            },
            "one_die": self.one_die,
            "classes": [{"designation": name, "probability": p} for name, p in self.classes],
        }


@dataclass(frozen=True)
class Tool:
    """Something to have ready: ``kind`` (die, tap, wires, drill, pins), name, for which threads and how many screws.

    ``at_hand``: names of the workshop's own tools that are for this thread.
    """

    kind: str
    name: str
    threads: tuple[str, ...]
    screws: int
    note: Reason | None = None
    at_hand: tuple[str, ...] = ()

    def to_dict(self) -> dict[str, Any]:
        """The plain form used in JSON."""
        note = "" if self.note is None else self.note
        told = {"kind": self.kind, "name": self.name, "for": list(self.threads), "screws": self.screws}
        return {**told, "at_hand": list(self.at_hand), "note": note}


@dataclass(frozen=True)
class InstrumentSheet:
    """Everything that is said of an instrument: what was found, ``odd`` with the reason, sizes, tools, notes."""

    found: InstrumentFound
    screws: tuple[Screw, ...]
    odd: tuple[tuple[OddOne, Reason], ...]
    sizes: tuple[SizeSheet, ...]
    tools: tuple[Tool, ...]
    notes: tuple[Reason, ...]

    def to_dict(self, name: str) -> dict[str, Any]:
        """The JSON form, schema ``flankwise/instrument/1``; reasons are worded by whoever writes it."""
        return {
            "schema": "flankwise/instrument/1",
            "instrument": name,
            "parts": len(self.screws),
            "systems": [
                {
                    "system": one.system,
                    "series": list(one.series),
                    "probability": one.probability,
                    "probability_measurement_only": one.measurement_only,
                }
                for one in self.found.systems
            ],
            "odd_ones_out": [{"part": one.part, "probability": one.probability, "why": why} for one, why in self.odd],
            "sizes": [one.to_dict() for one in self.sizes],
            "tools": [one.to_dict() for one in self.tools],
            "stated": None
            if (said := self.found.stated) is None
            else {"says": said.text, "by": said.by, "weight": said.weight},
            "notes": list(self.notes),
        }


def sheet_of(found: InstrumentFound, screws: Sequence[Screw]) -> InstrumentSheet:
    """Work out sizes, reasons and tools of what ``judge_together`` found for ``screws``, in the same order."""
    sizes = tuple(_size(name, members, found, screws) for name, members in one_thread_each(_kept(found)).items())
    odd = tuple((one, _why(one, found)) for one in found.odd)
    return InstrumentSheet(found, tuple(screws), odd, sizes, _tools(sizes), _notes(found, screws))


def with_own_tools(sheet: InstrumentSheet, own: Sequence[tuple[str, str, str]]) -> InstrumentSheet:
    """The sheet with the dies and taps at hand: (name, "die" or "tap", the thread it cuts) each."""
    limits_by_thread = {one.thread: one.limits for one in sheet.sizes}

    def at_hand(tool: Tool) -> tuple[str, ...]:
        wanted = [limits_by_thread[thread] for thread in tool.threads]
        return tuple(
            name for name, kind, cuts in own if kind == tool.kind and any(_cuts(cuts, limits) for limits in wanted)
        )

    return replace(sheet, tools=tuple(replace(tool, at_hand=at_hand(tool)) for tool in sheet.tools))


def _cuts(cuts: str, limits: Limits) -> bool:
    try:
        return same_thread(limits_of(parse(cuts)), limits)
    except ValueError:
        return cuts.strip() == thread_name(limits)


def supplier_notes(tools: Sequence[Tool]) -> tuple[Reason, ...]:
    """What to ask a dealer for, all sizes together."""
    asked = [tool.note for tool in tools if tool.note is not None]
    old = [one for one in asked if one.key == "ask_supplier.old"]
    other = tuple(dict.fromkeys(one for one in asked if one.key != "ask_supplier.old"))
    if len(old) < 2:
        return (*old, *other)
    series = tuple(dict.fromkeys(str(one.values["series"]) for one in old))
    today = tuple(dict.fromkeys(str(one.values["today"]).rpartition(" ")[2] for one in old))
    by = [float(one.values["looser"]) for one in old]  # type: ignore[arg-type]
    return (Reason("ask_supplier.several", series=series, today=today, least=min(by), most=max(by)), *other)


def _kept(found: InstrumentFound) -> list[Any]:
    """The screws by their order, an odd one without its limits: it is none of the maker's sizes."""
    out = {one.part for one in found.odd}
    return [one if one.part not in out else type(one)(one.part, None, ()) for one in found.placed]


def _size(name: str, members: Sequence[int], found: InstrumentFound, screws: Sequence[Screw]) -> SizeSheet:
    measured = [screws[i].thread.pitch_diameter for i in members]
    values = np.array([one.value for one in measured])
    total = np.array([one.standard_uncertainty for one in measured])
    shared = np.array([_common_u(screws[i]) for i in members])
    own = np.sqrt(np.maximum(np.square(total) - np.square(shared), np.square(total) * 0.01))
    n = len(members)
    side = float(np.mean([one.one_sided for one in measured]))
    u_mean = math.hypot(float(np.sqrt(np.sum(np.square(own)))) / n, float(np.mean(shared)))
    spread, one_die = None, None
    if n > 1:
        sd = float(np.std(values, ddof=1))
        spread = Quantity(sd, sd / math.sqrt(2 * (n - 1)), "mm")
        weight = 1 / (np.square(own) + DIE_SCATTER_MM**2)
        middle = float(np.sum(weight * values) / np.sum(weight))
        one_die = chi_square_tail(float(np.sum(weight * np.square(values - middle))), n - 1) >= ONE_DIE_FROM
    joint: dict[str, float] = {}
    for i in members:
        shares = dict(found.placed[i].classes)
        for designation in joint or shares:
            joint[designation] = joint.get(designation, 0.0) + math.log(max(shares.get(designation, 0.0), 1e-12))
    most = max(joint.values())
    whole = sum(math.exp(value - most) for value in joint.values())
    ranked = sorted(((d, math.exp(value - most) / whole) for d, value in joint.items()), key=lambda pair: -pair[1])
    best = next(
        (one.limits for i in members if (one := found.placed[i]).limits and one.limits.designation == ranked[0][0]),
        found.placed[members[0]].limits,
    )
    assert best is not None
    return SizeSheet(
        thread=name,
        parts=tuple(screws[i].part for i in members),
        limits=best,
        mean=Quantity(float(np.mean(values)), u_mean, "mm", side),
        spread=spread,
        one_die=one_die,
        classes=tuple((d, p) for d, p in ranked if p >= CLASSES_FROM),
    )


def _common_u(screw: Screw) -> float:
    common = screw.common
    if common is None:
        return 0.0
    return math.hypot(common.scale * screw.thread.pitch_diameter.value, common.offset, common.light)


def _why(one: OddOne, found: InstrumentFound) -> Reason:
    if one.other_bench:
        return Reason("odd_one.other_bench")
    if one.likely is None:
        return Reason("odd_one.no_thread")
    system, own = system_of(one.likely.series), found.systems[0].system
    if system != own:
        return Reason("odd_one.other_system", designation=one.likely.designation, system=system)
    if one.condition in ("worn", "plated"):
        return Reason(f"odd_one.{one.condition}", designation=one.likely.designation)
    return Reason("odd_one.unusual", designation=one.likely.designation)


def _tools(sizes: Sequence[SizeSheet]) -> tuple[Tool, ...]:
    made: list[tuple[SizeSheet, Making]] = [(one, making_of(one.limits)) for one in sizes]
    tools: dict[tuple[str, str], Tool] = {}

    def add(kind: str, name: str | None, size: SizeSheet, note: Reason | None = None) -> None:
        if name is None:
            return
        known = tools.get((kind, name))
        threads = (*(known.threads if known else ()), size.thread)
        tools[kind, name] = Tool(kind, name, threads, len(size.parts) + (known.screws if known else 0), note)

    for size, making in made:
        add("die", making.die, size, making.supplier)
        add("tap", making.tap if making.tap_class is None else f"{making.tap} {making.tap_class}", size)
        add("wires", f"{making.wire:.3f} mm", size)
        add("drill", None if making.drill is None else making.drill.drill.name, size)
    if sizes:
        screws = sum(len(one.parts) for one in sizes)
        tools["pins", ""] = Tool("pins", _pins(sizes), tuple(one.thread for one in sizes), screws)
    order = ("die", "tap", "wires", "drill", "pins")
    return tuple(sorted(tools.values(), key=lambda tool: order.index(tool.kind)))


def _pins(sizes: Sequence[SizeSheet]) -> str:
    """Two pins of a usual set that enclose the pitch diameters: scale and edge offset are then known between them."""
    low, high = min(one.mean.value for one in sizes), max(one.mean.value for one in sizes)
    below = max((pin for pin in PINS_MM if pin <= low), default=PINS_MM[0])
    above = min((pin for pin in PINS_MM if pin >= high and pin > below), default=PINS_MM[-1])
    return f"{below:.1f} mm and {above:.1f} mm"


def _notes(found: InstrumentFound, screws: Sequence[Screw]) -> tuple[Reason, ...]:
    notes = []
    if found.few:
        notes.append(Reason("instrument_note.few", count=len(screws), least=LEAST_SCREWS))
    if found.stated is not None:
        system = system_of(found.stated.series)
        share = next((one.probability for one in found.systems if one.system == system), 0.0)
        if share < CONTRADICTED:
            told = {"text": found.stated.text, "by": found.stated.by, "probability": share}
            notes.append(Reason("instrument_note.stated_contradicted", **told))  # type: ignore[arg-type]
    most = max(one.beforehand for one in found.systems)
    alone = max(found.systems, key=lambda one: one.measurement_only)
    if found.dated and alone.measurement_only >= TOLD_ALONE and alone.beforehand < AGAINST * most:
        notes.append(Reason("instrument_note.origin", system=alone.system, share=alone.beforehand))
    benches = {one.common.bench for one in screws if one.common is not None}
    if len(benches) > 1:
        notes.append(Reason("instrument_note.benches", count=len(benches)))
    if any(one.common is None for one in screws):
        notes.append(Reason("instrument_note.bench_unknown"))
    used = {system_of(one.likely.series) for one, _ in ((o, None) for o in found.odd) if one.likely is not None}
    if len(found.odd) > 1 and len(used) == 1:
        notes.append(Reason("instrument_note.mixed", system=next(iter(used)), count=len(found.odd)))
    return tuple(notes)
