"""A part that is turned in view: how far, ovality and run-out against what was drawn."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from sample_images.imperfections import Imperfections
from tests.vision.several.test_joined import PLANE, WITH_END, shot
from vision.several.joined import is_same_part
from vision.several.turning import all_round, side_of

OVAL_UM, ECCENTRIC_PX = 10.0, 2.0
TURNS = (0.0, 55.0, 110.0, 170.0, 225.0, 290.0)


@pytest.mark.slow
def test_what_turns_eccentrically_and_oval_is_told_from_six_sides() -> None:
    seen = [
        shot(
            i,
            WITH_END,
            rotation_deg=4.0,
            offset_px=ECCENTRIC_PX * np.cos(np.radians(turned)),
            form_errors=Imperfections(ovality_um=OVAL_UM, oval_at_deg=25.0, turned_deg=turned),
        )
        for i, turned in enumerate(TURNS)
    ]
    assert all(is_same_part(seen[0], other) for other in seen[1:])
    sides = [side for one in seen if (side := side_of(one, seen[0])) is not None]
    off = [(side.turn.angle.value - truth + 180) % 360 - 180 for side, truth in zip(sides, TURNS, strict=True)]
    assert max(map(abs, off)) < 12
    found = all_round(sides)
    assert found.ovality is not None
    assert found.run_out is not None
    assert 1000 * found.ovality.value == pytest.approx(OVAL_UM, abs=1.5)
    assert found.run_out.value == pytest.approx(2 * ECCENTRIC_PX * PLANE.um_per_px / 1000, rel=0.1)
    assert all_round(sides[:3]).run_out is None  # three points lie on any circle


def test_another_part_is_not_taken_for_the_same_one_turned() -> None:
    one = shot(1, WITH_END)
    thread = WITH_END.thread
    thicker = replace(thread, pitch_diameter_mm=thread.pitch_diameter_mm + 0.05, major_mm=thread.major_mm + 0.05)
    assert not is_same_part(one, shot(2, replace(WITH_END, thread=thicker)))
