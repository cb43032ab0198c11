"""A plain profile cut into lines and roundings."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt
from hypothesis import given
from hypothesis import strategies as st

from vision.part.profile_pieces import find_pieces

Array = npt.NDArray[np.float64]
NOISE_PX = 0.08


def with_noise(radius: Array, seed: int = 0) -> tuple[Array, Array]:
    return np.arange(radius.size, dtype=float), radius + np.random.default_rng(seed).normal(0, NOISE_PX, radius.size)


def test_one_cylinder_is_one_piece() -> None:
    (piece,) = find_pieces(*with_noise(np.full(1500, 240.0)))
    assert not piece.round
    assert abs(piece.radius - 240) < 0.02
    assert abs(piece.slope) < 1e-4
    assert piece.length > 1490


def test_cylinder_cone_and_cylinder_meet_where_they_do() -> None:
    u = np.arange(1200.0)
    radius = np.interp(u, [0, 400, 600, 1200], [300, 300, 160, 160])
    found = find_pieces(*with_noise(radius))
    assert [abs(p.slope) > 0.1 for p in found] == [False, True, False]
    assert abs(found[1].start - 400) < 3
    assert abs(found[1].end - 600) < 3
    assert abs(found[1].slope + 0.7) < 0.002


def test_a_step_parts_two_cylinders() -> None:
    radius = np.where(np.arange(600) < 250, 300.0, 180.0)
    found = find_pieces(*with_noise(radius))
    assert [round(p.radius) for p in found] == [300, 180]
    assert found[0].end < 250 <= found[1].start


def test_a_dome_is_one_rounding() -> None:
    u = np.arange(700.0)
    radius = np.where(u < 500, 200.0, np.sqrt(np.maximum(200.0**2 - ((u - 500) * 0.95) ** 2, 0)))
    found = find_pieces(*with_noise(radius))
    assert not found[0].round
    assert found[1].round
    assert len([p for p in found if p.round]) == 1
    assert found[1].length > 100


def test_a_gap_of_dirt_does_not_part_a_cylinder() -> None:
    u, radius = with_noise(np.full(800, 150.0))
    radius[300:340] = np.nan
    assert len(find_pieces(u, radius)) == 1


def test_nothing_known_gives_nothing() -> None:
    assert find_pieces(np.arange(50.0), np.full(50, np.nan)) == []


@given(
    st.lists(st.tuples(st.integers(60, 300), st.integers(80, 400)), min_size=1, max_size=5),
    st.integers(0, 2**16),
)
def test_every_step_of_ten_pixels_is_found_and_none_invented(steps: list[tuple[int, int]], seed: int) -> None:
    kept = [steps[0]]
    for length, radius in steps[1:]:
        if abs(radius - kept[-1][1]) >= 10:
            kept.append((length, radius))
    profile = np.concatenate([np.full(length, float(radius)) for length, radius in kept])
    found = find_pieces(*with_noise(profile, seed))
    assert [round(p.radius) for p in found] == [radius for _, radius in kept]
    assert all(abs(p.slope) < 0.02 for p in found)
