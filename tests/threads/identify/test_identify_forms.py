"""Identification by the form: 47.5, 53, 55 and 60 degrees are told apart, crest and root help where they are seen."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from flankwise.reasons import sentence
from tests.each import each
from tests.refused import told
from tests.threads.measured_factory import measured_thread
from threads.identify.identification import NO_MATCH, Identification, identify
from threads.measured.thread import MeasuredThread
from threads.rules.forms import FORMS
from threads.shared.quantity import Quantity
from threads.standards.limits import Limits, candidates
from threads.standards.series import entries


def candidate(series: str, size: str) -> Limits:
    """The middle class of a size."""
    of_size = [limits for limits in candidates((series,)) if limits.size == size]
    return of_size[len(of_size) // 2]


def screw(of: Limits, *, flanks: tuple[float, float] = (0.0, 0.0), resolved: bool = True) -> MeasuredThread:
    """A screw in the middle of its zones; each flank off by ``flanks``; crest and root as its form has them."""
    form = FORMS[of.form]
    major, pitch_diameter = (
        (band.low + band.high) / 2  # type: ignore[operator]
        for band in (of.major, of.pitch_diameter)
    )
    left, right = (form.flank_angle_deg + off for off in flanks)
    depth = max(0.6 * of.pitch, of.basic_pitch_diameter - of.basic_minor)
    thread = measured_thread(
        major, pitch_diameter, of.pitch, minor=pitch_diameter - depth, flank_left=left, flank_right=right
    )
    if not resolved:
        return replace(thread, flat_crest=None, flat_root=None)
    thread = replace(thread, flat_crest=not form.rounded_crest, flat_root=not form.rounded_root)
    if form.rounded_crest:
        thread = replace(thread, crest_width=None, crest_radius=Quantity(0.15 * of.pitch, 0.001, "mm"))
    if form.rounded_root:
        thread = replace(thread, root_width=None, root_radius=Quantity(0.15 * of.pitch, 0.001, "mm"))
    return thread


def by_angle(found: Identification) -> dict[float, float]:
    """Probability of each included angle, to 0.1 degree."""
    shares: dict[float, float] = {}
    for one in found.candidates:
        angle = round(FORMS[one.limits.form].included_angle_deg, 1)
        shares[angle] = shares.get(angle, 0.0) + one.probability
    return shares


@each("resolved", [True, False])
@each("flanks", [(0.0, 0.0), (0.75, 0.75), (-0.75, -0.75), (1.0, -0.8)])
@each(
    ("series", "size"),
    [
        ("BSW", "1/4-20"),  # with 1/4-20 UNC and NC
        ("UNC", "1/4-20"),
        ("BSW", "1/8-40"),  # with 5-40 at the same pitch, 0.2 mm thinner
        ("BA", "0"),  # with M6x1, 50 um in the pitch diameter
        ("M", "M6x1"),
        ("BSB", "1/4-26"),  # with the cycle thread 1/4-26
        ("BSC", "1/4-26"),
        ("Lowenherz", "3"),  # with M3x0.5
        ("Lowenherz", "5"),
        ("SI small", "3x0.5"),
    ],
)
def test_a_tool_that_is_a_degree_off_does_not_change_the_form(
    series: str, size: str, flanks: tuple[float, float], resolved: bool
) -> None:
    of = candidate(series, size)
    found = identify(screw(of, flanks=flanks, resolved=resolved), series_alike=True)  # the form alone is tried here
    angle = round(FORMS[of.form].included_angle_deg, 1)
    assert by_angle(found)[angle] > 0.9
    assert any(one.limits.series == series for one in found.groups[0].members)


def test_between_two_forms_both_are_named_and_what_would_tell_them_apart() -> None:
    of = candidate("BSW", "1/4-20")
    blurred = identify(screw(of, flanks=(1.25, 1.25), resolved=False), series_alike=True)
    group = blurred.groups[0]
    assert {"BSW", "UNC"} <= {one.limits.series for one in group.members}
    shares = by_angle(blurred)
    assert min(shares[55.0], shares[60.0]) > 0.1
    assert "55 or 60 deg between the flanks" in told(group.told_apart_by)
    assert "a sharper or larger picture" in told(group.told_apart_by)
    assert "Whitworth" in told(group.told_apart_by)


def test_a_crest_that_is_seen_moves_the_odds_by_what_its_shares_say() -> None:
    of = candidate("BSW", "1/4-20")
    odds = {}
    for flat in (True, None, False):
        found = identify(replace(screw(of, flanks=(1.25, 1.25), resolved=False), flat_crest=flat))
        shares = by_angle(found)
        odds[flat] = shares[55.0] / shares[60.0]
    # As made, 70 % of the Whitworth crests are round and 10 % of the others; a few of these here may be worn.
    assert odds[False] / odds[None] == pytest.approx(0.7 / 0.1, rel=0.25)
    assert odds[True] / odds[None] == pytest.approx(0.3 / 0.9, rel=0.25)


def test_what_was_not_resolved_is_said_in_the_evidence() -> None:
    found = identify(screw(candidate("BSW", "1/4-20"), resolved=False))
    verdicts = {row.quantity: row.verdict for row in found.candidates[0].evidence}
    assert verdicts["crest_width"] == verdicts["root_width"] == "not resolved"


PITCHES = sorted({entry.pitch_mm for entry in entries()})
GAPS = [(a * b) ** 0.5 for a, b in pairwise(PITCHES) if b / a > 1.02 and a > 0.15]


@settings(max_examples=60, deadline=None)
@given(pitch=st.sampled_from(GAPS), share=st.floats(0.12, 0.3), half=st.sampled_from([23.75, 26.565, 27.5, 30.0]))
def test_a_pitch_that_no_series_has_fits_no_series(pitch: float, share: float, half: float) -> None:
    # 1 % from every pitch in the tables is seven standard deviations of what tools are off.
    major = pitch / share
    found = identify(measured_thread(major, major - 0.65 * pitch, pitch, flank_left=half, flank_right=half))
    assert found.status == NO_MATCH


@pytest.mark.parametrize(
    ("major", "pitch"),
    [(2.37, 0.47), (2.75, 0.47), (3.30, 0.58), (4.40, 0.68), (5.2, 0.85), (1.85, 0.42)],
)
def test_a_metric_looking_thread_of_odd_size_fits_no_series(major: float, pitch: float) -> None:
    found = identify(measured_thread(major - 0.03, major - 0.65 * pitch - 0.03, pitch))
    assert found.status == NO_MATCH
    assert found.groups == () or found.groups[0].probability < 0.5
    assert any("Fits no series" in sentence(note) for note in found.notes)


@each("half", [23.75, 27.5, 30.0])
@each(("major", "pitch"), [(2.72, 0.5), (4.30, 0.7), (3.23, 25.4 / 40), (7.45, 1.0)])
def test_a_usual_pitch_on_a_diameter_that_no_series_has_fits_no_series(major: float, pitch: float, half: float) -> None:
    found = identify(measured_thread(major, major - 0.64 * pitch, pitch, flank_left=half, flank_right=half))
    assert found.status == NO_MATCH
