"""The tap or die for a thread, and what it cuts.

Tools are sold by diameter and pitch, not by class: what a thread comes out as depends on the tap's own limits, on how a
die is set, and on measuring the first piece. Threads that have gone out of use often live on under another name (4-40
NC is 4-40 UNC, SI 3x0.5 is M3x0.5): same diameter, pitch and flank angle. But the limits differ, and a die for today's
class cuts today's allowance: the figures here say by how much the screw comes out thinner than the old one may be.

Today's threads are those in use, and those of ``STILL_MADE``, for which specialists keep tools.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Any

from threads.rules.forms import FORMS, addendum
from threads.rules.series_tables import MM_PER_INCH, SAME_DIAMETER, SAME_PITCH, Entry
from threads.rules.table import rows
from threads.standards.designation import designation_of, usual_class
from threads.standards.limits import Limits, limits_of
from threads.standards.series import entries

STILL_MADE = frozenset({"BA", "BSW", "BSF", "BSB", "BSC", "ME"})
"""Out of use in new work, but their taps and dies are still sold (common practice, no source)."""

ISO_TAPS = {
    "ISO 1 (4H)": ("4H", "5H"),
    "ISO 2 (6H)": ("4G", "5G", "6H"),
    "ISO 3 (6G)": ("6G", "7H", "8H"),
}
"""Tap class by class of the nut: EN 22857, as a tap maker's catalogue, 2021, p. 645, gives it."""

H_STEP = 0.0005
"""Ground taps up to 1 in: limit Hn lies (n - 1) to n steps, in inches, above the basic pitch diameter (a tap maker's
catalogue, 2017)."""

SAME_ADDENDUM = 0.03
"""Of the pitch: where crests stand more differently above the pitch line (a sharp V and UN), one die cuts not both."""

_NOT_TODAY = (
    "No series of the tables that is in use today has this diameter, pitch and flank angle: look for the {} by these "
    "dimensions, or have it made."
)
_WORTH_SAYING = 0.002  # mm: the last place of an old table


@dataclass(frozen=True)
class Tools:
    """The tool for one thread.

    Attributes:
        kind: ``tap`` for a nut, ``die`` for a screw.
        ask_for: diameter, pitch and series to ask for, or the thread's own dimensions where no series has it today.
        gives: designation of what such a tool is made for; None where there is no tool to be had by name.
        looser: by how much the greatest pitch diameter of ``gives`` lies below that of this screw (for a nut: above),
            mm; negative if it is tighter; None where both are the same thread.
        tap_class: the limit or class of the tap (``H3``, ``ISO 2 (6H)``); None for a die and where none is known.
        notes: what to know besides, one sentence each.
        source: where the limits of taps come from, and the word for common practice.
    """

    kind: str
    ask_for: str
    gives: str | None
    looser: float | None
    tap_class: str | None
    notes: tuple[str, ...]
    source: str

    def to_dict(self) -> dict[str, Any]:
        """The plain form used in JSON."""
        return {
            "kind": self.kind,
            "ask_for": self.ask_for,
            "gives": self.gives,
            "looser_by": self.looser,
            "tap_class": self.tap_class,
            "notes": list(self.notes),
            "source": self.source,
        }


def tools_of(limits: Limits) -> Tools:
    """The die for a screw, the tap for a nut."""
    kind = "tap" if limits.internal else "die"
    entry = _entry_of(limits)
    today = _today(entry)
    if today is None:
        return Tools(
            kind=kind,
            ask_for=_own_dimensions(limits),
            gives=None,
            looser=None,
            tap_class=None,
            notes=(_NOT_TODAY.format(kind),),
            source="common practice, no source",
        )
    thread_class = _class_for(limits, entry, today)
    made = limits_of(designation_of(today, thread_class, internal=limits.internal))
    notes, difference = [], None
    if today is not entry:
        notes.append(_same_thread(entry, today))
        difference = _difference(limits, made)
        notes += _difference_notes(limits, made, difference)
    tap_class, tap_source, tap_notes = _tap_class(limits, made, today)
    if kind == "die":
        notes.append("A die is set, not bought, to size: cut, measure over wires, close or open it.")
    return Tools(
        kind=kind,
        ask_for=_nominal(today),
        gives=made.designation,
        looser=difference,
        tap_class=tap_class,
        notes=(*notes, *tap_notes),
        source="; ".join(dict.fromkeys(part for part in (tap_source, "common practice, no source") if part)),
    )


def _entry_of(limits: Limits) -> Entry:
    return next(entry for entry in entries(limits.series) if entry.size == limits.size)


