"""The sample pictures that the tour shows, and the calibration of the bench on which they were taken."""

from __future__ import annotations

import hashlib
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from calib.calibration import Calibration

SAMPLES = Path(__file__).parents[1] / "sample_images"
PINS = (("pin_1000_bench_a.png", 1.0), ("pin_2500_bench_a.png", 2.5))
PIN_U95_MM = 0.001
SCREW, CUT = "sextant_index_arm_screw_4-40_bench_a.png", "sextant_index_arm_replacement_4-40_bench_a.png"


def sample_bench() -> Calibration:
    """The calibration of bench A of the sample pictures, from its two pins."""
    from flankwise.bench import calibrate

    pins = [(SAMPLES / name, size) for name, size in PINS]
    return calibrate(pins, pin_u95=PIN_U95_MM, working_distance="telecentric").calibration


@cache
def sample_hashes() -> frozenset[str]:
    """SHA-256 of the files of that bench: which pictures its calibration is good for, whatever they are called."""
    return frozenset(hashlib.sha256(file.read_bytes()).hexdigest() for file in SAMPLES.glob("*_bench_a.png"))
