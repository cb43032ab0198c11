"""Designations: what people write is understood, and nothing but a clear refusal comes of the rest."""

from itertools import pairwise

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from flankwise.reasons import message
from tests.each import each
from tests.refused import refused
from threads.standards.designation import (
    Designation,
    UnknownDesignationError,
    designation_of,
    known_designations,
    parse,
)
from threads.standards.limits import limits_of
from threads.standards.series import entries, series_names

ALL = tuple(
    designation_of(entry, name, internal=internal)
    for entry in entries()
    for internal, classes in ((False, entry.classes), (True, entry.internal_classes))
    for name in classes
)


@each(
    ("written", "canonical", "series", "size", "thread_class", "internal"),
    [
        ("4-40 UNC-2A", "4-40 UNC-2A", "UNC", "4-40", "2A", False),
        ("#4-40 unc-2a", "4-40 UNC-2A", "UNC", "4-40", "2A", False),
        ("1/4-20 UNC-2B", "1/4-20 UNC-2B", "UNC", "1/4-20", "2B", True),
        ("1/4 - 20  UNC 2B", "1/4-20 UNC-2B", "UNC", "1/4-20", "2B", True),
        ("4-40 NC-2", "4-40 NC-2", "NC", "4-40", "2", False),
        ("10-32nf3", "10-32 NF-3", "NF", "10-32", "3", False),
        ("12-32 UNEF-3A", "12-32 UNEF-3A", "UNEF", "12-32", "3A", False),
        ("M2.5x0.45-6g", "M2.5x0.45-6g", "M", "M2.5x0.45", "6g", False),
        ("m2.5×0.45 – 6g", "M2.5x0.45-6g", "M", "M2.5x0.45", "6g", False),
        ("M2,5X.45-6g", "M2.5x0.45-6g", "M", "M2.5x0.45", "6g", False),
        ("M3-6H", "M3x0.5-6H", "M", "M3x0.5", "6H", True),
        ("M8x1-6h", "M8x1-6h", "M fine", "M8x1", "6h", False),
        ("M3x0.5-5g6g", "M3x0.5-5g6g", "M", "M3x0.5", "5g6g", False),
        ("4 BA", "4 BA normal", "BA", "4", "normal", False),
        ("4ba-close", "4 BA close", "BA", "4", "close", False),
        ("4 BA nut", "4 BA nut", "BA", "4", "nut", True),
        # without a class: the usual one
        ("4-40 UNC", "4-40 UNC-2A", "UNC", "4-40", "2A", False),
        ("4-40 NC", "4-40 NC-2", "NC", "4-40", "2", False),
        ("M3", "M3x0.5-6g", "M", "M3x0.5", "6g", False),
        ("M1.2", "M1.2x0.25-6h", "M", "M1.2x0.25", "6h", False),
        # a class that the table of the size does not list
        ("4-40 UNC-1A", "4-40 UNC-1A", "UNC", "4-40", "1A", False),
    ],
)
def test_reads_what_people_write(written, canonical, series, size, thread_class, internal):
    found = parse(written)
    assert (found.text, found.series, found.size) == (canonical, series, size)
    assert (found.thread_class, found.internal) == (thread_class, internal)
    assert (found.entry.series, found.entry.size) == (series, size)


@pytest.mark.parametrize(
    ("written", "canonical"),
    [
        ("4-40 NC-2", "4-40 NC-2"),
        ("4-40 UNC", "4-40 UNC-2B"),
        ("M3", "M3x0.5-6H"),
        ("M1", "M1x0.25-5H"),
        ("M1x0.2", "M1x0.2-4H"),
        ("2 BA", "2 BA nut"),
    ],
)
def test_internal_asks_for_the_nut(written, canonical):
    found = parse(written, internal=True)
    assert found.internal
    assert found.text == canonical


def test_the_case_of_an_iso_position_tells_screw_from_nut():
    assert not parse("M3-6h").internal
    assert parse("M3-6H").internal


@pytest.mark.parametrize(
    ("written", "internal"),
    [("4-40 UNC-2A", True), ("4-40 UNC-2B", False), ("M3-6g", True), ("M3-6H", False), ("4 BA nut", False)],
)
def test_a_class_that_contradicts_internal_is_refused(written, internal):
    with refused(UnknownDesignationError, match="was asked for") as caught:
        parse(written, internal=internal)
    assert caught.value.nearest
    for text in caught.value.nearest:
        assert parse(text, internal=internal).internal == internal


def test_rounded_root_is_a_form_of_the_same_series():
    plain, rounded = parse("4-40 UNC-2A"), parse("4-40 UNRC-2A")
    assert rounded.text == "4-40 UNRC-2A"
    assert (rounded.series, rounded.size) == (plain.series, plain.size)
    assert (plain.entry.form, rounded.entry.form) == ("UN", "UNR")
    assert parse(rounded.text) == rounded


