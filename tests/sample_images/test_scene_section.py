"""The axial section: widths, angles and arcs are what the thread's numbers say."""

from __future__ import annotations

from dataclasses import replace
from math import degrees, radians, tan

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sample_images.scene import Camera, Cylinder, Scene, Thread, pin_scene
from sample_images.section import section_of

POST_SCREW = Thread(
    2.8118, 2.4282, 2.0199, 0.635, 30.2, 29.9, root_corner_radius_mm=0.004, crest_corner_radius_mm=0.006
)


@st.composite
def threads(draw: st.DrawFn) -> Thread:
    """Threads that can be cut: flat or rounded, skewed, shallow or deep."""
    pitch = draw(st.floats(0.2, 2.0))
    left, right = draw(st.floats(3, 45)), draw(st.floats(15, 45))
    run = tan(radians(left)) + tan(radians(right))
    crest, root = draw(st.floats(0.03, 0.3)), draw(st.floats(0.03, 0.3))
    pitch_diameter = draw(st.floats(2.5, 8.0)) * pitch + 2 * pitch / run
    return Thread(
        pitch_diameter + 2 * (0.5 - crest) * pitch / run,
        pitch_diameter,
        pitch_diameter - 2 * (0.5 - root) * pitch / run,
        pitch,
        left,
        right,
        root=draw(st.sampled_from(["flat", "radius"])),
        crest=draw(st.sampled_from(["flat", "radius"])),
    )


@given(threads())
def test_the_ridge_is_half_a_pitch_wide_at_the_pitch_diameter(thread: Thread) -> None:
    if thread.faults():
        return
    section = section_of(thread)
    s = np.linspace(-0.5, 0.5, 20001) * thread.pitch_mm + section.window_start + thread.pitch_mm / 2
    wide = float(np.mean(section.radius(s) >= thread.pitch_diameter_mm / 2))
    assert wide == pytest.approx(0.5, abs=1.1e-4)  # two grid steps


@given(threads())
def test_the_section_reaches_major_and_minor_without_a_jump(thread: Thread) -> None:
    if thread.faults():
        return
    section = section_of(thread)
    s = np.linspace(0, 2 * thread.pitch_mm, 40001)
    r = section.radius(s)
    assert r.max() == pytest.approx(thread.major_mm / 2, abs=1e-6 * thread.pitch_mm)
    assert r.min() == pytest.approx(thread.minor_mm / 2, abs=1e-6 * thread.pitch_mm)
    assert np.abs(np.diff(r)).max() <= (s[1] - s[0]) * section.steepest * (1 + 1e-6)
    np.testing.assert_allclose(r[:20001], r[20000:], atol=1e-9)


def test_flank_angles_are_on_their_sides() -> None:
    section = section_of(replace(POST_SCREW, half_angle_left_deg=20, half_angle_right_deg=35, minor_mm=2.1))
    s = np.array([-0.635 / 4 - 0.01, -0.635 / 4 + 0.01, 0.635 / 4 - 0.01, 0.635 / 4 + 0.01])
    r = section.radius(s)
    assert degrees(np.arctan(0.02 / (r[1] - r[0]))) == pytest.approx(20, abs=1e-6)
    assert degrees(np.arctan(0.02 / (r[2] - r[3]))) == pytest.approx(35, abs=1e-6)


def test_published_radii_of_rounded_roots() -> None:
    # ISO 68-1 / ISO 965: the design root of an external thread, H/6 = 0.14434 P, lies 1.22687 P below the major
    # diameter (basic pitch diameter d - 0.649519 P).
    thread = Thread(3.0, 3.0 - 0.649519 * 0.5, 3.0 - 1.22687 * 0.5, 0.5, root="radius")
    assert thread.root_arc_mm == pytest.approx(0.14434 * 0.5, abs=2e-5)
    # American National, basic: root flat p/8 at d - 1.299038 p.
    flat = Thread(2.8448, 2.8448 - 0.649519 * 0.635, 2.8448 - 1.299038 * 0.635, 0.635)
    assert flat.root_width_mm == pytest.approx(0.635 / 8, abs=1e-6)
    assert flat.crest_width_mm == pytest.approx(0.635 / 8, abs=1e-6)


@pytest.mark.parametrize(
    ("change", "word"),
    [
        ({"minor_mm": 2.5}, "minor < pitch < major"),
        ({"pitch_mm": 0.2}, "flanks meet"),
        ({"hand": "both"}, "hand"),
        ({"root": "round"}, "root and crest"),
        ({"starts": 0}, "start"),
        ({"half_angle_left_deg": 80.0}, "half-angles"),
        ({"crest_corner_radius_mm": 0.2}, "crest's corner"),
        ({"root_corner_radius_mm": -0.1}, "not negative"),
    ],
)
def test_a_thread_that_cannot_be_cut_is_named(change: dict[str, object], word: str) -> None:
    scene = Scene(replace(POST_SCREW, **change), 5.0)  # type: ignore[arg-type]
    with pytest.raises(ValueError, match=word):
        scene.check()


@pytest.mark.parametrize(
    "scene",
    [
        Scene(None),
        Scene(POST_SCREW, 0.0),
        Scene(POST_SCREW, 5.0, runout_mm=6.0),
        Scene(POST_SCREW, 5.0, tilt_deg=float("nan")),
        Scene(POST_SCREW, 5.0, tilt_deg=25.0),
        Scene(POST_SCREW, 5.0, chamfer_end_mm=-1.0),
        Scene(POST_SCREW, 5.0, body=(Cylinder(0.0, 1.0),)),
        Scene(POST_SCREW, 5.0, camera=Camera(bits=12)),
        Scene(POST_SCREW, 5.0, camera=Camera(um_per_px=0.0)),
        Scene(POST_SCREW, 5.0, dust=-1),
        pin_scene(1.0, camera=Camera(width=8)),
    ],
)
def test_an_impossible_scene_is_refused(scene: Scene) -> None:
    with pytest.raises(ValueError, match=r".+"):
        scene.check()
