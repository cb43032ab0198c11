"""A card of the tray: what it holds, what it is at, and which position it belongs to. Nothing of Qt.

It keeps its number for good, so that whatever ends later (a measurement, a filing, an answer) finds the card that it
belongs to, wherever the person has gone meanwhile.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING

from flankwise.bench import Bench
from gui.piece import Choices, Piece
from threads.identify.identity_words import short_words
from threads.shared.refusal import Reason

if TYPE_CHECKING:
    from gui.register.filing import Entry, Filed
    from threads.shared.quantity import Quantity
    from vision.shared.plane import PlaneMap

GIVEN_UP = "given_up"
"""Code of the reason why a card was not measured: the person pressed Cancel."""

Stamp = tuple[int, int]
"""Length and time of change of a file: another one means another content."""


class State(StrEnum):
    """What a card is at."""

    WAITING = "waiting"
    MEASURING = "measuring"
    READY = "ready"
    REFUSED = "refused"
    FILED = "filed"


class Whence(StrEnum):
    """How a picture came in. One from the register and one of the tour need not be filed."""

    OPENED = "opened"
    WATCHED = "watched"
    TAKEN = "taken"
    LEFT = "left"
    REGISTER = "register"
    SAMPLE = "sample"


@dataclass(frozen=True)
class Facts:
    """What stays of a measurement when its results are let go."""

    answer: Reason | None
    pitch_diameter: Quantity


@dataclass(frozen=True)
class Given:
    """The person pressed Enter: the card is to be filed as ``entry``.

    Attributes:
        turn: cards are filed in this order.
        alone: the picture is filed though it was not measured: that was known, or the person was asked.
        asked: the filing stopped, and the person has to say how it goes on.
    """

    entry: Entry
    turn: int
    alone: bool = False
    asked: bool = False


@dataclass(frozen=True, eq=False)
class Card:
    """One picture that arrived.

    Attributes:
        number: its own, from 1 in the order of arrival.
        piece: what was found in it, ``slim``, by the choices and the bench of that time.
        choices: what the person says of it now.
        bench: that which it was, or is being, measured by; None: there was none.
        state: see ``State``; FILED once ``piece.filed`` says so and nothing is being computed.
        stamp: of the file when it arrived; None where it was not there.
        stale: the results are those of before; new ones are being computed.
        given: set while the card is on its way into the register.
        meant: what it was filed as, or was to be filed as when the program ended.
        doubts: what its file says of the camera, read before it is measured: another one than that of the bench.
        record: of its filing; ``turn`` says in which order cards were filed.
    """

    number: int
    piece: Piece
    choices: Choices
    whence: Whence = Whence.OPENED
    state: State = State.WAITING
    bench: Bench | None = None
    stamp: Stamp | None = None
    facts: Facts | None = None
    stale: bool = False
    given: Given | None = None
    meant: Entry | None = None
    doubts: tuple[Reason, ...] = ()
    record: Filed | None = None
    turn: int = 0

    @property
    def name(self) -> str:
        """What it is called."""
        return self.choices.name or Path(self.piece.path).stem.replace("_", " ")

    @property
    def read(self) -> bool:
        """Whether its picture could be read."""
        return self.piece.picture is not None

    @property
    def measured(self) -> bool:
        return self.facts is not None

    @property
    def let_go(self) -> bool:
        """Whether it was measured and its results were let go since."""
        return self.facts is not None and self.piece.measurement is None

    @property
    def settled(self) -> bool:
        """Whether Enter has been pressed for it: it is on file or on its way."""
        return self.given is not None or self.piece.filed is not None

    @property
    def unfiled(self) -> bool:
        """Whether it would be lost if the program ended."""
        return self.piece.filed is None and self.whence not in (Whence.REGISTER, Whence.SAMPLE)


_MEASURED_BY = ("part", "hand", "starts", "pin_beside", "ends", "masks")


def same_measurement(one: Choices, other: Choices) -> bool:
    """Whether both lead to the same numbers."""
    return all(getattr(one, name) == getattr(other, name) for name in _MEASURED_BY)


def same_evidence(one: Choices, other: Choices) -> bool:
    """Whether both lead to the same identity, the numbers being the same."""
    return all(
        getattr(one, name) == getattr(other, name) for name in ("origin", "made", "series", "instrument", "stated")
    )


def stamp_of(path: str) -> Stamp | None:
    """The stamp of the file at ``path``; None where there is none."""
    try:
        state = Path(path).stat()
    except OSError:
        return None
    return state.st_size, state.st_mtime_ns


def facts_of(piece: Piece) -> Facts | None:
    """What stays of the measurement of ``piece``."""
    if piece.measurement is None:
        return None
    found = piece.identification
    return Facts(None if found is None else short_words(found), piece.measurement.thread.pitch_diameter)


def plane_for(card: Card, bench: Bench | None) -> PlaneMap | None:
    """What maps the pixels of the card: its own plane, or the current bench."""
    return card.piece.own_plane or (None if bench is None else bench.plane)
