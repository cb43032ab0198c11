"""Reading gauge pins from rendered pictures, and refusing what is none."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from sample_images.scene import Camera, Light, Scene, pin_scene
from tests.vision.scenes import ACROSS, CAMERA, photograph
from threads.shared.refusal import RefusalError
from vision.gauges.pin import PinReading, read_pin
from vision.pictures.picture import Picture

SMALL = Camera(640, 480, um_per_px=6.0, blur_sigma_px=1.0, noise=0.005)


def read(scene: Scene) -> tuple[PinReading, float]:
    """The reading and the true diameter in pixels, without the edge offset."""
    picture, truth = photograph(scene)
    return read_pin(picture), truth["diameter_mm"] * 1e3 / truth["um_per_px"]


def code(scene: Scene) -> str:
    picture, _ = photograph(scene)
    with pytest.raises(RefusalError) as caught:
        read_pin(picture)
    return caught.value.reasons[0].code


@pytest.mark.parametrize("rotation", [0.0, 11.0, 45.0, 90.0, 133.0, 200.0])
@pytest.mark.parametrize("diameter", [0.5, 1.5])
def test_diameter_in_any_direction(rotation: float, diameter: float) -> None:
    """Within 0.02 px, and within three of the standard uncertainties stated."""
    reading, truth = read(pin_scene(diameter, rotation_deg=rotation, seed=int(rotation), camera=SMALL))
    assert reading.diameter_px == pytest.approx(truth, abs=0.02)
    assert abs(reading.diameter_px - truth) < 3 * reading.standard_uncertainty_px
    assert 0.002 < reading.standard_uncertainty_px < 0.03
    assert (reading.angle_deg - rotation + 90) % 180 - 90 == pytest.approx(0, abs=0.05)
    assert (reading.width_px, reading.height_px) == (640, 480)


@pytest.mark.parametrize("blur", [0.6, 1.2, 2.0, 2.8])
def test_blur_is_read_and_does_not_matter(blur: float) -> None:
    camera = replace(SMALL, blur_sigma_px=blur)
    reading, truth = read(pin_scene(1.2, rotation_deg=20.0, camera=camera))
    assert reading.diameter_px == pytest.approx(truth, abs=0.02)
    assert reading.blur_px == pytest.approx(np.hypot(blur, np.sqrt(1 / 12)), rel=0.04)


@pytest.mark.parametrize("offset", [-0.4, 0.3])
def test_an_edge_offset_is_in_the_reading_twice(offset: float) -> None:
    reading, truth = read(pin_scene(1.2, rotation_deg=70.0, edge_offset_px=offset, camera=SMALL))
    assert reading.diameter_px - truth == pytest.approx(2 * offset, abs=0.02)


@pytest.mark.parametrize(
    "light",
    [
        Light(background="dark"),
        Light(gradient_x=0.1, gradient_y=-0.05, vignette=0.1),
        Light(exposure=0.4, flare=0.08),
    ],
    ids=["lit before dark", "uneven", "dim"],
)
def test_light(light: Light) -> None:
    reading, truth = read(pin_scene(1.2, rotation_deg=15.0, camera=SMALL, light=light))
    assert reading.diameter_px == pytest.approx(truth, abs=0.02)


def test_noise_widens_the_uncertainty_honestly() -> None:
    """Ten noisy pictures: the scatter of the readings is what each of them states, within a factor of two."""
    camera = replace(SMALL, width=320, height=240, noise=0.03)
    readings = [read(pin_scene(0.6, rotation_deg=30.0, seed=s, camera=camera)) for s in range(10)]
    miss = np.array([r.diameter_px - truth for r, truth in readings])
    stated = np.sqrt(np.mean([r.standard_uncertainty_px**2 for r, _ in readings]))
    assert abs(miss.mean()) < 0.02
    assert miss.std(ddof=1) < 2 * stated


def test_edges_are_on_both_sides_of_the_axis() -> None:
    reading, truth = read(pin_scene(1.2, rotation_deg=0.0, camera=SMALL))
    assert reading.edges.shape == (reading.side.size, 2)
    assert set(np.unique(reading.side)) == {-1.0, 1.0}
    upper, lower = (reading.edges[reading.side == s, 1].mean() for s in (1.0, -1.0))
    assert abs(upper - lower) == pytest.approx(truth, abs=0.05)
    assert reading.length_px > 0.8 * SMALL.width
    assert reading.straightness_px < 0.1


def test_dust_does_not_move_it() -> None:
    reading, truth = read(replace(pin_scene(1.2, rotation_deg=25.0, camera=SMALL), dust=8, seed=3))
    assert reading.diameter_px == pytest.approx(truth, abs=0.03)


def test_lens_distortion_is_taken_out_first() -> None:
    """A barrel of 1 % on the border, undone by what the caller gives."""
    picture, truth = photograph(pin_scene(1.2, camera=SMALL))
    reading = read_pin(picture, lambda points: 1.01 * points)
    assert reading.diameter_px == pytest.approx(1.01 * truth["diameter_mm"] * 1e3 / 6.0, abs=0.03)


def test_a_screw_is_no_pin() -> None:
    assert code(replace(ACROSS, camera=replace(CAMERA, noise=0.002))) in ("not_straight", "no_pin")


def test_out_of_focus() -> None:
    assert code(pin_scene(1.2, camera=replace(SMALL, blur_sigma_px=6.0))) == "out_of_focus"


def test_an_empty_pad_is_no_pin() -> None:
    light = np.full((480, 640), 0.75, np.float32)
    empty = Picture("empty.png", "0" * 64, 640, 480, light, 8, 0.0, 1 / 255, ())
    with pytest.raises(RefusalError) as caught:
        read_pin(empty)
    assert caught.value.reasons[0].code == "no_part"


def test_a_pin_of_which_one_edge_is_out_of_view() -> None:
    assert code(pin_scene(2.0, offset_px=180.0, camera=SMALL)) in ("no_pin", "cut_off", "no_part")


@pytest.mark.slow
@pytest.mark.parametrize("angle", [0.0, 50.0, 70.0, 90.0, 112.0])
def test_a_thick_pin_that_fills_little_more_than_a_square(angle: float) -> None:
    camera = Camera(1600, 1200, um_per_px=4.5, blur_sigma_px=1.2, noise=0.005)
    picture, _ = photograph(pin_scene(4.1, rotation_deg=angle, seed=1, camera=camera, light=Light(exposure=0.75)))
    assert read_pin(picture).diameter_px == pytest.approx(4100 / 4.5, abs=0.02)
