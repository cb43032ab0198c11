"""Stage micrometers read from drawn pictures: numbered rightly, centres where they are, and what is none is refused."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from flankwise.reasons import message
from sample_images.flat_gauges import FlatGauge
from sample_images.scene import Camera, Light
from tests.vision.flat_pictures import CAMERA, CHESSBOARD, RULINGS, seen
from threads.shared.refusal import RefusalError
from vision.gauges.rulings import RulingsReading, read_rulings

FINE = FlatGauge("rulings", 0.01, columns=150, width_mm=0.003, lengths_mm=(0.2, 0.28, 0.36), camera=CAMERA)


def spacing_and_scatter(reading: RulingsReading) -> tuple[float, float]:
    """Of a straight-line fit to the points, px; ends of rulings and dust are left out."""
    design = np.column_stack([np.ones(len(reading.points)), reading.points])
    on = np.ones(len(reading.points), dtype=bool)
    for _ in range(4):
        found, *_ = np.linalg.lstsq(design[on], reading.line[on].astype(float), rcond=None)
        left = reading.line - design @ found
        on = np.abs(left) < 6 * np.median(np.abs(left))
    assert on.mean() > 0.7
    spacing = 1 / float(np.hypot(found[1], found[2]))
    return spacing, spacing * float(np.std(left[on]))


@pytest.mark.slow
@pytest.mark.parametrize("turn", [0.0, 17.0, 45.0, 88.0, -100.0])
def test_at_any_turn(turn: float) -> None:
    """Spacing within 20 ppm of 12.5 px, points within 0.02 px of where they should be; all 41 rulings."""
    reading = read_rulings(seen(RULINGS, turn_deg=turn))
    spacing, scatter = spacing_and_scatter(reading)
    assert spacing == pytest.approx(12.5, rel=2e-5)
    assert scatter < 0.02
    assert reading.lines == 41
    assert np.ptp(reading.line) == 40
    assert reading.told_by == "lines"
    off = (reading.angle_deg - turn + 90) % 180 - 90
    assert abs(off) < 0.2


@pytest.mark.parametrize("offset", [-0.4, 0.6])
def test_edges_that_are_found_too_far_out_do_not_matter(offset: float) -> None:
    assert spacing_and_scatter(read_rulings(seen(RULINGS, edge_offset_px=offset)))[0] == pytest.approx(12.5, rel=2e-5)


def test_missing_rulings_and_dust() -> None:
    gaps = frozenset({3, 4, 17, 30, 31, 32})
    reading = read_rulings(seen(RULINGS, missing=gaps, specks=40, turn_deg=-12.0))
    assert spacing_and_scatter(reading)[0] == pytest.approx(12.5, rel=3e-5)
    assert np.ptp(reading.line) == 40
    numbers = set(range(41)) - gaps
    assert {int(n - reading.line.min()) for n in reading.line} in (numbers, {40 - n for n in numbers})


def test_rulings_of_one_length_cut_by_the_border() -> None:
    reading = read_rulings(seen(RULINGS, columns=90, lengths_mm=(1.0, 1.0, 1.0), shift_px=(30.0, 5.0)))
    assert spacing_and_scatter(reading)[0] == pytest.approx(12.5, rel=2e-5)
    assert 60 <= reading.lines < 91


def test_light_lines_on_a_dark_ground() -> None:
    """A dark-field picture is the negative."""
    picture = seen(RULINGS, turn_deg=5.0)
    negative = replace(picture, light=1 - picture.light)
    assert spacing_and_scatter(read_rulings(negative))[0] == pytest.approx(12.5, rel=2e-5)


def test_uneven_light_and_noise() -> None:
    picture = seen(
        RULINGS,
        light=Light(gradient_x=0.25, gradient_y=-0.15),
        camera=replace(CAMERA, noise=0.02, blur_sigma_px=1.6),
    )
    assert spacing_and_scatter(read_rulings(picture))[0] == pytest.approx(12.5, rel=5e-5)


@pytest.mark.slow
@pytest.mark.parametrize(
    ("um_per_px", "blur", "turn", "told_by"),
    [
        (2.0, 0.8, 4.0, ("lines",)),  # 5 px a division
        (3.2, 1.1, 0.02, ("lines", "spectrum")),  # 3.1 px
        (4.0, 0.9, 0.8, ("spectrum",)),  # 2.5 px: the rulings between are a grey band
        (5.8, 0.7, 20.0, ("spectrum", "custom")),  # 1.7 px: finer than two pixels
    ],
)
def test_divisions_too_fine_to_be_told_apart(um_per_px: float, blur: float, turn: float, told_by: tuple[str]) -> None:
    camera = replace(CAMERA, um_per_px=um_per_px, blur_sigma_px=blur, width=900)
    reading = read_rulings(seen(FINE, turn_deg=turn, camera=camera))
    assert np.ptp(reading.line) == 150
    assert spacing_and_scatter(reading)[0] == pytest.approx(10 / um_per_px, rel=1e-4)
    assert reading.told_by in told_by


@pytest.mark.slow
@pytest.mark.parametrize(
    ("gauge", "code"),
    [
        (CHESSBOARD, "no_rulings"),
        (replace(RULINGS, columns=3), "no_rulings"),
        (replace(RULINGS, missing=frozenset(range(41))), "no_rulings"),  # an empty light pad
        (replace(RULINGS, missing=frozenset(range(41)), specks=200), "no_rulings"),
        # only every tenth is longer, and all others are one grey: nothing tells how many there are
        (
            replace(
                FINE,
                columns=250,
                lengths_mm=(0.2, 0.2, 0.4),
                camera=Camera(width=800, height=600, um_per_px=5.8, blur_sigma_px=2.0),
            ),
            "rulings_too_fine",
        ),
    ],
)
def test_refused(gauge: FlatGauge, code: str) -> None:
    with pytest.raises(RefusalError) as caught:
        read_rulings(seen(gauge))
    assert caught.value.reasons[0].code == code
    assert "\n" not in message(caught.value)
