"""Verdicts as a person sees them: the word, a shape, the colour last."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication
from PySide6.QtWidgets import QLabel

UNVERIFIED = "†"
"""Set behind everything that rests on a table from memory."""

_SHAPES = {"conforms": "●", "does_not_conform": "▲", "cannot_tell": "◌", "not_limited": "–"}
_LOOKS = {"conforms": "good", "does_not_conform": "bad", "cannot_tell": "open"}


def verdict_words(verdict: str) -> str:
    """The verdict in the current language."""
    words = {
        "conforms": QCoreApplication.translate("verdict", "conforms"),
        "does_not_conform": QCoreApplication.translate("verdict", "does not conform"),
        "cannot_tell": QCoreApplication.translate("verdict", "cannot tell"),
        "not_limited": QCoreApplication.translate("verdict", "no limit"),
    }
    return words.get(verdict, verdict)


def from_memory() -> str:
    """The footnote of the mark."""
    text = QCoreApplication.translate(
        "verdict", "{mark} limits or sizes from memory, not checked against the printed standard"
    )
    return text.format(mark=UNVERIFIED)


def show_verdict(label: QLabel, verdict: str, before: str = "") -> None:
    """Let ``label`` say ``verdict``."""
    label.setText(f"{_SHAPES.get(verdict, '')} {before}{verdict_words(verdict)}")
    label.setProperty("verdict", _LOOKS.get(verdict, ""))
    label.style().unpolish(label)
    label.style().polish(label)
