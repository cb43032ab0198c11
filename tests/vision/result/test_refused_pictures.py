"""What no thread can be measured from is refused, with its code and one useful line.

The pictures are made up, 800 x 600 px, of a thread of 53 px a pitch and 250 px across unless they say otherwise.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from flankwise.reasons import sentence
from sample_images.scene import Cylinder, Scene
from tests.vision import made_pictures as made
from tests.vision.made_pictures import (
    ACROSS,
    ALONG,
    CAMERA,
    HEIGHT,
    THREAD,
    UM_PER_PX,
    WIDTH,
    WITH_END,
    board,
    drawn,
    grain,
    grey,
    level,
    picture,
    ridges,
    rod,
    screw,
    soft,
    spring,
    zigzag,
)
from threads.shared.refusal import RefusalError
from vision.pictures.picture import Picture
from vision.result.measure import measure_picture
from vision.shared.opencv import cv2
from vision.shared.plane import FixedScale

Make = Callable[[], Picture]

EMPTY = np.zeros((HEIGHT, WIDTH), np.float32)
SLOW = settings(
    derandomize=True, deadline=None, database=None, suppress_health_check=[HealthCheck.too_slow], max_examples=7
)


def refusal(seen: Picture, part: int | None = None) -> tuple[str, str]:
    """Code and message of the refusal, which must come; the message is one line that a person can act on."""
    with pytest.raises(RefusalError) as caught:
        measure_picture(seen, FixedScale(UM_PER_PX, light_cone_deg=0.0), part=part)
    *faults, reason = caught.value.reasons
    assert {fault.code for fault in faults} <= {"out_of_focus"}  # what is plainly wrong whatever the light stands first
    assert "\n" not in sentence(reason)
    assert 20 < len(sentence(reason)) < 240
    assert "nan" not in sentence(reason)
    return reason.code, sentence(reason)


# --- nothing to measure


def knots(irregular: float, seed: int = 5) -> np.ndarray:
    rng = np.random.default_rng(seed)
    return np.cumsum(26 * (1 + irregular * rng.uniform(-1, 1, 60))) - 60


def uneven_heights() -> np.ndarray:
    rng = np.random.default_rng(9)
    x = np.arange(-60, 900, 26.0)
    return np.interp(ALONG, x, np.where(np.arange(x.size) % 2 == 0, 90, 125) + rng.uniform(-7, 7, x.size))


def beads(diameter: float, apart: float) -> np.ndarray:
    s = np.abs((ALONG / apart + 0.5) % 1 - 0.5) * apart
    return np.maximum(np.sqrt(np.maximum((diameter / 2) ** 2 - s * s, 0)), 4.0)


def box(x0: float, y0: float, x1: float, y1: float) -> list[list[float]]:
    return [[x0, y0], [x1, y0], [x1, y1], [x0, y1]]


def stripes(period: int, width: int) -> np.ndarray:
    x = np.arange(WIDTH) + 0 * np.arange(HEIGHT)[:, None]
    return soft(x % period < width)


def lettering(text: str, size: float, thick: int, lines: int) -> np.ndarray:
    page = np.zeros((HEIGHT, WIDTH), np.uint8)
    for i in range(lines):
        at = (20, 380) if lines == 1 else (30, 50 + 30 * i)
        cv2.putText(page, text, at, cv2.FONT_HERSHEY_SIMPLEX, size, 255, thick)
    return soft(page / 255)


def few_turns(turns: float) -> Scene:
    """A threaded length of so many turns between a groove and the free end, square at both."""
    return replace(
        ACROSS,
        length_mm=turns * THREAD.pitch_mm,
        view_mm=0.8,
        body=(Cylinder(THREAD.minor_mm, 0.3), Cylinder(2.6, 9.0)),
    )


def rope(strands: int, strand: float, lead: float) -> np.ndarray:
    """Strands laid round each other: each edge is the outermost of them at each place."""
    turn = 2 * np.pi * (ALONG[:, None] / lead + np.arange(strands) / strands)
    centre = strand / np.sin(np.pi / strands) * np.cos(turn)
    return drawn(rod(strand + centre.max(axis=1), strand - centre.min(axis=1)))


def leaning_teeth(first: float) -> np.ndarray:
    """Teeth of 40 px that rise over 32 px and fall over 8."""
    return zigzag(np.ravel([np.arange(first, 900, 40.0), np.arange(first, 900, 40.0) + 32], "F"), 90, 120)


NOTHING: dict[str, tuple[Make, set[str]]] = {
    "empty pad": (lambda: picture(EMPTY), {"no_part"}),
    "empty pad lit unevenly": (lambda: picture(EMPTY, slope=0.6), {"no_part"}),
    "empty pad with dark corners": (lambda: picture(EMPTY, vignette=0.9), {"no_part"}),
    "dust": (lambda: picture(drawn(*made.specks(30, 2, 5))), {"no_part"}),
    "coarse dirt": (lambda: picture(drawn(*made.specks(25, 5, 20))), {"no_part"}),
    "dust on an uneven pad": (
        lambda: picture(drawn(*made.specks(30, 2, 9)), slope=0.6, vignette=0.5),
        {"no_part"},
    ),
    "black": (lambda: grey(EMPTY), {"black"}),
    "nearly black": (lambda: grey(EMPTY + 0.012, noise=0.006), {"black"}),
    "far too dark": (lambda: picture(screw(), pad=0.015, noise=0.003), {"black"}),
    "white": (lambda: grey(EMPTY + 1), {"saturated"}),
    "pad burnt out": (lambda: picture(screw(), pad=1.4), {"saturated"}),
    "pad burnt out on one side": (lambda: picture(screw(), pad=0.95, slope=0.35), {"saturated"}),
    "part burnt out on dark ground": (lambda: picture(screw(), pad=1.4, background="dark"), {"saturated"}),
    "contrast of 3 %": (lambda: picture(screw(), flare=0.97), {"no_part"}),
    **{
        f"blurred by {sigma} px": (
            lambda sigma=sigma: picture(screw(camera=replace(CAMERA, blur_sigma_px=sigma))),
            {"out_of_focus"},
        )
        for sigma in (5.0, 8.0, 12.0)
    },
    **{
        f"texture of {sigma} px": (lambda sigma=sigma: grey(0.1 + 0.7 * grain(sigma)), {"textured"})
        for sigma in (0.8, 2.0, 4.0, 8.0, 20.0, 60.0)
    },
    **{
        f"blotches of {sigma} px": (
            lambda sigma=sigma: picture(grain(sigma, 1) > 0.5),
            {"textured", "several_parts"},
        )
        for sigma in (2.0, 8.0, 20.0, 60.0)
    },
    "wood": (lambda: grey(made.wood()), {"textured"}),
    "screw on wood": (lambda: grey(made.wood(3) * (1 - 0.8 * screw(WITH_END))), {"textured"}),
    "chessboard over all": (lambda: picture(board(80)), {"textured"}),
    "chessboard on the pad": (lambda: picture(board(60, margin=70)), {"textured"}),
    "fine chessboard": (lambda: picture(board(20, margin=70)), {"textured", "no_part"}),
    "stripes": (lambda: picture(stripes(40, 20)), {"textured"}),
    "ruled lines": (lambda: picture(stripes(40, 3)), {"textured", "no_part"}),
    "page of text": (lambda: picture(lettering("Quayside Workshop, clamp screw", 0.8, 2, 18)), {"no_part", "textured"}),
    "large letters": (lambda: picture(lettering("MMMMMM", 5.5, 22, 1)), {"several_parts", "textured"}),
    "part fills the picture": (lambda: picture(drawn(box(3, 3, 796, 596))), {"cut_off"}),
    "thread fills the picture": (lambda: picture(screw(camera=replace(CAMERA, um_per_px=2.45))), {"cut_off"}),
    "one edge outside": (
        lambda: picture(screw(camera=replace(CAMERA, um_per_px=3.5), offset_px=-200.0)),
        {"cut_off"},
    ),
    "plain pin": (lambda: picture(drawn(rod(level(100)))), {"no_thread"}),
    "plain pin, noisy": (lambda: picture(drawn(rod(level(100))), noise=0.1), {"no_thread"}),
    "plain pin with its end": (lambda: picture(drawn(rod(level(100), first=100))), {"no_thread"}),
    "staircase of pixels": (
        lambda: grey((drawn([[-10, 200], [810, 230], [810, 360], [-10, 330]], blur=0.01) < 0.5) * 0.75),
        {"no_thread"},
    ),
    "tapered pin": (lambda: picture(drawn(rod(100 + 0.05 * ALONG))), {"no_thread"}),
    "steep cone": (lambda: picture(drawn(rod(60 + 0.3 * ALONG))), {"no_thread"}),
    "disc": (lambda: picture(drawn(made.toothed_wheel(3, 200, 200))), {"no_thread"}),
    "hexagon": (lambda: picture(drawn(made.toothed_wheel(6, 200, 230))), {"no_thread", "too_few_threads"}),
}

NO_THREADS: dict[str, tuple[Make, set[str]]] = {
    "ruler": (
        lambda: picture(drawn(box(60, 300, 740, 420), *(box(80 + 20 * i, 250, 86 + 20 * i, 300.5) for i in range(32)))),
        {"no_thread", "too_coarse"},
    ),
    "comb": (
        lambda: picture(drawn(box(60, 280, 740, 360), *(box(70 + 24 * i, 359, 80 + 24 * i, 520) for i in range(28)))),
        {"no_thread"},
    ),
    "open spring": (lambda: picture(spring(60, 12, 100)), {"not_a_thread"}),
    "spring": (lambda: picture(spring(50, 18, 100)), {"not_a_thread"}),
    "close-wound spring": (lambda: picture(spring(40, 20.3, 100)), {"not_a_thread"}),
    "coarse close-wound spring": (lambda: picture(spring(60, 30.3, 60)), {"not_a_thread"}),
    "steep spring of fine wire": (lambda: picture(spring(44.7, 12.5, 37.5)), {"not_a_thread"}),
    "row of rings": (lambda: picture(drawn(rod(ridges(53, 90, 120)))), {"not_a_thread"}),
    "round grooves": (lambda: picture(drawn(rod(100 + 12 * np.cos(ALONG / 8)))), {"not_a_thread"}),
    "edges a quarter pitch apart": (
        lambda: picture(drawn(rod(ridges(53, 90, 120), ridges(53, 90, 120, 0.25)))),
        {"not_a_thread"},
    ),
    "chain of beads": (lambda: picture(drawn(rod(beads(60, 60)))), {"not_a_thread"}),
    "beads on a wire": (lambda: picture(drawn(rod(beads(60, 75)))), {"not_a_thread"}),
    "rope of two": (lambda: picture(rope(2, 40, 320)), {"not_a_thread", "no_thread"}),
    "rope of three": (lambda: picture(rope(3, 40, 300)), {"not_a_thread", "no_thread"}),
    "shallow knurl": (
        lambda: picture(drawn(rod(ridges(20, 100, 105), ridges(20, 100, 105, 0.5)))),
        {"not_a_thread", "no_thread"},
    ),
    "blunt knurl": (
        lambda: picture(drawn(rod(ridges(30, 100, 112, flat=0.06), ridges(30, 100, 112, 0.5, flat=0.06)))),
        {"not_a_thread"},
    ),
    "castellations": (
        lambda: picture(drawn(rod(ridges(60, 90, 115, flat=0.48), ridges(60, 90, 115, 0.5, flat=0.48)))),
        {"not_a_thread"},
    ),
    "gear": (
        lambda: picture(drawn(made.toothed_wheel(30, 200, 230))),
        {"no_thread", "not_a_thread", "too_few_threads"},
    ),
    "fine gear": (lambda: picture(drawn(made.toothed_wheel(60, 230, 250))), {"no_thread", "not_a_thread"}),
    "saw blade": (lambda: picture(drawn(rod(ridges(53, 90, 120), level(100)))), {"no_thread"}),
    "teeth that lean": (lambda: picture(drawn(rod(leaning_teeth(-60), leaning_teeth(-80)))), {"not_a_thread"}),
    "hand-drawn zigzag": (
        lambda: picture(drawn(rod(zigzag(knots(0.35), 90, 125), zigzag(knots(0.35, 6), 90, 125)))),
        {"no_thread"},
    ),
    "hand-drawn zigzag, edges alike": (
        lambda: picture(drawn(rod(zigzag(knots(0.15), 90, 125), 215 - zigzag(knots(0.15), 90, 125)))),
        {"no_thread", "not_a_thread"},
    ),
    "zigzag of uneven heights": (
        lambda: picture(drawn(rod(uneven_heights(), 215 - uneven_heights()))),
        {"not_a_thread"},
    ),
    "1 turn": (lambda: picture(screw(few_turns(1))), {"no_thread", "too_few_threads"}),
    "1.6 turns": (lambda: picture(screw(few_turns(1.6))), {"no_thread", "too_few_threads"}),
    "12 px a thread": (lambda: picture(screw(camera=replace(CAMERA, um_per_px=26.0))), {"too_coarse"}),
    "leaning by 15 deg": (lambda: picture(made.leaning_screw(15)), {"tilted"}),
    "leaning by 30 deg": (lambda: picture(made.leaning_screw(30)), {"tilted", "no_thread", "not_a_thread"}),
}


@pytest.mark.parametrize("name", NOTHING)
def test_nothing_to_measure(name: str) -> None:
    make, codes = NOTHING[name]
    assert refusal(make())[0] in codes


@pytest.mark.slow
@pytest.mark.parametrize("name", NO_THREADS)
def test_what_repeats_is_not_always_a_thread(name: str) -> None:
    make, codes = NO_THREADS[name]
    assert refusal(make())[0] in codes


def test_several_parts_are_counted_and_the_way_to_choose_is_named() -> None:
    parts = np.maximum(screw(offset_px=140.0), screw(WITH_END, offset_px=-150.0))
    code, message = refusal(picture(parts))
    assert code == "several_parts"
    assert message.startswith("2 ")
    assert "--part" in message
    for part in (0, -1, 3):
        code, message = refusal(picture(parts), part=part)
        assert code == "no_such_part"
        assert "1 to 2" in message


@pytest.mark.parametrize("scene", [ACROSS, WITH_END])
@pytest.mark.parametrize("radius", [0.8, 1.0])
def test_a_light_pad_that_ends_in_the_picture(scene: Scene, radius: float) -> None:
    """The border is dark, and what is left of the pad could pass for bright parts with threads."""
    y, x = np.mgrid[-1 : 1 : HEIGHT * 1j, -1 : 1 : WIDTH * 1j]
    field = 1 / (1 + np.exp((np.hypot(x, y) - radius) / 0.03))
    seen = grey(0.75 * field * (1 - 0.97 * screw(scene)), noise=0.004)
    for part in (None, 1):
        code, message = refusal(seen, part)
        assert code == "cut_off"
        assert "light pad" in message


@pytest.mark.slow
@SLOW
@given(st.integers(0, 10**6), st.floats(1, 90), st.floats(0.05, 0.95), st.floats(0, 3), st.sampled_from([None, 1, 2]))
def test_blotches_are_refused(seed: int, sigma: float, share: float, blur: float, part: int | None) -> None:
    texture = grain(sigma, seed)
    dark = (texture > np.quantile(texture, share)).astype(float)
    refusal(picture(soft(dark, blur) if blur > 0.3 else dark, noise=0.01, seed=seed), part=part)


@pytest.mark.slow
@SLOW
@given(st.integers(0, 10**6), st.floats(0, 1), st.floats(0, 0.5))
def test_noise_is_refused(seed: int, light: float, noise: float) -> None:
    refusal(grey(EMPTY + light, noise=noise, seed=seed))


@pytest.mark.slow
@settings(SLOW, max_examples=4)
@given(st.floats(25, 90), st.floats(0.2, 0.52), st.floats(1.5, 6))
def test_springs_are_refused(pitch: float, wire: float, coil: float) -> None:
    radius = min(wire * pitch, 260 / (1 + coil))
    refusal(picture(spring(pitch, radius, coil * radius)))


@pytest.mark.slow
@settings(SLOW, max_examples=8)
@given(st.floats(16, 100), st.floats(0.02, 0.4), st.floats(0.2, 0.9), st.floats(-0.4, 0.4), st.floats(40, 110))
def test_ridges_that_do_not_alternate_are_refused(
    pitch: float, flat: float, depth: float, shift: float, root: float
) -> None:
    edges = [ridges(pitch, root, root + depth * pitch, phase, flat) for phase in (0.1, 0.1 + shift)]
    refusal(picture(drawn(rod(*edges))))
