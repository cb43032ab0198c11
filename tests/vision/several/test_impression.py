"""A cast of a hole, read as the hole: sizes, names of the flanks, the shrinkage and its uncertainty."""

from __future__ import annotations

import json
from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from tests.refused import refused
from tests.vision.scenes import ACROSS, UNIFIED, photograph
from threads.shared.plain_json import plain
from threads.shared.quantity import Quantity
from threads.shared.typed import TypedError
from vision.result.measure import measure_picture
from vision.result.measurement import Measurement
from vision.several.impression import SHRINKAGE, as_hole, stated_shrinkage, typed_shrinkage
from vision.shared.plane import FixedScale

PERCENT = 0.4


@cache
def cast() -> Measurement:
    """A cast that shrank by 0.4 % from a hole of UNIFIED's sizes."""
    small = 1 - PERCENT / 100
    thread = replace(
        UNIFIED,
        major_mm=UNIFIED.major_mm * small,
        pitch_diameter_mm=UNIFIED.pitch_diameter_mm * small,
        minor_mm=UNIFIED.minor_mm * small,
        pitch_mm=UNIFIED.pitch_mm * small,
    )
    plane = FixedScale(6.0, relative_u=1e-4, edge_offset_u_px=0.02, light_cone_deg=0.0)
    return measure_picture(photograph(replace(ACROSS, thread=thread))[0], plane)


@pytest.mark.slow
def test_the_hole_has_the_sizes_of_the_mould() -> None:
    hole = as_hole(cast(), stated_shrinkage(PERCENT, 0.1)).thread
    assert hole.internal
    for name, truth in (("major_diameter", 2.81), ("pitch_diameter", 2.42), ("minor_diameter", 2.06), ("pitch", 0.635)):
        found: Quantity = getattr(hole, name)
        assert found.value == pytest.approx(truth, abs=4e-4), name
        # 0.05 % of the size on top of what the picture leaves open
        own: Quantity = getattr(cast().thread, name)
        expected = np.hypot(own.standard_uncertainty / (1 - PERCENT / 100), truth * 5e-4 / (1 - PERCENT / 100))
        assert found.standard_uncertainty == pytest.approx(expected, rel=0.01)
    assert hole.threads_per_inch.value * hole.pitch.value == pytest.approx(25.4)


def test_crests_of_the_cast_are_roots_of_the_hole_and_flanks_change_sides() -> None:
    hole, seen = as_hole(cast(), stated_shrinkage(PERCENT, None)).thread, cast().thread
    assert seen.crest_width is not None
    assert seen.root_width is not None
    assert hole.root_width is not None
    assert hole.crest_width is not None
    grown = 1 / (1 - PERCENT / 100)
    assert hole.root_width.value == pytest.approx(seen.crest_width.value * grown)
    assert hole.crest_width.value == pytest.approx(seen.root_width.value * grown)
    assert hole.flank_angle_left.value == seen.flank_angle_right.value
    assert hole.flank_angle_right.value == seen.flank_angle_left.value
    assert hole.included_angle == seen.included_angle
    assert (hole.flat_crest, hole.flat_root) == (seen.flat_root, seen.flat_crest)


def test_pitch_and_angle_errors_make_a_hole_narrower() -> None:
    hole = as_hole(cast(), stated_shrinkage(PERCENT, 0.1)).thread
    added = cast().thread.virtual_pitch_diameter.value - cast().thread.pitch_diameter.value
    assert added > 0
    assert hole.virtual_pitch_diameter.value < hole.pitch_diameter.value


def test_budget_and_covariance_have_the_shrinkage() -> None:
    hole = as_hole(cast(), stated_shrinkage(PERCENT, 0.1))
    for name in ("pitch", "major_diameter", "pitch_diameter", "crest_width", "flank_angle_left", "threads_per_inch"):
        quantity: Quantity = getattr(hole.thread, name)
        terms = [t.u for t in hole.budget[name]]
        assert float(np.sqrt(np.sum(np.square(terms)))) == pytest.approx(quantity.standard_uncertainty, rel=1e-3), name
        assert (SHRINKAGE in {t.source for t in hole.budget[name]}) == (name != "flank_angle_left")
    order, matrix = hole.thread.covariance.order, hole.thread.covariance.matrix
    i, j = order.index("major_diameter"), order.index("pitch_diameter")
    for name in ("major_diameter", "crest_width", "flank_angle_left"):
        k = order.index(name)
        assert matrix[k, k] == pytest.approx(getattr(hole.thread, name).standard_uncertainty ** 2, rel=1e-3)
    # common to all lengths
    assert matrix[i, j] > 0.9 * 2.81 * 2.42 * (5e-4) ** 2
    assert np.linalg.eigvalsh(matrix).min() > -1e-12
    total = np.sum([c.matrix for c in hole.by_source.values()], axis=0)
    assert np.allclose(total, matrix, atol=1e-12)


def test_a_shrinkage_nobody_states_is_wide_and_said() -> None:
    hole = as_hole(cast())
    assert "shrinkage_unknown" in {w.code for w in hole.quality.warnings}
    # a quarter of a per cent, u 0.15 %
    assert hole.thread.major_diameter.value == pytest.approx(cast().thread.major_diameter.value * 1.0025, rel=1e-4)
    assert abs(hole.thread.major_diameter.value - 2.81) < hole.thread.major_diameter.u95
    assert stated_shrinkage(0.2, None).u95 == pytest.approx(0.1)


def test_plain_form_says_that_it_is_a_hole() -> None:
    document = plain(as_hole(cast(), stated_shrinkage(PERCENT, 0.1)).to_dict())
    assert json.loads(json.dumps(document, allow_nan=False)) == document
    assert document["thread"]["internal"] is True
    assert cast().to_dict()["thread"]["internal"] is False


def test_a_shrinkage_is_typed_with_its_unit_and_below_a_tenth() -> None:
    assert typed_shrinkage("0.2%") == stated_shrinkage(0.2, None)
    assert typed_shrinkage("0.2%", "0.02%") == stated_shrinkage(0.2, 0.02)
    for text, why in (("0.2", "no unit"), ("0.2mm", "not %"), ("20%", "no cast shrinks")):
        with refused(TypedError, match=why):
            typed_shrinkage(text)
