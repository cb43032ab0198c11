"""The shadow of the helicoid: published figures, convergence, points of the true surface, symmetries."""

from __future__ import annotations

from dataclasses import replace
from math import cos, pi, radians, sin

import numpy as np
import pytest

from sample_images.geometry import Outline, outline_of
from sample_images.scene import Camera, Cylinder, Light, Scene, Thread
from sample_images.section import section_of

INCH = 25.4


def basic(major: float, pitch: float, depth: float = 1.299038) -> Thread:
    return Thread(major, major - 0.649519 * pitch, major - depth * pitch, pitch)


def flank_lines(outline: Outline, thread: Thread, side: int) -> tuple[np.ndarray, np.ndarray]:
    """Slope and place (at the pitch radius) of each flank of one edge, by straight lines through its middle half."""
    height = outline.high if side > 0 else -outline.low
    low, depth = thread.minor_mm / 2, (thread.major_mm - thread.minor_mm) / 2
    middle = (height > low + depth / 4) & (height < low + 3 * depth / 4)
    runs = np.split(np.arange(len(height)), np.flatnonzero(np.diff(middle.astype(int))) + 1)
    lines = [
        np.polyfit(height[run] - thread.pitch_diameter_mm / 2, outline.u[run], 1) for run in runs if middle[run[0]]
    ]
    slope, place = np.array(lines[2:-2]).T
    first = 0 if slope[0] > 0 else 1
    count = (len(slope) - first) // 2 * 2
    return slope[first : first + count], place[first : first + count]


def apparent(thread: Thread) -> tuple[float, float]:
    """(pitch diameter, mean half-angle in degrees) that straight lines through the shadow's flanks give."""
    scene = Scene(thread, 30.0, view_mm=15.0, camera=Camera(1400, 100, um_per_px=thread.pitch_mm * 10))
    outline = outline_of(scene)
    diameter, angles = thread.pitch_diameter_mm, []
    for side in (1, -1):
        slope, place = flank_lines(outline, thread, side)
        width, widening = (place[1::2] - place[::2]).mean(), (slope[1::2] - slope[::2]).mean()
        diameter += (thread.pitch_mm / 2 - width) / widening
        angles.append(np.degrees(np.arctan(np.abs(slope))).mean())
    return float(diameter), float(np.mean(angles))


@pytest.mark.parametrize(
    ("thread", "excess_um", "angle_deg"),
    [
        # Apparent excess of the pitch diameter and of each half-angle, from brute-force projection of basic profiles,
        # done apart from this program; rounded to 0.1 um.
        (basic(0.060 * INCH, INCH / 80), 11.5, 0.215),
        (basic(0.086 * INCH, INCH / 56), 16.3, 0.213),
        (basic(0.112 * INCH, INCH / 40), 24.8, 0.251),
        (basic(0.138 * INCH, INCH / 32), 31.5, 0.260),
        (basic(0.190 * INCH, INCH / 32), 22.0, 0.126),
        (basic(2.0, 0.4, 1.0825), 13.8, 0.186),
        (basic(3.0, 0.5, 1.0825), 14.1, 0.130),
    ],
)
def test_the_pitch_diameter_reads_too_large_by_what_is_published(
    thread: Thread, excess_um: float, angle_deg: float
) -> None:
    diameter, angle = apparent(thread)
    assert (diameter - thread.pitch_diameter_mm) * 1e3 == pytest.approx(excess_um, rel=0.01)
    assert angle - 30 == pytest.approx(angle_deg, abs=0.006)


def test_the_root_of_a_4_40_looks_narrower_than_it_is() -> None:
    thread = basic(0.112 * INCH, INCH / 40)
    outline = outline_of(Scene(thread, 30.0, view_mm=15.0, camera=Camera(1600, 100, um_per_px=2.0)), step_px=0.05)
    flat = outline.high < thread.minor_mm / 2 + 1e-7
    runs = np.split(np.arange(len(flat)), np.flatnonzero(np.diff(flat.astype(int))) + 1)
    widths = [np.ptp(outline.u[run]) * 1e3 for run in runs if flat[run[0]]][1:-1]
    assert thread.root_width_mm * 1e3 == pytest.approx(79.4, abs=0.05)
    assert widths == pytest.approx([62.2] * len(widths), rel=0.01)  # two nodes are 0.2 um


