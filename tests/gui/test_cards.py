"""The model of the tray: whatever happens in whatever order, each card keeps what is its own."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace
from typing import Any, cast

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule

from gui.piece import Choices, Piece
from gui.register.filing import Entry, Filed
from gui.tray.cards import Facts, State, Whence, stamp_of
from gui.tray.tray import MOST_FILED, MOST_RESULTS, Tray
from threads.shared.quantity import Quantity
from threads.shared.refusal import Reason

REFUSED = (Reason("out_of_focus"),)
PICTURE = SimpleNamespace(light=SimpleNamespace(size=0))


def entry(position: str) -> Entry:
    return Entry("sextant", "overhaul", position, "")


def measured(path: str, choices: Choices = Choices()) -> Piece:  # noqa: B008
    """A piece with numbers of its own, as far as the tray looks at them."""
    return Piece(path, choices, picture=cast("Any", PICTURE), measurement=cast("Any", SimpleNamespace(of=path)))


def facts(path: str) -> Facts:
    return Facts(path, Quantity(1.0, 0.001, "mm"))


def refused(path: str) -> Piece:
    return Piece(path, Choices(), picture=cast("Any", PICTURE), reasons=REFUSED)


def a_tray(count: int) -> Tray:
    tray = Tray()
    for number in range(1, count + 1):
        tray = tray.with_arrived(Piece(f"{number}.png", Choices()), Whence.OPENED, None)
    return tray


def with_results(tray: Tray, *numbers: int) -> Tray:
    for number in numbers:
        tray = tray.begun(number, None).found(number, measured(f"{number}.png"), facts(f"{number}.png"))
    return tray


class Bench(RuleBasedStateMachine):
    """A person, a camera, a worker that measures and one that files, none of whom waits for the others."""

    def __init__(self) -> None:
        super().__init__()
        self.tray = Tray()
        self.arrived = 0
        self.wanted: dict[int, Entry] = {}
        self.order: list[int] = []
        self.on_file: dict[int, tuple[Entry, str]] = {}
        self.out: set[int] = set()
        self.pressed = 0

    @rule()
    def arrives(self) -> None:
        at = self.tray.highlighted
        self.arrived += 1
        self.tray = self.tray.with_arrived(Piece(f"{self.arrived}.png", Choices()), Whence.WATCHED, None)
        if at is not None and not at.settled:
            assert self.tray.at == at.number, "nothing that arrives moves the highlight off an unfiled card"

    @rule(choose=st.integers(1, 40))
    def person_chooses(self, choose: int) -> None:
        self.tray = self.tray.highlighting(choose)

    @rule()
    def enter(self) -> None:
        card = self.tray.highlighted
        if card is None or card.settled:
            return
        self.pressed += 1
        self.wanted[card.number] = entry(f"index arm {self.pressed}")
        self.order.append(card.number)
        self.tray = self.tray.give(card.number, self.wanted[card.number])

    @rule()
    def measuring_begins(self) -> None:
        card = self.tray.next_to_measure(bench=True)
        if card is not None:
            self.tray = self.tray.begun(card.number, None)

    @rule(bad=st.booleans())
    def measuring_ends(self, bad: bool) -> None:
        for card in self.tray.cards:
            if card.state is State.MEASURING:
                path = card.piece.path
                found = refused(path) if bad else measured(path, card.choices)
                self.tray = self.tray.found(card.number, found, None if bad else facts(path))

    @rule()
    def person_tells_of_it(self) -> None:
        card = self.tray.highlighted
        if card is not None:
            self.tray = self.tray.told(card.number, replace(card.choices, starts=(card.choices.starts or 1) + 1))

    @rule()
    def another_bench(self) -> None:
        self.tray = self.tray.by_another_bench()

    @rule(asks=st.booleans())
    def filing(self, asks: bool) -> None:
        card = self.tray.next_to_file()
        if card is None:
            return
        assert card.given is not None
        if asks or (card.state is State.REFUSED and not card.given.alone):
            self.tray = self.tray.asked(card.number)
            return
        before = self.order[: self.order.index(card.number)]
        given = [c.given for n in before if n not in self.on_file and (c := self.tray.card(n)) is not None]
        assert all(one.asked for one in given if one is not None), "the order is kept"
        numbers = "alone" if card.facts is None else card.facts.answer
        self.on_file[card.number] = (card.given.entry, numbers)
        self.tray = self.tray.is_filed(card.number, Filed(card.number, True, card.number, card.name))

    @rule(yes=st.booleans())
    def person_answers(self, yes: bool) -> None:
        card = next((c for c in self.tray.on_their_way if c.given is not None and c.given.asked), None)
        if card is None or card.given is None:
            return
        if yes:
            self.tray = self.tray.answered(card.number, card.given.entry, alone=True)
        else:
            self.tray = self.tray.declined(card.number)
            self.order.remove(card.number)

    @precondition(lambda self: self.tray.highlighted is not None and self.tray.highlighted.given is None)
    @rule()
    def person_takes_it_out(self) -> None:
        self.out.add(self.tray.at)
        self.tray = self.tray.without(self.tray.at)

    @invariant()
    def every_picture_is_somewhere(self) -> None:
        there = {card.number for card in self.tray.cards}
        assert there | set(self.on_file) | self.out == set(range(1, self.arrived + 1))
        assert len(there) == len(self.tray.cards)

    @invariant()
    def each_card_keeps_its_picture_and_its_numbers(self) -> None:
        for card in self.tray.cards:
            assert card.piece.path == f"{card.number}.png"
            assert card.piece.measurement is None or card.piece.measurement.of == card.piece.path  # type: ignore[attr-defined]

    @invariant()
    def what_was_filed_is_what_was_said(self) -> None:
        for number, (filed, numbers) in self.on_file.items():
            assert filed == self.wanted[number]
            assert numbers in ("alone", f"{number}.png")

    @invariant()
    def one_is_highlighted_and_one_measured(self) -> None:
        assert (self.tray.highlighted is not None) == bool(self.tray.cards)
        assert sum(card.state is State.MEASURING for card in self.tray.cards) <= 1


TestBench = Bench.TestCase
TestBench.settings = settings(max_examples=60, stateful_step_count=60, deadline=None)


def test_enter_goes_on_to_the_next_card_that_is_not_filed() -> None:
    tray = a_tray(3).give(1, entry("index arm 1"))
    assert tray.at == 2
    tray = tray.highlighting(3).give(3, entry("index arm 2"))
    assert tray.at == 2
    tray = tray.give(2, entry("index arm 3"))
    assert tray.at == 2  # there is no other: it stays until one arrives
    assert tray.with_arrived(Piece("4.png", Choices()), Whence.WATCHED, None).at == 4
    assert tray.promised("sextant", "overhaul") == {"index arm 1", "index arm 2", "index arm 3"}
    assert tray.promised("theodolite", "overhaul") == frozenset()


def test_what_is_to_be_filed_is_measured_first_and_then_what_one_looks_at() -> None:
    tray = a_tray(4).give(1, entry("index arm 1")).highlighting(3)
    seen = []
    while (card := tray.next_to_measure(bench=True)) is not None:
        seen.append(card.number)
        tray = with_results(tray, card.number)
    assert seen == [1, 3, 2, 4]


def test_what_is_said_while_a_card_is_measured_is_not_lost() -> None:
    tray = a_tray(1).begun(1, None)
    left = Choices(hand="left")
    tray = tray.told(1, left).found(1, measured("1.png"), facts("1.png"))
    card = tray.card(1)
    assert card is not None
    assert (card.state, card.stale, card.choices) == (State.WAITING, True, left)
    tray = tray.begun(1, None).found(1, measured("1.png", left), facts("1.png"))
    card = tray.card(1)
    assert card is not None
    assert (card.state, card.stale) == (State.READY, False)


def test_another_bench_measures_what_is_not_filed_and_nothing_else() -> None:
    tray = with_results(a_tray(4), 1, 2, 3).give(1, entry("index arm 1")).give(2, entry("index arm 2"))
    tray = tray.is_filed(1, Filed(1, True, 1, "one")).by_another_bench()
    assert [card.state for card in tray.cards] == [State.FILED, State.READY, State.WAITING, State.WAITING]
    gone = with_results(a_tray(2), 1).by_another_bench(bench=False)
    assert [card.measured for card in gone.cards] == [False, False]
    assert gone.next_to_measure(bench=False) is not None  # the second was not even read


def test_a_picture_that_was_refused_after_enter_is_asked_about_and_before_it_is_filed_alone() -> None:
    late = a_tray(1).give(1, entry("index arm 1")).begun(1, None).found(1, refused("1.png"), None)
    asked = late.next_to_file()
    assert asked is not None
    assert asked.given is not None
    assert not asked.given.alone
    known = a_tray(1).begun(1, None).found(1, refused("1.png"), None).give(1, entry("index arm 1")).next_to_file()
    assert known is not None
    assert known.given is not None
    assert known.given.alone


def test_only_what_is_near_keeps_its_results_and_all_keep_what_was_found() -> None:
    tray = with_results(a_tray(100), *range(1, 101))
    full = [card.number for card in tray.cards if card.piece.measurement is not None]
    assert full == list(range(1, MOST_RESULTS + 2))
    assert all(card.measured and card.state is State.READY for card in tray.cards)
    tray = tray.highlighting(90)
    far = tray.highlighted
    assert far is not None
    assert far.let_go
    tray = with_results(tray.again(90), 90)
    full = [card.number for card in tray.cards if card.piece.measurement is not None]
    assert full == [*range(2, MOST_RESULTS + 2), 90]


def test_old_cards_that_are_on_file_leave_the_tray() -> None:
    tray = with_results(a_tray(40), *range(1, 41))
    for number in range(1, 40):
        tray = tray.give(number, entry(f"index arm {number}")).is_filed(number, Filed(number, True, number, ""))
    assert [card.number for card in tray.cards] == list(range(40 - MOST_FILED, 41))


def test_a_filing_that_is_undone_leaves_a_card_that_knows_where_it_was_meant_to_go() -> None:
    tray = with_results(a_tray(1), 1).give(1, entry("index arm 1")).is_filed(1, Filed(7, True, 7, "screw"))
    card = tray.card(1)
    assert card is not None
    assert (card.state, card.piece.filed, card.unfiled) == (State.FILED, 7, False)
    card = tray.taken_back(1).card(1)
    assert card is not None
    assert (card.state, card.piece.filed, card.unfiled, card.meant) == (State.READY, None, True, entry("index arm 1"))


def test_cards_are_taken_out_and_put_back_in_their_place() -> None:
    tray = a_tray(3).highlighting(2)
    card = tray.highlighted
    assert card is not None
    without = tray.without(2)
    assert [c.number for c in without.cards] == [1, 3]
    assert without.at == 3
    assert [c.number for c in without.put_back(card, 1).cards] == [1, 2, 3]
    assert a_tray(1).without(1).at == 0


@pytest.mark.parametrize("step", [-5, -1, 0, 1, 5])
def test_the_highlight_stays_within_the_tray(step: int) -> None:
    assert a_tray(3).highlighting(2).moved(step).at == min(max(2 + step, 1), 3)


def test_another_content_has_another_stamp(tmp_path: Path) -> None:
    file = tmp_path / "shot.png"
    assert stamp_of(str(file)) is None
    file.write_bytes(b"one")
    before = stamp_of(str(file))
    file.write_bytes(b"other")
    assert before not in (None, stamp_of(str(file)))
    tray = a_tray(1).with_arrived(Piece(str(file), Choices()), Whence.WATCHED, before)
    assert tray.called(str(file), before) is not None
    assert tray.called(str(file), stamp_of(str(file))) is None
