"""Rays traced against the true surface, and the light that a polished part mirrors beside its outline."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from sample_images.geometry import outline_of, pieces_of, view_of
from sample_images.mirrored import mirrored_light, shine_of
from sample_images.rays import Body, camera_rays, first_hits, leaves
from sample_images.render import render
from sample_images.scene import Camera, Light, Scene, Thread, pin_scene

CAMERA = Camera(160, 600, um_per_px=4.0, noise=0.0)
THREAD = Thread(2.10, 1.80, 1.55, 0.45, crest_corner_radius_mm=0.01)
SCENE = Scene(THREAD, 40.0, view_mm=20.0, phase=0.3, tilt_deg=1.0, camera=CAMERA)


def body_of(scene: Scene) -> Body:
    return Body(tuple(pieces_of(scene, 3.0)))


@pytest.mark.parametrize("distance", [None, 60.0])
def test_rays_land_where_their_points_are_seen(distance: float | None) -> None:
    """Projecting the first hit gives the place the ray was sent to; there the surface is met, and nothing before."""
    scene = replace(SCENE, camera=replace(CAMERA, working_distance_mm=distance))
    rng = np.random.default_rng(1)
    u, v = rng.uniform(-0.5, 0.5, 400), rng.uniform(-0.85, 0.85, 400)
    body, view = body_of(scene), view_of(scene)
    at, hit = first_hits(body, *camera_rays(view, u, v))
    assert hit[np.abs(v) < 0.75].all()
    z, x, y = at[hit].T
    seen_u, seen_v = view.project(z, np.hypot(x, y), np.arctan2(y, x))
    assert np.abs(seen_u - u[hit]).max() < 1e-9
    assert np.abs(seen_v - v[hit]).max() < 1e-9
    assert np.abs(body.outside(z, x, y)).max() < 1e-5
    # the normal faces the camera
    assert (body.normal(at[hit]) @ camera_rays(view, u[:1], v[:1])[1][0] < 0.2).all()


def test_rays_just_inside_the_outline_hit_and_just_outside_do_not() -> None:
    outline = outline_of(SCENE)
    body, view = body_of(SCENE), view_of(SCENE)
    some = slice(500, -500, 37)
    for height, inward in ((outline.high, -1), (outline.low, 1)):
        for depth, expected in ((3e-5, True), (-3e-5, False)):
            _, hit = first_hits(body, *camera_rays(view, outline.u[some], height[some] + inward * depth))
            assert (hit == expected).mean() > 0.97  # at corners the outline's nodes stand off by more


def test_normals_and_ways_out_of_a_cylinder() -> None:
    body = body_of(pin_scene(2.0, camera=CAMERA))
    at = np.array([[-200.0, 0.6, -0.8], [-200.0, -1.0, 0.0]])
    assert body.normal(at) == pytest.approx(np.array([[0, 0.6, -0.8], [0, -1.0, 0.0]]), abs=1e-9)
    outward = np.array([[0, 0.6, -0.8], [0.1, -1.0, 0.0]])
    assert leaves(body, at * [1, 1.00001, 1.00001], outward).all()
    assert not leaves(body, at * [1, 1.00001, 1.00001], -outward).any()


@pytest.mark.parametrize("cone", [2.0, 4.0, 8.0])
def test_a_pin_shines_as_deep_as_geometry_says(cone: float) -> None:
    """A ray that meets a cylinder at the angle g is turned by 2 g: exact depth R (1 - cos(A / 2)); within 2 %."""
    scene = pin_scene(2.0, camera=replace(CAMERA, height=560), light=Light(cone_deg=cone))
    shine = shine_of(scene)
    assert shine.at.shape == (shine.area.size, 2)
    inside = (shine.at[:, 0] > 0) & (shine.at[:, 0] < 159)
    depth_um = shine.area[inside].sum() / 2 / 159 * 4.0
    assert depth_um == pytest.approx(1000 * (1 - math.cos(math.radians(cone / 2))), rel=0.02)


def test_flanks_shine_wider_than_crests_and_grow_with_the_square_of_the_cone() -> None:
    """Along a flank of 30 deg the band is 4 times as wide across the axis as on a cylinder; roots are in the way."""
    areas = []
    for cone in (2.0, 4.0):
        shine = shine_of(replace(SCENE, light=Light(cone_deg=cone)))
        inside = (shine.at[:, 0] > 0) & (shine.at[:, 0] < 159)
        areas.append(shine.area[inside].sum() / 2 / 159 * 4.0)
    cylinder = 900 * (1 - math.cos(math.radians(2.0)))
    assert 2.5 * cylinder < areas[1] < 4 * cylinder
    assert areas[1] / areas[0] == pytest.approx(4.0, rel=0.05)


@pytest.mark.slow
def test_mirrored_light_is_all_in_the_picture() -> None:
    """Light in the picture is the reflectivity times the area that shines; the parts beside the outline stay as is."""
    scene = replace(SCENE, light=Light(cone_deg=4.0, reflectivity=0.6))
    shine = shine_of(scene)
    extra = mirrored_light(scene)
    inside = (shine.at[:, 0] > 29.5) & (shine.at[:, 0] < 129.5)
    assert extra[:, 30:130].sum() == pytest.approx(0.6 * shine.area[inside].sum(), rel=0.03)
    assert extra[300:340].max() < 1e-6
    assert mirrored_light(replace(scene, light=Light(background="dark", cone_deg=4.0))).max() == 0


def test_a_cone_makes_the_shadow_of_the_scene_smaller_and_no_cone_changes_nothing() -> None:
    plain, _ = render(SCENE)
    none, _ = render(replace(SCENE, light=Light(cone_deg=0.0, reflectivity=0.9)))
    bright, _ = render(replace(SCENE, light=Light(cone_deg=4.0)))
    assert np.array_equal(plain, none)
    assert (bright.astype(int) >= plain).all()
    assert bright.mean() > plain.mean() + 0.1


def test_a_near_pad_is_seen_under_another_cone_from_every_place() -> None:
    """A pin's edge at the height y before a camera at D and a pad of half height h at d sees the half cone
    (h - y) / d - y / D, and shines over a band of R A^2 / 8 (derived in vision.model.grazing)."""
    distance, pad, cone = 150.0, 100.0, 4.0
    light = Light(cone_deg=cone, reflectivity=1.0, pad_mm=pad)
    camera = replace(CAMERA, working_distance_mm=distance, height=800)
    pin = replace(pin_scene(1.0, camera=camera, light=light), offset_px=200.0)
    shine = shine_of(pin)
    columns = CAMERA.width * CAMERA.um_per_px * 1e-3
    for edge in (0.3, 1.3):  # the pin stands 0.8 mm off the middle of the view
        near = np.abs(np.abs(shine.at[:, 1] - 399.5) * 4e-3 - edge) < 0.1
        inside = near & (shine.at[:, 0] > -0.5) & (shine.at[:, 0] < CAMERA.width - 0.5)
        band = shine.area[inside].sum() * (4e-3) ** 2 / columns
        seen = math.tan(math.radians(cone)) - (1 if edge > 1 else -1) * edge * (1 / pad + 1 / distance)
        assert band == pytest.approx(0.5 * seen**2 / 8, rel=0.08)
