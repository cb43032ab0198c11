"""The edge finder on straight edges of known place, blur, direction and light."""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt
import pytest
from scipy.special import ndtr

from tests.each import each
from vision.outline.edges import EdgePoints, find_edges
from vision.outline.silhouette import Silhouette, find_silhouette
from vision.pictures.picture import Picture

Array = npt.NDArray[np.float64]

SIZE = 240
ASIDE = 16
_FINE = 6
PIXEL_VARIANCE = 1 / 12
"""Averaging over its square adds this much to the variance of the blur, px^2, whatever the direction."""


def as_picture(light: Array) -> Picture:
    """A picture of 8 bits from light 0..1."""
    levels = np.clip(np.rint(255 * light), 0, 255).astype(np.uint8)
    return Picture(
        path="edge.png",
        sha256="0" * 64,
        width_px=light.shape[1],
        height_px=light.shape[0],
        light=(levels / 255).astype(np.float32),
        bit_depth=8,
        clipped_bright=0.0,
        step=1 / 255,
        notes=(),
    )


def half_plane(angle: float, phase: float, blur: float) -> Array:
    """How much of each pixel the part covers (SIZE, SIZE).

    The part is where x cos(angle) + y sin(angle) < phase - ASIDE, from the picture's centre: less than half of it, so
    that the border shows which is the background. ``blur`` is that of the lens.
    """
    fine = (np.arange(SIZE * _FINE) + 0.5) / _FINE - 0.5 - (SIZE - 1) / 2
    distance = fine[None, :] * math.cos(angle) + fine[:, None] * math.sin(angle) - phase + ASIDE
    dark = ndtr(-distance / blur)
    return dark.reshape(SIZE, _FINE, SIZE, _FINE).mean(axis=(1, 3))


def lit(
    dark: Array, *, background: str = "bright", slope: float = 0.0, flare: float = 0.03, noise: float = 0.0
) -> Picture:
    """The part before a light of 0.75, ``slope`` the relative change from one side of the picture to the other."""
    x = np.linspace(-0.5, 0.5, SIZE)
    light = 0.75 * (1 + slope * x[None, :])
    seen = dark if background == "dark" else 1 - dark
    rng = np.random.default_rng(3)
    return as_picture(light * (flare + (1 - flare) * seen) + noise * rng.standard_normal(dark.shape))


def read(picture: Picture, angle: float, phase: float) -> tuple[Array, EdgePoints, Silhouette]:
    """How far each edge point lies outside the true edge, px; those near the picture's corners left out."""
    silhouette = find_silhouette(picture)
    edges = find_edges(silhouette)
    centred = edges.xy - (SIZE - 1) / 2
    inner = np.abs(centred).max(axis=1) < SIZE / 2 - 16
    edges = edges.select(inner)
    centred = centred[inner]
    return centred @ np.array([math.cos(angle), math.sin(angle)]) - phase + ASIDE, edges, silhouette


def random_cases(count: int) -> list[tuple[float, float, float]]:
    """Direction, sub-pixel phase, blur of the lens; the first ones along rows, columns and diagonals."""
    rng = np.random.default_rng(11)
    special = [0.0, math.pi / 2, math.pi / 4, -3 * math.pi / 4, math.pi]
    angles = special + list(rng.uniform(-math.pi, math.pi, count - len(special)))
    blurs = np.linspace(0.6, 2.5, count)
    return [(float(a), float(rng.uniform(-0.5, 0.5)), float(b)) for a, b in zip(angles, blurs, strict=True)]


@each(("angle", "phase", "blur"), random_cases(20))
@each("background", ["bright", "dark"])
def test_place_and_blur_of_a_straight_edge(angle: float, phase: float, blur: float, background: str) -> None:
    """Place within 0.01 px on the mean, blur within 3 %."""
    outside, edges, silhouette = read(lit(half_plane(angle, phase, blur), background=background), angle, phase)
    assert silhouette.bright_background == (background == "bright")
    assert outside.size > 150
    assert abs(outside.mean()) < 0.01
    assert np.abs(outside).max() < 0.05
    expected = math.sqrt(blur**2 + PIXEL_VARIANCE + silhouette.presmooth_px**2)
    assert np.median(edges.blur_px) == pytest.approx(expected, rel=0.03)


