"""The uncertainty budget: each term against what it must be, and gauges' errors against a fit to spoilt points."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import numpy.typing as npt
import pytest
from scipy.signal import lfilter

from tests.vision.solutions import NOISE, PX, TRUE, edge_points, places, solution
from vision.fit.budget import HEIGHT_U_MM, Budget, group_shift, make_budget
from vision.fit.quantities import NAMES, UNITS, quantities, sensitivity
from vision.fit.solve import Solution
from vision.model.grazing import NO_MIRROR, Mirror, mirror_of
from vision.model.shadow import INDEX
from vision.shared.plane import FixedScale

Array = npt.NDArray[np.float64]

EXACT = FixedScale(1e3 * PX, relative_u=0.0, edge_offset_u_px=0.0)
GAUGES = "gauges: scale and edge offset"
LIT = FixedScale(4.0, light_cone_deg=4.0, light_cone_u_deg=0.2, lens_opening=0.05, round_gauges=True)


def budget_of(solved: Solution, plane: FixedScale = EXACT, mirror: Mirror = NO_MIRROR) -> Budget:
    x = solved.fit.x
    return make_budget(solved, plane, quantities(x, 0.0, True), sensitivity(x, 0.0, True), mirror)


def term(budget: Budget, quantity: str, source: str) -> float:
    return next((t.u for t in budget.terms[quantity] if t.source == source), 0.0)


@pytest.fixture(scope="module")
def solved() -> Solution:
    rng = np.random.default_rng(1)
    u, side = places()
    return solution(edge_points(TRUE, u, side, NOISE * rng.standard_normal(u.size)))


@pytest.fixture(scope="module")
def values(solved: Solution) -> dict[str, float]:
    return dict(zip(NAMES, quantities(solved.fit.x, 0.0, True).tolist(), strict=True))


def test_covariance_is_one_and_its_diagonal_the_sum_of_the_terms(solved: Solution) -> None:
    budget = budget_of(solved, FixedScale(4.0), mirror_of(FixedScale(4.0, round_gauges=True)))
    c = budget.covariance
    assert c == pytest.approx(c.T, rel=1e-9, abs=1e-15)
    scaled = c / np.sqrt(np.outer(np.diag(c), np.diag(c)))
    assert np.linalg.eigvalsh(scaled).min() > -1e-9
    for i, name in enumerate(NAMES):
        assert math.sqrt(c[i, i]) == pytest.approx(math.sqrt(sum(t.u**2 for t in budget.terms[name])))
        assert {t.unit for t in budget.terms[name]} == {UNITS[name]}
        assert len({t.source for t in budget.terms[name]}) == len(budget.terms[name])


def test_an_uncertain_scale_makes_all_lengths_uncertain_in_proportion(
    solved: Solution, values: dict[str, float]
) -> None:
    budget = budget_of(solved, FixedScale(4.0, relative_u=2e-3, edge_offset_u_px=0.0))
    for name in ("pitch", "lead", "threads_per_inch", "major_diameter", "pitch_diameter", "minor_diameter"):
        assert term(budget, name, GAUGES) == pytest.approx(2e-3 * values[name], rel=1e-6), name
    for name in ("flank_angle_left", "flank_angle_right", "axis_tilt", "lead_angle"):
        assert term(budget, name, GAUGES) == pytest.approx(0, abs=1e-9)
    # diameters and pitch are off together
    i, j = NAMES.index("pitch_diameter"), NAMES.index("pitch")
    shared = budget.covariance[i, j] - budget_of(solved).covariance[i, j]
    assert shared == pytest.approx(2e-3**2 * values["pitch"] * values["pitch_diameter"], rel=1e-6)


def test_an_uncertain_edge_offset_moves_flat_edges_by_itself_and_flanks_by_its_slant(
    solved: Solution, values: dict[str, float]
) -> None:
    """Twice the offset on major and minor diameter, 2 / sin(a) times on the pitch diameter; pitch and angles stay."""
    offset = 0.1
    budget = budget_of(solved, FixedScale(4.0, relative_u=0.0, edge_offset_u_px=offset))
    plain = 2 * offset * PX
    mean_angle = math.radians(values["included_angle"] / 2)
    assert term(budget, "major_diameter", GAUGES) == pytest.approx(plain, rel=0.05)
    assert term(budget, "minor_diameter", GAUGES) == pytest.approx(plain, rel=0.2)  # round corners take part in it
    assert term(budget, "pitch_diameter", GAUGES) == pytest.approx(plain / math.sin(mean_angle), rel=0.02)
    assert term(budget, "pitch", GAUGES) < 1e-3 * plain
    assert term(budget, "flank_angle_left", GAUGES) < 0.01


def test_edge_offset_against_a_fit_to_edges_that_are_off(solved: Solution) -> None:
    """What the budget predicts for an offset of 0.1 px is what such an offset does."""
    u, side = places()
    rng = np.random.default_rng(1)
    noise = NOISE * rng.standard_normal(u.size)
    spoilt = solution(edge_points(TRUE, u, side, noise + 0.1 * PX))
    moved = quantities(spoilt.fit.x, 0.0, True) - quantities(solved.fit.x, 0.0, True)
    budget = budget_of(solved, FixedScale(4.0, relative_u=0.0, edge_offset_u_px=0.1))
    for name in ("major_diameter", "pitch_diameter"):
        assert abs(moved[NAMES.index(name)]) == pytest.approx(term(budget, name, GAUGES), rel=0.06)
        assert moved[NAMES.index(name)] > 0
    for name in ("crest_width", "root_width"):
        assert abs(moved[NAMES.index(name)]) == pytest.approx(term(budget, name, GAUGES), rel=0.25)


def test_what_pins_say_of_scale_and_offset_errs_together(solved: Solution) -> None:
    """A line through pins that is too steep cuts the axis too low: scale and offset err alike, and diameters gain.

    A larger scale makes diameters larger, a larger offset smaller: near the pins' own sizes the two cancel.
    """

    class Pins(FixedScale):
        @property
        def covariance(self) -> Array:
            u_scale, u_offset = self.um_per_px * self.relative_u, self.edge_offset_u_px
            return np.array([[u_scale**2, 0.95 * u_scale * u_offset], [0.95 * u_scale * u_offset, u_offset**2]])

    apart = budget_of(solved, FixedScale(4.0, relative_u=1e-3, edge_offset_u_px=0.3))
    together = budget_of(solved, Pins(4.0, relative_u=1e-3, edge_offset_u_px=0.3))
    for name in ("major_diameter", "minor_diameter"):
        assert term(together, name, GAUGES) < 0.4 * term(apart, name, GAUGES)


def test_noise_that_runs_along_the_edge_counts_more() -> None:
    """Neighbours with the correlation r carry (1 + r) / (1 - r) times less news: the budget finds that factor."""
    rng = np.random.default_rng(3)
    u, side = places(6000)
    r = 0.6
    white = rng.standard_normal(u.size)
    along = lfilter([math.sqrt(1 - r * r)], [1, -r], white)
    alone = budget_of(solution(edge_points(TRUE, u, side, NOISE * white)))
    together = budget_of(solution(edge_points(TRUE, u, side, NOISE * along)))
    assert alone.correlation == pytest.approx(1.0, abs=0.15)
    assert together.correlation == pytest.approx((1 + r) / (1 - r), rel=0.15)
    source = "edge noise and form"
    ratio = term(together, "pitch_diameter", source) / term(alone, "pitch_diameter", source)
    assert ratio == pytest.approx(2.0, rel=0.15)


def test_temperature_in_numbers(solved: Solution, values: dict[str, float]) -> None:
    """Steel, 11.5e-6 1/K (handbooks; from memory), 2 K: 0.061 um on the pitch diameter of 2.66 mm, none on angles."""
    budget = budget_of(solved)
    assert values["pitch_diameter"] == pytest.approx(2.66, abs=1e-3)
    assert term(budget, "pitch_diameter", "temperature") == pytest.approx(61.2e-6, rel=0.01)
    assert term(budget, "pitch", "temperature") == pytest.approx(11.5e-6, rel=0.01)
    assert term(budget, "included_angle", "temperature") == 0


def test_local_form_in_numbers(solved: Solution) -> None:
    """Scatter of 1 um, noise of 0.2 um: 1.3 x 0.2 + 0.006 px are explained, half of the rest is form of a flank."""
    rough = replace(solved, fit=replace(solved.fit, scale=1e-3), noise=0.2e-3)
    assert group_shift(rough) == pytest.approx(0.4795e-3, rel=1e-3)  # hypot(0.0008 px, sqrt(1 - 0.284^2) um / 2)


def test_a_blur_that_differs_from_that_of_the_flanks_widens_the_corners(solved: Solution) -> None:
    """Fitted blur and that of the flanks 0.3 px apart: the term of the blur is that of 0.3 px, and not of 0.8 %."""
    alike = replace(solved, edge_blur=float(solved.fit.x[INDEX["blur"]]))
    apart = replace(solved, edge_blur=float(solved.fit.x[INDEX["blur"]]) - 0.3 * PX)
    small, large = (term(budget_of(s), "minor_diameter", "shape of the blur at corners") for s in (alike, apart))
    assert small > 0
    assert large / small == pytest.approx(math.hypot(0.3, 0.008 * 1.1) / (0.008 * 1.4), rel=0.05)


def test_form_error_beyond_the_noise_counts_for_whole_flanks() -> None:
    """A ripple along the outline that no noise explains widens the term of local form, and U95 with it."""
    rng = np.random.default_rng(5)
    u, side = places()
    noise = NOISE * rng.standard_normal(u.size)
    ripple = 0.4 * PX * np.sin(2 * np.pi * u / 0.13)
    source = "edge finder and local form"
    smooth, rough = (budget_of(solution(edge_points(TRUE, u, side, n))) for n in (noise, noise + ripple))
    assert term(rough, "pitch_diameter", source) > 5 * term(smooth, "pitch_diameter", source)


def test_blur_that_is_no_gaussian_counts_at_corners(solved: Solution) -> None:
    budget = budget_of(solved)
    source = "shape of the blur at corners"
    assert term(budget, "minor_diameter", source) > 0
    assert term(budget, "pitch", source) < 0.03 * term(budget, "minor_diameter", source)


def test_height_counts_where_the_camera_is_near(solved: Solution, values: dict[str, float]) -> None:
    source = "height of the part against the gauges"
    assert term(budget_of(solved), "major_diameter", source) == 0
    u, side = places()
    near = TRUE.copy()
    near[INDEX["nearness"]] = 1 / 80
    near[INDEX["tilt"]] = 0.0
    seen = edge_points(near, u, side, NOISE * np.random.default_rng(7).standard_normal(u.size))
    budget = budget_of(solution(seen, start=near))
    expected = values["major_diameter"] / 80 * HEIGHT_U_MM
    assert term(budget, "major_diameter", source) == pytest.approx(expected, rel=0.03)


@pytest.mark.parametrize("light", [LIT, FixedScale(4.0, round_gauges=True)], ids=["stated", "not stated"])
def test_mirrored_light_leaves_what_is_uncertain_of_it(
    solved: Solution, values: dict[str, float], light: FixedScale
) -> None:
    """Recession on the diameter: once on crests and roots, 1 / sin(a)^2 times on the pitch line; pins shrink all."""
    mirror = mirror_of(light)
    budget = budget_of(solved, mirror=mirror)
    steep = 1 / math.sin(math.radians(values["included_angle"] / 2)) ** 2
    flanks, pins, cone = "backlight mirrored by the flanks", "backlight mirrored by the pins", "cone of the backlight"
    for name, times in (("major_diameter", 1.0), ("minor_diameter", 1.0), ("pitch_diameter", steep)):
        assert term(budget, name, flanks) == pytest.approx(values[name] * mirror.surface_u * times, rel=0.06), name
        assert term(budget, name, pins) == pytest.approx(values[name] * mirror.pins_u), name
    assert term(budget, "pitch", flanks) < 0.01 * term(budget, "pitch", pins)
    # of cone and opening only what pins and part do not have in common counts
    diameter = values["pitch_diameter"]
    net = mirror.cone_u * steep - mirror.pins_cone_u
    assert term(budget, "pitch_diameter", cone) == pytest.approx(diameter * net, rel=0.06)
    net = abs(mirror.cone_u - mirror.pins_cone_u)  # of crests
    assert term(budget, "major_diameter", cone) == pytest.approx(values["major_diameter"] * net, rel=0.06)
    opened = term(budget, "pitch_diameter", "opening of the lens")
    assert opened == pytest.approx(diameter * mirror.opening_u * (steep - 1), rel=0.06)


def test_a_lens_that_was_refocused_scales_every_length(solved: Solution, values: dict[str, float]) -> None:
    budget, source = budget_of(solved, replace(FixedScale(4.0), refocus_u=5e-4)), "refocusing between gauges and part"
    for name in ("pitch", "major_diameter", "pitch_diameter", "minor_diameter", "crest_width"):
        assert term(budget, name, source) == pytest.approx(5e-4 * values[name], rel=0.02), name
    assert term(budget, "included_angle", source) < 1e-6
    assert term(budget_of(solved), "pitch", source) == 0


def test_sources_add_up(solved: Solution) -> None:
    budget = budget_of(solved, FixedScale(4.0), mirror_of(replace(LIT, light_cone_deg=3.0)))
    assert sum(budget.by_source.values()) == pytest.approx(budget.covariance)


def test_more_noise_more_uncertainty() -> None:
    u, side = places()
    white = np.random.default_rng(9).standard_normal(u.size)
    quiet, loud = (
        budget_of(replace(solution(edge_points(TRUE, u, side, n * NOISE * white)), noise=n * NOISE)) for n in (1, 4)
    )
    source = "edge noise and form"
    for name in ("pitch", "pitch_diameter", "flank_angle_left"):
        assert term(loud, name, source) == pytest.approx(4 * term(quiet, name, source), rel=0.1)
