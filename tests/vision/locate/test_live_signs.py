"""Which sign is shown, and that the greatest hindrance comes first."""

from __future__ import annotations

from dataclasses import replace

import pytest

from threads.shared.refusal import Reason
from vision.locate.live_detection import LiveDetection
from vision.locate.live_signs import alignment_sign, focus_sign, light_sign

WELL = LiveDetection(
    1280, 960, light=0.7, uneven=0.05, saturated=0.0, from_behind=True, parts=1, blur_px=1.1, angle_deg=2.0,
    lean_deg=2.0, touches=("left",), threads=8.0, pitch_px=80.0, tilt_deg=0.3,
)  # fmt: skip


def test_a_good_set_up_is_good_in_all_three() -> None:
    assert [sign(WELL).good for sign in (light_sign, focus_sign, alignment_sign)] == [True, True, True]


@pytest.mark.parametrize(
    ("change", "code"),
    [
        ({"saturated": 0.02, "uneven": 0.9}, "saturated"), ({"light": 0.97}, "nearly_white"), ({"light": 0.1}, "dim"),
        ({"uneven": 0.5}, "uneven"), ({"from_behind": False, "light": 0.05}, "from_front"),
        ({"refusal": Reason("black")}, "black"),
    ],
)  # fmt: skip
def test_light(change: dict[str, object], code: str) -> None:
    sign = light_sign(replace(WELL, **change))  # type: ignore[arg-type]
    assert (sign.good, sign.code) == (False, code)


@pytest.mark.parametrize(
    ("change", "code"),
    [
        ({"parts": 3}, "several_parts"), ({"touches": ("left", "right", "top")}, "too_large"),
        ({"lean_deg": -7.0, "tilt_deg": 5.0}, "turn"), ({"tilt_deg": 2.5}, "tilted"), ({"pitch_px": 9.0}, "too_small"),
        ({"threads": 3.2}, "few_threads"), ({"refusal": Reason("no_part")}, "no_part"),
    ],
)  # fmt: skip
def test_alignment(change: dict[str, object], code: str) -> None:
    sign = alignment_sign(replace(WELL, **change))  # type: ignore[arg-type]
    assert (sign.good, sign.code) == (False, code)


def test_where_nothing_is_seen_nothing_is_said() -> None:
    assert focus_sign(replace(WELL, blur_px=None)).good is None
    assert focus_sign(replace(WELL, blur_px=2.8)).good is False
    assert alignment_sign(replace(WELL, threads=None, pitch_px=None)).code == "plain"
