"""A tilted screw between two rows of flanks: the closed solution against sampled profiles moved until they overlap."""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import minimize, minimize_scalar

from threads.workshop.contact import (
    MatedThreads,
    axial_backlash,
    crest_clearance,
    end_movement,
    flank_clearance,
    radial_clearance,
    root_clearance,
    tilt,
)

Array = npt.NDArray[np.float64]
TAN = math.tan(math.radians(30.0))
PITCH = 0.635


def fit(
    clearance: float = 0.02,
    engagement: float = 3.0,
    *,
    pitch_diameter: float = 2.43,
    crest: float = 1.0,
    root: float = 1.0,
    half_angle: float = 30.0,
) -> MatedThreads:
    """A screw near 4-40 in a hole with that clearance on each side; crests and roots are well clear unless said."""
    major, minor = pitch_diameter + 0.41, pitch_diameter - 0.36
    values = (major, pitch_diameter, minor, major + 2 * crest, pitch_diameter + 2 * clearance, minor + 2 * root)
    arrays = [np.array([value]) for value in values]
    return MatedThreads(*arrays, half_angle, engagement)


# --- the independent solution: profiles as heights over z, sampled ---------------------------------------------------


class Section:
    """Both rows of a perfect thread: the height of the material's edge over z, the flanks straight between the crests.

    Upper ridges stand at ``phase`` + k p, lower ones at -``phase`` + k p. ``bottom``, ``top``: radii of root and crest.
    """

    def __init__(self, pitch_diameter: float, bottom: float, top: float, phase: float, half_angle: float) -> None:
        self.r, self.bottom, self.top, self.phase = pitch_diameter / 2, bottom, top, phase
        self.cot = 1 / math.tan(math.radians(half_angle))

    def height(self, z: Array, row: int) -> Array:
        off = np.abs(np.mod(z - row * self.phase + PITCH / 2, PITCH) - PITCH / 2)
        return np.clip(self.r + (PITCH / 4 - off) * self.cot, self.bottom, self.top)


def overlap(screw: Section, hole: Section, ends: tuple[float, float], move: tuple[float, float, float]) -> float:
    """By how much the moved screw is inside the hole's material at the worst point, mm across the axis.

    Points of the screw between the ``ends`` of the engagement are looked up in the hole, and the hole's in the screw.
    """
    across, along, angle = move
    sin, cos = math.sin(angle), math.cos(angle)
    z = np.linspace(*ends, 1201)
    worst = -math.inf
    for row in (1, -1):
        r = row * screw.height(z, row)
        there_z, there_r = z * cos - r * sin + along, z * sin + r * cos + across
        worst = max(worst, float(np.max(row * there_r - hole.height(there_z, row))))
        back_z, back_r = z - along, row * hole.height(z, row) - across
        seen_z, seen_r = back_z * cos + back_r * sin, -back_z * sin + back_r * cos
        worst = max(worst, float(np.max(screw.height(seen_z, row) - row * seen_r)))
    return worst


def sections(case: MatedThreads, at_the_end: str = "flank") -> tuple[Section, Section]:
    """The rows so that the corner that meets the other part first stands at either end of the engagement.

    That is where the closed solution has it: a corner of the screw's crest ("flank"), or of the hole's ("root").
    """
    assert case.screw_minor is not None
    assert case.hole_minor is not None
    assert case.hole_major is not None
    tan = math.tan(math.radians(case.half_angle_deg))
    sizes = (case.screw_major, case.screw_pitch_diameter, case.screw_minor)
    hole_sizes = (case.hole_major, case.hole_pitch_diameter, case.hole_minor)
    (d, e, k), (hole_d, hole_e, hole_k) = ([float(size[0]) for size in one] for one in (sizes, hole_sizes))
    if at_the_end == "flank":
        phase = case.engagement / 2 + PITCH / 4 - (d - e) / 2 * tan
    else:
        phase = case.engagement / 2 + PITCH / 4 + (hole_e - hole_k) / 2 * tan
    return (
        Section(e, k / 2, d / 2, phase, case.half_angle_deg),
        Section(hole_e, hole_k / 2, hole_d / 2, phase, case.half_angle_deg),
    )


