"""The integrals of identification against brute force, and its probabilities against how often they come true."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import numpy.typing as npt
import pytest
from scipy.stats import expon, multivariate_normal, norm

from tests.threads.measured_factory import measured_thread
from threads import no_standard, zone_prior
from threads.identify import Field, field_of, identify_among
from threads.limits import candidates
from threads.measured import MeasuredThread
from threads.provenance import weigh
from threads.zone_prior import STATES, log_evidence, reading_of, zones_of

Array = npt.NDArray[np.float64]
STATE_NAMES = tuple(STATES)


def true_diameters(low: Array, high: Array, state: str, n: int, rng: np.random.Generator) -> Array:
    """Major and pitch diameters drawn as ``zone_prior`` says, (n, 2), mm."""
    sizes = rng.uniform(low, high, (n, 2))
    if state == "worn":
        sizes -= rng.exponential(zone_prior.WEAR, (n, 2))
    if state == "plated":
        sizes += rng.exponential(zone_prior.PLATING, (n, 2))
    return sizes


def prior_density(sizes: Array, low: Array, high: Array, state: str) -> Array:
    """Density of the diameters drawn by ``true_diameters``, (n, 2), as a difference of cumulative probabilities."""
    if state == "as made":
        return np.where((sizes >= low) & (sizes <= high), 1.0, 0.0) / (high - low)
    if state == "worn":
        lost = expon(scale=zone_prior.WEAR)
        return (lost.cdf(high - sizes) - lost.cdf(low - sizes)) / (high - low)
    gained = expon(scale=zone_prior.PLATING)
    return (gained.cdf(sizes - low) - gained.cdf(sizes - high)) / (high - low)


@pytest.mark.parametrize("scale_u", [1e-4, 3e-3])
@pytest.mark.parametrize("one_sided", [0.0, 0.010])
@pytest.mark.parametrize("offset", [-0.030, -0.004, 0.020, 0.050, 0.075])
def test_the_evidence_is_the_mean_likelihood_over_the_prior(scale_u: float, one_sided: float, offset: float) -> None:
    # The prior's mean over what the measurement allows. Tolerance: 4 standard errors of the Monte Carlo mean (below 2 %
    # of the likeliest state's) and 0.1 %.
    limits = candidates(("NC",))[9:10]
    zones = zones_of(limits)
    low, high = zones.low[0], zones.high[0]
    thread = measured_thread(
        low[0] + 0.02, low[1] + offset, zones.pitch[0] * 1.001, flank_left=30.6, scale_u=scale_u, one_sided=one_sided
    )
    reading = reading_of(thread)
    found = np.exp(log_evidence(zones, reading))[0]
    rng = np.random.default_rng(7)
    n = 100_000
    rest_spread = np.array([zone_prior.PITCH_SPREAD * zones.pitch[0], zone_prior.FLANK_SPREAD, zone_prior.FLANK_SPREAD])
    rest_nominal = np.array([zones.pitch[0], zones.flank[0], zones.flank[0]])
    own = norm(zones.root[0], np.hypot(zone_prior.ROOT_SPREAD, reading.root_depth_u)).pdf(reading.root_depth)
    common = norm(zone_prior.ROOT_DEPTH_ANY, np.hypot(zone_prior.ROOT_SPREAD_ANY, reading.root_depth_u))
    factor = zone_prior.ROOT_SHARE * own + (1 - zone_prior.ROOT_SHARE) * common.pdf(reading.root_depth)
    factor *= norm(0, np.hypot(zone_prior.TAPER_SPREAD, reading.taper_u)).pdf(reading.taper)
    # Pitch and angles are integrated over the exact conditional normal, which keeps the Monte Carlo noise small.
    S = reading.covariance
    total = S[2:, 2:] + np.diag(rest_spread**2)
    factor *= multivariate_normal(np.zeros(3), total).pdf(reading.rest - rest_nominal)
    gain = S[:2, 2:] @ np.linalg.inv(total)
    conditional = S[:2, :2] - gain @ S[2:, :2]
    centre = reading.diameters - gain @ (reading.rest - rest_nominal)
    sizes = rng.multivariate_normal(centre, conditional, n) + rng.uniform(0, 1, (n, 1)) * reading.shift
    density = np.array([prior_density(sizes, low, high, state).prod(axis=1) for state in STATE_NAMES])
    mean, error = density.mean(axis=1), density.std(axis=1) / np.sqrt(n)
    assert np.all(error < 0.02 * mean.max())
    shares = np.array(list(STATES.values()))
    np.testing.assert_array_less(np.abs(found / (shares * factor) - mean), 4 * error + 1e-3 * mean + 1e-4 * mean.max())


@pytest.mark.parametrize("u", [0.0005, 0.01, 0.2])
@pytest.mark.parametrize(
    ("exact", "density", "tail"),
    [
        (zone_prior._made_blurred, zone_prior._made, 0.0),
        (zone_prior._worn_blurred, zone_prior._worn, 1.0),
        (zone_prior._plated_blurred, zone_prior._plated, -1.0),
    ],
)
def test_the_blurred_zone_is_the_zone_convolved(
    u: float, exact: Callable[..., Array], density: Callable[..., Array], tail: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    # The pitch-diameter densities with the major diameter's scales are the unblurred ones of what is tested.
    monkeypatch.setattr(zone_prior, "WEAR", (0.03, 0.03))
    monkeypatch.setattr(zone_prior, "PLATING", (0.008, 0.008))
    low, high = np.array(2.70), np.array(2.82)
    x = np.linspace(2.70 - 1.5, 2.82 + 1.5, 600_001)
    prior = density(x, low, high)
    assert np.trapezoid(prior, x) == pytest.approx(1.0, abs=1e-4)
    centre_of_mass = np.trapezoid(prior * x, x)
    mean_change = {0.0: 0.0, 1.0: -0.03, -1.0: 0.008}[tail]
    assert centre_of_mass == pytest.approx(2.76 + mean_change, abs=1e-4)
    for m in (2.60, 2.6995, 2.70, 2.76, 2.8205, 2.83):
        brute = np.trapezoid(prior * norm.pdf(m, x, u), x)
        assert exact(np.array(m), low, high, np.array(u)) == pytest.approx(brute, rel=2e-3, abs=1e-9)


def test_densities_stay_finite_far_away_and_with_any_uncertainty() -> None:
    for u in (1e-6, 1e-3, 10.0):
        for m in (-50.0, 0.0, 2.76, 50.0):
            for function in (zone_prior._made_blurred, zone_prior._worn_blurred, zone_prior._plated_blurred):
                value = function(np.array(m), np.array(2.70), np.array(2.82), np.array(u))
                assert np.isfinite(value)
                assert value >= 0


def test_the_density_of_no_standard_integrates_to_one() -> None:
    # Factor by factor, with the measurement's uncertainty folded in; tolerance 0.5 % for the grids.
    for major in (1.0, 3.0, 9.0):
        pitch = np.exp(np.linspace(np.log(major * 0.03), np.log(major * 1.2), 12_001))
        over_pitch = np.exp([no_standard._log_pitch(p, 5e-4 * p, major) for p in pitch])
        assert np.trapezoid(over_pitch, pitch) == pytest.approx(1.0, abs=5e-3)
    depth = np.linspace(-0.5, 2.0, 2501)
    assert np.trapezoid(np.exp([no_standard._log_depth(d) for d in depth]), depth) == pytest.approx(1.0, abs=5e-3)
    angle = np.linspace(-6.0, 66.0, 145)
    over_flanks = np.exp([[no_standard._log_flanks(left, right, 0.3, 0.3) for right in angle] for left in angle])
    inside = np.trapezoid(np.trapezoid(over_flanks, angle, axis=1), angle)
    # The even shares are not cut at the ends of their 60 degrees but run on, here over 72.
    free = 1 - sum(no_standard.HALF_ANGLES.values()) - no_standard.ODD
    assert inside == pytest.approx(1 + free * (72 / 60 - 1) + no_standard.ODD * ((72 / 60) ** 2 - 1), abs=1e-2)


def draw_standard(field: Field, rng: np.random.Generator) -> tuple[tuple[str, str], int, MeasuredThread]:
    """A screw of the field and its measurement: series and size, index of the class."""
    prior = np.exp(field.log_prior)
    i = int(rng.choice(len(prior), p=prior / prior.sum()))
    state = str(rng.choice(STATE_NAMES, p=list(STATES.values())))
    zones = field.zones
    major, pitch_diameter = true_diameters(zones.low[i], zones.high[i], state, 1, rng)[0]
    pitch = zones.pitch[i] * rng.normal(1.0, zone_prior.PITCH_SPREAD)
    left, right = rng.normal(zones.flank[i], zone_prior.FLANK_SPREAD, 2)
    own = rng.random() < zone_prior.ROOT_SHARE
    depth = rng.normal(
        zones.root[i] if own else zone_prior.ROOT_DEPTH_ANY,
        zone_prior.ROOT_SPREAD if own else zone_prior.ROOT_SPREAD_ANY,
    )
    thread = measured_thread(
        major,
        pitch_diameter,
        pitch,
        minor=pitch_diameter - depth * pitch,
        flank_left=left,
        flank_right=right,
        taper=rng.normal(0.0, zone_prior.TAPER_SPREAD),
        noise=rng,
    )
    return (field.limits[i].series, field.limits[i].size), i, thread


def draw_foreign(rng: np.random.Generator) -> MeasuredThread:
    """A screw that belongs to no series, as ``no_standard`` says, and its measurement."""
    major = np.exp(rng.uniform(*np.log(no_standard.MAJOR_RANGE)))
    median, spread = no_standard.PITCH_TO_MAJOR
    if rng.random() < no_standard.USUAL_PITCH:
        log_weight = norm.logpdf(np.log(no_standard.PITCHES), np.log(median * major), spread)
        weight = np.exp(log_weight - log_weight.max())
        pitch = rng.choice(no_standard.PITCHES, p=weight / weight.sum()) * rng.normal(1, zone_prior.PITCH_SPREAD)
    else:
        pitch = median * major * np.exp(rng.normal(0, spread))
    depth = rng.uniform(*no_standard.DEPTH_RANGE) if rng.random() < 0.5 else rng.normal(*no_standard.DEPTH)
    halves, shares = list(no_standard.HALF_ANGLES), list(no_standard.HALF_ANGLES.values())
    free = 1 - sum(shares) - no_standard.ODD
    kind = rng.choice(len(halves) + 2, p=[*shares, free, no_standard.ODD])
    half = halves[kind] if kind < len(halves) else rng.uniform(*no_standard.HALF_ANGLE_RANGE)
    flanks = np.clip(rng.normal(half, zone_prior.FLANK_SPREAD, 2), 1.0, 80.0)
    if kind == len(halves) + 1:
        flanks = np.clip(rng.uniform(*no_standard.HALF_ANGLE_RANGE, 2), 1.0, 80.0)
    taper = no_standard.TAPERED[1] if rng.random() < no_standard.TAPERED[0] else zone_prior.TAPER_SPREAD
    pitch_diameter = major - depth * pitch
    return measured_thread(
        major,
        pitch_diameter,
        pitch,
        minor=pitch_diameter - rng.normal(zone_prior.ROOT_DEPTH_ANY, zone_prior.ROOT_SPREAD_ANY) * pitch,
        flank_left=flanks[0],
        flank_right=flanks[1],
        taper=rng.normal(0.0, taper),
        noise=rng,
    )


def test_probabilities_come_true_as_often_as_they_say() -> None:
    # 500 screws drawn from the priors. Every bound is four standard errors, computed from the claims themselves.
    field = field_of(candidates(("UNC", "UNF", "UNEF", "NC", "NF", "M", "M fine")))
    provenance = weigh(("UNC", "UNF", "UNEF", "NC", "NF", "M", "M fine"), None, None)
    rng = np.random.default_rng(1936)
    n = 500
    claimed, came_true, of_truth, expected, spread = [], [], [], [], []
    class_claims: list[float] = []
    class_true: list[bool] = []
    for _ in range(n):
        foreign = rng.random() < no_standard.PRIOR
        truth, index, thread = (None, -1, draw_foreign(rng)) if foreign else draw_standard(field, rng)
        result = identify_among(field, thread, provenance)
        sizes: dict[tuple[str, str] | None, float] = {None: result.no_standard_probability}
        for c in result.candidates:
            sizes[c.nominal] = sizes.get(c.nominal, 0.0) + c.probability
            class_claims.append(c.probability)
            class_true.append(index >= 0 and c.designation == field.limits[index].designation)
        top = max(sizes, key=lambda size: sizes[size])
        claimed.append(sizes[top])
        came_true.append(top == truth)
        of_truth.append(sizes.get(truth, 0.0))
        p = np.array(list(sizes.values()))
        expected.append(np.sum(p**2))
        spread.append(np.sum(p**3) - np.sum(p**2) ** 2)
    p = np.array(claimed)
    assert abs(np.mean(came_true) - p.mean()) < 4 * np.sqrt(np.sum(p * (1 - p))) / n
    # The truth gets on average the probability that a calibrated claim promises, sum of p squared over all hypotheses.
    assert abs(np.mean(of_truth) - np.mean(expected)) < 4 * np.sqrt(np.sum(spread)) / n
    assert 0.5 < np.mean(of_truth) < 0.9  # UN and N share their sizes: a claim of certainty would be wrong
    claims, hits = np.array(class_claims), np.array(class_true)
    for low, high in ((0.02, 0.1), (0.1, 0.25), (0.25, 0.45), (0.45, 0.7), (0.7, 1.0)):
        inside = (claims >= low) & (claims < high)
        q = claims[inside]
        assert inside.sum() > 20
        assert abs(hits[inside].mean() - q.mean()) < 4 * np.sqrt(np.sum(q * (1 - q))) / inside.sum()