NATIONAL = Thread(2.8118, 2.4282, 2.0199, 0.635, 30.2, 29.9, crest_corner_radius_mm=0.006, root_corner_radius_mm=0.004)
ROUNDED = Thread(
    2.98, 2.66, 2.35, 0.5, 29.4, 30.6, root="radius", crest_corner_radius_mm=0.01, hand="left", taper_um_per_mm=8
)
SCREW = Scene(
    NATIONAL,
    5.0,
    1.9,
    runout_mm=0.6,
    phase=0.3,
    body=(Cylinder(2.8, 1.2), Cylinder(4.0, 2.0)),
    view_mm=2.7,
    offset_px=60,
    camera=Camera(1500, 100, 4.0),
)
SCENES = {
    "square": SCREW,
    "tilted": replace(SCREW, tilt_deg=2.0),
    "pinhole": replace(SCREW, tilt_deg=-1.5, camera=Camera(1500, 100, 4.0, 60.0)),
    "rounded, left, tapered": replace(SCREW, thread=ROUNDED, tilt_deg=1.2),
    "end cut square": replace(SCREW, chamfer_end_mm=None, tilt_deg=2.0),
    "buttress": replace(SCREW, thread=replace(NATIONAL, half_angle_left_deg=7, half_angle_right_deg=45)),
    "two starts": replace(SCREW, thread=replace(NATIONAL, starts=2)),
}


def column_areas(outline: Outline, edges: np.ndarray) -> np.ndarray:
    """Area under each edge in strips one pixel (4 um) wide, in square pixels."""
    inner = np.arange(outline.u[0], outline.u[-1], 0.004)
    u = np.union1d(outline.u, inner)
    areas = []
    for edge in (outline.high, outline.low):
        v = np.interp(u, outline.u, edge)
        total = np.concatenate([[0], np.cumsum(np.diff(u) * (v[1:] + v[:-1]) / 2)])
        areas.append(np.diff(np.interp(edges, u, total)) / 0.004**2)
    return np.array(areas)


@pytest.mark.slow
@pytest.mark.parametrize("name", ["tilted", "pinhole", "rounded, left, tapered", "end cut square", "buttress"])
def test_a_finer_search_finds_the_same_shadow(name: str) -> None:
    scene = SCENES[name]
    if scene.tilt_deg != 0:  # oblique views are slow: the free end and five threads will do
        scene = replace(scene, view_mm=1.4, camera=replace(scene.camera, width=800))
    usual, fine = outline_of(scene), outline_of(scene, step_px=0.05, angle_step=0.004)
    edges = np.arange(fine.u[0], fine.u[-1], 0.004)
    off = np.abs(column_areas(usual, edges) - column_areas(fine, edges))
    # 0.01 px everywhere. Only where an end face, seen a little from the front, closes in a round tip (vertical
    # tangent), may single strips be off by a little more.
    ends = np.abs(edges[:-1, None] - fine.steps[None, :]).min(axis=1) < 0.02
    assert off[:, ~ends].max() < 0.01
    assert off[:, ends].max(initial=0) < 0.03
    assert np.sqrt((off**2).mean()) < 0.001
    assert not np.array_equal(usual.u, fine.u)


def surface_points(scene: Scene, count: int = 250) -> tuple[np.ndarray, np.ndarray]:
    """(u, v) in mm of points of the threaded surface, written out here anew, helix by helix."""
    thread = scene.thread
    assert thread is not None
    section = section_of(thread)
    s = np.linspace(-0.5, 0.5, count) * thread.pitch_mm
    phi = np.linspace(-pi, pi, 721)
    hand = 1 if thread.hand == "right" else -1
    u, v = [], []
    for turn in range(-9, 1):
        z = s[:, None] + (turn + scene.phase) * thread.pitch_mm + hand * thread.lead_mm * phi / (2 * pi)
        r = np.broadcast_to(section.radius(s)[:, None], z.shape)
        keep = (z < -0.6) & (z > -4.3)  # behind the chamfer, before the runout
        middle_of_view = (-4.5 + 0) / 2 if scene.taper_at_mm is None else -scene.taper_at_mm
        r = r + thread.taper_um_per_mm * 5e-4 * (middle_of_view - z)
        t = radians(scene.tilt_deg)
        along = z + scene.view_mm
        across = r * np.cos(phi) + scene.offset_px * scene.camera.um_per_px * 1e-3
        depth = r * np.sin(phi)
        x, away = along * cos(t) + depth * sin(t), depth * cos(t) - along * sin(t)
        enlarged = 1.0 if scene.camera.working_distance_mm is None else 1 / (1 + away / scene.camera.distance_mm)
        u.append((x * enlarged)[keep])
        v.append((across * enlarged)[keep])
    return np.concatenate(u), np.concatenate(v)


