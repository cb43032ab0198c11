"""The hand as a near camera shows it."""

from __future__ import annotations

import pytest

from vision.result.measured_thread import hand_of_nearness


@pytest.mark.parametrize(
    ("nearness", "u", "hand"),
    [
        (0.0125, 0.00150, "right"),  # a camera at 80 mm, 8.3 standard uncertainties
        (-0.0125, 0.00150, "left"),
        (0.0125, 0.00160, "not determined"),  # 7.8
        (0.0125, 0.00600, "not determined"),  # 2.1
        (0.0039, 1e-5, "not determined"),  # 256 mm: as good as far away
        (0.0610, 1e-5, "not determined"),  # 16 mm: no camera stands there
    ],
)
def test_only_a_clear_answer_counts(nearness: float, u: float, hand: str) -> None:
    assert hand_of_nearness(nearness, u) == hand
