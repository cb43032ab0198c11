"""Three wires: the exact measurement against a search for the wire's place in the groove, its inverse, uncertainty."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import minimize_scalar

from tests.each import each
from tests.refused import refused
from threads.judge.wires import (
    WireError,
    best_wire,
    over_wires,
    over_wires_by_series,
    pitch_diameter_from_wires,
    pitch_diameter_over_wires,
    usable_wires,
    wire_sizes,
)
from threads.rules.forms import FORMS
from threads.shared.quantity import Quantity
from threads.standards.designation import parse
from threads.standards.limits import candidates, limits_of

NM = 1e-6  # mm

HALF_ANGLES = (30.0, 27.5, 23.75, math.degrees(math.atan(0.5)))


def searched(pitch_diameter: float, wire: float, pitch: float, half_deg: float, starts: int) -> float:
    """The measurement by search: the wire at every inclination is laid on points of both flanks, the lowest counts.

    A wire inclined by psi lies on a point (x, y, z) when its axis is at the height x + sqrt(w^2 / 4 - q^2), q being the
    point's distance from the axis as seen along x. Both flanks are sampled and sampled again around the highest point.
    """
    half, k = math.radians(half_deg), starts * pitch / (2 * math.pi)

    def height(psi: float) -> float:
        tops = []
        for side in (1.0, -1.0):
            centre, width = np.array([pitch_diameter / 2, 0.0]), np.array([0.2 * pitch, 0.6])
            top = -math.inf
            for _ in range(7):
                r = centre[0] + width[0] * np.linspace(-1, 1, 61)[:, None]
                phi = centre[1] + width[1] * np.linspace(-1, 1, 61)[None, :]
                z = side * (pitch / 4 + (r - pitch_diameter / 2) * math.tan(half)) + k * phi
                q = z * math.cos(psi) - r * np.sin(phi) * math.sin(psi)
                under = np.maximum(wire**2 / 4 - q**2, 0.0)
                axis = np.where(np.abs(q) < wire / 2, r * np.cos(phi) + np.sqrt(under), -math.inf)
                at = np.unravel_index(np.argmax(axis), axis.shape)
                top = max(top, float(axis[at]))
                centre = np.array([float(r[at[0], 0]), float(phi[0, at[1]])])
                width = width / 8
            tops.append(top)
        return max(tops)

    lowest = minimize_scalar(height, bounds=(0.0, 0.5), method="bounded", options={"xatol": 1e-7})
    return 2 * float(lowest.fun) + wire


@each(
    ("pitch_diameter", "pitch", "half", "starts"),
    [
        (2.4333, 0.635, 30.0, 1),  # 4-40
        (1.3183, 0.3175, 30.0, 1),  # 0-80
        (0.248, 0.08, 30.0, 1),  # S 0.3
        (5.4, 1.0, 23.75, 1),  # 0 BA
        (2.7686, 0.635, 27.5, 1),  # 1/8 BSW
        (3.475, 0.7, HALF_ANGLES[3], 1),  # Lowenherz 4 mm
        (2.4333, 0.635, 30.0, 3),  # a steep one
    ],
)
@each("size", [0.95, 1.0, 1.2])
def test_the_exact_measurement_is_where_a_search_finds_the_wire(
    pitch_diameter: float, pitch: float, half: float, starts: int, size: float
) -> None:
    wire = size * best_wire(pitch, half)
    exact = over_wires(pitch_diameter, wire, pitch, half, starts)
    assert exact == pytest.approx(searched(pitch_diameter, wire, pitch, half, starts), abs=5 * NM)


threads = st.tuples(
    st.floats(0.2, 30.0),  # pitch diameter, mm
    st.floats(0.02, 0.33),  # pitch over it
    st.sampled_from(HALF_ANGLES),
    st.floats(0.92, 1.3),  # wire over the best one
)


@given(threads)
def test_from_pitch_diameter_over_wires_and_back(thread: tuple[float, float, float, float]) -> None:
    pitch_diameter, ratio, half, size = thread
    pitch = ratio * pitch_diameter
    wire = size * best_wire(pitch, half)
    measured = over_wires(pitch_diameter, wire, pitch, half)
    assert pitch_diameter_from_wires(measured, wire, pitch, half) == pytest.approx(pitch_diameter, rel=1e-11)
    assert over_wires(pitch_diameter * 1.001, wire, pitch, half) > measured
    assert over_wires(pitch_diameter, wire * 1.001, pitch, half) > measured


@given(threads)
def test_the_series_formula_is_right_to_second_order_in_the_lead_angle(
    thread: tuple[float, float, float, float],
) -> None:
    pitch_diameter, ratio, half, size = thread
    pitch = ratio * pitch_diameter
    wire = size * best_wire(pitch, half)
    exact = over_wires(pitch_diameter, wire, pitch, half)
    without = over_wires_by_series(pitch_diameter, wire, pitch, half, starts=0)
    series = over_wires_by_series(pitch_diameter, wire, pitch, half)
    lead = ratio / math.pi
    assert without - NM / 1000 < exact < series + NM / 1000
    assert series - exact < 4 * lead**3 * wire + NM / 1000
    assert over_wires(pitch_diameter, wire, pitch, half, starts=0) == pytest.approx(without, rel=1e-12)


def test_what_the_text_says_of_4_40() -> None:
    sizes = wire_sizes(limits_of(parse("4-40 UNC-2A")))
    assert 1000 * (sizes.basic_by_series - sizes.basic) == pytest.approx(0.14, abs=0.005)
    assert 1000 * (sizes.basic - sizes.basic_without_lead_angle) == pytest.approx(1.76, abs=0.005)
    assert sizes.lead_angle_deg == pytest.approx(4.748, abs=0.001)


def test_what_the_text_says_of_all_sizes() -> None:
    for limits in candidates():
        sizes = wire_sizes(limits)
        assert 0 <= 1000 * (sizes.basic_by_series - sizes.basic) < 0.7
        assert 0 < 1000 * (sizes.basic - sizes.basic_without_lead_angle) < 6.3
        assert sizes.least_wire <= sizes.best_wire * (1 + 1e-9) < sizes.greatest_wire
        assert sizes.least_wire < sizes.wire < sizes.greatest_wire
        assert sizes.basic == pytest.approx(over_wires(limits.basic_pitch_diameter, sizes.wire, limits.pitch,
                                                       FORMS[limits.form].flank_angle_deg))  # fmt: skip
        low, high = limits.pitch_diameter.low, limits.pitch_diameter.high
        assert low is not None
        assert high is not None
        assert sizes.least is not None
        assert sizes.greatest is not None
        assert sizes.greatest - sizes.least == pytest.approx(high - low, rel=0.02)


@each("name", FORMS)
def test_the_least_wire_is_flush_and_the_greatest_touches_where_the_crest_begins(name: str) -> None:
    form = FORMS[name]
    major, pitch, half = 100.0, 1.0, math.radians(form.flank_angle_deg)  # a large screw: next to no lead angle
    least, greatest = usable_wires(form, pitch)
    # the pitch line lies where ridge and groove are equally wide, the crest so much above it
    sharp = form.crest_flat + 2 * (form.crest_radius or 0.0) * math.tan((math.pi / 2 - half) / 2)
    above = (0.25 - sharp / 2) / math.tan(half)
    over_least = over_wires(major - 2 * above, least, pitch, form.flank_angle_deg)
    assert over_least >= major - 1e-3
    root = major - 2 * form.basic_depth
    assert over_least - 2 * least >= root - 1e-3
    assert min(over_least - major, over_least - 2 * least - root) == pytest.approx(0.0, abs=1e-3)
    groove = 2 * (0.5 - form.crest_flat / 2 - (form.crest_radius or 0.0) * math.cos(half))  # width at the flanks' ends
    assert greatest * math.cos(half) == pytest.approx(groove)


@pytest.mark.parametrize("half", HALF_ANGLES)
def test_with_the_best_wire_the_flank_angle_has_no_effect_of_first_order(half: float) -> None:
    def found(angle: float, wire: float) -> float:
        return pitch_diameter_from_wires(measured, wire, 0.635, angle)

    best = best_wire(0.635, half)
    for wire, least, most in ((best, 0.0, 0.2), (1.2 * best, 3.0, 8.0)):
        measured = over_wires(2.4, wire, 0.635, half)
        slope = (found(half + 0.01, wire) - found(half - 0.01, wire)) / 0.02  # mm a degree
        assert least < 1000 * abs(slope) < most  # um a degree


def test_the_uncertainty_is_that_of_many_drawn_readings() -> None:
    reading, wire = Quantity(2.99, 0.002, "mm"), Quantity(0.40, 0.0005, "mm")
    pitch, flank = Quantity(0.635, 0.001, "mm"), Quantity(30.0, 0.3, "deg")
    found = pitch_diameter_over_wires(reading, wire, pitch=pitch, flank_angle=flank)
    random = np.random.default_rng(20261)
    drawn = [
        pitch_diameter_from_wires(
            *(random.normal(q.value, q.standard_uncertainty) for q in (reading, wire, pitch, flank))
        )
        for _ in range(2000)
    ]
    assert found.value == pytest.approx(np.mean(drawn), abs=0.0002)
    assert found.standard_uncertainty == pytest.approx(np.std(drawn), rel=0.06)
    assert found.unit == "mm"


def test_an_effect_known_in_direction_stays_one() -> None:
    exact = Quantity(0.635, 0.0, "mm"), Quantity(30.0, 0.0, "deg")
    reading = Quantity(2.99, 0.0, "mm", one_sided=0.001)
    found = pitch_diameter_over_wires(reading, Quantity(0.3666, 0.0, "mm"), pitch=exact[0], flank_angle=exact[1])
    assert found.standard_uncertainty == 0
    assert found.one_sided == pytest.approx(0.001, rel=0.02)


def test_unequal_flanks_do_what_the_text_says() -> None:
    pitch, wire, mean, d = 1.0, best_wire(1.0, 30.0), math.radians(30), math.radians(0.5)

    def height(a: float, b: float) -> float:
        """Of a circle in a V without lead angle, by hand."""
        return (wire / 2 * (1 / math.cos(a) + 1 / math.cos(b)) - pitch / 2) / (math.tan(a) + math.tan(b))

    change = 2 * (height(mean + d, mean - d) - height(mean, mean))
    assert change == pytest.approx(0.6 * pitch * d**2, rel=0.1)
    assert 1000 * change == pytest.approx(0.04, abs=0.005)


@pytest.mark.parametrize("wire", [0.0, 0.3, 0.7, -1.0, math.nan])
def test_a_wire_that_cannot_be_used_is_refused_with_what_can(wire: float) -> None:
    with refused(WireError, match=r"take one of 0.3208 mm to 0.6416 mm, best 0.3666 mm"):
        wire_sizes(limits_of(parse("4-40 UNC-2A")), wire)


def test_a_nut_is_refused() -> None:
    with refused(WireError, match="wires measure screws"):
        wire_sizes(limits_of(parse("4-40 UNC-2B")))


@pytest.mark.parametrize(("measured", "wire"), [(0.1, 0.3666), (0.0, 0.3666), (3.0, 50.0), (math.nan, 0.3666)])
def test_an_impossible_measurement_is_refused(measured: float, wire: float) -> None:
    with pytest.raises(WireError):
        pitch_diameter_from_wires(measured, wire, 0.635, 30.0)
