"""The drawn picture: pixel values, blur, light, noise, edge offset, sameness."""

from __future__ import annotations

from dataclasses import replace
from math import cos, radians, sin, sqrt

import numpy as np
import pytest
from scipy.special import erf

from sample_images.render import outline_px, render, shadow
from sample_images.scene import Camera, Cylinder, Light, Scene, Thread, pin_scene

SMALL = Camera(200, 150, um_per_px=10.0, blur_sigma_px=1.0, noise=0.0)
SCREW = Scene(
    Thread(2.0, 1.74, 1.5, 0.4, crest_corner_radius_mm=0.005),
    length_mm=3.0,
    chamfer_end_mm=1.3,
    view_mm=0.5,
    rotation_deg=30,
    tilt_deg=1.0,
    camera=Camera(300, 240, um_per_px=10.0, noise=0.01),
)


def strip(sigma: float, turn_deg: float, half_width_px: float, camera: Camera, subsamples: int = 16) -> np.ndarray:
    """Shadow of a straight strip through the centre: closed form of the Gaussian, summed over each pixel's square."""
    y, x = np.mgrid[: camera.height, : camera.width].astype(float)
    c, s = cos(radians(turn_deg)), sin(radians(turn_deg))
    total = np.zeros(x.shape)
    shifts = (np.arange(subsamples) + 0.5) / subsamples - 0.5
    for dx in shifts:
        for dy in shifts:
            v = (y + dy - (camera.height - 1) / 2) * c - (x + dx - (camera.width - 1) / 2) * s
            scaled = sigma * sqrt(2)
            total += (erf((v + half_width_px) / scaled) - erf((v - half_width_px) / scaled)) / 2
    return total / subsamples**2


@pytest.mark.parametrize("sigma", [0.35, 0.6, 1.0, 1.4, 2.0])
def test_blur_and_pixel_area_are_those_of_the_closed_form(sigma: float) -> None:
    camera = replace(SMALL, width=120, height=90, blur_sigma_px=sigma)
    drawn = shadow(pin_scene(0.4, rotation_deg=17.0, camera=camera))
    # 0.02 % of the contrast moves an edge of blur 1 px by 0.0005 px.
    np.testing.assert_allclose(drawn, strip(sigma, 17.0, 20.0, camera), atol=2.5e-4)


def test_a_sharp_pin_covers_its_own_width() -> None:
    drawn = shadow(pin_scene(0.437, camera=replace(SMALL, blur_sigma_px=0.0)))
    np.testing.assert_allclose(drawn.sum(axis=0), 43.7, atol=1e-4)


@pytest.mark.parametrize("offset", [0.7, -0.7])
def test_the_edge_offset_moves_every_edge(offset: float) -> None:
    pin = pin_scene(0.437, rotation_deg=25.0, camera=replace(SMALL, blur_sigma_px=0.0))
    wider = shadow(replace(pin, edge_offset_px=offset)).sum(axis=0) - shadow(pin).sum(axis=0)
    np.testing.assert_allclose(wider, 2 * offset / cos(radians(25)), atol=1e-3)
    end = Scene(None, body=(Cylinder(0.5, 5.0),), view_mm=0.1, camera=SMALL)
    longer = shadow(replace(end, edge_offset_px=offset))[75].sum() - shadow(end)[75].sum()
    assert longer == pytest.approx(offset, abs=1e-4)


def test_the_outline_moved_outward_and_back_is_the_old_one_on_flanks() -> None:
    out = replace(SCREW, edge_offset_px=1.5)
    area = shadow(replace(out, camera=replace(SCREW.camera, blur_sigma_px=0)))
    plain = shadow(replace(SCREW, camera=replace(SCREW.camera, blur_sigma_px=0)))
    # Growing by a disc adds about perimeter x distance: between the smooth and the toothed outline's length.
    p = outline_px(SCREW)
    inside = (p >= 0).all(axis=1) & (p[:, 0] < 300) & (p[:, 1] < 240)
    length = np.hypot(*np.diff(p, axis=0).T)[inside[1:] & inside[:-1]].sum()
    grown = float(area.sum() - plain.sum())
    assert 0.85 * 1.5 * length < grown < 1.02 * 1.5 * length


