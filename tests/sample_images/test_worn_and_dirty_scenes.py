"""Worn sections, blemishes on the outline, and blur that grows along the axis: what is drawn is what was asked for."""

from __future__ import annotations

from dataclasses import replace
from math import cos, radians, tan
from pathlib import Path

import numpy as np
import pytest

from sample_images.__main__ import main
from sample_images.condition import Blemishes, Wear
from sample_images.render import render, shadow
from sample_images.scene import Camera, Scene, Thread
from sample_images.section import section_of
from sample_images.wear import worn_radius
from vision.shared.opencv import cv2

THREAD = Thread(2.81, 2.42, 2.06, 0.635, 30.3, 29.6, root="radius", crest_corner_radius_mm=0.01)
CAMERA = Camera(480, 400, um_per_px=10.0, blur_sigma_px=1.0, noise=0.0)
SCENE = Scene(THREAD, 40.0, view_mm=20.0, phase=0.3, rotation_deg=4.0, seed=7, camera=CAMERA)
SOUND = shadow(SCENE)
S = np.linspace(-0.5, 0.5, 4001) * THREAD.pitch_mm
Z = np.full(S.shape, -3.0)


def worn(wear: Wear) -> tuple[np.ndarray, np.ndarray]:
    section = section_of(THREAD)
    sound = section.radius(S)
    return sound, worn_radius(section, wear)(S, Z, sound)


def test_a_worn_crest_is_lower_by_what_was_asked_and_its_flanks_are_sound() -> None:
    sound, left = worn(Wear(crest_mm=0.03))
    assert left.max() == pytest.approx(THREAD.major_mm / 2 - 0.03, abs=1e-9)
    np.testing.assert_array_equal(left[sound < THREAD.major_mm / 2 - 0.03], sound[sound < THREAD.major_mm / 2 - 0.03])


def test_a_domed_crest_is_lower_at_its_corners() -> None:
    sound, left = worn(Wear(crest_mm=0.02, crest_edge_mm=0.015))
    top = THREAD.major_mm / 2 - 0.02
    assert left.max() == pytest.approx(top, abs=1e-6)
    changed = np.flatnonzero(sound - left > 1e-9)
    assert left[changed[0]] == pytest.approx(top - 0.015, abs=2e-4)
    assert left[changed[-1]] == pytest.approx(top - 0.015, abs=2e-4)


@pytest.mark.parametrize("form", ["wedge", "step"])
@pytest.mark.parametrize(("flank", "side"), [("left", -1), ("right", 1)])
def test_a_worn_flank_has_lost_what_was_asked_along_its_normal(flank: str, side: int, form: str) -> None:
    wear = Wear(flank=flank, flank_mm=0.02, flank_down_to=0.4, flank_form=form)
    sound, left = worn(wear)
    angle = radians(THREAD.half_angle_right_deg if side > 0 else THREAD.half_angle_left_deg)
    assert (left[side * S < 0] == sound[side * S < 0]).all()
    # across at a height between pitch line and crest: the flank has moved along the axis by the loss / cos(angle)
    place = 0.9
    height = THREAD.minor_mm / 2 + place * (THREAD.major_mm - THREAD.minor_mm) / 2
    at = THREAD.pitch_mm / 4 - (height - THREAD.pitch_diameter_mm / 2) * tan(angle)
    here = side * S > 0.02
    now = float(np.interp(-height, -left[here][np.argsort(side * S[here])], np.sort(side * S[here])))
    share = 1.0 if form == "step" else (place - 0.4) / 0.6
    assert at - now == pytest.approx(0.02 * share / cos(angle), abs=3e-4)
    low = sound < THREAD.minor_mm / 2 + 0.38 * (THREAD.major_mm - THREAD.minor_mm) / 2
    np.testing.assert_array_equal(left[low], sound[low])


def test_wear_comes_and_goes_along_the_part() -> None:
    section = section_of(THREAD)
    function = worn_radius(section, Wear(crest_mm=0.03, from_mm=2.0, to_mm=4.0))
    crest = np.zeros(3)
    radius = section.radius(crest)
    np.testing.assert_allclose(
        function(crest, np.array([-1.0, -3.0, -5.0]), radius), radius - [0.0, 0.03, 0.0], atol=1e-12
    )


