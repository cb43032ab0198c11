"""Cones, a second thread, slots, several parts and overlapping shots, as the renderer draws them."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from sample_images.geometry import outline_of
from sample_images.render import outline_px, render, render_together, shadow
from sample_images.scene import Camera, Cone, Cylinder, Scene, SecondThread, Slot, Thread
from sample_images.truth import truth_of
from tests.sample_images.shots import overlapping_shots

SMALL = Camera(300, 200, um_per_px=20.0, blur_sigma_px=0.0, noise=0.0)
THREAD = Thread(2.0, 1.74, 1.5, 0.4)
PLAIN = Scene(None, body=(Cylinder(1.2, 1.0), Cone(1.2, 2.4, 0.9), Cylinder(2.4, 0.8)), view_mm=1.4, camera=SMALL)


def test_a_cone_has_the_area_of_its_section() -> None:
    area = 1.2 * 1.0 + (1.2 + 2.4) / 2 * 0.9 + 2.4 * 0.8
    assert shadow(PLAIN).sum() * 0.02**2 == pytest.approx(area, rel=1e-5)


def test_a_slot_takes_its_rectangle_out_of_the_end() -> None:
    slotted = replace(PLAIN, slot=Slot(0.5, 0.3))
    missing = shadow(PLAIN) - shadow(slotted)
    assert missing.min() > -1e-6
    assert missing.sum() * 0.02**2 == pytest.approx(0.5 * 0.3, rel=1e-4)
    rows = np.flatnonzero(missing.max(axis=1) > 0.5)
    assert 24 <= rows.size <= 26


def test_edges_found_too_far_out_narrow_a_slot() -> None:
    offset = 1.5
    slotted = replace(PLAIN, slot=Slot(0.5, 0.3), edge_offset_px=offset)
    missing = shadow(replace(slotted, slot=None)) - shadow(slotted)
    assert missing.sum() == pytest.approx((25 - 2 * offset) * 15, rel=1e-3)


def test_a_slot_needs_room() -> None:
    for slot in (Slot(3.0, 0.3), Slot(0.5, 0.9), Slot(0.0, 0.3)):
        with pytest.raises(ValueError, match="slot"):
            replace(PLAIN, slot=slot).check()
    with pytest.raises(ValueError, match="slot"):
        Scene(THREAD, 3.0, slot=Slot(0.5, 0.3)).check()


def test_a_slot_out_of_view_is_not_drawn() -> None:
    long = replace(PLAIN, body=(Cylinder(1.2, 40.0), Cylinder(2.4, 0.8)), slot=Slot(0.5, 0.3))
    np.testing.assert_array_equal(outline_px(long), outline_px(replace(long, slot=None)))


def test_the_second_thread_is_the_first_one_turned_round() -> None:
    """A rod with the same thread at both ends, each counted from its own end, has the same outline from either end."""
    rod = Scene(
        THREAD, 2.4, chamfer_end_mm=1.3, phase=0.3, runout_mm=0.2, view_mm=3.1, camera=replace(SMALL, width=400),
        body=(Cylinder(1.6, 1.4), SecondThread(THREAD, 2.4, phase=0.3, runout_mm=0.2, chamfer_end_mm=1.3)),
    )  # fmt: skip
    outline = outline_of(rod)
    u = np.linspace(-3.0, 3.0, 701)
    high, low = (np.interp(u, outline.u, edge) for edge in (outline.high, outline.low))
    # half a turn in the picture: left becomes right and up becomes down
    np.testing.assert_allclose(high, -low[::-1], atol=2e-3)


def test_faults_of_the_second_thread_are_told() -> None:
    wrong = SecondThread(replace(THREAD, minor_mm=1.9), 2.0)
    with pytest.raises(ValueError, match="minor"):
        Scene(THREAD, 2.0, body=(Cylinder(1.5, 1.0), wrong)).check()


def test_several_parts_are_the_union_of_each() -> None:
    upper = replace(PLAIN, offset_px=-60)
    lower = Scene(None, body=(Cylinder(0.6, 2.0),), view_mm=1.0, offset_px=70, camera=SMALL)
    np.testing.assert_allclose(shadow(upper, lower), np.maximum(shadow(upper), shadow(lower)), atol=1e-6)
    picture, truths = render_together([upper, lower])
    assert picture.shape == (200, 300)
    assert [t["kind"] for t in truths] == ["pin", "pin"]
    alone, _ = render(upper)
    np.testing.assert_array_equal(render_together([upper])[0], alone)


def test_overlapping_shots_show_the_rod_moved_along() -> None:
    rod = Scene(THREAD, 30.0, camera=SMALL, seed=4)
    first, second = overlapping_shots(rod, (6.0, 8.0), turns_deg=(0.0, 1.0), offsets_px=(0.0, 5.0))
    assert (first.view_mm, second.view_mm) == (6.0, 8.0)
    assert second.rotation_deg == 1.0
    assert second.offset_px == 5.0
    assert first.seed != second.seed
    # 2 mm farther from the free end, which points to the right: 100 px to the right
    a, b = (shadow(s) for s in overlapping_shots(rod, (6.0, 8.0)))
    np.testing.assert_allclose(b[:, 110:290], a[:, 10:190], atol=2e-2)


def test_the_truth_names_cones_and_slots() -> None:
    scene = Scene(THREAD, 3.0, body=(Cylinder(1.4, 0.4), Cone(2.0, 3.4, 0.7), Cylinder(3.4, 0.5)), slot=Slot(0.4, 0.3))
    truth = truth_of(scene)
    assert truth["body_mm"] == [[1.4, 0.4], [2.0, 3.4, 0.7], [3.4, 0.5]]
    assert truth["slot_mm"] == [0.4, 0.3]
    assert "slot_mm" not in truth_of(replace(scene, slot=None))