@each(
    ("written", "near"),
    [
        ("4-41 UNC-2A", "4-40 UNC-2A"),
        ("4-40", "4-40 NC-2"),
        ("10-32 UNC-2A", "10-32 UNF-2A"),
        ("M3.1", "M3x0.5-6g"),
        ("M5.5", "M5.5x0.5-6g"),
        ("M3x0.4", "M3x0.35-6g"),
        ("M3-6x", "M3x0.5-6g"),
        ("M3-3H", "M3x0.5-6H"),
        ("4-40 UNC-2C", "4-40 UNC-2A"),
        ("4-40 UNC-2", "4-40 UNC-2A"),
        ("4-40 NC-2A", "4-40 NC-2"),
        ("4 BA loose", "4 BA close"),
        ("26 BA", "25 BA"),
        ("M2.6", "DIN 2.6x0.45"),
        ("7/16 BSC", "7/16-20 BSC"),
        ("1/4-19 BSW", "1/4-20 BSW medium"),
        ("1/4-20 BSW loose", "1/4-20 BSW close"),
        ("4 BA free", "4 BA normal"),
        ("SI 2.5", "M2.5x0.45-6g"),
    ],
)
def test_an_unknown_one_is_refused_with_near_ones(written, near):
    with pytest.raises(UnknownDesignationError) as caught:
        parse(written)
    assert near in caught.value.nearest
    said = message(caught.value)
    assert near in said
    assert len(said.splitlines()) == 1


@each("series", series_names())
def test_canonical_text_comes_back(series):
    listed = [designation for designation in ALL if designation.series == series]
    assert listed == [parse(designation.text, internal=designation.internal) for designation in listed]


_OF_NUMBERS = "0123456789."


@st.composite
def sloppily_written(draw):
    """A known designation, with case, spaces, ``#`` and the multiplication sign as a hurried person puts them."""
    designation = draw(st.sampled_from(ALL))
    text = designation.text
    if designation.entry.form == "ISO metric":
        size, _, thread_class = text.rpartition("-")  # the case of the class is the class
        text = (
            draw(st.sampled_from([size, size.lower(), size.replace("x", "×"), size.replace("x", "X")]))
            + f"-{thread_class}"
        )
    else:
        text = "".join(draw(st.sampled_from([letter.lower(), letter.upper()])) for letter in text)
        text = draw(st.sampled_from(["", "#"])) + text
    gaps = draw(st.lists(st.sampled_from(["", "", " ", "  ", "\t"]), min_size=len(text), max_size=len(text)))
    within = [before in _OF_NUMBERS and letter in _OF_NUMBERS for before, letter in pairwise(f" {text}")]
    gaps = ["" if inside else gap for gap, inside in zip(gaps, within, strict=True)]  # a space there has a meaning
    return designation, "".join(gap + letter for gap, letter in zip(gaps, text, strict=True))


@given(sloppily_written())
def test_round_trip_however_it_is_written(case):
    designation, written = case
    assert parse(written, internal=designation.internal) == designation


pieces = st.sampled_from(
    [
        "#",
        "4",
        "40",
        "1/4",
        "20",
        "-",
        " ",
        "UNC",
        "NC",
        "unrc",
        "M",
        "3",
        "x",
        "0.5",
        ".",
        ",",
        "6g",
        "6H",
        "2A",
        "BA",
        "close",
    ]
)


@given(
    st.one_of(st.text(max_size=60), st.lists(pieces, max_size=10).map("".join)),
    st.sampled_from([None, True, False]),
)
@example("", None)
@example("M" + "9" * 400, None)
@example("٣-٤٠ UNC-2A", None)
@example("1/0-20 UNC-2A", None)
@example("M3x.-6g", None)
@example("\x00\n\r\x1b[31m", None)
def test_whatever_is_written_only_one_error_comes_of_it(text, internal):
    try:
        found = parse(text, internal=internal)
    except UnknownDesignationError as error:
        assert len(message(error).splitlines()) == 1
        assert message(error).isprintable()
        assert all(isinstance(parse(near), Designation) for near in error.nearest)
    else:
        limits = limits_of(found)
        assert limits.designation == found.text
        assert parse(found.text, internal=found.internal) == found


@pytest.mark.parametrize("internal", [False, True])
def test_what_is_offered_for_completion_is_each_understood(internal: bool) -> None:
    offered = known_designations(internal=internal)
    assert "4-40 NC-2" in offered
    assert ("4-40 UNC-2B" in offered) == internal
    assert [parse(text, internal=internal).text for text in offered] == list(offered)
