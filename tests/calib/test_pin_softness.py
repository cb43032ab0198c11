"""The cone of the light that pins of two sizes show by the softness of their edges."""

from __future__ import annotations

import math

import numpy as np
import pytest

from benchmarks.traced import bench
from calib.pin_softness import ShownCone, shown_cone
from vision.model.grazing import ASSUMED_CONE_DEG, mirror_of

CONE = math.radians(8.0)


def blur(diameter: float, mirrored: float = 0.7, lens: float = 0.005) -> float:
    """Of a pin's edge: a lens, and a step that a band of R A^2 / 8 splits in two, by the sum over its light."""
    band = diameter / 2 * CONE**2 / 8
    place, light = np.array([0.0, band]), np.array([1 - mirrored, mirrored])
    return math.sqrt(lens**2 + light @ (place - light @ place) ** 2)


def test_two_pins_show_the_light() -> None:
    shown = shown_cone([(2.5, blur(2.5), 1e-6), (1.0, blur(1.0), 1e-6)], 0.0)
    assert shown is not None
    assert shown.likely_deg == pytest.approx(8.0, rel=1e-6)
    assert shown.most_deg > 8.0
    for mirrored in (0.5, 0.84):  # whatever the metal is, the most reaches what is there
        other = shown_cone([(2.5, blur(2.5, mirrored), 1e-6), (1.0, blur(1.0, mirrored), 1e-6)], 0.0)
        assert other is not None
        assert other.most_deg > 8.0


@pytest.mark.parametrize("pins", [[(2.5, 0.006)], [(2.5, 0.006), (2.4, 0.005)], [(2.5, 0.005), (1.0, 0.006)]])
def test_one_size_and_a_soft_thin_pin_show_nothing(pins: list[tuple[float, float]]) -> None:
    assert shown_cone([(size, soft, 0.0) for size, soft in pins], 0.02) is None


@pytest.mark.parametrize(("soft", "u"), [(0.00501, 0.0), (0.0052, 1e-4), (0.005, 1e-6), (0.00499, 1e-5)])
def test_sharp_pins_and_noise_contradict_nothing(soft: float, u: float) -> None:
    """Noise leaves room for a light of 11 deg, and never more."""
    shown = shown_cone([(2.5, soft, u), (1.0, 0.005, u)], 0.0)
    assert shown is not None
    assert not shown.contradicts(0.1)
    assert shown.likely_deg <= shown.most_deg < shown.limit_deg < 12.0
    assert shown.doubt(12.0) == 0
    u_deg = shown.doubt(2.0)
    assert 2 * 2.0 * u_deg * math.sqrt(3) == pytest.approx(max(shown.most_deg, 2.0) ** 2 - 2.0**2)


def test_pins_that_do_not_lie_alike_show_less() -> None:
    """Variance m + d cos 2(angle) by direction, d = 0.6 m: pins at 40 and 52 degrees, the thin one first."""
    sharp, soft = (math.sqrt(1 + 0.6 * math.cos(2 * math.radians(angle))) * 0.01 for angle in (52.0, 40.0))
    pins = [(1.0, sharp, 1e-6), (2.5, soft, 1e-6)]
    apart, alike = shown_cone(pins, 0.0, 12.0), shown_cone(pins, 0.0)
    assert apart is not None
    assert alike is not None
    assert not apart.contradicts(5.0)
    assert alike.contradicts(5.0)


def test_a_cone_between_what_is_stated_and_what_is_shown() -> None:
    cone, u = ShownCone(8.0, 9.0, 9.5, clear=True).from_at_least(3.0)
    square, spread = cone**2, 2 * cone * u * math.sqrt(3)
    assert (square - spread, square + spread) == pytest.approx((9.0, 81.0), rel=1e-9)


@pytest.mark.parametrize(("said_deg", "code"), [(None, "pins_soft"), (3.0, "pins_soft.stated"), (11.0, None)])
def test_pins_traced_in_a_wide_light(said_deg: float | None, code: str | None) -> None:
    """Half cone 11 deg: said so, a calibration takes it; else its pins say that the light is wider."""
    plane = bench("w", 11.0, said_deg)
    keys = {warning.key for warning in plane.warnings}
    assert ("pins_soft" in {key.split(".")[0] for key in keys}) is (code is not None)
    assert code is None or code in keys
    mirror = mirror_of(plane)
    most = math.sqrt(8 * (mirror.recession + 2 * math.hypot(mirror.cone_u, mirror.surface_u)))
    assert math.degrees(most) > ASSUMED_CONE_DEG
    assert plane.light_cone_deg is not None
    assert plane.light_cone_deg + 2 * plane.light_cone_u_deg > 10.0


def test_pins_traced_in_the_light_that_was_stated() -> None:
    for set_up, cone in (("a", 3.0), ("b", 4.0), ("d", 5.0)):
        plane = bench(set_up, cone, cone)
        assert plane.light_cone_deg == cone
        assert not plane.light_cone_found
        assert plane.light_cone_u_deg < 0.25 * cone
        assert cone < plane.light_cone_most_deg < 2 * cone


def test_pins_in_a_light_somewhat_wider_than_stated_widen_its_uncertainty() -> None:
    """5 deg where 3 were stated: within noise of it, so that nothing is contradicted, but U95 reaches it."""
    plane = bench("a", 5.0, 3.0)
    assert plane.light_cone_deg == 3.0
    assert 3.0 + 2 * plane.light_cone_u_deg > 5.0
