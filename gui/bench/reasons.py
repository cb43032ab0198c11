"""Sentences from downstairs that speak of options of the command line, as the window puts them."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication

from calib.bench import DEFAULT_U95_MM
from gui.said import said
from threads.shared.refusal import Reason


def reason_words(reason: Reason) -> str:
    """``reason`` for a person at the bench."""
    assumed = QCoreApplication.translate(
        "reasons",
        "Nobody said how well a gauge is known; {um} µm (U95) was assumed. Type the figure of its certificate.",
    ).format(um=f"{1000 * DEFAULT_U95_MM:g}")
    own = {
        "pin_u95_assumed": assumed,
        "division_u95_assumed": assumed,
        "grid_u95_assumed": assumed,
        "light_cone_not_told": QCoreApplication.translate(
            "reasons",
            "Pins and flat gauge do not tell the cone of the light: it shows only where both are known to 0.2 µm or "
            "so. Give it under Light and lens if you know it.",
        ),
        "several_parts": QCoreApplication.translate(
            "reasons", "Several things are in view: leave one gauge on the light pad."
        ),
    }
    return own.get(reason.code) or said(reason.message)
