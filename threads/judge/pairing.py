"""Whether a screw and a hole are a pair at all, checked before their play is computed.

Symbols: p pitch, E pitch diameter, r distance from the axis, a flank angle of one flank; s the screw, h the hole. At r
a flank of the screw's ridge stands p_s / 4 - (r - E_s / 2) tan a_s from the middle of the ridge, the flank of the
hole's groove p_h / 4 - (r - E_h / 2) tan a_h from the middle of the groove. The difference is the gap on that side; it
is linear in r, so that its least value over the overlap stands at one end of it. The least gaps of both sides together
are the room along the axis. A difference of pitch uses up |p_s - p_h| of it a turn, so the pair binds after

    n = room / |p_s - p_h|   turns.

The overlap is how far the screw's crests reach beyond those of the hole, (d_s - D1_h) / 2. Without it the screw drops
through, whatever its pitch. Derived here; ``tests/threads/judge/test_pairing.py`` compares it with sampled profiles
slid along each other.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from threads.measured.thread import MeasuredThread

MESHES = "meshes"
OTHER_HAND, OTHER_STARTS, DROPS_THROUGH = "other_hand", "other_starts", "drops_through"
OTHER_PITCH, OTHER_ANGLE = "other_pitch", "other_angle"

SAME_PITCH = 0.006
"""Relative. Taps and dies of the trade keep their lead to 0.003 in an inch (Machinery's Handbook, 31st ed., p. 1001), a
screw and a hole by two of them to twice as much. What differs by more was cut to another pitch."""

SAME_ANGLE_DEG = 1.0
"""Half angles of taps of 30 threads to the inch and finer are within 1 degree (the same page)."""

HOLDS_FROM = 0.1
"""Share of the height of thread up to which an overlap holds nothing: crests are rounded by about as much."""

_NO_HAND = "not determined"


@dataclass(frozen=True)
class Profile:
    """The axial section of a thread: diameters and pitch, mm; angles, degrees.

    ``flank_left``, ``flank_right``: of the ridge, that of the hole in a hole. ``hand``: ``right``, ``left`` or ``not
    determined``.
    """

    major: float
    pitch_diameter: float
    minor: float
    pitch: float
    flank_left: float
    flank_right: float
    hand: str = _NO_HAND
    starts: int = 1


@dataclass(frozen=True)
class Pair:
    """What a screw and a hole are to each other.

    Attributes:
        verdict: ``meshes``, or the first of these that keeps them apart: ``other_hand``, ``other_starts``,
            ``drops_through``, ``other_pitch``, ``other_angle``.
        pitches: of screw and hole, mm. ``angles``: their mean half angles, degrees.
        other_pitch, other_angle: whether they differ by more than tools and measurement explain. A pair with another
            angle may still mesh; then it bears on the edges of its flanks.
        turns_engaged: turns in the length of engagement.
        turns_to_bind: after so many turns the difference of pitch has used up the room; None where it has none.
        overlap: how far the crests of the screw reach beyond those of the hole, to one side, mm; negative: a gap.
        overlap_share: the same in parts of the height of thread.
    """

    verdict: str
    pitches: tuple[float, float]
    angles: tuple[float, float]
    other_pitch: bool
    other_angle: bool
    turns_engaged: float
    turns_to_bind: float | None
    overlap: float
    overlap_share: float

    @property
    def meshes(self) -> bool:
        """Whether looseness can be spoken of."""
        return self.verdict == MESHES

    def to_dict(self) -> dict[str, Any]:
        """The plain form used in JSON; mm and degrees."""
        return {
            "verdict": self.verdict,
            "pitch": {"screw": self.pitches[0], "hole": self.pitches[1], "unit": "mm"},
            "half_angle": {"screw": self.angles[0], "hole": self.angles[1], "unit": "deg"},
            "other_pitch": self.other_pitch,
            "other_angle": self.other_angle,
            "turns_engaged": self.turns_engaged,
            "turns_to_bind": self.turns_to_bind,
            "overlap": {"depth": self.overlap, "share_of_height": self.overlap_share, "unit": "mm"},
        }


def profile_of(thread: MeasuredThread, *, facing: bool = False) -> Profile:
    """The section of a measured thread; ``facing``: of the thread that stands against it, flank to flank."""
    flanks = (thread.flank_angle_left.value, thread.flank_angle_right.value)
    left, right = flanks[::-1] if facing else flanks
    diameters = (thread.major_diameter.value, thread.pitch_diameter.value, thread.minor_diameter.value)
    return Profile(*diameters, thread.pitch.value, left, right, thread.hand, thread.starts)


def pair_of(
    screw: Profile, hole: Profile, *, height: float, engagement: float, pitch_u95: float = 0.0, angle_u95: float = 0.0
) -> Pair:
    """Judge a screw and a hole.

    Args:
        screw: its section.
        hole: its section.
        height: of the hole's thread, crest to root, mm.
        engagement: length over which they engage, mm.
        pitch_u95: U95 of the difference of the pitches, mm.
        angle_u95: U95 of the difference of the half angles, degrees.
    """
    off = abs(screw.pitch - hole.pitch)
    other_pitch = off - pitch_u95 > SAME_PITCH * hole.pitch
    angles = (_half_angle(screw), _half_angle(hole))
    other_angle = abs(angles[0] - angles[1]) - angle_u95 > SAME_ANGLE_DEG
    overlap = (screw.major - hole.minor) / 2
    room = room_along(screw, hole)
    verdict = MESHES
    if _NO_HAND not in (screw.hand, hole.hand) and screw.hand != hole.hand:
        verdict = OTHER_HAND
    elif screw.starts != hole.starts:
        verdict = OTHER_STARTS
    elif overlap < HOLDS_FROM * height:
        verdict = DROPS_THROUGH
    elif other_pitch:
        verdict = OTHER_PITCH
    elif other_angle and room < engagement / hole.pitch * off:
        verdict = OTHER_ANGLE
    return Pair(
        verdict=verdict,
        pitches=(screw.pitch, hole.pitch),
        angles=angles,
        other_pitch=other_pitch,
        other_angle=other_angle,
        turns_engaged=engagement / hole.pitch,
        turns_to_bind=max(room, 0.0) / off if other_pitch else None,
        overlap=overlap,
        overlap_share=overlap / height,
    )


def room_along(screw: Profile, hole: Profile) -> float:
    """How far the screw can move along the axis from stop to stop with one ridge in the hole, mm; negative: too large.

    >>> screw = Profile(2.8, 2.40, 2.0, 0.635, 30, 30)
    >>> round(room_along(screw, Profile(2.9, 2.44, 2.2, 0.635, 30, 30)), 6)  # 0.04 mm * tan 30 deg
    0.023094
    """
    inner, outer = max(screw.minor, hole.minor) / 2, min(screw.major, hole.major) / 2
    room = 0.0
    # the screw's left flank stands against the right flank of the hole's ridge on its left
    for on_screw, on_hole in ((screw.flank_left, hole.flank_right), (screw.flank_right, hole.flank_left)):
        gaps = (_reach(hole, r, on_hole) - _reach(screw, r, on_screw) for r in (inner, max(inner, outer)))
        room += min(gaps)
    return room


def _reach(profile: Profile, r: float, angle_deg: float) -> float:
    """How far a flank stands from the middle of the ridge (of a hole: of its groove) at the radius ``r``, mm."""
    return profile.pitch / 4 - (r - profile.pitch_diameter / 2) * math.tan(math.radians(angle_deg))


def _half_angle(profile: Profile) -> float:
    return (profile.flank_left + profile.flank_right) / 2
