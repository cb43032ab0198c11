"""The robust estimator against closed forms and points that belong to something else."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt
import pytest
from scipy import stats

from vision.shared.correlation import correlation_length
from vision.shared.robust import (
    BIWEIGHT,
    GEMAN_MCCLURE,
    MAD_TO_SIGMA,
    MEDIAN_U,
    RAYLEIGH_TO_SIGMA,
    biweight_cost,
    fit_linear,
    robust_scale,
)

Array = npt.NDArray[np.float64]
Bool = npt.NDArray[np.bool_]


def test_constants_are_those_of_the_distributions() -> None:
    assert pytest.approx(1 / stats.norm.ppf(0.75), rel=1e-4) == MAD_TO_SIGMA
    assert pytest.approx(np.sqrt(np.pi / 2), rel=1e-4) == MEDIAN_U
    assert pytest.approx(1 / stats.rayleigh.median(), rel=1e-4) == RAYLEIGH_TO_SIGMA


def test_scale_of_normal_residuals_is_their_standard_deviation() -> None:
    noise = np.random.default_rng(1).normal(0, 0.3, 40_000)
    noise[::10] += 50.0  # a tenth of outliers moves it by a tenth or so
    assert robust_scale(noise) == pytest.approx(0.3, rel=0.16)
    assert robust_scale(np.zeros(5), 0.02) == 0.02


def test_weights_at_half_the_cut() -> None:
    """Beaton and Tukey 1974: (1 - z^2)^2; Geman and McClure 1985: 1 / (1 + z^2)^2; both by hand for z = 1/2 and 2."""
    assert BIWEIGHT.weights(np.array([0.0, 2.5, 10.0]), 1.0) == pytest.approx([1.0, 0.5625, 0.0])
    assert GEMAN_MCCLURE.weights(np.array([0.0, 1.0, 4.0]), 1.0) == pytest.approx([1.0, 0.64, 0.04])
    # the cost's slope is weight times residual: 0.5625 * 2.5
    slope = (biweight_cost(np.array([2.501]), 1.0) - biweight_cost(np.array([2.499]), 1.0)) / 0.002
    assert slope == pytest.approx(1.40625, rel=1e-4)


def _line(outliers: Bool) -> tuple[Array, Array]:
    """Design and heights of 600 points of 2.0 + 0.7 x with noise of 0.01, the ``outliers`` 5 to 7 higher."""
    rng = np.random.default_rng(3)
    x = np.linspace(-1, 1, outliers.size)
    y = 2.0 + 0.7 * x + rng.normal(0, 0.01, x.size) + outliers * rng.uniform(5, 7, x.size)
    return np.stack([np.ones_like(x), x], axis=1), y


def test_dust_on_a_line_counts_nothing() -> None:
    dusty = np.arange(600) % 6 == 0
    fit = fit_linear(*_line(dusty), least=1e-4, steps=20)
    assert fit.coefficients == pytest.approx([2.0, 0.7], abs=0.005)
    assert fit.scale == pytest.approx(0.01, rel=0.3)
    assert not fit.used[dusty].any()


def test_a_line_is_reached_from_afar() -> None:
    """Three tenths of the points, next to each other, pull the first line so far that the biweight never comes back."""
    other = (np.arange(600) > 100) & (np.arange(600) < 280)
    fit = fit_linear(*_line(other), least=1e-4, loss=GEMAN_MCCLURE, steps=20)
    assert fit.coefficients == pytest.approx([2.0, 0.7], abs=0.005)


def test_what_the_points_leave_open_stays_at_zero() -> None:
    x = np.full(50, 0.5)
    fit = fit_linear(np.stack([x, x * 0], axis=1), np.full(50, 3.0), least=1e-6)
    assert fit.coefficients == pytest.approx([6.0, 0.0])


def test_correlation_length_of_a_moving_mean() -> None:
    """The mean of five neighbours has the autocorrelation 1 - |lag| / 5, which sums to 5 over both directions."""
    white = np.random.default_rng(1).normal(size=4000)
    assert correlation_length(white) < 1.2
    assert correlation_length(np.convolve(white, np.ones(5), mode="valid")) == pytest.approx(5, rel=0.25)
    assert correlation_length(white[:7]) == 1.0
