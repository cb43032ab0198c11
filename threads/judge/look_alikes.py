"""Threads that can be taken for one another: which enter each other or nearly, and where and after how many turns.

Both are taken in the middle of their usual limits. A screw in a hole has room along the axis (``pairing``); a
difference of pitch uses it up turn by turn. Where there is none from the first turn on, either the flanks are too thick
(pitch diameter) or the crests meet the root of the hole (major diameter).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from threads.judge.pairing import DROPS_THROUGH, Pair, Profile, pair_of, room_along
from threads.rules.forms import FORMS, addendum
from threads.rules.series_tables import SAME_PITCH, Entry
from threads.standards.designation import Designation, designation_of, usual_class
from threads.standards.limits import Band, limits_of
from threads.standards.series import entries

WITHIN_DIAMETER, WITHIN_PITCH = 0.03, 0.021
"""Relative: 3 % and, so that 2 BA and 10-32 are a pair either way, a little over 2 %. Farther off, eye and gauge tell
threads apart; nearer, the one may enter the other."""

ENGAGEMENT_DIAMETERS = 1.5
"""Length of engagement, in major diameters: that of a nut and a half (common practice, no source)."""

GOES_IN, FALLS_THROUGH, BINDS, DOES_NOT_START = "goes_in", "drops_through", "binds", "does_not_start"
PITCH, PITCH_DIAMETER, MAJOR_DIAMETER = "pitch", "pitch_diameter", "major_diameter"

_A_TURN = 0.5  # turns; a screw that binds sooner does not start
_SAME_DIAMETER, _SAME_ANGLE_DEG = 0.01, 0.01  # mm, degrees
_SAME_ADDENDUM = 0.03  # of the pitch: a sharp V and UN differ by 0.11 of it


@dataclass(frozen=True)
class Entering:
    """A screw at a hole.

    ``outcome``: ``goes_in``, ``binds`` (after ``turns``), ``does_not_start`` or ``drops_through``. ``where``: what
    keeps it off, ``pitch``, ``pitch_diameter`` or ``major_diameter``; None where nothing does. ``overlap_share``: how
    far the crests overlap, in parts of the height of thread.
    """

    outcome: str
    turns: float | None
    where: str | None
    overlap_share: float

    def to_dict(self) -> dict[str, Any]:
        """The plain form used in JSON."""
        return {
            "outcome": self.outcome,
            "turns": self.turns,
            "where": self.where,
            "overlap_share": self.overlap_share,
        }


@dataclass(frozen=True)
class LookAlike:
    """A thread near another one.

    ``diameter``, ``pitch``: by how much it is larger, relative. ``half_angle_deg``: the same, degrees. ``same``: it has
    the diameter, pitch, flank angle and pitch diameter of the other. ``its_screw``: its screw in the other's hole.
    ``its_hole``: the other's screw in its hole.
    """

    entry: Entry
    name: str
    diameter: float
    pitch: float
    half_angle_deg: float
    same: bool
    its_screw: Entering
    its_hole: Entering

    def to_dict(self) -> dict[str, Any]:
        """The plain form used in JSON."""
        return {
            "thread": self.name,
            "series": self.entry.series,
            "major_diameter": self.entry.major_mm,
            "pitch": self.entry.pitch_mm,
            "diameter_difference": self.diameter,
            "pitch_difference": self.pitch,
            "half_angle_difference": self.half_angle_deg,
            "same_thread": self.same,
            "its_screw_in_this_hole": self.its_screw.to_dict(),
            "this_screw_in_its_hole": self.its_hole.to_dict(),
        }


def look_alikes(thread: Designation) -> tuple[LookAlike, ...]:
    """The threads within 3 % of diameter and 2 % of pitch of ``thread``, the nearest first."""
    own = thread.entry
    near = [
        other
        for other in entries()
        if (other.series, other.size) != (own.series, own.size)
        and abs(other.major_mm / own.major_mm - 1) <= WITHIN_DIAMETER
        and abs(other.pitch_mm / own.pitch_mm - 1) <= WITHIN_PITCH
    ]
    found = [_look_alike(own, other) for other in near]
    return tuple(sorted(found, key=lambda one: (not one.same, abs(one.pitch) + abs(one.diameter))))


def _look_alike(own: Entry, other: Entry) -> LookAlike:
    angle = FORMS[other.form].flank_angle_deg - FORMS[own.form].flank_angle_deg
    same = (
        abs(other.major_mm - own.major_mm) <= _SAME_DIAMETER
        and abs(other.pitch_mm / own.pitch_mm - 1) <= SAME_PITCH
        and abs(angle) < _SAME_ANGLE_DEG
        and abs(addendum(FORMS[other.form]) - addendum(FORMS[own.form])) < _SAME_ADDENDUM
    )
    return LookAlike(
        entry=other,
        name=_name(other),
        diameter=other.major_mm / own.major_mm - 1,
        pitch=other.pitch_mm / own.pitch_mm - 1,
        half_angle_deg=angle,
        same=same,
        its_screw=entering(_middle(other, internal=False), _middle(own, internal=True), own),
        its_hole=entering(_middle(own, internal=False), _middle(other, internal=True), other),
    )


def entering(screw: Profile, hole: Profile, of_hole: Entry) -> Entering:
    """What becomes of ``screw`` in ``hole``, a hole of the size ``of_hole``."""
    height = FORMS[of_hole.form].basic_depth * of_hole.pitch_mm
    pair = pair_of(screw, hole, height=height, engagement=ENGAGEMENT_DIAMETERS * of_hole.major_mm)
    if pair.verdict == DROPS_THROUGH:
        return Entering(FALLS_THROUGH, None, None, pair.overlap_share)
    return _in_hole(pair, screw, hole)


def _in_hole(pair: Pair, screw: Profile, hole: Profile) -> Entering:
    room, step = room_along(screw, hole), abs(screw.pitch - hole.pitch)
    if screw.major > hole.major:
        return Entering(DOES_NOT_START, 0.0, MAJOR_DIAMETER, pair.overlap_share)
    if room < 0:
        return Entering(DOES_NOT_START, 0.0, PITCH_DIAMETER, pair.overlap_share)
    turns = room / step if step else None
    if turns is None or turns >= pair.turns_engaged:
        return Entering(GOES_IN, turns, None, pair.overlap_share)
    outcome = BINDS if turns >= _A_TURN else DOES_NOT_START
    return Entering(outcome, turns, PITCH, pair.overlap_share)


def _middle(entry: Entry, *, internal: bool) -> Profile:
    """The section of a screw or hole in the middle of its usual limits."""
    form = FORMS[entry.form]
    limits = limits_of(designation_of(entry, usual_class(entry, internal=internal), internal=internal))
    pitch_diameter = _mean(limits.pitch_diameter, limits.basic_pitch_diameter)
    major = limits.basic_major if limits.major.low is None else limits.major.low
    minor = limits.basic_minor if limits.minor.high is None else limits.minor.high
    if internal:
        # a tap cuts its root as far above its pitch line as the basic form has it, and a little more
        major = max(major, pitch_diameter + limits.basic_major - limits.basic_pitch_diameter)
        minor = _mean(limits.minor, limits.basic_minor)
    else:
        major = _mean(limits.major, limits.basic_major)
    half = form.flank_angle_deg
    return Profile(major, pitch_diameter, minor, limits.pitch, half, half)


def _mean(band: Band, basic: float) -> float:
    return basic if band.low is None or band.high is None else (band.low + band.high) / 2


def _name(entry: Entry) -> str:
    """The designation without its class."""
    thread_class = usual_class(entry, internal=False)
    text = designation_of(entry, thread_class, internal=False).text
    return text.removesuffix(thread_class).rstrip(" -")


def words(found: Entering) -> str:
    """The outcome for a person: ``binds after 3.2 turns (pitch)``."""
    where = "" if found.where is None else f" ({found.where.replace('_', ' ')})"
    if found.outcome == BINDS:
        assert found.turns is not None
        return f"binds after {found.turns:.1f} turns{where}"
    if found.outcome == GOES_IN:
        return f"goes in, {100 * found.overlap_share:.0f} %"
    return f"{found.outcome.replace('_', ' ')}{where}"
