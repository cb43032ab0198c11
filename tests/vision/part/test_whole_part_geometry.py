"""What an oblique view does to rims and cones, against the projection that the renderer searches numerically."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import numpy.typing as npt
import pytest

from sample_images.geometry import outline_of
from sample_images.scene import Camera, Cone, Cylinder, Scene
from vision.locate.frame import Frame
from vision.model.grazing import NO_MIRROR, mirror_of
from vision.part.axis_view import AxisView, Joint, Profile, profile_of
from vision.part.lengths import Ruler
from vision.part.marks import face_near, faces_of
from vision.part.piece_fit import fit_lines, upright_cone
from vision.shared.plane import FixedScale

Array = npt.NDArray[np.float64]

CAMERA = Camera(1600, 1000, um_per_px=5.0, working_distance_mm=80.0, blur_sigma_px=0.0)
PX = 0.005


def view_of(scene: Scene, *, step: float = 1.0) -> AxisView:
    """The sharp outline of a scene as points about a pixel apart, in the frame of its axis (u toward the free end)."""
    outline = outline_of(scene)
    rows = []
    for edge, sign in ((outline.high, 1.0), (outline.low, -1.0)):
        path = np.column_stack([outline.u, edge]) / PX
        along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(path, axis=0).T))])
        at = np.arange(0.0, along[-1], step)
        points = np.column_stack([np.interp(at, along, path[:, i]) for i in (0, 1)])
        ahead = np.gradient(points, axis=0)
        normal = sign * np.column_stack([-ahead[:, 1], ahead[:, 0]])
        rows.append((points, normal / np.maximum(np.hypot(*normal.T), 1e-12)[:, None]))
    points, normal = (np.concatenate([row[i] for row in rows]) for i in (0, 1))
    # the end faces, from edge to edge
    for k, outward in ((0, -1.0), (-1, 1.0)):
        w = np.arange(outline.low[k] / PX, outline.high[k] / PX, step)
        face = np.column_stack([np.full(w.size, outline.u[k] / PX), w])
        points = np.concatenate([points, face])
        normal = np.concatenate([normal, np.tile([outward, 0.0], (w.size, 1))])
    near = 0.0 if scene.camera.working_distance_mm is None else PX / scene.camera.working_distance_mm
    tilt = float(np.sin(np.radians(scene.tilt_deg)))
    points = points / (1 + near * tilt * points[:, :1])
    return AxisView(
        points, normal, tilt - near * points[:, 0], 0.0, float(np.cos(np.radians(scene.tilt_deg))), near, PX, 1.0,
        (True, True), Frame((0.0, 0.0), 0.0),
    )  # fmt: skip


@pytest.mark.parametrize("distance", [None, 80.0])
@pytest.mark.parametrize("tilt", [0.0, 0.7, -1.0])
def test_shoulder_faces_lie_where_they_do(distance: float | None, tilt: float) -> None:
    """Steps of 1 mm and more, up to 3 mm beside the axis of the lens: within 0.2 px, where rims stand out by 7 px."""
    scene = Scene(
        None, body=(Cylinder(1.0, 1.5), Cylinder(2.4, 1.6), Cylinder(1.2, 3.0)), view_mm=2.6, tilt_deg=tilt,
        camera=replace(CAMERA, working_distance_mm=distance),
    )  # fmt: skip
    view = view_of(scene)
    found = {f.outward: f for f in faces_of(view) if f.radius > 1.1 / PX}
    for outward, z in ((1, -1.5), (-1, -3.1)):
        true = (z + scene.view_mm) * view.cos_tilt / PX
        assert abs(found[outward].u - true) < 0.2
        assert found[outward].radius == pytest.approx(1.2 / PX, abs=2.0)
    turned = [f for f in found.values() if f.mirrored > 0]
    assert len(turned) == (0 if distance is None and tilt == 0 else len(turned))
    assert face_near(view, 0.0, 3.0) is None


@pytest.mark.parametrize("place", [-2.5, 0.5, 2.5])
@pytest.mark.parametrize(("front", "back"), [(1.0, 2.6), (2.6, 1.0), (2.0, 2.4)])
def test_cones_before_a_near_camera(place: float, front: float, back: float) -> None:
    """Radius within 0.04 px and slope within 0.0002 of the section, where the shadow is off by several times that."""
    scene = Scene(None, body=(Cylinder(front, 1.0), Cone(front, back, 1.0), Cylinder(back, 1.0)),
                  view_mm=1.5 + place, camera=CAMERA)  # fmt: skip
    view = view_of(scene)
    middle = (scene.view_mm - 1.5) / PX
    slope = (front - back) / 2
    fitted = fit_lines(view, middle - 80, middle + 80, slope)
    assert fitted is not None
    assert fitted.radius == pytest.approx((front + back) / 4 / PX, abs=0.04)
    assert fitted.slope == pytest.approx(slope, abs=2e-4)
    assert abs(fitted.slope - slope) < 3 * fitted.slope_noise + 1e-5


def test_an_upright_cone_stays_as_it_is() -> None:
    assert upright_cone(200.0, 0.8, 0.0, 0.0) == (200.0, 0.8, 0.0)
    assert upright_cone(200.0, 0.0, 0.05, 0.0) == (200.0, 0.0, 0.0)


def test_what_bulges_on_one_edge_only_is_left_out() -> None:
    u = np.arange(2000.0)
    upper, lower = np.full(2000, 100.0), np.full(2000, -100.0)
    upper[900:920] += 12
    points = np.concatenate([np.column_stack([u, upper]), np.column_stack([u, lower])])
    normal = np.concatenate([np.tile([0.0, 1.0], (2000, 1)), np.tile([0.0, -1.0], (2000, 1))])
    view = AxisView(points, normal, np.zeros(4000), 0.0, 1.0, 0.0, PX, 1.0, (True, True), Frame((0.0, 0.0), 0.0))
    profile = profile_of(view)
    assert isinstance(profile, Profile)
    assert np.isnan(profile.radius[900:920]).all()
    assert np.nanmax(np.abs(profile.radius - 100)) < 1e-9
    assert np.isnan(profile.radius).sum() < 40


def test_joints_count_only_between_the_ends_of_a_length() -> None:
    view = AxisView(np.zeros((0, 2)), np.zeros((0, 2)), np.zeros(0), 0.0, 1.0, 0.0, PX, 1.0, (True, True),
                    Frame((0.0, 0.0), 0.0), (Joint(100.0, 0.3), Joint(200.0, 0.4)))  # fmt: skip
    assert view.joint_noise(0, 90) == 0.0
    assert view.joint_noise(0, 150) == pytest.approx(0.3)
    assert view.joint_noise(250, 50) == pytest.approx(0.5)


def test_gauges_and_edge_offset_act_on_lengths_and_diameters_as_they_do() -> None:
    """JCGM 100 by hand: a relative scale error, and an edge offset that makes a diameter smaller by twice itself."""
    plane = FixedScale(5.0, relative_u=1e-3, edge_offset_u_px=0.5)
    ruler = Ruler(plane, PX, 0.0, NO_MIRROR)
    assert ruler.diameter(400.0, 0.0).standard_uncertainty == pytest.approx(np.hypot(0.002, 2 * 0.5 * PX), rel=1e-3)
    same_way = ruler.length(400.0, 0.0, 0.0)
    assert same_way.value == pytest.approx(2.0)
    assert same_way.standard_uncertainty == pytest.approx(0.002, rel=1e-2)
    apart = ruler.length(400.0, 0.0, 2.0)
    assert apart.standard_uncertainty == pytest.approx(np.hypot(0.002, 0.005), rel=1e-2)


def test_a_known_cone_puts_back_what_round_edges_lose() -> None:
    """A pin read with a scale from pins keeps its size; with a scale from rulings it grows by f A^2 / 8."""
    for round_gauges in (True, False):
        plane = replace(FixedScale(5.0), light_cone_deg=4.0, round_gauges=round_gauges)
        mirror = replace(mirror_of(plane), recession=1e-3, scale_excess=1e-3 * round_gauges)
        ruler = Ruler(plane, PX * (1 - mirror.scale_excess), 0.0, mirror)
        grown = ruler.diameter(400.0, 0.0).value / 2.0 - 1
        assert grown == pytest.approx(0.0 if round_gauges else mirror.recession, abs=2e-6)
