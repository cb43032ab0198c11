"""The page of an instrument: its plan in the order of positions, what is missing, its tools at hand, and its sheet."""

from __future__ import annotations

import io
import re

import pytest
from pypdf import PdfReader

from flankwise.reasons import sentence
from records import filing
from records.instrument_page import EMPTY, MEASURED, NO_MEASUREMENT, NO_PICTURE, ODD, InstrumentPage, instrument_page
from records.register import Register
from records.report.instrument_sheet import print_instrument
from tests.records.registers import SEXTANT, file_picture, picture_file, sextant_register
from tests.refused import refused
from threads.shared.refusal import RefusalError
from threads.standards.designation import parse
from threads.standards.limits import limits_of


@pytest.fixture(scope="module")
def register(tmp_path_factory: pytest.TempPathFactory) -> Register:
    """The sextant, a part of it that was photographed only, and two dies and a tap of the workshop."""
    folder = tmp_path_factory.mktemp("sextant")
    found = sextant_register(folder)
    path, sha256 = picture_file(folder)
    with found.writing("Ada") as writing:
        seen = filing.add_part(writing, name="seen", instrument=1)
        filing.show_part(writing, seen, file_picture(writing, path, sha256))
        filing.add_die(writing, "old round die", cuts="4-40 NC-2")
        filing.add_die(writing, "metric die", cuts="M4")
        filing.add_die(writing, "second tap", kind="tap", cuts="8-32 UNC")
    return found


@pytest.fixture(scope="module")
def page(register: Register) -> InstrumentPage:
    return instrument_page(register, 1)


def test_places_stand_in_the_order_of_positions_each_with_its_state(page: InstrumentPage) -> None:
    assert [one.number for one in page.places] == list(range(1, 12))
    assert [one.name for one in page.places] == [*(f"screw {n}" for n in range(1, 10)), "lost screw", "seen"]
    states = [one.state for one in page.places]
    assert states == [MEASURED] * 7 + [ODD, EMPTY, NO_PICTURE, NO_MEASUREMENT]
    assert [one.thread.split()[0] for one in page.places[:7]] == [name.split()[0] for name in SEXTANT]
    odd = page.places[7]
    assert odd.why is not None
    assert odd.thread.startswith("M3x0.5")
    assert [sentence(one) for one in page.missing] == [
        "screw 9: no part and no picture on file",
        "lost screw: a part on file, but no picture",
        "seen: a picture, but no measurement",
    ]
    assert sentence(page.verdict).startswith("Its maker used American National threads (")


def test_an_instrument_without_a_measured_screw_has_a_plan_and_no_answer(register: Register) -> None:
    empty = instrument_page(register, 2)
    assert (empty.answer, empty.places) == (None, ())
    assert sentence(empty.verdict) == "No screw of it is measured yet."
    with refused(RefusalError, match="no measured screw"):
        print_instrument(register, 2)


def test_own_tools_for_a_thread_are_at_hand(page: InstrumentPage) -> None:
    """A die for 4-40 cuts 4-40 by any table; that for M4 is for none of these screws."""
    assert page.answer is not None
    tools = {(one.kind, one.name): one.at_hand for one in page.answer.sheet.tools}
    assert tools["die", "4-40 UNC"] == ("old round die",)
    assert [names for (kind, name), names in tools.items() if kind == "tap" and name.startswith("8-32")] == [
        ("second tap",)
    ]
    assert sum(map(len, tools.values())) == 2


@pytest.mark.parametrize("language", ["en", "de"])
def test_the_sheet_says_it_in_words_first_and_has_plan_tools_and_a_line_to_sign(
    register: Register, language: str
) -> None:
    made = print_instrument(register, 1, language=language, processes=1)
    assert (made.parts, made.measured) == (10, 8)
    reader = PdfReader(io.BytesIO(made.content))
    text = re.sub(r"\s+", " ", " ".join(page.extract_text() for page in reader.pages))
    order = {
        "en": (
            "Its maker used",
            "later replacement",
            "screw 9: no part",
            "To have ready",
            "most probable class",
            "date",
        ),
        "de": (
            "Der Hersteller hat",
            "späterer Ersatz",
            "screw 9: kein Teil",
            "Bereitlegen",
            "wahrscheinlichste",
            "Datum",
        ),
    }[language]
    places = [text.index(words) for words in order]
    assert places == sorted(places)
    for number in range(1, 12):
        assert f"{number} " in text
    assert ("at hand: old round die" if language == "en" else "vorhanden: old round die") in text
    basic = limits_of(parse("4-40 NC-2")).pitch_diameter
    mean = float(re.search(r"4-40 2 (2\.\d+) ±", text)[1])  # type: ignore[index]
    assert basic.low is not None
    assert basic.high is not None
    assert basic.low < mean < basic.high  # of both 4-40, at 0.8 of their zone
