"""Settings as people write them, in both languages, and ways to turn as a hand can set them."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flankwise.reasons import sentence
from tests.each import each
from threads.cutting.setting import FRACTIONS, HARDLY, MARK, TURN, Setting, setting_of, way_in_words


@each(
    ("text", "value", "unit"),
    [
        ("1/4 turn", 0.25, TURN), ("open 1 1/4 turns", 1.25, TURN), ("1¼ turns", 1.25, TURN),
        ("closed a quarter turn", -0.25, TURN), ("three eighths of a turn, open", 0.375, TURN),
        ("-0.3 turn", -0.3, TURN),
        ("closed -0.3 turn", -0.3, TURN), ("90°", 0.25, TURN), ("closed 30 deg", -1 / 12, TURN), ("one turn", 1, TURN),
        ("screw 2 at 1/4 turn", 0.25, TURN), ("eine halbe Umdrehung zu", -0.5, TURN), ("0,25 Umdrehung", 0.25, TURN),
        ("eine Viertelumdrehung auf", 0.25, TURN), ("12 divisions", 12, MARK), ("3.5", 3.5, MARK), ("1/4", 0.25, MARK),
    ])  # fmt: skip
def test_a_setting_is_read(text: str, value: float, unit: str) -> None:
    found = setting_of(text)
    assert found is not None
    assert (found.value, found.unit) == (pytest.approx(value), unit)


@pytest.mark.parametrize(
    "text", [None, "", "as it was", "1/0 turn", "between 3 and 4", "1/4 turn or 1/3 turn", "1e9 turns"]
)
def test_what_names_no_setting_is_none(text: str | None) -> None:
    assert setting_of(text) is None


@given(st.text(max_size=40))
def test_any_text_is_read_or_not(text: str) -> None:
    found = setting_of(text)
    assert found is None or math.isfinite(found.value)


@given(st.floats(-1.0, 1.0).filter(lambda way: abs(way) >= HARDLY))
def test_the_fraction_named_is_near_the_way(way: float) -> None:
    reason = way_in_words(way, TURN)
    assert 0.7 < FRACTIONS[reason.key] / abs(way) < 1.43
    for language in ("en", "de"):
        assert "{" not in sentence(reason, language=language)


def test_a_named_fraction_reads_back() -> None:
    """What is advised can be written down as it stands."""
    for key, part in FRACTIONS.items():
        for language in ("en", "de"):
            words = sentence(way_in_words(part, TURN), language=language).split(" of its")[0].split(" seiner")[0]
            read = setting_of(words.removeprefix("about ").removeprefix("etwa "))
            if key == "turn.1_24":  # nobody writes that in words
                continue
            assert read == Setting(pytest.approx(part), TURN), (words, read)  # type: ignore[arg-type]
