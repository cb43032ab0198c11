"""Which die comes nearest, and what its screw would do."""

from __future__ import annotations

from dataclasses import replace

import pytest

from flankwise.cutting import dies_for
from flankwise.reasons import sentence
from tests.threads.hole.tried import screw_440
from threads.cutting.die_choice import DIE, TAP, KnownDie, MeasuredCut, nearest_dies, states_of
from threads.cutting.die_words import what_it_cuts, what_was_learnt
from threads.identify.screw_evidence import CommonErrors
from threads.measured.thread import MeasuredThread

ORIGINAL = MeasuredCut(screw_440(2.420))


def known(number: int, *sizes: float, kind: str = DIE, setting: str | None = None, **screw: float) -> KnownDie:
    cuts = tuple(MeasuredCut(screw_440(size, **screw), None, setting) for size in sizes)  # type: ignore[arg-type]
    return KnownDie(number, f"{kind} {number}", kind, "4-40", cuts)


def as_hole(thread: MeasuredThread) -> MeasuredThread:
    return replace(thread, internal=True)


def test_the_nearest_comes_first_and_what_cannot_be_compared_last() -> None:
    dies = [
        known(1),
        known(2, 2.390, 2.392),
        known(3, 2.421, 2.419),
        known(4, 2.42, pitch=0.7),
        known(5, 2.42, kind=TAP),
    ]
    found = nearest_dies(ORIGINAL, dies)
    assert [one.state.die.number for one in found] == [3, 2, 4, 1]
    assert [one.note.key for one in found] == [
        "die_note.keep",
        "die_note.open",
        "die_note.other_pitch",
        "die_note.none",
    ]
    assert found[0].difference is not None
    assert found[0].difference.value == pytest.approx(0.0, abs=5e-4)
    assert found[2].difference is None


def test_a_surer_die_goes_before_one_that_may_be_anywhere() -> None:
    sure, unsure = known(1, *[2.424] * 8), known(2, 2.422)
    assert [one.state.die.number for one in nearest_dies(ORIGINAL, [unsure, sure])] == [1, 2]


def test_in_a_hole_of_its_class_a_screw_enters_conforms_and_feels_alike() -> None:
    dies = [known(1, *[2.421] * 6), known(2, *[2.50] * 6), known(3, *[2.36] * 6)]
    answer = dies_for(ORIGINAL, dies, like="4-40 NC-2")
    alike, fat, thin = sorted(answer.choices, key=lambda one: one.state.die.number)
    assert alike.enters is not None
    assert alike.enters > 0.95
    assert alike.conforms is not None
    assert alike.feels is not None
    assert alike.conforms > 0.7
    assert alike.feels > 0.5
    assert fat.enters is not None
    assert fat.enters < 0.1
    assert thin.enters is not None
    assert thin.conforms is not None
    assert thin.enters > 0.99
    assert thin.conforms < 0.2
    document = answer.to_dict(12)
    assert document["schema"] == "flankwise/dies/1"
    assert document["part"] == 12
    first = document["dies"][0]
    assert {"die", "cut", "pitch_diameter", "difference", "enters", "note"} <= first.keys()
    assert first["cut"] == 6


def test_with_no_class_known_there_is_no_probability_to_enter() -> None:
    (found,) = nearest_dies(ORIGINAL, [known(1, 2.42)])
    assert (found.enters, found.conforms, found.feels) == (None, None, None)


def test_a_die_with_settings_says_how_far_to_turn() -> None:
    cuts = tuple(MeasuredCut(screw_440(2.35 + 0.2 * s), None, f"{s} turn") for s in (0.0, 0.2, 0.4, 0.1, 0.3))
    (found,) = nearest_dies(ORIGINAL, [KnownDie(1, "split die", DIE, None, cuts)])
    assert sentence(found.note).startswith("open it by 10 µm (about a ")
    state = states_of([KnownDie(1, "split die", DIE, None, cuts)])[0]
    learnt = " ".join(map(sentence, what_was_learnt(state)))
    assert "5 measured cuts" in learnt
    assert "a turn of its screw moves the pitch diameter by 200 µm" in learnt
    assert sentence(what_it_cuts(state)).startswith("cuts 2.41")


def test_a_tap_is_held_against_a_hole_by_the_holes_it_cut() -> None:
    common = CommonErrors("bench", 1e-4, 0.001)
    cast = MeasuredCut(as_hole(screw_440(2.450)), common)
    taps = [KnownDie(1, "tap", TAP, None, (MeasuredCut(as_hole(screw_440(2.470)), common),)), known(2, 2.42)]
    (found,) = dies_for(cast, taps, like="4-40 NC-2").choices
    assert found.note.key == "die_note.tap_wider"
    assert found.enters is not None
    assert found.enters > 0.99
