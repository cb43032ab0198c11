"""What pictures of one bench have in common, for whoever puts their threads together."""

from __future__ import annotations

from pathlib import Path

import numpy as np

from vision.pictures.picture import read_picture
from vision.result.measure import measure_picture
from vision.several.together import common_part, readings
from vision.shared.plane import FixedScale

SAMPLES = Path(__file__).parents[3] / "sample_images"


def test_only_readings_of_one_bench_share_its_errors() -> None:
    picture = read_picture(str(SAMPLES / "sextant_index_arm_screw_4-40_bench_a.png"))
    one, other = (measure_picture(picture, FixedScale(scale, relative_u=1e-4)) for scale in (4.0, 4.1))
    shared = common_part(one, one)
    assert shared is not None
    assert np.array_equal(shared[0].matrix, one.common_covariance.matrix)
    assert common_part(one, other) is None

    screw, original, cast = readings(one, one, other)
    for reading in (screw, original):
        assert reading.common is not None
        assert np.array_equal(reading.common.matrix, one.common_covariance.matrix)
    assert cast.common is None
    assert cast.thread is other.thread

    # what is not there takes no place, and what is from elsewhere does not undo what is shared
    screw, only = readings(one, None, one)
    assert screw.common is not None
    assert only.common is not None
    alone, foreign = readings(one, other)
    assert alone.common is None
    assert foreign.common is None
