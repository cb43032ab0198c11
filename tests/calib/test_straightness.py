"""Lens distortion found from the edges of pins."""

from __future__ import annotations

import math

import numpy as np
import pytest

from calib.lens import distort, radial_lens
from calib.straightness import radial_distortion, worth_correcting
from vision.gauges.pin import PinReading

WIDTH, HEIGHT = 1600, 1200


def reading(
    k1: float, diameter: float, angle: float, bend: float, seed: int, noise: float = 0.03, wedge: float = 0.0
) -> PinReading:
    """Edges of a pin as a lens with ``k1`` would show them; ``bend`` is the sagitta of its axis in px, ``wedge`` by how
    much its ends are seen wider and narrower.
    """
    rng = np.random.default_rng(seed)
    u = np.tile(np.arange(-760.0, 760.0), 2)
    side = np.repeat([1.0, -1.0], u.size // 2)
    w = side * (diameter / 2 + wedge * u / 760) + bend * (u / 760) ** 2 + 12.0
    c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    xy = np.stack([(WIDTH - 1) / 2 + c * u + s * w, (HEIGHT - 1) / 2 + s * u - c * w], axis=1)
    seen = distort(xy, radial_lens(k1, WIDTH, HEIGHT)) + rng.normal(0, noise, xy.shape)
    return PinReading(diameter, 0.02, 1.0, 0.1, angle, 1520.0, seen, side, WIDTH, HEIGHT)


@pytest.mark.parametrize("k1", [-0.012, 0.004, 0.008])
def test_distortion_is_found_within_a_fiftieth(k1: float) -> None:
    pins = [reading(k1, 250, 1.5, 0.0, 1), reading(k1, 625, -2.0, 0.0, 2)]
    found, u = radial_distortion(pins)
    # measured on distorted points: the second order of k1 is left, a part 3 k1 or so
    assert found == pytest.approx(k1, rel=0.03)
    assert worth_correcting(found, u)


def test_a_bent_pin_is_not_taken_for_a_lens() -> None:
    found, u = radial_distortion([reading(0.0, 250, 1.5, 3.0, 3), reading(0.0, 625, -2.0, -2.0, 4)])
    assert abs(found) < 1e-4
    assert not worth_correcting(found, u)


def test_pins_that_lean_toward_a_near_camera_are_not_taken_for_a_lens() -> None:
    found, u = radial_distortion(
        [reading(0.0, 300, -2.3, 0.0, 5, 0.15), reading(0.0, 880, 0.9, 0.0, 6, 0.15, wedge=0.15)]
    )
    assert abs(found) < 1e-4
    assert not worth_correcting(found, u)


def test_uncertainty_holds_in_repeats() -> None:
    # 60 repeats: the 1.5 sigma band of a standard deviation over 60 is about 14 %
    runs = [
        radial_distortion([reading(0.004, 250, 1.0, 0.5, s), reading(0.004, 625, 0.0, 0.0, s + 500)]) for s in range(60)
    ]
    values = np.array([r[0] for r in runs])
    assert values.std(ddof=1) == pytest.approx(np.mean([r[1] for r in runs]), rel=0.35)


def test_edges_near_the_middle_tell_nothing() -> None:
    pin = reading(0.0, 40, 0.0, 0.0, 7, noise=0.2)
    found, u = radial_distortion([pin])
    assert not worth_correcting(found, u)
