"""Flanks softer than crests: blur of a lens as it is, light that is wider than stated, and what either does to U95."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from scipy.special import stdtrit

from tests.vision.solutions import NOISE, PX, TRUE, edge_points, places, solution
from vision.fit.soft_flanks import allowing_for_soft_flanks, flank_excess, relit, student
from vision.fit.solve import Solution
from vision.model.grazing import NO_MIRROR, REFLECTIVITY, Mirror, mirror_of
from vision.model.shadow import INDEX
from vision.outline.edges import EdgePoints
from vision.shared.plane import FixedScale

BLUR_PX = 1.4
STATED = mirror_of(FixedScale(4.0, light_cone_deg=3.0, round_gauges=True))


@cache
def solved(recession: float = 0.0) -> Solution:
    u, side = places()
    found = solution(edge_points(TRUE, u, side, NOISE * np.random.default_rng(1).standard_normal(u.size)))
    return found if not recession else relit(found, NO_MIRROR, replace(NO_MIRROR, recession=recession))


def edges(flank_excess_px2: float, scatter: float = 0.0) -> EdgePoints:
    """Edges of the solution whose flanks are softer than the crests by this variance, read with so much scatter."""
    found = solved()
    seen = found.seen
    height = np.abs(seen.w - found.fit.x[INDEX["offset"]])
    slope = np.gradient(height, seen.u)
    normal = np.stack([-slope, np.ones_like(slope)], axis=1)
    normal /= np.linalg.norm(normal, axis=1)[:, None]
    turn = found.frame.angle
    to_picture = np.array([[math.cos(turn), math.sin(turn)], [-math.sin(turn), math.cos(turn)]])
    flank = np.abs(normal[:, 1]) < 0.9
    blur = np.sqrt(BLUR_PX**2 + np.where(flank, flank_excess_px2, 0.0))
    blur *= np.exp(scatter * np.random.default_rng(2).standard_normal(blur.size))
    return EdgePoints(np.zeros((seen.u.size, 2)), normal @ to_picture, 1 / (math.sqrt(2 * math.pi) * blur))


def allowed(excess: float, mirror: Mirror = STATED, opening: float | None = None) -> tuple[Mirror, list[str]]:
    found, reasons = allowing_for_soft_flanks(mirror, edges(excess), solved(), 1.0, opening)
    return found, [reason.code for reason in reasons]


def test_flanks_as_sharp_as_crests_say_nothing() -> None:
    assert allowed(0.0, opening=0.0) == (STATED, [])


def test_a_stated_lens_explains_its_own_blur() -> None:
    """(NA p cot(a) / 4 pi)^2, derived in the module."""
    p = solved().parameters
    depth = p.pitch / math.tan((p.flank_right + p.flank_left) / 2) / (2 * math.pi)
    blur = (0.05 * depth / 2 / PX) ** 2
    assert allowed(blur, opening=0.05) == (STATED, [])
    assert allowed(blur, opening=0.0)[1] == ["light_differs"]


@pytest.mark.parametrize("opening", [None, 0.0])
def test_a_light_wider_than_stated_is_said_and_allowed_for(opening: float | None) -> None:
    """The band of polish in 11 deg, where 3 were stated: U95 reaches what it takes."""
    p = solved().parameters
    flank = (p.flank_right + p.flank_left) / 2
    taken = REFLECTIVITY * math.radians(11.0) ** 2 / 8
    band = p.pitch_radius / math.sin(flank) * taken / REFLECTIVITY / PX
    excess = REFLECTIVITY * (1 - REFLECTIVITY) * band**2 * math.cos(flank) ** 2
    found, codes = allowed(excess, opening=opening)
    assert codes == ["light_differs"]
    assert found.recession + 2 * found.surface_u > 0.7 * taken
    unknown, codes = allowed(excess, mirror_of(FixedScale(4.0)), opening)
    assert codes == []
    assert unknown.cone_deg > 8.0
    assert unknown.recession + 2 * unknown.surface_u > 0.7 * taken


def test_of_a_lens_that_nobody_states_half_the_growth_is_taken_out() -> None:
    found, _ = allowed(0.3)
    assert found.recession < STATED.recession
    assert STATED.recession - found.recession == pytest.approx(found.opening_u)
    assert found.pins_opening_u == found.opening_u


def test_what_may_be_noise_is_not_taken_out() -> None:
    """Blurs that scatter by a third: medians of some hundred points tell no excess of a tenth of their variance."""
    excess = 0.2
    clear, _ = allowing_for_soft_flanks(NO_MIRROR, edges(excess, 0.02), solved(), 1.0, None)
    noisy, _ = allowing_for_soft_flanks(NO_MIRROR, edges(excess, 0.33), solved(), 1.0, None)
    assert 0.9 * clear.opening_u < -clear.recession <= clear.opening_u
    assert noisy.opening_u > 0
    assert -noisy.recession < 0.5 * noisy.opening_u


def test_few_crests_that_differ_say_less_than_their_many_points() -> None:
    """Blurs that differ from crest to crest and from flank to flank, and not within them; Student's t by scipy."""
    even, seen = edges(0.0, 0.01), solved().seen
    pieces = np.cumsum(np.abs(np.diff(np.abs(even.normal[:, 1]) < 0.9, prepend=False)))
    u = []
    for keep in (np.ones(pieces.size, np.bool_), np.abs(seen.u - seen.u.mean()) < 1.1 * solved().parameters.pitch):
        factor = np.exp(0.05 * np.random.default_rng(4).standard_normal(pieces.max() + 1))[pieces]
        some = replace(
            solved(), seen=seen.select(keep), fit=replace(solved().fit, residual=solved().fit.residual[keep])
        )
        for rough in (even.steepness, even.steepness / factor):
            found = flank_excess(replace(even, steepness=rough).select(keep), some)
            assert found is not None
            u.append(found[1] / (2 * found[2] ** 2 * PX**2))
    many, many_rough, few, few_rough = u
    assert many < few < 0.004  # the points alone
    assert 0.05 / math.sqrt(pieces.max() / 4) < many_rough < few_rough
    freedom = np.arange(1, 21)
    known = stdtrit(freedom, (1 + 0.9545) / 2)
    assert [2 * student(int(n)) for n in freedom] == pytest.approx(known, rel=0.02)


def test_relit_is_the_fit_with_another_recession() -> None:
    """The pitch diameter grows by 2 / sin(a)^2 times the recession, the major diameter by twice it."""
    before, after = solved().parameters, solved(1e-3).parameters
    steep = 1 / math.sin((before.flank_right + before.flank_left) / 2) ** 2
    assert after.pitch_radius - before.pitch_radius == pytest.approx(1e-3 * steep * before.pitch_radius, rel=0.06)
    assert after.crest - before.crest == pytest.approx(1e-3 * before.crest, rel=0.06)
