"""The weighted fit of round and flat gauges: exact, honest, and it finds the cone of the light."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from calib.scale import BENCH_CONE_DEG, NEAREST_CAMERA_MM, OFFSET_U_PX, GaugeReading, fit_scale
from threads.shared.refusal import RefusalError
from vision.model.grazing import MEAN_REFLECTIVITY, PINS_REFLECTIVITY_U


def pin(
    mm: float, scale: float, offset: float, cone: float = 0.0, distance: float = math.inf, u: float = 0.05
) -> GaugeReading:
    """A pin of which both the polished edges and the near camera are taken exactly; ``u`` in um."""
    lost = MEAN_REFLECTIVITY * math.radians(cone) ** 2 / 8
    wide = 1 / math.sqrt(1 - (mm / 2 / distance) ** 2)
    return GaugeReading("pin", True, 1000 * mm, u, 1000 * mm * (1 - lost) * wide / scale + 2 * offset, 0.015)


def rulings(mm: float, scale: float, u: float = 0.05) -> GaugeReading:
    return GaugeReading("stage micrometer", False, 1000 * mm, u, 1000 * mm / scale, 0.01)


@given(
    sizes=st.lists(st.floats(0.4, 6.0), min_size=2, max_size=5),
    scale=st.floats(0.8, 20.0),
    offset=st.floats(-1.0, 1.0),
    cone=st.floats(0.0, 9.0),
    length=st.floats(1.0, 9.0),
)
def test_exact_readings_with_a_known_light_give_back_all(
    sizes: list[float], scale: float, offset: float, cone: float, length: float
) -> None:
    assume(max(sizes) > 1.1 * min(sizes))
    given_ = [pin(d, scale, offset, cone) for d in sizes] + [rulings(length, scale)]
    fit = fit_scale(given_, cone_deg=cone, working_distance_mm=math.inf)
    assert fit.um_per_px == pytest.approx(scale, rel=1e-8)
    assert fit.edge_offset_px == pytest.approx(offset, abs=1e-6)
    assert not fit.disagree
    assert not fit.round_only
    assert fit.cone_deg is None  # it was given, not found


@pytest.mark.parametrize("cone", [2.0, 3.0, 4.0, 5.5])
def test_the_cone_is_found(cone: float) -> None:
    """Pins and rulings known to 0.1 um (U95): within its U95, which allows for the reflectivity, and 0.2 deg."""
    fit = fit_scale(
        [pin(1.0, 4.0, 0.2, cone), pin(2.5, 4.0, 0.2, cone), rulings(4.0, 4.0)], working_distance_mm=math.inf
    )
    assert fit.cone_deg == pytest.approx(cone, abs=0.2)
    assert abs(fit.cone_deg - cone) < 2 * fit.cone_u_deg
    # half of the part by which the reflectivity of pins is not known goes into the angle
    assert fit.cone_u_deg >= 0.45 * cone * PINS_REFLECTIVITY_U / MEAN_REFLECTIVITY
    assert fit.um_per_px == pytest.approx(4.0, rel=3e-5)


def test_a_near_camera_is_told_from_the_light() -> None:
    readings = [pin(1.0, 4.0, 0.0, 4.0, 60.0), pin(2.5, 4.0, 0.0, 4.0, 60.0), rulings(4.0, 4.0)]
    known = fit_scale(readings, working_distance_mm=60.0)
    assert known.cone_deg == pytest.approx(4.0, abs=0.15)
    unknown = fit_scale(readings)
    assert unknown.cone_deg is not None
    assert unknown.cone_u_deg > known.cone_u_deg
    assert abs(unknown.cone_deg - 4.0) < 2 * unknown.cone_u_deg
    alone = fit_scale(readings[:2], working_distance_mm=60.0)  # without rulings the light stays in the scale
    assert alone.um_per_px == pytest.approx(4.0 / (1 - MEAN_REFLECTIVITY * math.radians(4.0) ** 2 / 8), rel=1e-5)


def test_a_wide_light_may_be_a_wrong_size() -> None:
    """Above 6 deg no cone is given; U95 of the scale reaches what the pins say alone."""
    readings = [pin(1.0, 4.0, 0.2, 8.0), pin(2.5, 4.0, 0.2, 8.0), rulings(4.0, 4.0)]
    fit = fit_scale(readings, working_distance_mm=math.inf)
    assert fit.cone_deg is None
    assert fit.doubtful_cone_deg == pytest.approx(8.0, abs=0.3)
    assert BENCH_CONE_DEG < 8.0
    pins = fit_scale(readings[:2], working_distance_mm=math.inf)
    assert 2 * math.sqrt(fit.covariance[0, 0]) >= abs(pins.um_per_px - fit.um_per_px)
    assert fit_scale(readings, cone_deg=8.0, working_distance_mm=math.inf).um_per_px == pytest.approx(4.0, rel=1e-6)


@pytest.mark.parametrize("distance", [60.0, 100.0, 250.0, math.inf])
def test_pins_seen_from_a_distance_that_is_not_stated(distance: float) -> None:
    """They look larger by R^2 / 2 D^2 (217 ppm for 2.5 mm from 60 mm): the scale's U95 covers that, and not ten times.

    With the distance stated nothing of it is left.
    """
    readings = [pin(1.0, 4.0, 0.1, distance=distance), pin(2.5, 4.0, 0.1, distance=distance)]
    silent = fit_scale(readings)
    u95 = 2 * math.sqrt(silent.covariance[0, 0]) / 4.0
    at_nearest = 1.25**2 / 2 / NEAREST_CAMERA_MM**2
    assert abs(silent.um_per_px / 4.0 - 1) < u95
    assert at_nearest < u95 < 3 * at_nearest
    stated = fit_scale(readings, working_distance_mm=distance)
    assert stated.um_per_px == pytest.approx(4.0, rel=2e-6)
    assert math.sqrt(stated.covariance[0, 0]) < 0.6 * math.sqrt(silent.covariance[0, 0])


def any_bench(rng: np.random.Generator, bar_off: float) -> tuple[list[GaugeReading], float]:
    """Two pins at least 1 mm apart in size and a scale bar, each to 0.2 to 1 um (U95), in any light; the true scale.

    The bar is longer by ``bar_off`` than it is said to be.
    """
    lost = rng.uniform(0, 0.85) * math.radians(rng.uniform(0, 5)) ** 2 / 8
    scale, offset, distance = rng.uniform(2, 6), rng.normal(0, 0.3), rng.uniform(80e3, 250e3)
    small = rng.uniform(500, 1500)
    readings = []
    for size in (small, small + rng.uniform(1000, 2000)):
        u = rng.uniform(0.1, 0.5)
        seen = (size + rng.normal(0, u)) * (1 - lost) * (1 + size**2 / 8 / distance**2) / scale
        readings.append(GaugeReading("pin", True, size, u, seen + 2 * offset + rng.normal(0, 0.015), 0.015))
    length, u = rng.choice([2000.0, 4000.0, 10000.0]), rng.uniform(0.1, 0.5)
    seen = (length * (1 + bar_off) + rng.normal(0, u)) / scale
    return [*readings, GaugeReading("stage micrometer", False, length, u, seen + rng.normal(0, 0.01), 0.01)], scale


@pytest.mark.slow
@pytest.mark.parametrize("bar_off", [0.003, -0.003, 0.0])
def test_a_scale_bar_of_another_length_does_not_pass(bar_off: float) -> None:
    """0.3 % off: warned of, or covered by the scale's U95, every time. Right bars are seldom doubted, and covered."""
    rng, benches = np.random.default_rng(5), 60 if bar_off else 100
    doubted = covered = 0
    for _ in range(benches):
        readings, scale = any_bench(rng, bar_off)
        fit = fit_scale(readings)
        warned = fit.disagree or fit.doubtful_cone_deg is not None
        within = abs(fit.um_per_px - scale) <= 2 * math.sqrt(fit.covariance[0, 0])
        assert warned or within or not bar_off
        doubted += warned
        covered += within
    if not bar_off:
        assert doubted < 0.06 * benches
        assert covered > 0.93 * benches


