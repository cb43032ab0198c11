"""The mean of several pictures: weights, what does not average down, scatter, and the coverage of the result."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt
import pytest
from hypothesis import given
from hypothesis import strategies as st

from vision.several.weighted_mean import DECIDING, REPEATABILITY, Stack, weighted_mean

Array = npt.NDArray[np.float64]

N = len(DECIDING)
OWN = np.diag(np.array([1.0, 1.5, 1.0, 0.2, 30.0, 30.0]) * 1e-3) ** 2
COMMON = np.outer(*2 * [np.array([2.8, 2.4, 2.0, 0.6, 0.0, 0.0]) * 5e-4])
TRUE = np.array([2.81, 2.42, 2.06, 0.635, 30.0, 30.0])


def stack(values: Array, own: Array | None = None, bench: tuple[str, ...] | None = None) -> Stack:
    """Pictures with these values (k, n); own covariances (k, n, n), by default OWN for all."""
    k = len(values)
    owns = np.repeat(OWN[None], k, axis=0) if own is None else own
    return Stack(
        DECIDING, values, owns, {"edge noise and form": owns}, {"gauges": np.repeat(COMMON[None], k, axis=0)},
        bench or ("a",) * k,
    )  # fmt: skip


def test_noise_averages_down_and_the_gauges_do_not() -> None:
    mean = weighted_mean(stack(np.repeat(TRUE[None], 4, axis=0)))
    assert mean.values == pytest.approx(TRUE)
    assert mean.by_source["edge noise and form"] == pytest.approx(OWN / 4)
    assert mean.by_source["gauges"] == pytest.approx(COMMON)
    assert REPEATABILITY not in mean.by_source


def test_two_benches_average_their_gauges() -> None:
    mean = weighted_mean(stack(np.repeat(TRUE[None], 2, axis=0), bench=("a", "b")))
    assert mean.by_source["gauges"] == pytest.approx(COMMON / 2, rel=1e-6)


def test_a_picture_with_less_noise_weighs_more() -> None:
    values = np.stack([TRUE, TRUE + 1e-3 * np.sqrt(np.diag(OWN))])
    mean = weighted_mean(stack(values, np.stack([OWN, OWN * 100])))
    assert np.all(mean.values - TRUE < 0.02 * (values[1] - TRUE))


def test_scatter_beyond_the_noise_is_in_the_budget() -> None:
    """Diameters of an oval part: +-5 um in four pictures, own u 1 um; u of the mean 5.8 um / 2 and Student's factor."""
    values = np.repeat(TRUE[None], 4, axis=0)
    values[:, 0] += np.array([1, -1, 1, -1]) * 5e-3
    mean = weighted_mean(stack(values))
    laid = float(np.sqrt(mean.by_source[REPEATABILITY][0, 0]))
    assert 0.0029 < laid < 0.0029 * 1.8
    assert mean.agreement.scatter["major_diameter"] == pytest.approx(0.00568, rel=0.02)
    assert set(mean.agreement.scatter) == {"major_diameter"}
    assert mean.agreement.probability < 1e-6


@pytest.mark.parametrize("scatter", [0.0, 3e-3])
def test_u95_covers_the_truth(scatter: float) -> None:
    """250 parts of four pictures; major diameter with u 1 um, gauges 1.4 um, laid anew with 0 or 3 um."""
    rng = np.random.default_rng(8)
    inside, chances = 0, []
    for _ in range(250):
        shared = rng.multivariate_normal(np.zeros(N), COMMON, method="eigh", check_valid="ignore")
        values = TRUE + shared + rng.multivariate_normal(np.zeros(N), OWN, 4)
        values[:, 0] += scatter * rng.standard_normal(4)
        mean = weighted_mean(stack(values))
        inside += abs(mean.values[0] - TRUE[0]) <= 2 * float(np.sqrt(mean.covariance[0, 0]))
        chances.append(mean.agreement.probability)
    # 95 % less four standard deviations of the count
    assert inside >= 250 * 0.95 - 4 * np.sqrt(250 * 0.95 * 0.05)
    if scatter == 0:
        assert inside <= 249
        # chi squared is what it should be: probabilities are spread evenly
        assert 0.42 < float(np.mean(chances)) < 0.58


@given(st.integers(2, 6), st.integers(0, 10**6))
def test_the_mean_lies_between_the_pictures(k: int, seed: int) -> None:
    values = TRUE + np.random.default_rng(seed).standard_normal((k, N)) * 1e-3
    mean = weighted_mean(stack(values))
    assert np.all(mean.values >= values.min(axis=0) - 1e-12)
    assert np.all(mean.values <= values.max(axis=0) + 1e-12)
    assert np.linalg.eigvalsh(mean.covariance).min() > -1e-15


def test_a_quantity_that_follows_from_others_does_not_upset_the_weights() -> None:
    """Crest width follows from pitch, diameters and angles: no covariance of a picture that has it can be inverted."""
    rows = np.array([0.7, -0.5, 0.1, 0.4, 2e-4, -3e-4])
    values = np.array([[*TRUE, rows @ TRUE], [*(TRUE + 1e-5), rows @ TRUE + 3e-5]])
    follow = [np.vstack([np.eye(N), rows * (1 + slip)]) for slip in (0.0, 1e-6)]
    own = np.array([f @ OWN @ f.T for f in follow])
    mean = weighted_mean(Stack((*DECIDING, "crest_width"), values, own, {"edge noise and form": own}, {}, ("a", "a")))
    assert mean.values == pytest.approx(values.mean(axis=0), abs=3e-5)