def least_overlap(screw: Section, hole: Section, length: float, angle: float) -> float:
    """The overlap at the best shift across and along, mm; any that is not above zero if there is one."""
    found = math.inf

    def at(shift: Array) -> float:
        nonlocal found
        worst = overlap(screw, hole, (-length / 2, length / 2), (shift[0], shift[1], angle))
        found = min(found, worst)
        return worst

    def enough(*_: object) -> None:
        if found <= 0:
            raise StopIteration

    simplex = np.array([(0.004, 0.002), (0.012, 0.002), (0.004, 0.01)])
    minimize(
        at,
        simplex[0],
        method="Nelder-Mead",
        callback=enough,
        options={"initial_simplex": simplex, "xatol": 1e-7, "fatol": 1e-8, "maxiter": 150},
    )
    return found


def found_by_trial(screw: Section, hole: Section, length: float) -> float:
    """The greatest tilt at which some shift leaves no overlap, by bisection."""
    low, high = 0.0, 0.016
    for _ in range(11):
        middle = (low + high) / 2
        low, high = (middle, high) if least_overlap(screw, hole, length, middle) <= 1e-6 else (low, middle)
    return low


@pytest.mark.slow
@pytest.mark.parametrize(
    ("clearance", "length", "crest", "root"),
    [
        (0.010, 3.0, 0.2, 0.12),
        (0.030, 2.0, 0.2, 0.12),
        (0.030, 3.0, 0.012, 0.12),
        (0.030, 6.0, 0.2, 0.015),
    ],
)
def test_tilt_is_that_of_sampled_profiles_moved_until_they_overlap(
    clearance: float, length: float, crest: float, root: float
) -> None:
    case = fit(clearance, length, crest=crest, root=root)
    screw, hole = sections(case, "root" if root < clearance else "flank")
    # samples stand 2 to 5 um apart and the bisection ends at 8e-6
    assert found_by_trial(screw, hole, length) == pytest.approx(float(tilt(case)[0]), rel=0.005)


def test_a_screw_whose_last_ridges_end_short_of_the_engagement_tilts_more_by_no_more_than_a_pitch() -> None:
    case = fit(0.02, 3.0)
    shorter = fit(0.02, 3.0 - PITCH)
    screw, hole = sections(fit(0.02, 3.0, crest=0.2, root=0.12))
    for row in (screw, hole):
        row.phase -= 0.3 * PITCH
    assert tilt(case)[0] * 0.995 < found_by_trial(screw, hole, 3.0) < tilt(shorter)[0] * 1.005


def test_clearance_and_backlash_are_those_of_sampled_profiles() -> None:
    case = fit(0.02, 3.0, crest=0.2, root=0.12)
    screw, hole = sections(case)
    ends = (-1.5, 1.5)
    assert overlap(screw, hole, ends, (0.0199, 0.0, 0.0)) < 0 < overlap(screw, hole, ends, (0.0201, 0.0, 0.0))
    half = float(axial_backlash(case)[0]) / 2
    assert overlap(screw, hole, ends, (0.0, half - 1e-4, 0.0)) < 0 < overlap(screw, hole, ends, (0.0, half + 1e-4, 0.0))


def test_the_free_end_moves_as_far_as_any_possible_place_of_the_sampled_screw_lets_it() -> None:
    case, overhang = fit(0.02, 4.0, crest=0.2, root=0.12), 12.0
    screw, hole = sections(case)
    most = 0.0

    def room(across: float, angle: float) -> bool:
        """Whether some shift along the axis leaves no overlap."""
        found = minimize_scalar(
            lambda along: overlap(screw, hole, (-2, 2), (across, along, angle)),
            bounds=(-0.002, 0.014),
            method="bounded",
        )
        return bool(found.fun <= 1e-6)

    for angle in np.linspace(0.0, 0.998 * float(tilt(case)[0]), 4):
        across = next(e for e in np.linspace(0.0205, 0.0, 42) if room(float(e), float(angle)))
        most = max(most, across + (case.engagement / 2 + overhang) * math.sin(angle))
    # across is tried in steps of half a micrometre; the last right-hand flanks end short of the mouth
    assert most == pytest.approx(float(end_movement(case, overhang)[0]), abs=0.0015)
    assert end_movement(case, 0.0)[0] == pytest.approx(0.02)


