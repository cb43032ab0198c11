"""What mirrored light may do: the formulas of the derivation, and how they hang together."""

from __future__ import annotations

import math

import pytest

from vision.model.grazing import (
    ASSUMED_CONE_DEG,
    MEAN_REFLECTIVITY,
    NO_MIRROR,
    REFLECTIVITY,
    Grazing,
    grazing_effects,
    mirror_of,
)  # fmt: skip


def effects(*, diameter: float = 2.4, flank_deg: float = 30.0, excess: float = 0.0, pins: bool = True) -> Grazing:
    return grazing_effects(diameter, math.radians(flank_deg), excess, round_gauges=pins)


def soft(cone_deg: float, diameter: float = 2.4) -> float:
    """Variance that a cone adds to the blur of flanks of 30 deg: f (1 - f) w^2 for a band w with reflectivity f."""
    band = diameter / 2 / math.sin(math.radians(30)) * math.radians(cone_deg) ** 2 / 8
    return REFLECTIVITY * (1 - REFLECTIVITY) * band**2


def test_cylinder_and_flank_recede_as_derived() -> None:
    """f D A^2 / 8 on a cylinder's diameter, 1 / sin(a)^2 times that on the pitch diameter: four times at 30 deg."""
    cylinder = REFLECTIVITY * 2.4 * math.radians(ASSUMED_CONE_DEG) ** 2 / 8
    assert effects().pitch_diameter == pytest.approx(4 * cylinder)
    assert effects(flank_deg=23.75).pitch_diameter == pytest.approx(cylinder / math.sin(math.radians(23.75)) ** 2)


@pytest.mark.parametrize(("cone", "least", "most"), [(2.0, 0.6, 1.1), (3.0, 1.7, 3.5), (8.0, 13.0, 24.0)])
def test_size_is_that_of_simulated_pictures(cone: float, least: float, most: float) -> None:
    """Rays traced apart from this program: pitch diameters 1, 3 and 19 um small in cones of 2, 3 and 8 deg.

    A flank of 30 deg stands back by four times the part ``recession``, of which a scale from pins undoes one.
    """
    mirror = mirror_of(cone, round_gauges=True)
    assert least < 1e3 * 2.6 * (4 * mirror.recession - mirror.scale_excess) < most


def test_no_cone_no_effect() -> None:
    none = mirror_of(0.0, round_gauges=True)
    assert none.recession == none.part_u == none.pins_u == none.cone_u == none.scale_excess == 0
    assert mirror_of(None, round_gauges=True) == NO_MIRROR


def test_known_cone_is_put_right_by_the_mean_reflectivity() -> None:
    pins, flat = mirror_of(3.0, 0.2, round_gauges=True), mirror_of(3.0, 0.2, round_gauges=False)
    full = math.radians(3.0) ** 2 / 8
    assert pins.recession == flat.recession == pytest.approx(MEAN_REFLECTIVITY * full)
    assert pins.scale_excess == pins.recession
    assert flat.scale_excess == flat.pins_u == 0
    # d(A^2) / A^2 = 2 dA / A
    assert pins.cone_u == pytest.approx(pins.recession * 2 * 0.2 / 3.0)
    # U95 leaves room for dull as well as for perfect mirrors
    assert pins.recession - 2 * pins.part_u < 0.45 * full
    assert pins.recession + 2 * pins.part_u > 0.95 * full


def test_unknown_cone_is_the_assumed_one() -> None:
    unknown, stated = effects(), mirror_of(ASSUMED_CONE_DEG, round_gauges=True)
    assert unknown.cone_deg == pytest.approx(ASSUMED_CONE_DEG)
    # anything from no mirror at all to the full effect: less of it is taken out, more is uncertain
    assert unknown.scale_excess < stated.scale_excess
    assert unknown.scale_u > math.hypot(stated.pins_u, stated.cone_u)


def test_soft_flanks_show_a_wider_cone() -> None:
    assert effects(excess=soft(9.0)).cone_deg == pytest.approx(9.0)
    assert effects(excess=-1.0).cone_deg == pytest.approx(ASSUMED_CONE_DEG)


def test_widths_move_against_each_other() -> None:
    """Receding flanks leave ridges narrow and grooves wide: the true crest is wider, the true root narrower."""
    e = effects()
    assert e.crest_width > 0
    assert e.root_width == pytest.approx(-e.crest_width)
    # one edge's recession along the normal, twice, as an axial length
    normal = REFLECTIVITY * math.radians(4) ** 2 / 8 * 1.2 / math.sin(math.radians(30))
    assert e.crest_width == pytest.approx(2 * normal / math.cos(math.radians(30)))
    # and both flanks together make the change of the pitch diameter
    assert e.crest_width / math.tan(math.radians(30)) == pytest.approx(e.pitch_diameter)


def test_only_round_gauges_lose_scale() -> None:
    pins, ruler = effects(), effects(pins=False)
    assert pins.scale_excess > 0
    assert ruler.scale_excess == ruler.scale_u == 0
    assert ruler.pitch_diameter == pins.pitch_diameter
    most = REFLECTIVITY * math.radians(4) ** 2 / 8
    assert 0 < pins.scale_excess <= most
    assert pins.scale_excess + math.sqrt(3) * pins.scale_u == pytest.approx(most)


def test_effects_grow_with_the_square_of_the_cone_and_with_the_diameter() -> None:
    six, twelve = effects(excess=soft(6.0)), effects(excess=soft(12.0))
    assert twelve.pitch_diameter == pytest.approx(4 * six.pitch_diameter)
    wide = effects(diameter=4.8, excess=soft(6.0, 4.8))
    assert wide.pitch_diameter == pytest.approx(2 * six.pitch_diameter)
    assert wide.flank_angle == pytest.approx(six.flank_angle)