@pytest.mark.parametrize("u", [0.5, 2.0])
def test_poorly_known_gauges_tell_no_cone(u: float) -> None:
    fit = fit_scale([pin(1.0, 4.0, 0.2, 3.0, u=u), pin(2.5, 4.0, 0.2, 3.0, u=u), rulings(4.0, 4.0, u=u)])
    assert fit.cone_deg is None
    assert fit.cone_u_deg == 0.0


@pytest.mark.slow
def test_coverage_of_u95_with_mixed_gauges() -> None:
    """150 benches of any cone to 6 deg, gauges and readings drawn anew; two sigma of the count are 3.4 %."""
    rng = np.random.default_rng(11)
    hits, told = np.zeros(2), []
    for _ in range(150):
        cone, offset = rng.uniform(0, 6), rng.normal(0, 0.2)
        lost = rng.normal(MEAN_REFLECTIVITY, PINS_REFLECTIVITY_U) * math.radians(cone) ** 2 / 8
        readings = [
            GaugeReading(
                "pin",
                True,
                d,
                0.1,
                (d + rng.normal(0, 0.1)) * (1 - lost) / 4 + 2 * offset + rng.normal(0, 0.015),
                0.015,
            )
            for d in (1000.0, 2500.0)
        ]
        true = 4000 + rng.normal(0, 0.1)
        readings.append(GaugeReading("stage micrometer", False, 4000.0, 0.1, true / 4 + rng.normal(0, 0.01), 0.01))
        fit = fit_scale(readings, working_distance_mm=math.inf)
        error = np.abs([fit.um_per_px - 4.0, fit.edge_offset_px - offset])
        hits += error <= 2 * np.sqrt(np.diag(fit.covariance))
        if fit.cone_deg is not None:
            told.append(abs(fit.cone_deg - cone) <= 2 * fit.cone_u_deg)
    assert np.all(hits / 150 > 0.92)
    assert len(told) > 75
    assert np.mean(told) > 0.9


