"""What mirrored light and the lens opening do: the formulas of the derivation, and how they hang together."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from vision.model.grazing import ASSUMED_CONE_DEG, NO_MIRROR, REFLECTIVITY, SURFACES, Patch, mirror_of, setup_effect
from vision.shared.plane import FixedScale

LIT = FixedScale(4.0, light_cone_deg=3.0, light_cone_u_deg=0.2, round_gauges=True)
FULL = math.radians(3.0) ** 2 / 8


def test_the_band_is_as_wide_as_rays_say() -> None:
    """A ray that grazes a circle is turned by twice its angle; the band ends where that is the cone."""
    depth = np.linspace(0, 2, 200_001) * FULL
    normal = np.arccos(1 - depth)  # of the point hit, from the radius across the line of sight
    assert depth[2 * normal <= math.radians(3.0)].max() == pytest.approx(FULL, rel=1e-3)


def test_the_opening_looks_past_the_edge() -> None:
    """From an angle d the edge of a circle stands at 1 / cos(d): the mean over a round opening, drawn at random."""
    rng = np.random.default_rng(1)
    opening = 0.08
    angle = opening * np.sqrt(rng.random(200_000)) * np.cos(2 * np.pi * rng.random(200_000))
    grown = float(np.mean(1 / np.cos(angle) - 1))
    lens = mirror_of(replace(LIT, light_cone_deg=0.0, light_cone_u_deg=0.0, lens_opening=opening), "black")
    assert -lens.recession == pytest.approx(grown, rel=0.02)
    assert lens.scale_excess == lens.recession  # pins grow as much
    assert lens.opening_u > 0
    assert lens.round_u == lens.surface_u == lens.pins_u == 0


@pytest.mark.parametrize(("cone", "least", "most"), [(2.0, 0.6, 1.1), (3.0, 1.7, 3.5), (8.0, 13.0, 24.0)])
def test_the_full_loss_is_that_of_simulated_pictures(cone: float, least: float, most: float) -> None:
    """Rays traced apart from this program: pitch diameters 1, 3 and 19 um small in cones of 2, 3 and 8 deg.

    A flank of 30 deg stands back by four times what a cylinder does, of which a scale from pins undoes one.
    """
    full = math.radians(cone) ** 2 / 8
    assert least < 1e3 * 2.6 * 3 * 0.7 * full < most


def test_no_cone_no_effect() -> None:
    assert mirror_of(FixedScale(4.0, light_cone_deg=0.0)) == NO_MIRROR


def test_what_is_not_known_of_the_surface_is_corrected_by_half() -> None:
    """From nothing to all: the middle, with the rectangular share (JCGM 100:2008, F.2.4.3); a stated one is within."""
    unknown = mirror_of(LIT)
    assert unknown.recession == pytest.approx(REFLECTIVITY * FULL / 2, rel=0.1)
    assert unknown.recession - 2 * unknown.surface_u < 0
    assert unknown.recession + 2 * unknown.surface_u > REFLECTIVITY * FULL
    for surface in SURFACES:
        stated = mirror_of(LIT, surface)
        assert stated.surface_u <= unknown.surface_u * 1.05
        assert abs(stated.recession - unknown.recession) <= 2 * unknown.surface_u
        # d(A^2) / A^2 = 2 dA / A; nobody states a half cone better than to 7 %
        for said_u, u in ((0.3, 0.3), (0.0, 0.07 * 3.0)):
            cone_u = mirror_of(replace(LIT, light_cone_u_deg=said_u), surface).cone_u
            assert cone_u == pytest.approx(stated.recession * 2 * u / 3.0)
    assert mirror_of(LIT, "bright").recession > mirror_of(LIT, "dull").recession > mirror_of(LIT, "black").recession


def test_a_cone_that_is_not_stated_reaches_from_none_to_the_assumed_one() -> None:
    unknown = mirror_of(replace(LIT, light_cone_deg=None))
    by_pins = mirror_of(replace(LIT, light_cone_deg=None, light_cone_most_deg=ASSUMED_CONE_DEG / 2))
    assert by_pins.cone_u == pytest.approx(unknown.cone_u / 4)  # with the square of the widest that there can be
    assert not unknown.stated
    u = math.hypot(unknown.surface_u, unknown.cone_u)
    assert unknown.recession - 2 * u < 0
    # polish in four fifths of the assumed cone
    assert unknown.recession + 2 * u > REFLECTIVITY * math.radians(0.8 * ASSUMED_CONE_DEG) ** 2 / 8


@pytest.mark.parametrize("place", [-2.0, -0.5, 0.0, 1.2, 2.5])
def test_each_edge_sees_its_own_cone(place: float) -> None:
    """Rays traced past a circle of 1 mm whose upper edge stands at ``place``, before a patch of 10 mm 80 mm behind."""
    patch, rho = Patch(5.0, 80.0, 120.0), 1.0
    deep = np.linspace(1e-7, 2e-3, 40_001)
    slope = place / patch.camera  # of a ray from the camera that passes here
    # the circle is touched where its normal is across the ray; a ray that passes ``deep`` inside grazes it at ``graze``
    graze = np.arccos(1 - deep / rho)
    lands = place + patch.distance * np.tan(np.arctan(slope) + 2 * graze)
    band = deep[np.abs(lands) <= patch.half].max(initial=0.0)
    full = rho * (patch.half / patch.distance) ** 2 / 8
    share = patch.shares(np.zeros(1), np.array([place]), np.zeros(1), np.ones(1))[0]
    assert share * full == pytest.approx(band, rel=0.01, abs=1e-7)


def test_a_patch_is_darker_for_edges_that_face_away_from_its_middle() -> None:
    lit = mirror_of(
        replace(LIT, light_patch_mm=10.0, light_distance_mm=95.4, working_distance_mm=200.0), "bright", 1.25
    )
    assert lit.recession == pytest.approx(mirror_of(LIT, "bright").recession)  # in the middle of the view
    assert lit.scale_excess < 0.7 * mirror_of(LIT, "bright").scale_excess  # pins are thick
    assert lit.patch is not None
    flanks = lit.patch.shares(np.array([2.0, 2.0]), np.array([0.6, 0.6]), np.array([0.87, -0.87]), np.array([0.5, 0.5]))
    assert flanks[0] < 0.5
    assert flanks[1] > 1.2


def test_only_round_gauges_lose_scale() -> None:
    flat = mirror_of(replace(LIT, round_gauges=False))
    assert flat.scale_excess == flat.scale_u == 0
    assert flat.recession == mirror_of(LIT).recession
    assert mirror_of(LIT).scale_excess > 0


def test_what_a_set_up_does_grows_with_the_square_of_the_cone_and_with_the_diameter() -> None:
    one, two = setup_effect(1.5, 2.5), setup_effect(3.0, 2.5)
    assert two.taken == pytest.approx(4 * one.taken)
    assert setup_effect(3.0, 5.0).taken == pytest.approx(2 * two.taken)
    assert setup_effect(3.0, 2.5, surface="dull").u95 < two.u95 < setup_effect(None, 2.5).u95
