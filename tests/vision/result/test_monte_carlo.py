"""The budget against trials that draw every input anew (JCGM 101): both must tell the same uncertainty."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np
import numpy.typing as npt
import pytest

from vision.fit.corner_bounds import spread_below
from vision.fit.quantities import NAMES
from vision.pictures.picture import read_picture
from vision.result.measure import measure_picture
from vision.result.measurement import Measurement
from vision.result.monte_carlo import Trials, run_trials
from vision.shared.correlation import correlated_noise, correlated_square, kernel_length
from vision.shared.plane import FixedScale

PICTURES = Path(__file__).parents[3] / "sample_images"


@dataclass(frozen=True)
class TwoPins(FixedScale):
    """A bench as two pins make it: scale and edge offset hang together."""

    @property
    def covariance(self) -> npt.NDArray[np.float64]:
        a, b = 2e-4 * self.um_per_px, 0.08
        return np.array([[a * a, 0.9 * a * b], [0.9 * a * b, b * b]])


@cache
def trials_of(name: str, cone_deg: float | None = None) -> tuple[Measurement, Trials]:
    plane = TwoPins(4.0, light_cone_deg=cone_deg, light_cone_u_deg=0.2, round_gauges=True, traceable=True)
    m = measure_picture(read_picture(PICTURES / name), plane)
    return m, run_trials(m, 60, seed=4)


def ratios(m: Measurement, trials: Trials) -> dict[str, float]:
    """Standard deviation of the trials over the budget's standard uncertainty, for what the picture gives."""
    linear = {n: getattr(m.thread, n) for n in NAMES}
    return {
        n: float(u / linear[n].standard_uncertainty)
        for n, u in zip(NAMES, trials.standard_uncertainty, strict=True)
        if linear[n] is not None
    }


SCREWS = sorted(p.name for p in PICTURES.glob("*.png") if "pin" not in p.name)[1:6:3]


@pytest.mark.slow
@pytest.mark.parametrize("name", SCREWS)
def test_budget_and_trials_agree(name: str) -> None:
    found = ratios(*trials_of(name))
    for quantity in ("pitch_diameter", "major_diameter", "minor_diameter", "pitch", "crest_width", "included_angle"):
        if quantity in found:
            assert found[quantity] == pytest.approx(1.0, abs=0.1), quantity
    assert min(found.values()) > 0.6
    assert max(found.values()) < 1.25


@pytest.mark.slow
def test_they_agree_in_a_light_of_known_cone() -> None:
    found = ratios(*trials_of(SCREWS[0], 3.0))
    assert found["pitch_diameter"] == pytest.approx(1.0, abs=0.1)
    assert found["crest_width"] == pytest.approx(1.0, abs=0.1)


@pytest.mark.slow
def test_mean_of_the_trials_is_the_measurement_and_the_interval_its_u95() -> None:
    m, trials = trials_of(SCREWS[0])
    low, high = trials.interval()
    for name in ("pitch_diameter", "major_diameter", "pitch"):
        q, i = getattr(m.thread, name), NAMES.index(name)
        assert trials.mean[i] == pytest.approx(q.value, abs=0.2 * q.standard_uncertainty)
        # 60 trials know the ends of a 95 % interval to about a fifth
        assert (high[i] - low[i]) / 2 == pytest.approx(2 * q.standard_uncertainty, rel=0.25)


@pytest.mark.slow
def test_the_same_seed_gives_the_same_trials() -> None:
    m, _ = trials_of(SCREWS[0])
    one, two, other = (run_trials(m, 20, seed=s).values for s in (1, 1, 2))
    assert np.array_equal(one, two)
    assert not np.array_equal(one, other)
    with pytest.raises(ValueError, match="at least 20"):
        run_trials(m, 5)


def test_correlated_noise_has_the_spread_that_is_reckoned_with() -> None:
    kernel = 0.9 ** np.arange(30) * np.cos(np.arange(30) / 12)
    side = np.repeat([1.0, -1.0], 700)
    t = np.linspace(-1, 1, side.size)
    rows = np.stack([np.ones_like(t), t, np.sin(30 * t), np.sin(1500 * t)])
    rng = np.random.default_rng(3)
    drawn = np.array([rows @ correlated_noise(side, kernel, rng) for _ in range(1500)])
    expected = correlated_square(rows, side, kernel)
    assert np.cov(drawn.T).diagonal() == pytest.approx(expected.diagonal(), rel=0.12)
    white = correlated_square(rows, side, np.ones(1))
    assert white == pytest.approx(rows @ rows.T, rel=1e-9, abs=1e-9)
    # long waves feel the whole of it, short ones less than white noise
    assert expected[0, 0] / white[0, 0] == pytest.approx(kernel_length(kernel), rel=0.1)
    assert expected[3, 3] < white[3, 3]


@pytest.mark.parametrize("beta", [-4.0, -1.0, 0.0, 0.7, 2.0])
def test_scatter_against_a_bound(beta: float) -> None:
    z = np.minimum(np.random.default_rng(2).standard_normal(400_000), -beta)
    assert spread_below(beta) == pytest.approx(float(z.std()), rel=0.02)
    assert spread_below(0.0) == pytest.approx(math.sqrt(0.5 - 1 / (2 * math.pi)))