@pytest.mark.parametrize("background", ["bright", "dark"])
@pytest.mark.parametrize("slope", [0.15, 0.3])
def test_uneven_light_does_not_move_the_edge(slope: float, background: str) -> None:
    """The level is half-way between the plateaus near by; one level for all would move the ends by 0.1 px and more."""
    for angle in (0.3, 1.4, 2.4):
        outside, _, _ = read(lit(half_plane(angle, 0.2, 1.2), background=background, slope=slope), angle, 0.2)
        assert abs(outside.mean()) < 0.01
        # along the edge, too
        third = outside.size // 3
        assert abs(outside[:third].mean() - outside[-third:].mean()) < 0.015


def test_noise_scatters_but_does_not_bias() -> None:
    outside, _, _ = read(lit(half_plane(0.7, 0.1, 1.0), noise=0.02), 0.7, 0.1)
    assert abs(outside.mean()) < 0.015
    assert outside.std() < 0.1


@pytest.mark.parametrize("angle", [0.0, 0.5, 2.0, -1.1])
def test_normals_point_out_of_the_part(angle: float) -> None:
    _, edges, _ = read(lit(half_plane(angle, 0.0, 1.0)), angle, 0.0)
    outward = np.array([math.cos(angle), math.sin(angle)])
    assert np.abs(np.hypot(*edges.normal.T) - 1).max() < 1e-9
    assert (edges.normal @ outward).min() > 0.999


def test_the_picture_border_is_no_edge() -> None:
    picture = lit(half_plane(0.4, 0.0, 1.0))
    places = find_edges(find_silhouette(picture)).xy
    assert places.min() > 0.5
    assert places.max() < SIZE - 1.5
    outside = (places - (SIZE - 1) / 2) @ np.array([math.cos(0.4), math.sin(0.4)]) + ASIDE
    assert np.abs(outside).max() < 3


def test_points_far_from_any_edge_are_left_out() -> None:
    silhouette = find_silhouette(lit(half_plane(0.0, 0.0, 1.0)))
    middle = SIZE // 2 - ASIDE
    pixels = np.array([[middle, 100], [middle - 30, 100], [middle + 30, 100]], np.int32)
    edges = find_edges(silhouette, pixels)
    assert edges.xy.shape == (1, 2)
    assert edges.xy[0, 0] == pytest.approx((SIZE - 1) / 2 - ASIDE, abs=0.02)


def test_select_keeps_points_and_their_properties_together() -> None:
    _, edges, _ = read(lit(half_plane(0.4, 0.0, 1.0)), 0.4, 0.0)
    few = edges.select(np.array([5, 3]))
    assert (few.xy == edges.xy[[5, 3]]).all()
    assert (few.normal == edges.normal[[5, 3]]).all()
    assert (few.blur_px == edges.blur_px[[5, 3]]).all()


def test_light_whose_noise_was_cut_off_at_black_or_white_is_put_right() -> None:
    """Smoothed light of known level, drawn from the normal distribution and cut: what cutting adds is taken out."""
    rng = np.random.default_rng(2)
    edge = half_plane(0.3, 0.0, 1.5)
    for background, part in ((0.75, 0.05), (0.92, 0.3)):
        noisy = background + (part - background) * edge + 0.04 * rng.standard_normal(edge.shape)
        found = find_silhouette(as_picture(noisy))
        cut = (0.0, 0.04) if background > 0.9 else (0.04, 0.0)
        assert found.cut_noise == pytest.approx(cut, rel=0.1)
        for level in np.linspace(part, background, 5):
            seen = np.clip(level + 0.04 * rng.standard_normal(40_000), 0, 1).mean()
            light = found.uncut(np.float32([seen]), np.float32(part), np.float32(background))
            assert abs(float(light[0]) - level) < 0.002, (background, level)
