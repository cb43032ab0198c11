"""How much the shadow of a thread reads too large: the model against closed formulas and a brute-force projection.

Second-order formula, derived: a ray square to the axis touches a flank of half angle a at the polar angle phi off the
axial plane, tan(phi) = tan(lambda) / tan(a) (lambda: lead angle). There the flank stands (cot(a) p / 2 pi)^2 / (2 r)
above the axial section, hence

    pitch diameter   dE = p^2 / (2 pi^2 E tan(a)^2)
    each half angle  da = cos(a)^2 tan(lambda)^2 / (2 tan(a))     (radians)

``projected`` is the brute force: the profile, turned about the axis in small steps, and the highest point over each
place.
"""

from __future__ import annotations

import math
from functools import cache
from typing import NamedTuple

import numpy as np
import numpy.typing as npt
import pytest

from threads.shared.quantity import Quantity
from vision.fit.plain_reading import plain_reading
from vision.fit.quantities import UNITS
from vision.model.shadow import INDEX, ShadowParameters, full_radii, outline

Array = npt.NDArray[np.float64]

INCH = 25.4
AMERICAN = (30.0, 0.649519 / 2, 0.649519)  # half angle, addendum, depth: multiples of the pitch
ISO = (30.0, 0.649519 / 2, 0.5412659)
BA = (23.75, 0.3, 0.6)
WHITWORTH = (27.5, 0.640327 / 2, 0.640327)


class Size(NamedTuple):
    """A basic size, mm. ``form``: half angle (deg), addendum and depth in pitches."""

    name: str
    major: float
    pitch: float
    form: tuple[float, float, float]


SIZES = [
    Size("0-80", 0.060 * INCH, INCH / 80, AMERICAN),
    Size("2-56", 0.086 * INCH, INCH / 56, AMERICAN),
    Size("4-40", 0.112 * INCH, INCH / 40, AMERICAN),
    Size("6-32", 0.138 * INCH, INCH / 32, AMERICAN),
    Size("10-32", 0.190 * INCH, INCH / 32, AMERICAN),
    Size("10-24", 0.190 * INCH, INCH / 24, AMERICAN),
    Size("1/4-20", 0.250 * INCH, INCH / 20, AMERICAN),
    Size("M2x0.4", 2.0, 0.4, ISO),
    Size("M3x0.5", 3.0, 0.5, ISO),
    Size("M6x1", 6.0, 1.0, ISO),
    Size("0 BA", 6.0, 1.0, BA),
    Size("6 BA", 2.8, 0.53, BA),
    Size("1/8 BSW", 0.125 * INCH, INCH / 40, WHITWORTH),
]
every_size = pytest.mark.parametrize("size", SIZES, ids=[size.name for size in SIZES])


def basic(major: float, pitch: float, form: tuple[float, float, float], *, tilt: float = 0.0) -> Array:
    """The basic profile before a telecentric camera; BA and Whitworth have fully rounded crests and roots."""
    angle, addendum, depth = form
    a = math.radians(angle)
    x = ShadowParameters(
        offset=0.0,
        rotation=0.0,
        phase=0.0,
        pitch=pitch,
        tilt=math.sin(math.radians(tilt)),
        nearness=0.0,
        taper=0.0,
        crest=major / 2,
        pitch_radius=major / 2 - addendum * pitch,
        root=major / 2 - depth * pitch,
        flank_right=a,
        flank_left=a,
        crest_corner=0.0,
        root_corner=0.0,
        blur=0.001,
    ).to_array()
    if angle < 30:
        x[INDEX["crest_corner"]], x[INDEX["root_corner"]] = full_radii(x)
    return x


def edge(x: Array, side: float = 1.0) -> tuple[Array, Array]:
    """One ridge of the shadow, from groove to groove: places and heights."""
    pitch = x[INDEX["pitch"]]
    first = 0.0 if side > 0 else pitch / 2
    u = first + np.linspace(-pitch / 2, pitch / 2, 40001)
    return u, outline(x, u, np.full(u.size, side), (0.0, 0.0), gradient=False)[0]


def flank_lines(x: Array, side: float = 1.0) -> tuple[float, float]:
    """Pitch diameter and mean half angle (deg) of straight lines through the middle half of the flanks."""
    u, height = edge(x, side)
    low, high = x[INDEX["root"]], x[INDEX["crest"]]
    middle = (height > low + (high - low) / 4) & (height < high - (high - low) / 4)
    lines = [np.polyfit(height[on], u[on], 1) for on in (middle & (u < u[20000]), middle & (u > u[20000]))]
    (slope_left, place_left), (slope_right, place_right) = lines
    width_at_axis, widening = place_right - place_left, slope_right - slope_left
    level = (x[INDEX["pitch"]] / 2 - width_at_axis) / widening
    angle = (math.atan(slope_left) + math.atan(-slope_right)) / 2
    return 2 * level, math.degrees(angle)


def where_ridge_and_groove_are_equal(x: Array, side: float = 1.0) -> float:
    """The diameter at which the shadow's ridge is half a pitch wide: half of all places are higher."""
    return 2 * float(np.median(edge(x, side)[1]))


@every_size
def test_pitch_diameter_excess_follows_the_second_order_formula(size: Size) -> None:
    x = basic(size.major, size.pitch, size.form)
    diameter = 2 * x[INDEX["pitch_radius"]]
    formula = size.pitch**2 / (2 * math.pi**2 * diameter * math.tan(math.radians(size.form[0])) ** 2)
    read, _ = flank_lines(x)
    assert read - diameter == pytest.approx(formula, rel=0.02)
    assert where_ridge_and_groove_are_equal(x) - diameter == pytest.approx(formula, rel=0.025)


