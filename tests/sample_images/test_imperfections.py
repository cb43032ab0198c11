"""Errors of form of the renderer's threads, against surfaces made without its formulas."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import numpy.typing as npt
import pytest

from sample_images.geometry import outline_of
from sample_images.imperfections import Imperfections, imperfect
from sample_images.scene import Camera, Scene, Thread
from sample_images.section import section_of

Array = npt.NDArray[np.float64]

THREAD = Thread(2.81, 2.42, 2.06, 0.635, 30.3, 29.6, crest_corner_radius_mm=0.01)
SECTION = section_of(THREAD)
SCENE = Scene(THREAD, 20.0, view_mm=10.0, phase=0.3, camera=Camera(500, 600, um_per_px=6.0))


def perfect(z: Array, phi: Array) -> Array:
    """A right-hand helicoid."""
    return SECTION.radius(z - THREAD.pitch_mm * phi / (2 * np.pi))


def test_a_bent_thread_is_the_straight_one_laid_along_an_arc() -> None:
    """Points of the straight helicoid carried onto a circle of 300 mm lie on the bent surface: to 0.15 um."""
    bent = imperfect(perfect, Imperfections(bend_radius_mm=300.0, bent_at_deg=40.0), z_centre=-10.0)
    rng = np.random.default_rng(2)
    along, phi = rng.uniform(-12, -8, 4000), rng.uniform(-np.pi, np.pi, 4000)
    r = perfect(along, phi)
    # the axis: an arc whose convex side faces 40 degrees; sections stand square on it
    turn = (along + 10.0) / 300.0
    out = r * np.cos(phi - np.radians(40)), r * np.sin(phi - np.radians(40))
    toward = out[0] * np.cos(turn) - 300 * (1 - np.cos(turn))
    z = -10.0 + (300 + out[0]) * np.sin(turn)
    seen_r, seen_phi = np.hypot(toward, out[1]), np.arctan2(out[1], toward) + np.radians(40)
    assert np.abs(bent(z, seen_phi) - seen_r).max() < 1.5e-4


def test_turning_the_part_moves_its_ridges_along_by_the_lead() -> None:
    """A quarter turn is a quarter of the lead, away from the free end for a right-hand thread."""
    still = outline_of(SCENE)
    turned = outline_of(replace(SCENE, form_errors=Imperfections(turned_deg=90.0)))
    shifted = outline_of(replace(SCENE, phase=0.3 - 0.25))
    inside = np.linspace(-1.2, 1.2, 500)
    for edge in ("high", "low"):
        a, b = (np.interp(inside, o.u, getattr(o, edge)) for o in (turned, shifted))
        assert np.abs(a - b).max() < 2e-5
        assert np.abs(a - np.interp(inside, still.u, getattr(still, edge))).max() > 0.1


@pytest.mark.parametrize(("turned", "growth"), [(0.0, 0.010), (90.0, -0.010), (45.0, 0.0)])
def test_an_oval_thread_is_thicker_one_way_and_thinner_across(turned: float, growth: float) -> None:
    """20 um ovality: 10 um on the largest diameter, the crests' shadow; between, 0.07 um of second order."""
    oval = outline_of(replace(SCENE, form_errors=Imperfections(ovality_um=20.0, turned_deg=turned)))
    width = oval.high.max() - oval.low.min()
    assert width - THREAD.major_mm == pytest.approx(growth, abs=1e-4)


def test_a_drunken_thread_stands_too_far_along_on_one_side() -> None:
    """8 um at psi = 90 deg + 0: on the two edges of a part turned by 90 degrees opposite shifts, less the cosine."""
    errors = Imperfections(drunkenness_um=8.0, turned_deg=-90.0)
    drunk = outline_of(replace(SCENE, form_errors=errors))
    plain = outline_of(replace(SCENE, form_errors=replace(errors, drunkenness_um=0.0)))
    inside = np.linspace(-1.0, 1.0, 400)
    shifts = []
    for edge in ("high", "low"):
        y = np.interp(inside, drunk.u, getattr(drunk, edge))
        tries = np.linspace(-0.012, 0.012, 481)
        miss = [np.sum((np.interp(inside - t, plain.u, getattr(plain, edge)) - y) ** 2) for t in tries]
        shifts.append(float(tries[int(np.argmin(miss))]))
    assert shifts[0] == pytest.approx(0.0080, abs=2e-4)
    assert shifts[1] == pytest.approx(-0.0080, abs=2e-4)


def test_a_wandering_lead_shifts_single_threads() -> None:
    errors = Imperfections(lead_errors=((8.0, 0.0), (10.0, 10.0), (12.0, 0.0)))
    bent = imperfect(perfect, errors, 0.0)
    z, phi = np.array([-10.0, -9.0, -8.0, -5.0]), np.zeros(4)
    assert bent(z, phi) == pytest.approx(perfect(z - [0.010, 0.005, 0.0, 0.0], phi), abs=1e-12)


@pytest.mark.parametrize(
    "errors", [Imperfections(bend_radius_mm=5.0), Imperfections(lead_errors=((3.0, 0.0), (2.0, 1.0)))]
)
def test_what_cannot_be_drawn_is_refused(errors: Imperfections) -> None:
    with pytest.raises(ValueError, match=r"bent|lead_errors"):
        replace(SCENE, form_errors=errors).check()
