"""Single ridges: which one is displaced or grown, and by how much."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt
import pytest

from tests.vision.solutions import NOISE, PX, THREADS, TRUE, edge_points, places, solution
from threads.measured.thread import RidgeError
from vision.fit.form_fit import fit_form
from vision.fit.ridges import ridge_errors
from vision.model.blurred import contour
from vision.model.shadow import INDEX

Array = npt.NDArray[np.float64]

PITCH = float(TRUE[INDEX["pitch"]])


def ridge_numbers(u: Array, side: Array) -> Array:
    """Which ridge of its edge a place belongs to, counted from the one at the phase."""
    place = u - TRUE[INDEX["phase"]] - np.where(side > 0, 0.0, PITCH / 2)
    return np.rint(place / PITCH)


def spoilt(*, along: float = 0.0, outward: float = 0.0, ridge: int = 1, seed: int = 1) -> tuple[RidgeError, ...]:
    """Ridge errors of a thread of which one ridge on the upper edge is moved along the axis or outward, mm."""
    u, side = places(6000)
    _, slope, _ = contour(TRUE, u, side, (0.1, -0.05), gradient=False)
    normal = 1 / np.sqrt(1 + slope**2)
    on = (ridge_numbers(u, side) == ridge) & (side > 0)
    # moved along the axis by d an edge of slope m is m d lower, and that times the normal's share nearer
    move = np.where(on, (outward - slope * along) * normal, 0.0)
    noise = NOISE * np.random.default_rng(seed).standard_normal(u.size)
    found = solution(edge_points(TRUE, u, side, move + noise))
    return ridge_errors(found, fit_form(found))


def worst(errors: tuple[RidgeError, ...], name: str) -> RidgeError:
    middle = float(np.median([getattr(e, name) for e in errors]))
    return max(errors, key=lambda e: abs(getattr(e, name) - middle))


def test_a_true_thread_shows_no_errors() -> None:
    errors = spoilt()
    assert max(abs(e.pitch_error) for e in errors) < 0.05 * PX
    diameter = 2 * TRUE[INDEX["pitch_radius"]]
    assert max(abs(e.pitch_diameter - diameter) for e in errors) < 0.15 * PX


def test_every_ridge_of_both_edges_is_listed_in_order_of_place() -> None:
    errors = spoilt()
    places_ = [e.position for e in errors]
    assert places_ == sorted(places_)
    assert len(errors) == pytest.approx(2 * THREADS, abs=1)
    # ridges of both edges alternate, half a pitch apart
    assert np.diff(places_) == pytest.approx(np.full(len(errors) - 1, PITCH / 2), abs=1e-3)
    assert places_[0] > 0
    assert places_[-1] < THREADS * PITCH


@pytest.mark.parametrize("along", [0.0009, -0.0009, 0.004, -0.01])
def test_a_ridge_moved_along_the_axis_is_found(along: float) -> None:
    errors = spoilt(along=along)
    moved = worst(errors, "pitch_error")
    assert moved.pitch_error == pytest.approx(along, rel=0.1)
    expected = TRUE[INDEX["phase"]] + PITCH + THREADS * PITCH / 2
    assert moved.position == pytest.approx(expected, abs=0.01)
    others = [e.pitch_error for e in errors if e is not moved]
    assert max(abs(e) for e in others) < 0.2 * abs(along)


@pytest.mark.parametrize("outward", [0.0015, -0.0015, 0.006, -0.01])
def test_a_ridge_that_stands_out_has_a_larger_pitch_diameter(outward: float) -> None:
    errors = spoilt(outward=outward)
    grown = worst(errors, "pitch_diameter")
    rest = float(np.median([e.pitch_diameter for e in errors]))
    assert grown.pitch_diameter - rest == pytest.approx(2 * outward, rel=0.1)
    assert abs(grown.pitch_error) < 0.1 * abs(outward)


def test_dust_on_a_ridge_does_not_move_it() -> None:
    u, side = places(6000)
    rng = np.random.default_rng(4)
    outward = NOISE * rng.standard_normal(u.size)
    on = np.flatnonzero((ridge_numbers(u, side) == -1) & (side < 0))[40:75]
    outward[on] += 6 * PX
    found = solution(edge_points(TRUE, u, side, outward))
    errors = ridge_errors(found, fit_form(found))
    assert max(abs(e.pitch_error) for e in errors) < 0.05 * PX


@pytest.mark.parametrize(("on_right", "on_left"), [(0.004, 0.0), (0.0, 0.004), (0.006, 0.003)])
def test_a_film_on_the_flanks_is_no_pitch_error(on_right: float, on_left: float) -> None:
    """It lies on a flank as straight as metal, but on one of the two, or on both unlike: the ridge does not count."""
    u, side = places(6000)
    _, slope, _ = contour(TRUE, u, side, (0.1, -0.05), gradient=False)
    on = (ridge_numbers(u, side) == 1) & (side > 0)
    film = np.where(on, np.where(slope < 0, on_right, on_left), 0.0)
    noise = NOISE * np.random.default_rng(1).standard_normal(u.size)
    found = solution(edge_points(TRUE, u, side, film + noise))
    errors = ridge_errors(found, fit_form(found))
    assert len(errors) == len(spoilt()) - 1
    assert max(abs(e.pitch_error) for e in errors) < 0.05 * PX
