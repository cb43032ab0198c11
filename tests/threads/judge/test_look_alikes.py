"""Look-alikes: who is listed, and whether they enter each other, against sampled profiles slid along each other."""

from __future__ import annotations

import math

import pytest

from tests.threads.judge.test_pairing import Section, slid
from threads.judge.look_alikes import (
    BINDS,
    DOES_NOT_START,
    ENGAGEMENT_DIAMETERS,
    FALLS_THROUGH,
    GOES_IN,
    PITCH,
    Entering,
    entering,
    look_alikes,
    words,
)
from threads.judge.pairing import Profile
from threads.standards.designation import parse


def listed(text: str) -> dict[str, Entering]:
    """The look-alikes of a thread with what their screws do in its hole."""
    return {one.name: one.its_screw for one in look_alikes(parse(text)) if not one.same}


# Pairs that repairers' handbooks warn of (common practice, no source).
@pytest.mark.parametrize(
    ("thread", "other"),
    [
        ("1/8-40 BSW", "5-40 UNC"), ("2 BA", "10-32 UNF"), ("10-32 UNF", "2 BA"), ("6 BA", "Thury 6"),
        ("0 BA", "M6x1"), ("1/4-20 BSW", "1/4-20 UNC"), ("1/4-26 BSF", "1/4-26 BSC"), ("M3", "Lowenherz 3"),
        ("3/8-16 BSW", "3/8-16 UNC"),
    ],
)  # fmt: skip
def test_known_pairs_are_listed(thread: str, other: str) -> None:
    assert any(name.startswith(other) for name in listed(thread))


def test_the_same_thread_under_another_name_is_said_to_be_the_same() -> None:
    same = {one.name for one in look_alikes(parse("1/4-20 UNC")) if one.same}
    assert "1/4-20 NC" in same
    assert "1/4-20 V" not in same  # its pitch diameter lies 0.27 mm lower
    assert "1/4-20 BSW medium" not in same


def section(profile: Profile) -> Section:
    tan = (math.tan(math.radians(profile.flank_left)), math.tan(math.radians(profile.flank_right)))
    return Section(profile.minor / 2, profile.pitch_diameter / 2, profile.major / 2, profile.pitch, tan)


@pytest.mark.parametrize("step", [0.004, 0.008, 0.016])
def test_the_turns_are_those_of_profiles_slid_along_each_other(step: float) -> None:
    """A screw near 10-32 in a hole near 2 BA, flat crests: it binds where sampled profiles begin to overlap."""
    hole = Profile(4.80, 4.30, 3.80, 0.81, 30, 30)
    screw = Profile(4.70, 4.21, 3.40, 0.81 - step, 30, 30)
    found = entering(screw, hole, parse("2 BA").entry)
    assert found.turns is not None
    clear = [slid(section(screw), section(hole), turns * 0.81)[0] for turns in (found.turns - 1.2, found.turns + 1.2)]
    assert clear[0] > 0 > clear[1]
    within = found.turns < ENGAGEMENT_DIAMETERS * 4.7 / 0.81
    assert (found.outcome, found.where) == ((BINDS, PITCH) if within else (GOES_IN, None))


def test_words_for_each_outcome() -> None:
    assert words(Entering(GOES_IN, None, None, 0.71)) == "goes in, 71 %"
    assert words(Entering(BINDS, 3.24, PITCH, 0.7)) == "binds after 3.2 turns (pitch)"
    assert words(Entering(DOES_NOT_START, 0.0, "major_diameter", 0.7)) == "does not start (major diameter)"
    assert words(Entering(FALLS_THROUGH, None, None, -0.1)) == "drops through"