@cache
def _today(entry: Entry) -> Entry | None:
    """The size under whose name tools are sold: itself, or one of a series in use with the same thread."""
    if not entry.own and (entry.last_year is None or entry.series in STILL_MADE):
        return entry
    half = FORMS[entry.form].flank_angle_deg
    same = [
        other
        for other in entries()
        if (other.last_year is None or other.series in STILL_MADE)
        and not other.own
        and other.series != entry.series
        and abs(other.major_mm - entry.major_mm) <= SAME_DIAMETER
        and abs(other.pitch_mm / entry.pitch_mm - 1) <= SAME_PITCH
        and abs(FORMS[other.form].flank_angle_deg - half) < 0.01
        and abs(addendum(FORMS[other.form]) - addendum(FORMS[entry.form])) < SAME_ADDENDUM
    ]
    # in use before still made; of several in use the nearest in diameter
    return min(
        same,
        key=lambda other: (other.last_year is not None, abs(other.major_mm - entry.major_mm)),
        default=None,
    )


def _class_for(limits: Limits, entry: Entry, today: Entry) -> str:
    """This thread's own class where the tool goes by its own name, else the usual one of today's series."""
    return limits.thread_class if today is entry else usual_class(today, internal=limits.internal)


def _nominal(entry: Entry) -> str:
    """A size as a tool dealer writes it: the designation without its class."""
    thread_class = entry.classes[0]
    text = designation_of(entry, thread_class, internal=False).text
    return text.removesuffix(thread_class).rstrip(" -")


def _same_thread(entry: Entry, today: Entry) -> str:
    larger = today.major_mm - entry.major_mm
    if abs(larger) < _WORTH_SAYING:
        return f"{_nominal(today)} has the diameter, pitch and flank angle of {_nominal(entry)}."
    word = "larger" if larger > 0 else "smaller"
    return (
        f"{_nominal(today)} has the pitch and flank angle of {_nominal(entry)}; its basic major diameter is "
        f"{abs(larger):.3f} mm {word}."
    )


def _own_dimensions(limits: Limits) -> str:
    per_inch = limits.published.get("threads_per_inch")
    pitch = f"{per_inch:g}/in" if per_inch else f"P {limits.pitch:g} mm"  # without words: it is named in any language
    angle = FORMS[limits.form].included_angle_deg
    degrees = f"{angle:g}" if abs(angle - round(angle, 1)) < 1e-6 else f"{angle:.2f}"
    return f"{limits.basic_major:.3f} mm, {pitch}, {degrees}°, {limits.form}"


def _difference(limits: Limits, made: Limits) -> float | None:
    """How much looser at its tightest (screw) or at its loosest (nut) the pitch diameter of ``made`` is, mm."""
    own, other = limits.pitch_diameter.high, made.pitch_diameter.high
    if own is None or other is None:
        return None
    return other - own if limits.internal else own - other


def _difference_notes(limits: Limits, made: Limits, difference: float | None) -> list[str]:
    if difference is None or abs(difference) < _WORTH_SAYING:
        return []
    size = f"{abs(difference):.3f} mm ({abs(difference) / MM_PER_INCH:.4f} in)"
    if limits.internal:
        more = "wider" if difference > 0 else "narrower"
        return [
            f"A tap for {made.designation} may leave the hole up to {size} {more} than {limits.designation} allows."
        ]
    if difference < 0:
        return [f"A die for {made.designation} may cut {size} thicker than {limits.designation} allows: close it."]
    low, high = limits.pitch_diameter.low, made.pitch_diameter.high
    still = "still within" if low is not None and high is not None and high >= low else "not within"
    thinner = f"A die for {made.designation} cuts today's limits: at its thickest {size} thinner"
    looser = f"than {limits.designation} may be ({still} its limits), so looser in the old hole"
    return [f"{thinner} {looser}. Open an adjustable die by that much."]


@cache
def _h_limits() -> dict[str, dict[str, int]]:
    return {row["size"]: {"2B": int(row["limit_2B"]), "3B": int(row["limit_3B"])} for row in rows("tap_limits.csv")}


def _tap_class(limits: Limits, made: Limits, today: Entry) -> tuple[str | None, str, list[str]]:
    """Limit or class of the tap, its source, and what it leaves; None where no published recommendation is known."""
    if not limits.internal:
        return None, "", []
    if today.form == "ISO metric":
        found = next((name for name, classes in ISO_TAPS.items() if made.thread_class in classes), None)
        source = "EN 22857, as a tap maker's catalogue, 2021, p. 645, gives it"
        return found, source if found else "", [f"Tap class {found}: {source}."] if found else []
    known = _h_limits().get(today.size) if today.series in ("UNC", "UNF") else None
    if known is None or limits.pitch_diameter.high is None:
        return None, "", []
    source = "a tap maker's catalogue, 2020, p. D12"
    top = limits.pitch_diameter.high / MM_PER_INCH
    basic = limits.basic_pitch_diameter / MM_PER_INCH
    wanted = ("2B", "3B") if made.thread_class == limits.thread_class == "2B" else ("3B",)
    for name in wanted:
        number = known[name]
        if basic + number * H_STEP <= top + 1e-9:
            span = f"{basic + (number - 1) * H_STEP:.4f} to {basic + number * H_STEP:.4f} in"
            return f"H{number}", source, [f"A ground tap of limit H{number} measures {span} on its flanks ({source})."]
    return None, source, []