@pytest.mark.parametrize(
    ("blemishes", "sign"),
    [
        (Blemishes(nicks=6), -1),
        (Blemishes(burrs=5), 1),
        (Blemishes(oil_roots=3), 1),
        (Blemishes(oil_films=2), 1),
        (Blemishes(glare_flanks=4, glare=0.5), -1),
    ],
)
def test_blemishes_make_the_part_larger_or_smaller_near_its_outline_only(blemishes: Blemishes, sign: int) -> None:
    change = shadow(replace(SCENE, blemishes=blemishes)) - SOUND
    assert sign * change.sum() > 20  # px of area
    assert sign * change.min() > -1e-3 or sign * change.max() > 0.3
    part = (SOUND > 0.5).astype(np.uint8)
    near = cv2.dilate(part, np.ones((41, 41))) - cv2.erode(part, np.ones((41, 41)))
    assert np.abs(change[near == 0]).max() < 1e-3


def test_flakes_stand_out_and_leave_dents() -> None:
    change = shadow(replace(SCENE, blemishes=Blemishes(flakes=6))) - SOUND
    assert change.max() > 0.3
    assert change.min() < -0.2


def test_so_much_of_the_outline_is_spoiled() -> None:
    sound = replace(SCENE, camera=replace(CAMERA, um_per_px=5.0, width=960, height=800))
    change = np.abs(shadow(replace(sound, blemishes=Blemishes(spoiled=0.10))) - shadow(sound)) > 0.25
    edge = np.abs(shadow(sound) - 0.5) < 0.3
    near = cv2.dilate(change.astype(np.uint8), np.ones((3, 3))) > 0
    assert 0.05 < near[edge].mean() < 0.16


def test_the_blur_grows_along_the_axis() -> None:
    scene = replace(SCENE, rotation_deg=0.0, defocus_px_per_mm=1.0, focus_at_mm=22.0)
    dark = shadow(scene)
    # the end face of a square cut would do; here the slope of the flanks' profile across the outline
    rate = np.abs(np.diff(dark, axis=0)).max(axis=0)
    for place_mm, column in ((21.5, 240 - 150), (18.5, 240 + 150)):
        sigma = np.hypot(1.0, place_mm - 22.0)
        steepest = rate[column - 30 : column + 30].max()
        assert steepest == pytest.approx(1 / (np.sqrt(2 * np.pi) * np.hypot(sigma, 0.29)), rel=0.06)
    even = shadow(replace(SCENE, rotation_deg=0.0, camera=replace(CAMERA, blur_sigma_px=np.hypot(1.0, 3.5))))
    # where the mixture has the blur of an even picture it is that picture
    column = 240 + 150
    np.testing.assert_allclose(dark[:, column], even[:, column], atol=0.012)


def test_the_truth_tells_of_wear_and_blemishes() -> None:
    _, truth = render(replace(SCENE, wear=Wear(crest_mm=0.02), blemishes=Blemishes(nicks=2), defocus_px_per_mm=0.2))
    assert truth["wear"]["crest_mm"] == 0.02
    assert truth["blemishes"]["nicks"] == 2
    assert truth["focus_at_mm"] == SCENE.view_mm
    _, sound = render(SCENE)
    assert not {"wear", "blemishes", "focus_at_mm"} & set(sound)


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"wear": Wear(crest_mm=-0.1)}, "not negative"),
        ({"wear": Wear(flank="upper", flank_mm=0.1)}, "worn flank"),
        ({"wear": Wear(from_mm=3.0, to_mm=2.0)}, "begins before"),
        ({"blemishes": Blemishes(nicks=-1)}, "fewer than no"),
        ({"blemishes": Blemishes(spoiled=0.7)}, "spoiled"),
        ({"defocus_px_per_mm": -1.0}, "blur grows"),
    ],
)
def test_impossible_conditions_are_named(change: dict[str, object], message: str) -> None:
    with pytest.raises(ValueError, match=message):
        replace(SCENE, **change).check()  # type: ignore[arg-type]


def test_the_command_draws_a_worn_dirty_jpeg(tmp_path: Path) -> None:
    picture = tmp_path / "old.jpg"
    options = "--size 400 300 --um-per-px 12 --spoiled 0.1 --burrs 1 --crest-wear-mm 0.02 --wear-between-mm 0 3"
    assert main(["-o", str(picture), *options.split(), "--jpeg-quality", "60"]) == 0
    coarse = picture.stat().st_size
    assert main(["-o", str(picture), *options.split(), "--jpeg-quality", "95"]) == 0
    assert picture.stat().st_size > 1.5 * coarse
    with pytest.raises(SystemExit):
        main(["-o", str(picture), "--jpeg-quality", "100"])
