"""What mirrored light may do: the formulas of the derivation, and how they hang together."""

from __future__ import annotations

import math

import pytest

from vision.grazing import ASSUMED_CONE_DEG, REFLECTIVITY, Grazing, grazing_effects


def effects(
    cone: float | None, *, diameter: float = 2.4, flank_deg: float = 30.0, excess: float = 0.0, pins: bool = True
) -> Grazing:
    return grazing_effects(diameter, math.radians(flank_deg), cone, excess, round_gauges=pins)


def test_cylinder_and_flank_recede_as_derived() -> None:
    """f D A^2 / 8 on a cylinder's diameter, 1 / sin(a)^2 times that on the pitch diameter: four times at 30 deg."""
    cylinder = REFLECTIVITY * 2.4 * math.radians(3) ** 2 / 8
    assert effects(3.0).pitch_diameter == pytest.approx(4 * cylinder)
    assert effects(3.0, flank_deg=23.75).pitch_diameter == pytest.approx(cylinder / math.sin(math.radians(23.75)) ** 2)


@pytest.mark.parametrize(("cone", "least", "most"), [(2.0, 0.7, 1.5), (3.0, 2.0, 3.5), (8.0, 13.0, 24.0)])
def test_size_is_that_of_simulated_pictures(cone: float, least: float, most: float) -> None:
    """Rays traced apart from this program: pitch diameters 1, 3 and 19 um small in cones of 2, 3 and 8 deg.

    The bound must be no less and not many times more; net of what the pins lose it is three quarters.
    """
    bound = 1e3 * effects(cone, diameter=2.2).pitch_diameter
    assert bound > least
    assert 0.75 * bound < 1.6 * most


def test_no_cone_no_effect() -> None:
    none = effects(0.0)
    assert none.known
    assert none.pitch_diameter == none.crest_width == none.root_width == none.flank_angle == 0
    assert none.scale_excess == none.scale_u == 0


def test_unknown_cone_is_the_assumed_one_and_says_so() -> None:
    unknown, stated = effects(None), effects(ASSUMED_CONE_DEG)
    assert not unknown.known
    assert stated.known
    assert unknown.cone_deg == pytest.approx(ASSUMED_CONE_DEG)
    assert unknown.pitch_diameter == pytest.approx(stated.pitch_diameter)
    # anything from no mirror at all to the full effect: less of it is taken out, more is uncertain
    assert unknown.scale_excess < stated.scale_excess
    assert unknown.scale_u > stated.scale_u


def test_soft_flanks_show_a_wider_cone() -> None:
    """A band of width w beside the edge with reflectivity f adds f (1 - f) w^2 to the variance of its blur."""
    cone = math.radians(9)
    band = 1.2 / math.sin(math.radians(30)) * cone**2 / 8
    seen = effects(None, excess=REFLECTIVITY * (1 - REFLECTIVITY) * band**2)
    assert seen.cone_deg == pytest.approx(9.0)
    assert effects(None, excess=-1.0).cone_deg == pytest.approx(ASSUMED_CONE_DEG)
    # who states the cone is believed
    assert effects(2.0, excess=1.0).cone_deg == pytest.approx(2.0)


def test_widths_move_against_each_other() -> None:
    """Receding flanks leave ridges narrow and grooves wide: the true crest is wider, the true root narrower."""
    e = effects(4.0)
    assert e.crest_width > 0
    assert e.root_width == pytest.approx(-e.crest_width)
    # one edge's recession along the normal, twice, as an axial length
    normal = REFLECTIVITY * math.radians(4) ** 2 / 8 * 1.2 / math.sin(math.radians(30))
    assert e.crest_width == pytest.approx(2 * normal / math.cos(math.radians(30)))
    # and both flanks together make the change of the pitch diameter
    assert e.crest_width / math.tan(math.radians(30)) == pytest.approx(e.pitch_diameter)


def test_only_round_gauges_lose_scale() -> None:
    pins, ruler = effects(4.0), effects(4.0, pins=False)
    assert pins.scale_excess > 0
    assert ruler.scale_excess == ruler.scale_u == 0
    assert ruler.pitch_diameter == pins.pitch_diameter
    most = REFLECTIVITY * math.radians(4) ** 2 / 8
    assert 0 < pins.scale_excess <= most
    assert pins.scale_excess + math.sqrt(3) * pins.scale_u == pytest.approx(most)


def test_effects_grow_with_the_square_of_the_cone_and_with_the_diameter() -> None:
    assert effects(6.0).pitch_diameter == pytest.approx(9 * effects(2.0).pitch_diameter)
    assert effects(6.0, diameter=4.8).pitch_diameter == pytest.approx(2 * effects(6.0).pitch_diameter)
    assert effects(6.0, diameter=4.8).flank_angle == pytest.approx(effects(6.0).flank_angle)