# --- closed forms and properties -------------------------------------------------------------------------------------


def test_tilt_of_small_clearances_is_that_of_first_order() -> None:
    case = fit(0.001, 3.0)
    r, e = case.screw_major[0] / 2, case.screw_pitch_diameter[0]
    assert tilt(case)[0] == pytest.approx(0.001 / (1.5 + r / TAN), rel=0.002)
    rounded = MatedThreads(**{**vars(case), "rounding": (case.screw_major[0] - e) / 2})
    assert tilt(rounded)[0] == pytest.approx(2 * 0.001 / (3.0 + e / TAN), rel=0.002)


def test_least_of_the_three_clearances_counts() -> None:
    case = fit(0.03, crest=0.02, root=0.01)
    assert [float(f(case)[0].round(9)) for f in (flank_clearance, crest_clearance, root_clearance)] == [
        0.03,
        0.02,
        0.01,
    ]
    assert radial_clearance(case)[0] == pytest.approx(0.01)
    unknown = MatedThreads(**{**vars(case), "hole_minor": None, "hole_major": None})
    assert radial_clearance(unknown)[0] == pytest.approx(0.03)


def test_a_screw_too_large_has_no_play() -> None:
    for case in (fit(-0.001), fit(0.02, crest=-0.001), fit(0.02, root=-0.001)):
        assert radial_clearance(case)[0] == pytest.approx(-0.001)
        assert axial_backlash(case)[0] == tilt(case)[0] == end_movement(case, 20.0)[0] == 0


few = settings(max_examples=40)
clearances = st.floats(0.0, 0.2)
lengths = st.floats(0.5, 30.0)
angles = st.sampled_from([23.75, 26.565, 27.5, 30.0])


@few
@given(clearances, clearances, lengths, angles, st.floats(0.0, 0.3), st.floats(0.0, 0.3))
def test_more_clearance_never_means_less_play(
    one: float, other: float, length: float, angle: float, crest: float, root: float
) -> None:
    small, large = sorted((one, other))
    tight, loose = (fit(c, length, crest=crest, root=root, half_angle=angle) for c in (small, large))
    for play in (radial_clearance, axial_backlash, tilt, lambda f: end_movement(f, 20.0)):
        assert play(loose)[0] >= play(tight)[0] - 1e-12
    wider = fit(small, length, crest=crest + 0.01, root=root + 0.01, half_angle=angle)
    assert tilt(wider)[0] >= tilt(tight)[0] - 1e-12


@few
@given(st.floats(0.001, 0.2), lengths, lengths, angles, st.floats(0.001, 0.3), st.floats(0.001, 0.3))
def test_longer_engagement_never_means_more_tilt(
    clearance: float, one: float, other: float, angle: float, crest: float, root: float
) -> None:
    short, long = sorted((one, other))
    stubby, lengthy = (fit(clearance, n, crest=crest, root=root, half_angle=angle) for n in (short, long))
    assert 0 < tilt(lengthy)[0] <= tilt(stubby)[0] + 1e-12
    assert radial_clearance(lengthy)[0] == radial_clearance(stubby)[0]
    assert np.isfinite(tilt(stubby)[0])


@few
@given(st.floats(0.001, 0.1), lengths, st.floats(0.0, 50.0), st.floats(0.0, 50.0))
def test_the_end_moves_the_more_the_farther_out_it_is(
    clearance: float, length: float, one: float, other: float
) -> None:
    near, far = sorted((one, other))
    case = fit(clearance, length)
    assert radial_clearance(case)[0] <= end_movement(case, near)[0] <= end_movement(case, far)[0]