@pytest.mark.slow
@pytest.mark.parametrize("name", ["square", "tilted", "pinhole", "rounded, left, tapered", "buttress", "two starts"])
def test_the_shadow_just_holds_every_point_of_the_surface(name: str) -> None:
    scene = replace(SCENES[name], taper_at_mm=2.0)
    outline = outline_of(scene, step_px=0.05)
    u, v = surface_points(scene, 500 if name == "buttress" else 250)
    for edge, side in ((outline.high, 1), (outline.low, -1)):
        spare = side * (np.interp(u, outline.u, edge) - v)
        # No point sticks out, but for the corners that a polyline of 0.05 px steps cuts (0.2 um on the steepest flank).
        assert spare.min() > -0.0008
        # And in each 16 um along the axis some point comes as near as the points' own spacing allows.
        inside = (u > -1.6) & (u < 1.7)
        strip = np.floor(u[inside] / 0.016).astype(int)
        nearest = np.full(np.ptp(strip) + 1, np.inf)
        np.minimum.at(nearest, strip - strip.min(), spare[inside])
        assert nearest.max() < (0.0015 if name == "buttress" else 0.0002)


def test_a_left_hand_thread_is_the_mirror_image() -> None:
    right = replace(SCREW, offset_px=0.0, phase=0.0, runout_mm=0.0, tilt_deg=1.5)
    left = replace(right, thread=replace(NATIONAL, hand="left"), tilt_deg=1.5)
    # Mirrored in the plane through axis and line of sight, phi = 0 and phi = pi change places: half a pitch of phase.
    left = replace(left, phase=0.5)
    a, b = outline_of(right), outline_of(left)
    np.testing.assert_allclose(np.interp(a.u, b.u, -b.low), a.high, atol=2e-4)


def test_tilting_the_other_way_exchanges_the_edges() -> None:
    # Looked at from behind (z stays, phi -> pi - phi mirrors the hand), a tilt changes sign: hand and tilt together.
    toward = replace(SCREW, offset_px=0.0, tilt_deg=1.0)
    away = replace(toward, thread=replace(NATIONAL, hand="left"), tilt_deg=-1.0)
    a, b = outline_of(toward), outline_of(away)
    middle = np.abs(a.u) < 1.5
    np.testing.assert_allclose(np.interp(a.u, b.u, b.high)[middle], a.high[middle], atol=2e-4)


def test_a_plain_cylinder_is_as_wide_as_it_is() -> None:
    scene = Scene(None, body=(Cylinder(2.5, 50.0),), view_mm=25.0, tilt_deg=2.0, offset_px=31.0)
    outline = outline_of(scene)
    np.testing.assert_allclose(outline.high - outline.low, 2.5, atol=1e-9)
    np.testing.assert_allclose(outline.high + outline.low, 2 * 31 * 0.004, atol=1e-9)


def test_a_pinhole_sees_a_pin_a_little_wider() -> None:
    # Derived here: the rays that touch a cylinder of radius R at distance D from the axis meet the axis' plane at
    # R / sqrt(1 - (R / D)^2).
    scene = Scene(None, body=(Cylinder(2.5, 50.0),), view_mm=25.0, camera=Camera(working_distance_mm=60.0))
    outline = outline_of(scene)
    np.testing.assert_allclose(outline.high - outline.low, 2.5 / np.sqrt(1 - (1.25 / 60) ** 2), rtol=1e-8)


def test_a_tilted_end_face_is_an_ellipse() -> None:
    scene = Scene(None, body=(Cylinder(2.0, 50.0),), view_mm=0.5, tilt_deg=2.0, light=Light())
    outline = outline_of(scene)
    end = 0.5 * cos(radians(2))
    short = sin(radians(2))
    beyond = outline.u > end
    expected = np.sqrt(np.maximum(1 - ((outline.u[beyond] - end) / short) ** 2, 0))
    assert outline.u[-1] == pytest.approx(end + short, abs=1e-6)
    np.testing.assert_allclose(outline.high[beyond], expected, atol=2e-4)


def test_nothing_in_view_is_refused() -> None:
    with pytest.raises(ValueError, match="view_mm"):
        outline_of(replace(SCREW, view_mm=-90.0))
