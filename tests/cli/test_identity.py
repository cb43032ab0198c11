"""An identification as a person reads it."""

from __future__ import annotations

import io
import re
from types import SimpleNamespace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cli.identity import identity_parts, place_between
from cli.output import show
from flankwise.identifying import Answer
from flankwise.reasons import sentence
from tests.refused import told
from tests.threads.measured_factory import measured_thread
from threads.identify.identification import Identification, identify
from threads.identify.identity_words import status_words

NC_4_40_UPPER_THIRD = (2.810, 2.428, 0.635)
"""4-40 cut to American National class 2 in the upper third: above the greatest 2A pitch diameter, 2.4130 mm."""


def text_of(
    found: Identification, capsys: pytest.CaptureFixture[str], *, inches: bool = False, with_provenance: bool = False
) -> str:
    part = SimpleNamespace(thread=measured_thread(*NC_4_40_UPPER_THIRD))  # only read where nothing fits
    show(*identity_parts(Answer(part, found), inches=inches, with_provenance=with_provenance))  # type: ignore[arg-type]
    return capsys.readouterr().out


def test_groups_stand_first_with_length_number_word_and_what_tells_them_apart(
    capsys: pytest.CaptureFixture[str],
) -> None:
    found = identify(measured_thread(*NC_4_40_UPPER_THIRD))
    shown = text_of(found, capsys)
    lines = shown.splitlines()
    assert lines[0].startswith("Identified: ")
    first = next(line for line in lines if "█" in line)
    assert re.search(r"█+░* +(over )?\d+ % +[a-z]+", first)
    assert found.groups[0].members[0].designation in first
    flat = " ".join(shown.split())
    for fact in told(found.groups[0].told_apart_by).split("; "):
        assert f"- {fact}" in flat


def test_the_bar_is_as_long_as_the_probability(capsys: pytest.CaptureFixture[str]) -> None:
    found = identify(measured_thread(*NC_4_40_UPPER_THIRD))
    shown = text_of(found, capsys)
    bars = [line.count("█") for line in shown.splitlines() if "░" in line or "█" in line]
    probabilities = [group.probability for group in found.groups[:4]] + [found.no_standard_probability]
    assert bars == [round(20 * probability) for probability in probabilities]


def test_what_is_from_memory_is_marked_and_the_caution_is_there(capsys: pytest.CaptureFixture[str]) -> None:
    found = identify(measured_thread(*NC_4_40_UPPER_THIRD))
    assert any(candidate.limits.unverified for candidate in found.candidates)
    shown = text_of(found, capsys)
    assert "4-40 NC-2 †" in shown
    assert "† limits or sizes: from memory, unverified" in shown
    assert "Caution: Where a thread carries load, pressure or people" in shown


def test_a_metric_screw_alone_has_no_mark(capsys: pytest.CaptureFixture[str]) -> None:
    shown = text_of(identify(measured_thread(2.93, 2.62, 0.5), series=["M"]), capsys)
    assert "M3x0.5-6g" in shown
    assert "†" not in shown


def test_origin_and_year_are_shown_beside_the_measurement_alone(capsys: pytest.CaptureFixture[str]) -> None:
    thread = measured_thread(*NC_4_40_UPPER_THIRD)
    without = text_of(identify(thread), capsys)
    with_both = text_of(identify(thread, origin="US", made=(1938, 1938)), capsys, with_provenance=True)
    assert "by measurement alone" not in without
    assert "by measurement" in with_both
    assert "common use" in with_both  # the rest may stand on the next line


def test_evidence_has_the_limits_and_a_verdict_in_words(capsys: pytest.CaptureFixture[str]) -> None:
    thread = measured_thread(*NC_4_40_UPPER_THIRD)
    shown = text_of(identify(thread), capsys)
    row = next(line for line in shown.splitlines() if line.startswith("pitch diameter"))
    assert re.match(r"pitch diameter +2\.4280 ± 0\.0021 mm +2\.3\d+ mm +2\.4\d+ mm ", row)
    assert re.search(r" {4}\[\.*-*o-*\.*\] {4}(inside|cannot tell)$", row)
    in_inches = text_of(identify(thread), capsys, inches=True)
    assert re.search(r"pitch diameter +0\.0955\d+ ± 0\.0000\d+ in +0\.09\d+ in +0\.09\d+ in", in_inches)


def test_a_thread_of_no_standard_is_said_to_be_one(capsys: pytest.CaptureFixture[str]) -> None:
    found = identify(measured_thread(7.1, 6.3, 0.9, flank_left=20, flank_right=20), series=["M", "M fine", "BA"])
    assert found.status == "no_match"
    shown = text_of(found, capsys)
    assert shown.startswith("No known thread: ")
    assert "[.....................]o" in shown
    assert "Its own dimensions" in shown


def test_the_answer_names_size_and_the_classes_left_open() -> None:
    metric = identify(measured_thread(2.93, 2.62, 0.5), series=["M", "M fine"])
    assert sentence(status_words(metric)).startswith("M3x0.5, class 6g")
    found = identify(measured_thread(*NC_4_40_UPPER_THIRD), origin="US", made=(1938, 1938))
    assert found.status == "identified"
    assert sentence(status_words(found)) == "4-40 NC, class 2 or 3"
    open_answer = identify(measured_thread(2.80, 2.412, 0.635), series=["NC", "UNC", "ASME special"])
    assert open_answer.status == "identified"
    assert sentence(status_words(open_answer)) in ("4-40 by NC or UNC", "4-40 by UNC or NC")
    two_sizes = identify(measured_thread(4.83, 4.33, 0.797, scale_u=0.01))
    assert sentence(status_words(two_sizes)) == "ambiguous: more than one thread fits, see what tells them apart"


@given(st.floats(-5, 15), st.floats(0.01, 3), st.floats(0, 9), st.floats(0.1, 5))
def test_a_value_stands_inside_the_brackets_exactly_if_it_is_inside(
    value: float, u95: float, low: float, width: float
) -> None:
    line = place_between(value, u95, low, low + width)
    assert len(line) == 25
    assert line.count("o") == 1
    assert (1 < line.index("o") < 23) == (low <= value <= low + width)
    if value < low:
        assert line[0] == "o"


def test_a_terminal_without_block_signs_gets_others(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    ascii_only = io.TextIOWrapper(io.BytesIO(), encoding="ascii", write_through=True)
    monkeypatch.setattr("sys.stdout", ascii_only)
    text_of(identify(measured_thread(2.93, 2.62, 0.5)), capsys)
    shown = ascii_only.buffer.getvalue().decode("ascii")  # type: ignore[attr-defined]
    assert re.search(r"^  #+\.* +(over )?\d+ % ", shown, re.MULTILINE)


def test_a_narrow_terminal_keeps_numbers_whole(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr("cli.output.PIPED_WIDTH", 80)
    shown = text_of(identify(measured_thread(*NC_4_40_UPPER_THIRD)), capsys, inches=True)
    tables = [line for line in shown.splitlines() if not line.startswith("†")]  # a note to a pipe is one line
    assert max(map(len, tables)) <= 80
    assert re.search(r"^pitch +0\.025000 ± 0\.000011 in +0\.02\d+ in +0\.02\d+ in +inside$", shown, re.MULTILINE)
