"""Reasons rendered: whatever the values are, a sentence comes out, in both languages and at both places."""

from __future__ import annotations

import pickle

from hypothesis import given
from hypothesis import strategies as st

from flankwise.reasons import COMMAND_LINE, WINDOW, message, rows, sentence
from threads.shared.plain_json import plain
from threads.shared.quantity import Quantity
from threads.shared.refusal import Reason, RefusalError

NUMBERS = st.one_of(st.integers(-(10**9), 10**9), st.floats())
QUANTITIES = st.builds(Quantity, st.floats(-1e3, 1e3), st.floats(0, 1e3), st.sampled_from(["mm", "deg", "px", "%"]))
SINGLE = st.one_of(NUMBERS, st.text(max_size=20), QUANTITIES, st.builds(Reason, st.sampled_from(["no_part", "black"])))
VALUES = st.one_of(SINGLE, st.lists(SINGLE, max_size=3).map(tuple))
NAMES = ["by", "name", "parts", "percent", "size_mm", "what", "why"]


@given(st.sampled_from(sorted(rows())), st.dictionaries(st.sampled_from(NAMES), VALUES), st.booleans())
def test_any_values_give_a_sentence(key: str, values: dict[str, object], inches: bool) -> None:
    reason = Reason(key, **values)  # type: ignore[arg-type]
    for language in ("en", "de"):
        for place in (COMMAND_LINE, WINDOW):
            assert isinstance(sentence(reason, language=language, place=place, inches=inches), str)


def test_quantities_lists_and_units() -> None:
    by = Quantity(0.0123, 0.0015, "mm")
    told = sentence(Reason("die_close.original", by=by))
    assert told == "Close the die: the pitch diameter must come down by 12 µm (± 3.0 µm) to that of the original."
    assert "0.00048 in" in sentence(Reason("die_close.original", by=by), inches=True)
    found = Reason("identity.found", size="4-40 NC", classes=("2", "3"))
    assert sentence(found) == "4-40 NC, class 2 or 3"
    assert sentence(found, language="de") == "4-40 NC, Klasse 2 oder 3"


def test_a_place_and_a_reason_within_a_reason() -> None:
    assert sentence(Reason("no_part").at(3)).startswith("part 3: No part in view.")
    assert sentence(Reason("no_part").at(3), language="de").startswith("Teil 3: Kein Teil im Bild.")
    assert sentence(Reason("no_part").at("a.png")).startswith("a.png: ")
    within = Reason("hand_not_read", name="lit.png", why=Reason("hand_unread.light"))
    assert "Light the part from another side" in sentence(within)
    assert "Beleuchten Sie das Teil" in sentence(within, language="de")


def test_a_stored_message_is_shown_as_it_stands() -> None:
    old = Reason.from_dict({"code": "few_threads", "message": "Only 4 threads in view: 6 or more are firmer."})
    assert sentence(old) == "Only 4 threads in view: 6 or more are firmer."
    assert sentence(old, language="de") == "Only 4 threads in view: 6 or more are firmer."
    gone = Reason.from_dict({"code": "of_another_version", "message": "Something else."})
    assert sentence(gone) == "Something else."


def test_it_comes_back_from_json_and_from_another_process() -> None:
    reason = Reason("no_part.thin", thin_px=3)
    document = plain(reason.to_dict(), sentence)
    assert document == {"code": "no_part", "message": sentence(reason), "case": "thin", "values": {"thin_px": 3}}
    assert Reason.from_dict(document) == reason
    error = pickle.loads(pickle.dumps(RefusalError("few_threads", threads=4)))
    assert (error.code, error.values) == ("few_threads", {"threads": 4})
    assert message(error) == "Only 4 threads in view. Show 6 or more for a smaller U95."
