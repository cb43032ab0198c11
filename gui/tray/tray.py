"""The tray: its cards in the order of arrival, and what becomes of them. Nothing of Qt.

A tray is replaced as a whole; every call returns the next one.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from flankwise.bench import Bench
from gui.piece import Choices, Piece, slim, unknown
from gui.tray.cards import Card, Facts, Given, Stamp, State, Whence, same_evidence, same_measurement

if TYPE_CHECKING:
    from gui.register.filing import Entry, Filed
    from threads.shared.refusal import Reason

MOST_RESULTS = 24
"""So many cards beside the highlighted one keep their results, 1 MB each; the others are measured again on demand."""
MOST_FILED = 12
"""So many cards that are on file stay in the tray; the older ones are found in the register."""


@dataclass(frozen=True, eq=False)
class Tray:
    """All cards in the order of their arrival.

    ``at`` is the number of the highlighted card, 0 for none. It moves by itself in one case only: from a card that is
    settled to the next one that is not. ``made`` and ``turns`` count cards and pressings of Enter.
    """

    cards: tuple[Card, ...] = ()
    at: int = 0
    made: int = 0
    turns: int = 0

    def card(self, number: int) -> Card | None:
        """The card of that number, where it is still in the tray."""
        return next((card for card in self.cards if card.number == number), None)

    @property
    def highlighted(self) -> Card | None:
        return self.card(self.at)

    def called(self, path: str, stamp: Stamp | None = None) -> Card | None:
        """The newest card of this very file: same path, same content as far as its stamp says."""
        same = (c for c in reversed(self.cards) if c.piece.path == path and (stamp is None or c.stamp == stamp))
        return next(same, None)

    @property
    def unfiled(self) -> tuple[Card, ...]:
        """Those that would be lost if the program ended."""
        return tuple(card for card in self.cards if card.unfiled)

    @property
    def on_their_way(self) -> tuple[Card, ...]:
        """Those that are to be filed, in that order."""
        return tuple(sorted((c for c in self.cards if c.given is not None), key=_turn))

    @property
    def filed(self) -> tuple[Card, ...]:
        """Those that were filed from this tray, in that order."""
        return tuple(sorted((c for c in self.cards if c.record is not None), key=lambda c: c.turn))

    def promised(self, instrument: str, job: str) -> frozenset[str]:
        """The positions of the instrument that cards on their way will take."""
        entries = [card.given.entry for card in self.cards if card.given is not None]
        return frozenset(e.position for e in entries if (e.instrument, e.job) == (instrument, job) and e.position)

    # --- in and out

    def with_arrived(self, piece: Piece, whence: Whence, stamp: Stamp | None, **known: object) -> Tray:
        """One more card at the end. It is highlighted where the highlighted one is settled, or none is."""
        number = self.made + 1
        card = Card(number, piece, piece.choices, whence, stamp=stamp, **known)  # type: ignore[arg-type]
        at = self.highlighted
        return replace(
            self, cards=(*self.cards, card), made=number, at=number if at is None or at.settled else self.at
        ).trimmed()

    def without(self, number: int) -> Tray:
        """The card is taken out; the next one is highlighted where it was."""
        place = self._place(number)
        if place is None:
            return self
        left = self.cards[:place] + self.cards[place + 1 :]
        near = (left[place : place + 1] or left[-1:]) if number == self.at else ()
        return replace(self, cards=left, at=near[0].number if near else self.at if left else 0)

    def unmeasured(self) -> Tray:
        """As it is, for another window: what was being measured waits again."""
        waits = {State.MEASURING: State.WAITING}
        return replace(self, cards=tuple(replace(c, state=waits.get(c.state, c.state)) for c in self.cards))

    def put_back(self, card: Card, place: int) -> Tray:
        """A card that was taken out is back in its place, and highlighted."""
        return replace(self, cards=(*self.cards[:place], card, *self.cards[place:]), at=card.number)

    # --- the highlight

    def highlighting(self, number: int) -> Tray:
        """The person chose that card."""
        return self if self.card(number) is None or number == self.at else replace(self, at=number).trimmed()

    def moved(self, step: int) -> Tray:
        """The card ``step`` places further on, or the outermost."""
        place = self._place(self.at)
        if place is None:
            return self
        return self.highlighting(self.cards[min(max(place + step, 0), len(self.cards) - 1)].number)

    def gone_on(self) -> Tray:
        """From a settled card to the next one that is not, after it or else before it; if there is none it stays."""
        place, at = self._place(self.at), self.highlighted
        if place is None or at is None or not at.settled:
            return self
        following = (*self.cards[place + 1 :], *self.cards[:place])
        free = next((c for c in following if not c.settled and c.whence is not Whence.REGISTER), None)
        return self if free is None else self.highlighting(free.number)

    # --- measuring

    def next_to_measure(self, *, bench: bool) -> Card | None:
        """What is measured next: first what is to be filed, then the highlighted card, then in the order of arrival.

        ``bench``: there is one. Without one a picture is only read, once.
        """
        due = [c for c in self.cards if c.state is State.WAITING and (bench or c.piece.own_plane or not c.read)]
        if not due or any(c.state is State.MEASURING for c in self.cards):
            return None
        given = sorted((c for c in due if c.given is not None), key=_turn)
        return next(iter(given), None) or next((c for c in due if c.number == self.at), due[0])

    def begun(self, number: int, bench: Bench | None) -> Tray:
        """It is being measured by ``bench``."""
        return self._with(number, lambda c: replace(c, state=State.MEASURING, bench=bench))

    def doubted(self, number: int, doubts: tuple[Reason, ...]) -> Tray:
        """What is to be doubted of its picture, before anything was measured."""
        return self._with(number, lambda c: replace(c, doubts=doubts))

    def found(self, number: int, piece: Piece, facts: Facts | None) -> Tray:
        """What was found in the card's picture; what the person said meanwhile is still to be done."""

        def done(card: Card) -> Card:
            # the name, and what is on file since, are of the card and not of the measurement
            found = replace(slim(piece), filed=card.piece.filed, own_plane=card.piece.own_plane)
            if not same_measurement(card.choices, piece.choices) or not same_evidence(card.choices, piece.choices):
                return replace(card, piece=found, facts=facts, state=State.WAITING, stale=True)
            found = replace(found, choices=card.choices)
            waits = not piece.reasons and piece.measurement is None
            state = State.WAITING if waits else _at_rest(found)
            return replace(card, piece=found, facts=facts, state=state, stale=False)

        return self._with(number, done).trimmed()

    def stopped(self, number: int, why: Piece) -> Tray:
        """Its measurement was given up; ``why`` says so. It is measured when it is wanted again."""
        return self._with(number, lambda c: replace(c, piece=why, state=State.REFUSED, facts=None, stale=False))

    def told(self, number: int, choices: Choices) -> Tray:
        """The person says ``choices`` of the card: what follows from them is to be computed."""

        def tell(card: Card) -> Card:
            if same_measurement(choices, card.choices) and same_evidence(choices, card.choices):
                return replace(card, choices=choices, piece=replace(card.piece, choices=choices))
            if card.state is State.MEASURING:  # ``found`` sees that there is more to do
                return replace(card, choices=choices, stale=True)
            return replace(card, choices=choices, state=State.WAITING, stale=card.piece.measurement is not None)

        return self._with(number, tell)

    def again(self, number: int) -> Tray:
        """The card is to be measured once more."""
        return self._with(number, lambda c: replace(c, state=State.WAITING, stale=c.piece.measurement is not None))

    def by_another_bench(self, *, bench: bool = True) -> Tray:
        """Another bench is current, or none: what lies in the tray is measured by it.

        What was filed or is on its way keeps its numbers, except the filed card that the person looks at; so does what
        has a plane of its own.
        """

        def anew(card: Card) -> Card:
            looked_at = card.number == self.at and card.given is None
            keeps = card.settled and card.measured and not looked_at
            if keeps or card.piece.own_plane is not None:
                return card
            if not bench:
                return replace(card, piece=unknown(card.piece), facts=None, state=State.WAITING, stale=False)
            return replace(card, state=State.WAITING, stale=card.piece.measurement is not None)

        return replace(self, cards=tuple(anew(card) for card in self.cards))

    def held_to(self, bench: Bench) -> Tray:
        """What was measured by ``bench`` stays so measured, whichever is current later."""

        def held(card: Card) -> Card:
            by_it = card.bench is bench and card.measured
            return replace(card, piece=replace(card.piece, own_plane=bench.plane)) if by_it else card

        return replace(self, cards=tuple(held(card) for card in self.cards))

    # --- filing

    def give(self, number: int, entry: Entry, *, alone: bool = False) -> Tray:
        """Enter was pressed: the card is filed as ``entry`` in its turn, and the highlight goes on."""
        turn = self.turns + 1
        given = self._with(number, lambda c: replace(c, given=Given(entry, turn, alone or _alone(c))))
        return replace(given, turns=turn).gone_on()

    def next_to_file(self) -> Card | None:
        """The first card on its way about which nothing has to be asked; the order of pressing Enter is kept.

        None where there is none, or while it is being measured. One that was refused meanwhile comes too: ask.
        """
        first = next((card for card in self.on_their_way if card.given is not None and not card.given.asked), None)
        if first is None or first.given is None or first.stale or first.state is State.MEASURING:
            return None
        only_read = first.given.alone and first.read
        return None if first.state is State.WAITING and not only_read else first

    def asked(self, number: int) -> Tray:
        """The filing of the card stopped; the others go on."""
        return self._given(number, lambda given: replace(given, asked=True))

    def answered(self, number: int, entry: Entry, *, alone: bool = False) -> Tray:
        """The person said how the card is filed; its turn is as before."""
        return self._given(number, lambda g: replace(g, entry=entry, asked=False, alone=alone or g.alone))

    def declined(self, number: int) -> Tray:
        """The card is not filed after all: it lies in the tray as before."""
        return self._with(number, lambda c: replace(c, given=None))

    def is_filed(self, number: int, record: Filed) -> Tray:
        """The card is on file."""

        def filed(card: Card) -> Card:
            turn, meant = (card.turn, card.meant) if card.given is None else (card.given.turn, card.given.entry)
            piece = replace(card.piece, filed=record.part)
            state = _at_rest(piece) if card.state in (State.READY, State.REFUSED) else card.state
            return replace(card, piece=piece, state=state, given=None, record=record, turn=turn, meant=meant)

        return self._with(number, filed).trimmed()

    def taken_back(self, number: int) -> Tray:
        """The filing of the card was undone."""

        def back(card: Card) -> Card:
            piece = replace(card.piece, filed=None)
            state = card.state if card.state is not State.FILED else _at_rest(piece, measured=card.measured)
            return replace(card, piece=piece, state=state, record=None)

        return self._with(number, back)

    # --- memory

    def trimmed(self) -> Tray:
        """The tray without the results and the filed cards that are far from what the person looks at."""
        filed = sorted((c for c in self.cards if c.state is State.FILED and c.number != self.at), key=lambda c: c.turn)
        gone = {card.number for card in filed[: max(len(filed) - MOST_FILED, 0)]}
        cards = [card for card in self.cards if card.number not in gone]
        here = next((place for place, card in enumerate(cards) if card.number == self.at), len(cards))
        full = [place for place, card in enumerate(cards) if card.piece.measurement is not None]
        near = set(sorted(full, key=lambda place: abs(place - here))[: MOST_RESULTS + 1])
        kept = tuple(
            c if place in near or c.piece.measurement is None else replace(c, piece=unknown(c.piece))
            for place, c in enumerate(cards)
        )
        return replace(self, cards=kept)

    def _place(self, number: int) -> int | None:
        return next((place for place, card in enumerate(self.cards) if card.number == number), None)

    def _with(self, number: int, change: Callable[[Card], Card]) -> Tray:
        return replace(self, cards=tuple(change(card) if card.number == number else card for card in self.cards))

    def _given(self, number: int, change: Callable[[Given], Given]) -> Tray:
        return self._with(number, lambda c: c if c.given is None else replace(c, given=change(c.given)))


def at_hand(tray: Tray, most: int) -> Sequence[Piece]:
    """The measured pieces, the newest first."""
    return [card.piece for card in reversed(tray.cards) if card.piece.measurement is not None][:most]


def _at_rest(piece: Piece, *, measured: bool = False) -> State:
    if piece.filed is not None:
        return State.FILED
    return State.READY if measured or piece.measurement is not None else State.REFUSED


def _alone(card: Card) -> bool:
    """Whether everybody could see that there is no more than a picture: refused, or no bench."""
    return card.state is State.REFUSED or (card.state is State.WAITING and card.read and not card.measured)


def _turn(card: Card) -> int:
    return 0 if card.given is None else card.given.turn
