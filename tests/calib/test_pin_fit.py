"""The line through the pins: exact, honest in its uncertainty, and not to be talked into nonsense."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from calib.pins import check_fit, check_order
from calib.scale import OFFSET_U_PX, GaugeReading, ScaleFit, fit_scale
from flankwise.reasons import sentence
from threads.shared.refusal import RefusalError

SCALES = st.floats(0.8, 40.0)
OFFSETS = st.floats(-1.5, 1.5)
SIZES = st.lists(st.floats(0.3, 8.0), min_size=2, max_size=8)


def _exact(sizes_mm: list[float], scale: float, offset: float) -> list[float]:
    return [1000 * d / scale + 2 * offset for d in sizes_mm]


def fit_pins(
    seen: Sequence[float],
    u_px: Sequence[float],
    mm: Sequence[float],
    u_mm: Sequence[float],
    distance_mm: float | None = math.inf,
) -> ScaleFit:
    """Pins of these sizes read so through a telecentric lens, fitted and checked as the pins of a bench are."""
    columns = np.array(seen), np.array(u_px), 1000 * np.array(mm), 1000 * np.array(u_mm)
    check_order(*columns)
    rows = zip(columns[2], columns[3], columns[0], columns[1], strict=True)
    readings = [GaugeReading("pin", True, *(float(v) for v in row)) for row in rows]
    fit = fit_scale(readings, working_distance_mm=distance_mm)
    check_fit(fit, columns[2])
    return fit


@given(sizes=SIZES, scale=SCALES, offset=OFFSETS)
def test_exact_readings_give_back_scale_and_offset(sizes: list[float], scale: float, offset: float) -> None:
    assume(max(sizes) > 1.06 * min(sizes))
    seen = _exact(sizes, scale, offset)
    assume(min(seen) > 0)
    order = np.argsort(sizes)
    fit = fit_pins(seen, [0.02] * len(sizes), sizes, [0.0005] * len(sizes))
    assert not fit.offset_assumed
    assert not fit.disagree
    assert fit.um_per_px == pytest.approx(scale, rel=1e-7)
    assert fit.edge_offset_px == pytest.approx(offset, abs=1e-4)
    assert np.max(np.abs(fit.residuals_um)) < 1e-3
    shuffled = fit_pins(*(np.asarray(v)[order] for v in (seen, [0.02] * len(sizes), sizes, [0.0005] * len(sizes))))
    assert shuffled.um_per_px == pytest.approx(fit.um_per_px, rel=1e-12)


@given(
    sizes=st.lists(st.sampled_from([0.5, 1.0, 1.5, 2.0, 2.5, 4.0, 6.0]), min_size=2, max_size=6),
    scale=SCALES,
    offset=OFFSETS,
    z=st.lists(st.floats(-1, 1), min_size=14, max_size=14),
)
def test_errors_within_one_sigma_stay_within_the_worst_that_they_can_do(
    sizes: list[float], scale: float, offset: float, z: list[float]
) -> None:
    """All pins off by at most one standard uncertainty: the result is off by at most the sum of their influences."""
    assume(max(sizes) > min(sizes))
    u_px, u_mm = 0.03, 0.0005
    off = {d: z[i] * u_mm for i, d in enumerate(sorted(set(sizes)))}
    seen = [1000 * (d + off[d]) / scale + 2 * offset + z[7 + i] * u_px for i, d in enumerate(sizes)]
    assume(min(seen) > 20)
    fit = fit_pins(seen, [u_px] * len(sizes), sizes, [u_mm] * len(sizes))
    reach = math.sqrt(len(sizes) + len(off))  # Cauchy-Schwarz over the independent errors
    assert abs(fit.um_per_px - scale) <= 1.02 * reach * math.sqrt(fit.covariance[0, 0])
    assert abs(fit.edge_offset_px - offset) <= 1.02 * reach * math.sqrt(fit.covariance[1, 1])


@pytest.mark.parametrize(
    ("sizes", "u_px"),
    [
        ([1.0, 2.5], [0.03, 0.03]),
        ([0.5, 1.0, 2.0, 3.0], [0.03] * 4),
        ([1.0, 1.0, 2.5, 2.5, 2.5], [0.2, 0.1, 0.3, 0.2, 0.1]),  # the same two pins photographed several times
        ([2.0], [0.05]),
        ([2.0, 2.0, 2.02], [0.1, 0.1, 0.1]),
    ],
)
def test_coverage_of_u95(sizes: list[float], u_px: list[float]) -> None:
    """400 benches, everything drawn anew: k = 2 must hold the truth in 95.4 %; two sigma of the count are 2.1 %."""
    rng = np.random.default_rng(20_260)
    scale, u_mm, hits = 4.0, 0.0005, np.zeros(2)
    one_size = max(sizes) < 1.05 * min(sizes)
    for _ in range(400):
        offset = rng.normal(0, OFFSET_U_PX) if one_size else 0.6
        true = {d: d + rng.normal(0, u_mm) for d in sorted(set(sizes))}
        seen = [1000 * true[d] / scale + 2 * offset + rng.normal(0, u) for d, u in zip(sizes, u_px, strict=True)]
        fit = fit_pins(seen, u_px, sizes, [u_mm] * len(sizes))
        error = np.array([fit.um_per_px - scale, fit.edge_offset_px - offset])
        hits += np.abs(error) <= 2 * np.sqrt(np.diag(fit.covariance))
    assert np.all(hits / 400 >= 0.93)
    assert np.all(hits / 400 <= 0.97)


def test_covariance_is_that_of_the_errors_drawn() -> None:
    """Full covariance, correlation included: 2000 benches, 10 % on each entry (statistics alone: 3 %)."""
    rng = np.random.default_rng(7)
    results = []
    for _ in range(2000):
        seen = [1000 * (d + rng.normal(0, 0.0005)) / 4 + 1.0 + rng.normal(0, 0.05) for d in (1.0, 2.5)]
        fit = fit_pins(seen, [0.05] * 2, [1.0, 2.5], [0.0005] * 2)
        results.append((fit.um_per_px, fit.edge_offset_px))
    drawn = np.cov(np.array(results).T)
    assert np.allclose(drawn, fit.covariance, rtol=0.1)
    assert fit.covariance[0, 1] > 0  # a larger offset leaves fewer pixels for the same pin


def test_one_size_assumes_the_offset_and_pays_for_it() -> None:
    one = fit_pins([500.0], [0.02], [2.0], [0.0005])
    assert one.offset_assumed
    assert one.edge_offset_px == pytest.approx(0, abs=1e-9)
    assert one.um_per_px == pytest.approx(4.0)
    assert math.sqrt(one.covariance[1, 1]) == pytest.approx(OFFSET_U_PX)
    # 2 * 0.15 px, the reading and the pin (0.125 px), over 500 px
    assert math.sqrt(one.covariance[0, 0]) == pytest.approx(4 * math.hypot(0.3, 0.02, 0.125) / 500, rel=1e-6)
    alike = fit_pins([500.0, 515.0], [0.02] * 2, [2.0, 2.06], [0.0005] * 2)
    assert alike.offset_assumed
    apart = fit_pins([500.0, 1500.0], [0.02] * 2, [2.0, 6.0], [0.0005] * 2)
    assert not apart.offset_assumed
    assert apart.covariance[0, 0] < one.covariance[0, 0] / 4


def test_more_pictures_of_a_pin_do_not_make_the_pin_better_known() -> None:
    few = fit_pins([250.0, 625.0], [0.001] * 2, [1.0, 2.5], [0.0005] * 2)
    many = fit_pins([250.0] * 9 + [625.0] * 9, [0.001] * 18, [1.0] * 9 + [2.5] * 9, [0.0005] * 18)
    assert np.allclose(many.covariance, few.covariance, rtol=1e-3)


def test_weights_follow_the_uncertainties() -> None:
    """A pin known badly and 1 um wrong hardly moves the line between two that are known well."""
    seen = _exact([1.0, 2.001, 3.0], 4.0, 0.2)
    fit = fit_pins(seen, [0.02] * 3, [1.0, 2.0, 3.0], [0.0001, 0.002, 0.0001])
    assert fit.um_per_px == pytest.approx(4.0, rel=1e-5)
    assert fit.residuals_um[1] == pytest.approx(1.0, abs=0.02)


def test_pins_that_disagree_widen_the_covariance() -> None:
    seen = _exact([1.0, 2.0, 3.0], 4.0, 0.2)
    good = fit_pins(seen, [0.02] * 3, [1.0, 2.0, 3.0], [0.0002] * 3)
    seen[1] += 1.0  # a speck of 4 um
    bad = fit_pins(seen, [0.02] * 3, [1.0, 2.0, 3.0], [0.0002] * 3)
    assert not good.disagree
    assert bad.disagree
    assert bad.degrees_of_freedom == 1
    assert bad.chi_squared > 3.84  # the 95 % point for one degree of freedom, from any table
    assert np.allclose(bad.covariance, good.covariance * bad.chi_squared, rtol=1e-3)
    # residuals of a line through three equally spaced points: 2/3 of the lump in the middle
    assert bad.residuals_um[1] == pytest.approx(4.0 * 2 / 3, rel=0.01)


def test_false_alarms_are_one_in_twenty() -> None:
    rng = np.random.default_rng(3)
    alarms = 0
    for _ in range(400):
        seen = [1000 * (d + rng.normal(0, 0.0005)) / 4 + rng.normal(0, 0.05) for d in (0.5, 1, 2, 3)]
        alarms += fit_pins(seen, [0.05] * 4, [0.5, 1, 2, 3], [0.0005] * 4).disagree
    assert 8 <= alarms <= 34  # 20 +- 3 sigma


@pytest.mark.parametrize(
    ("seen", "sizes", "code"),
    [
        ([250.0, 625.0], [2.5, 1.0], "pins_contradict"),  # swapped
        ([250.0, 625.0], [1.0, 2.0], "pins_contradict"),  # one diameter wrong: an offset of -62 px
        ([250.0, 250.0], [1.0, 1.2], "pins_contradict"),
        ([250.0, 500.0, 625.0], [1.0, 2.2, 2.5], "pins_contradict"),
        ([500.0, 480.0], [2.0, 2.0], "pins_contradict"),  # the same pin, 80 um apart
        ([250.0], [25400.0], "implausible_scale"),
        ([400.0], [0.006], "implausible_scale"),
    ],
)
def test_nonsense_is_refused(seen: list[float], sizes: list[float], code: str) -> None:
    n = len(seen)
    with pytest.raises(RefusalError) as caught:
        fit_pins(seen, [0.02] * n, sizes, [0.0005] * n)
    assert caught.value.reasons[0].code == code
    assert "\n" not in sentence(caught.value.reasons[0])


@given(
    st.lists(
        st.tuples(
            st.floats(1, 1e6),  # px
            st.floats(0, 1),
            st.floats(1e-4, 1e6),  # mm
            st.floats(0, 1e-5),
        ),
        min_size=1,
        max_size=5,
    )
)
def test_any_numbers_give_a_sound_fit_or_a_refusal(rows: list[tuple[float, float, float, float]]) -> None:
    columns = list(zip(*rows, strict=True))
    for distance in (math.inf, None):
        try:
            fit = fit_pins(*columns, distance)
        except RefusalError:
            continue
        assert math.isfinite(fit.um_per_px)
        assert fit.um_per_px > 0
        assert np.all(np.linalg.eigvalsh(fit.covariance) >= -1e-12 * np.max(np.abs(fit.covariance)))