def test_the_part_lies_where_the_scene_says() -> None:
    camera = Camera(300, 200, um_per_px=10.0, noise=0.0)
    # Free end down (90 degrees from x toward y), its end face 0.5 mm = 50 px below the centre, the axis 30 px toward
    # the right of someone who looks down the picture: to the left.
    scene = Scene(None, body=(Cylinder(0.6, 20.0),), view_mm=0.5, rotation_deg=90, offset_px=30, camera=camera)
    dark = shadow(scene)
    rows, columns = dark[:, 119], dark[60]
    assert rows.sum() - 0.5 + (-0.5) == pytest.approx(99.5 + 50 - 0.5, abs=0.01)
    middle = (columns * np.arange(300)).sum() / columns.sum()
    assert middle == pytest.approx(149.5 - 30, abs=1e-3)


def test_light_flare_and_bits() -> None:
    light = Light(exposure=0.6, gradient_x=0.05, gradient_y=-0.03, vignette=0.04, flare=0.1)
    pin = pin_scene(0.4, camera=replace(SMALL, bits=16), light=light)
    picture, _ = render(pin)
    assert picture.dtype == np.uint16
    value = picture / 65535
    assert value[0, 0] == pytest.approx(0.6 * (1 - 0.05 + 0.03 - 0.04), abs=2e-5)
    assert value[0, -1] == pytest.approx(0.6 * (1 + 0.05 + 0.03 - 0.04), abs=2e-5)
    assert value[75, 100] == pytest.approx(0.06, abs=1e-4)
    swapped, _ = render(replace(pin, light=replace(light, background="dark")))
    # Part and background change places in the same light: together 1 + flare of it, everywhere.
    x, y = np.meshgrid(np.linspace(-1, 1, 200), np.linspace(-1, 1, 150))
    lit = 0.6 * (1 + 0.05 * x - 0.03 * y - 0.04 * (x**2 + y**2) / 2)
    np.testing.assert_allclose(value + swapped / 65535, 1.1 * lit, atol=3e-5)
    assert render(replace(pin, camera=SMALL))[0].dtype == np.uint8


def test_noise_is_as_strong_as_asked_and_from_the_seed() -> None:
    quiet, _ = render(replace(SCREW, camera=replace(SCREW.camera, noise=0.0, bits=16)))
    noisy, _ = render(replace(SCREW, camera=replace(SCREW.camera, bits=16)))
    difference = (noisy.astype(float) - quiet.astype(float)) / 65535
    bright = quiet > 0.7 * 65535  # in the dark, values below 0 are cut off
    assert difference[bright].std() == pytest.approx(0.01, rel=0.03)
    assert difference[bright].mean() == pytest.approx(0, abs=3e-4)
    again, _ = render(replace(SCREW, camera=replace(SCREW.camera, bits=16)))
    other, _ = render(replace(SCREW, seed=1, camera=replace(SCREW.camera, bits=16)))
    np.testing.assert_array_equal(noisy, again)
    assert (noisy != other).mean() > 0.9


def test_dirt_lies_on_the_outline_and_comes_from_the_seed() -> None:
    clean = shadow(SCREW)
    dirty = shadow(replace(SCREW, dust=5, hairs=1, seed=3))
    added = dirty - clean
    assert added.min() > -1e-3
    assert 100 < added.sum() < 2500
    np.testing.assert_array_equal(dirty, shadow(replace(SCREW, dust=5, hairs=1, seed=3)))


def test_bands_join_without_a_seam(monkeypatch: pytest.MonkeyPatch) -> None:
    whole = shadow(SCREW)
    monkeypatch.setattr("sample_images.render._BAND_CELLS", 1)
    np.testing.assert_allclose(shadow(SCREW), whole, atol=1e-6)


def test_only_the_part_of_the_axis_in_view_is_needed() -> None:
    near = shadow(replace(SCREW, length_mm=2.2, body=()))
    far = shadow(replace(SCREW, length_mm=40.0))
    left_of_cut = np.s_[:, 150:]  # the free end points to the right
    np.testing.assert_allclose(near[left_of_cut], far[left_of_cut], atol=2e-3)
