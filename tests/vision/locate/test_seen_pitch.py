"""Parts lit from the front: refused, with the pitch in pixels where something repeats as a thread does."""

from __future__ import annotations

import re

import numpy as np
import pytest

from flankwise.reasons import sentence
from tests.vision.made_pictures import HEIGHT, WIDTH, grey, wood
from threads.shared.refusal import RefusalError
from vision.locate.plain_faults import plain_faults
from vision.locate.seen_pitch import seen_pitch
from vision.pictures.picture import Picture
from vision.result.measure import measure_picture
from vision.shared.opencv import cv2
from vision.shared.plane import FixedScale

PITCH_PX = 21.7


def lit_screw(pitch: float = PITCH_PX, turn_deg: float = 8.0, diameter: float = 5.2) -> Picture:
    """A bright screw, ridges leaning as a thread's do, its profile toothed, on a board."""
    y, x = np.mgrid[:HEIGHT, :WIDTH].astype(float)
    turn = np.radians(turn_deg)
    u = (x - WIDTH / 2) * np.cos(turn) + (y - HEIGHT / 2) * np.sin(turn)
    w = (y - HEIGHT / 2) * np.cos(turn) - (x - WIDTH / 2) * np.sin(turn)
    radius = diameter * pitch / 2
    around = np.arcsin(np.clip(w / radius, -1, 1))
    ridge = np.cos(2 * np.pi * u / pitch - around)
    part = (np.abs(w) < radius * (0.9 + 0.1 * ridge)) & (np.abs(u) < 7 * pitch)
    shade = 0.35 + 0.25 * np.cos(around) + 0.2 * ridge
    return grey(np.where(part, shade, wood()), noise=0.01)


def rule(long: int = 30) -> Picture:
    """A steel rule on a board: marks ``long`` px long, every fifth one longer."""
    y, x = np.mgrid[:HEIGHT, :WIDTH]
    mark = (x % 20 < 3) & (y > 300) & (y < 300 + np.where(x // 20 % 5 == 0, long + 15, long))
    return grey(np.where((y > 300) & (y < 430), np.where(mark, 0.15, 0.7), wood()), noise=0.01)


@pytest.mark.slow
@pytest.mark.parametrize("turn_deg", [0.0, 8.0, 63.0])
def test_the_pitch_is_told_in_pixels_within_a_hundredth(turn_deg: float) -> None:
    seen = seen_pitch(lit_screw(turn_deg=turn_deg))
    assert seen is not None
    assert seen.pitch_px == pytest.approx(PITCH_PX, rel=0.01)
    assert 8 <= seen.repeats <= 15
    assert abs(seen.x - WIDTH / 2) < 60
    assert abs(seen.y - HEIGHT / 2) < 60


@pytest.mark.slow
def test_the_picture_is_refused_and_the_pitch_stands_beside_the_reason() -> None:
    with pytest.raises(RefusalError) as caught:
        measure_picture(lit_screw(), FixedScale(4.0))
    first, note = caught.value.reasons
    assert first.code == "textured"
    assert note.code == "pitch_in_pixels_only"
    told = re.search(r"every (\d+\.\d+) px", sentence(note))
    assert told is not None
    assert float(told[1]) == pytest.approx(PITCH_PX, rel=0.01)
    assert "no size" in sentence(note)


OTHERS = {"board": lambda: grey(wood(), noise=0.01), "rule": rule, "rule with long marks": lambda: rule(long=110)}


@pytest.mark.slow
@pytest.mark.parametrize("name", OTHERS)
def test_no_thread_is_invented(name: str) -> None:
    picture = OTHERS[name]()
    assert seen_pitch(picture) is None
    with pytest.raises(RefusalError) as caught:
        measure_picture(picture, FixedScale(4.0))
    assert "pitch_in_pixels_only" not in {reason.code for reason in caught.value.reasons}


def profiled(pitch: float = 14.4, shift: float = 0.5, dark: float = 0.03) -> Picture:
    """A dark screw upright, one toothed edge before a bright ground; near the other, in the dark, its ridges shine."""
    y, x = np.mgrid[:1200, :1600].astype(float)
    along, across = (y - 540) / pitch, (x - 750) / pitch
    tooth = 0.6 * np.abs(along % 1.0 - 0.5)
    part = (across > tooth - 2.6) & (across < 2.6) & (np.abs(along) < 6)
    shine = 0.12 * np.exp(-(((across - 1.2) / 0.7) ** 2)) * np.maximum(np.cos(2 * np.pi * (along + shift)), 0) ** 2
    light = np.where(part, dark + shine, np.where(across > 2.3, dark, 0.25 + 0.03 * np.sin(y / 90)))
    return grey(cv2.GaussianBlur(light, (0, 0), 1.2), noise=0.01)


@pytest.mark.slow
@pytest.mark.parametrize("pitch", [14.4, 19.0])
def test_an_edge_in_profile_and_shining_ridges_opposite_tell_the_pitch(pitch: float) -> None:
    seen = seen_pitch(profiled(pitch))
    assert seen is not None
    assert seen.pitch_px == pytest.approx(pitch, rel=0.01)


@pytest.mark.slow
@pytest.mark.parametrize("shift", [0.0, 0.25])
def test_ridges_that_do_not_alternate_with_the_teeth_are_no_thread(shift: float) -> None:
    assert seen_pitch(profiled(shift=shift)) is None


@pytest.mark.slow
def test_what_is_plainly_wrong_stands_first() -> None:
    soft = grey(cv2.GaussianBlur(wood(), (0, 0), 7.0))
    small = grey(wood()[:450, :520], noise=0.01)
    assert [reason.code for reason in plain_faults(soft)] == ["out_of_focus"]
    assert [reason.code for reason in plain_faults(small)] == ["too_coarse"]
    assert not plain_faults(lit_screw())
    with pytest.raises(RefusalError) as caught:
        measure_picture(small, FixedScale(4.0))
    assert [reason.code for reason in caught.value.reasons] == ["too_coarse", "textured"]
    assert "520 x 450" in sentence(caught.value.reasons[0])