@cache
def projected(size: Size) -> tuple[float, float]:
    """How much too large the shadow reads, by brute force: pitch diameter (um) and each half angle (deg).

    Straight flanks between flat crest and root, turned from -40 to 40 degrees in steps of 0.05 degrees.
    """
    angle, addendum, depth = size.form
    cot = 1 / math.tan(math.radians(angle))
    crest, root = size.major / 2, size.major / 2 - depth * size.pitch
    pitch_radius = crest - addendum * size.pitch
    z = np.linspace(-0.5, 0.5, 2001) * size.pitch
    highest = np.full(z.size, -np.inf)
    for turn in np.radians(np.arange(-40.0, 40.0, 0.05)):
        along = np.mod(z - size.pitch * turn / (2 * math.pi) + size.pitch / 2, size.pitch) - size.pitch / 2
        radius = np.clip(pitch_radius + (size.pitch / 4 - np.abs(along)) * cot, root, crest)
        highest = np.maximum(highest, radius * math.cos(turn))
    middle = (highest > root + (crest - root) / 4) & (highest < crest - (crest - root) / 4)
    left, right = (np.polyfit(highest[on], z[on], 1) for on in (middle & (z < 0), middle & (z > 0)))
    level = (size.pitch / 2 - (right[1] - left[1])) / (right[0] - left[0])
    half = math.degrees((math.atan(left[0]) + math.atan(-right[0])) / 2)
    return 1e3 * 2 * (level - pitch_radius), half - angle


@every_size
def test_excess_agrees_with_a_brute_force_projection(size: Size) -> None:
    x = basic(size.major, size.pitch, size.form)
    read, half = flank_lines(x)
    exact_um, exact_deg = projected(size)
    assert 1e3 * (read - 2 * x[INDEX["pitch_radius"]]) == pytest.approx(exact_um, abs=0.3)
    assert half - size.form[0] == pytest.approx(exact_deg, abs=0.01)


@every_size
def test_half_angle_excess_follows_the_second_order_formula(size: Size) -> None:
    x = basic(size.major, size.pitch, size.form)
    a = math.radians(size.form[0])
    lead = size.pitch / (math.pi * 2 * x[INDEX["pitch_radius"]])
    formula = math.degrees(math.cos(a) ** 2 * lead**2 / (2 * math.tan(a)))
    _, half = flank_lines(x)
    # the middle half of an ISO flank lies higher than the pitch line, where the excess is less
    assert half - size.form[0] == pytest.approx(formula, rel=0.08 if size.form == ISO else 0.06)


def test_root_of_4_40_looks_narrow() -> None:
    """62.2 um wide where the section has 79.4 um."""
    x = basic(0.112 * INCH, INCH / 40, AMERICAN)
    u, height = edge(x)
    section = x[INDEX["pitch"]] / 8
    root = x[INDEX["root"]]
    flat = height < root + 1e-9
    step = u[1] - u[0]
    assert section * 1e3 == pytest.approx(79.4, abs=0.05)
    assert flat.sum() * step * 1e3 == pytest.approx(62.2, abs=0.3)


def test_major_and_minor_diameter_are_seen_true() -> None:
    for size in SIZES:
        x = basic(size.major, size.pitch, size.form)
        _, height = edge(x)
        assert 2 * height.max() == pytest.approx(size.major, abs=1e-6)
        assert 2 * height.min() == pytest.approx(2 * x[INDEX["root"]], abs=1e-6)


def test_excess_exceeds_the_allowance_of_4_40_class_2a() -> None:
    """0.0008 in between 4-40 UNC-2A and 4-40 NC-2: read off the shadow, the one passes for the other."""
    x = basic(0.112 * INCH, INCH / 40, AMERICAN)
    assert where_ridge_and_groove_are_equal(x) - 2 * x[INDEX["pitch_radius"]] > 0.0008 * INCH


def test_tilt_by_the_lead_angle_frees_one_edge_and_burdens_the_other_fourfold() -> None:
    """A tilt t puts p/2pi + R tan(t) or p/2pi - R tan(t) in place of p/2pi: nothing or twice as much, squared."""
    major, pitch = 0.112 * INCH, INCH / 40
    level = basic(major, pitch, AMERICAN)
    radius = level[INDEX["pitch_radius"]]
    lead = math.degrees(math.atan(pitch / (2 * math.pi * radius)))
    plain = where_ridge_and_groove_are_equal(level) - 2 * radius
    leaning = basic(major, pitch, AMERICAN, tilt=lead)
    exact, burdened = sorted(where_ridge_and_groove_are_equal(leaning, side) - 2 * radius for side in (1.0, -1.0))
    assert abs(exact) < 0.03 * plain
    assert burdened == pytest.approx(4 * plain, rel=0.05)


@pytest.mark.parametrize("size", SIZES[:10], ids=[size.name for size in SIZES[:10]])
def test_what_the_report_calls_the_shadow_shows_this_excess(size: Size) -> None:
    x = basic(size.major, size.pitch, size.form)
    exact_um, exact_deg = projected(size)
    like = {n: Quantity(0.0, 0.001, unit) for n, unit in UNITS.items()}
    shadow = plain_reading(x, 0.0, (0.0, 0.0), like, free_end_right=True)
    assert 1e3 * (shadow["pitch_diameter"].value - 2 * x[INDEX["pitch_radius"]]) == pytest.approx(exact_um, rel=0.03)
    assert shadow["flank_angle_left"].value - size.form[0] == pytest.approx(exact_deg, abs=0.015)
    assert shadow["flank_angle_right"].value - size.form[0] == pytest.approx(exact_deg, abs=0.015)