def test_flat_gauges_alone_leave_the_offset_assumed() -> None:
    fit = fit_scale([rulings(2.0, 3.2)])
    assert fit.um_per_px == pytest.approx(3.2, rel=1e-9)
    assert fit.offset_assumed
    assert math.sqrt(fit.covariance[1, 1]) == pytest.approx(OFFSET_U_PX)
    assert math.sqrt(fit.covariance[0, 0]) / 3.2 == pytest.approx(math.hypot(0.05 / 2000, 0.01 / 625), rel=1e-3)
    assert fit.cone_deg is None


def test_one_pin_beside_rulings_tells_the_offset_in_a_known_light() -> None:
    readings = [pin(2.0, 4.0, 0.3, 2.0), rulings(4.0, 4.0)]
    fit = fit_scale(readings, cone_deg=2.0, working_distance_mm=math.inf)
    assert fit.edge_offset_px == pytest.approx(0.3, abs=1e-6)
    assert math.sqrt(fit.covariance[1, 1]) < 0.05
    assert not fit.offset_assumed
    assert fit_scale(readings).offset_assumed


def test_the_same_ruling_again_is_not_better_known() -> None:
    one = fit_scale([rulings(2.0, 4.0, u=0.5)])
    five = fit_scale([rulings(2.0, 4.0, u=0.5)] * 5)
    assert five.covariance[0, 0] == pytest.approx(one.covariance[0, 0], rel=1e-2)
    both = fit_scale([rulings(2.0, 4.0, u=0.5), GaugeReading("grid", False, 5000.0, 0.5, 1250.0, 0.01)])
    assert both.covariance[0, 0] < 0.2 * one.covariance[0, 0]


def test_gauges_in_different_planes_disagree() -> None:
    """Rulings that look 1 % larger than the pins say no light can explain: widened, and no cone from it."""
    fit = fit_scale([pin(1.0, 4.0, 0.0), pin(2.0, 4.0, 0.0), pin(3.0, 4.0, 0.0), rulings(4.0, 4.04)])
    assert fit.disagree
    assert fit.cone_deg is None
    assert math.sqrt(fit.covariance[0, 0]) > 1e-3


def test_what_cannot_be_is_refused() -> None:
    with pytest.raises(RefusalError) as caught:
        fit_scale([GaugeReading("grid", False, 5e6, 1.0, 100.0, 0.1)])
    assert caught.value.reasons[0].code == "implausible_scale"
