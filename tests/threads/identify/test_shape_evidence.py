"""Flat or round crest and root as evidence: what the rows say, and how much it weighs."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.each import each
from tests.threads.measured_factory import measured_thread
from threads.identify import shape_prior
from threads.identify.evidence import Evidence, evidence_of
from threads.identify.shape_prior import Shape, log_shape
from threads.identify.zone_prior import STATES
from threads.measured.thread import MeasuredThread
from threads.rules.forms import FORMS
from threads.shared.quantity import Quantity
from threads.standards.designation import parse
from threads.standards.limits import Limits, limits_of


def limits(text: str) -> Limits:
    return limits_of(parse(text))


def rows(thread: MeasuredThread, of: str) -> dict[str, Evidence]:
    return {row.quantity: row for row in evidence_of(thread, limits(of))}


def with_round(thread: MeasuredThread, end: str, radius: float) -> MeasuredThread:
    """The same thread, rounded at its crest or root."""
    changes = {f"flat_{end}": False, f"{end}_radius": Quantity(radius, 0.0005, "mm"), f"{end}_width": None}
    return replace(thread, **changes)


def test_a_flat_crest_is_held_against_what_the_diameters_leave_of_it() -> None:
    # 4-40 UNC-2A: major 2.6949 to 2.8245, pitch diameter 2.3495 to 2.4130, p/2 = 0.3175, tan 30 deg = 0.57735
    crest = rows(measured_thread(2.80, 2.39, 0.635), "4-40 UNC-2A")["crest_width"]
    assert crest.low == pytest.approx(0.3175 - (2.8245 - 2.3495) * 0.57735, abs=1e-4)
    assert crest.high == pytest.approx(0.3175 - (2.6949 - 2.4130) * 0.57735, abs=1e-4)
    assert crest.verdict == "inside"
    # p/8 is the basic crest: it is what the greatest diameters leave
    basic = rows(measured_thread(2.8448, 2.4323, 0.635), "4-40 NC-2")["crest_width"]
    assert basic.low is not None
    assert basic.low < 0.635 / 8 < basic.high  # type: ignore[operator]


def test_a_round_crest_is_held_against_the_radius_of_the_form() -> None:
    thread = measured_thread(3.15, 2.80, 0.59, minor=2.45, flank_left=23.75, flank_right=23.75)
    basic = 0.18083 * 0.59
    crest = rows(with_round(thread, "crest", basic), "5 BA normal")["crest_radius"]
    assert crest.low is not None
    assert crest.high is not None
    assert crest.low < basic < crest.high
    assert crest.verdict == "inside"
    assert rows(with_round(thread, "crest", 0.4), "5 BA normal")["crest_radius"].verdict == "above"
    assert "crest_width" not in rows(with_round(thread, "crest", basic), "5 BA normal")


def test_what_the_form_has_otherwise_is_said_in_words() -> None:
    american = measured_thread(2.80, 2.39, 0.635)
    assert rows(with_round(american, "crest", 0.05), "4-40 UNC-2A")["crest_radius"].verdict == "round, not flat"
    british = measured_thread(3.15, 2.80, 0.59, minor=2.45, flank_left=23.75, flank_right=23.75)
    row = rows(british, "5 BA normal")["crest_width"]
    assert (row.verdict, row.low, row.high) == ("flat, not round", None, None)


def test_a_picture_that_does_not_resolve_it_says_so() -> None:
    blurred = replace(measured_thread(2.80, 2.39, 0.635), flat_crest=None)
    for end in ("crest", "root"):
        row = rows(blurred, "4-40 UNC-2A")[f"{end}_width"]
        assert row.verdict == "not resolved"
        assert row.measured.value > 0
    unknown = replace(blurred, crest_width=None, root_width=None)
    assert not {"crest_width", "crest_radius", "root_width", "root_radius"} & set(rows(unknown, "4-40 UNC-2A"))


def test_a_side_without_a_limit_leaves_the_width_open() -> None:
    # Unified sets no least minor diameter, so the root may be as narrow as it likes.
    root = rows(replace(measured_thread(2.80, 2.39, 0.635), flat_root=True), "4-40 UNC-2A")["root_width"]
    assert root.low is None
    assert root.high is not None


@given(
    depth=st.floats(0.3, 1.0),
    usual=st.floats(0.55, 0.7),
    rounded=st.tuples(st.booleans(), st.booleans()),
    crest=st.sampled_from([True, False, None]),
)
def test_what_can_be_seen_sums_to_one_whatever_the_form(
    depth: float, usual: float, rounded: tuple[bool, bool], crest: bool | None
) -> None:
    def density(flat_crest: bool | None, flat_root: bool | None) -> np.ndarray:
        shape = Shape(flat_crest, flat_root, depth, 0.01)
        return np.exp(log_shape(shape, np.array([rounded[0]]), np.array([rounded[1]]), np.array([usual])))

    assert density(None, None).shape == (1, len(STATES))
    np.testing.assert_allclose(density(crest, True) + density(crest, False), density(crest, None), rtol=1e-12)
    np.testing.assert_allclose(density(True, None) + density(False, None), density(None, None), rtol=1e-12)


def test_a_round_crest_speaks_for_the_round_form_and_less_so_when_worn() -> None:
    shape = Shape(flat_crest=False, flat_root=None, root_depth=0.6, root_depth_u=0.01)
    of_round, of_flat = log_shape(shape, np.array([True, False]), np.array([True, True]), np.array([0.6, 0.6]))
    made, worn, plated = of_round - of_flat
    assert made == plated == pytest.approx(math.log(shape_prior.ROUND_CREST[True] / shape_prior.ROUND_CREST[False]))
    assert 0 < worn < made
    # hint, not proof: no more than 20 to 1 from one end
    for shares in (shape_prior.ROUND_CREST, shape_prior.ROUND_ROOT):
        assert shares[True] / shares[False] < 20
        assert (1 - shares[False]) / (1 - shares[True]) < 20


@each("name", list(FORMS))
def test_every_form_says_of_crest_and_root_whether_they_are_round(name: str) -> None:
    form = FORMS[name]
    assert (form.crest_radius is not None) >= form.rounded_crest
    assert (form.root_radius is not None) >= form.rounded_root
