"""What is said of a card."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication

from gui.tray.cards import Card, State
from gui.worded import worded
from threads.shared.formatting import write_quantity


def state_words(card: Card) -> str:
    """The state in a word or two; what is on file, or on its way there, is called by its position."""
    position = card.given.entry.position if card.given is not None else card.meant.position if card.meant else ""
    if card.given is not None:
        return position or QCoreApplication.translate("tray", "on its way")
    if card.piece.filed is not None and card.state is State.FILED:
        return position or QCoreApplication.translate("tray", "on file")
    if card.state is State.WAITING and card.read and not card.stale:
        return QCoreApplication.translate("tray", "no calibration")
    return {
        State.WAITING: QCoreApplication.translate("tray", "waiting"),
        State.MEASURING: QCoreApplication.translate("tray", "measuring"),
        State.READY: QCoreApplication.translate("tray", "ready"),
        State.REFUSED: QCoreApplication.translate("tray", "refused"),
        State.FILED: QCoreApplication.translate("tray", "on file"),
    }[card.state]


def step_words(card: Card) -> str:
    """What is being done with it, or was: for the tip and for who hears the card instead of seeing it."""
    if card.given is not None and card.given.asked:
        return QCoreApplication.translate("tray", "is asked about")
    if card.given is not None:
        return QCoreApplication.translate("tray", "on its way")
    if card.piece.filed is not None:
        return QCoreApplication.translate("tray", "on file: part {number}").format(number=card.piece.filed)
    return ""


def sign_of(card: Card) -> str:
    """A sign of the state beside its word: colour is never the only one."""
    if card.given is not None:
        return "?" if card.given.asked else "→"
    signs = {State.WAITING: "·", State.MEASURING: "…", State.READY: "✓", State.REFUSED: "✗", State.FILED: "■"}
    return signs[card.state]


def facts_words(card: Card, *, inches: bool) -> str:
    """What was found, as short as a card is: the pitch diameter, or why there is none."""
    if card.facts is not None:
        written = write_quantity(card.facts.pitch_diameter, inches=inches)
        return "" if written is None else f"{written.value} {written.unit}"
    if card.piece.reasons:
        return worded(card.piece.reasons[0])
    return QCoreApplication.translate("tray", "another camera") if card.doubts else ""
