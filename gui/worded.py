"""Reasons and words of the floors below, as the window shows them: in its language, with what to do in the window."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication

from flankwise import reasons
from flankwise.reasons import WINDOW
from threads.shared.refusal import Reason

if TYPE_CHECKING:
    from records.report.spoken import Spoken

LANGUAGE = "language"
"""The property of the application that holds the current language (``gui.language.speak``)."""


def worded(reason: Reason, *, inches: bool = False) -> str:
    """A refusal, a warning or advice in one line."""
    return reasons.sentence(reason, language=language(), place=WINDOW, inches=inches)


def worded_error(error: BaseException) -> str:
    """What an error says, all its reasons."""
    return reasons.message(error, language=language(), place=WINDOW)


def word_of(text: str) -> str:
    """A single word, such as a verdict, the kind of a section or the source of an uncertainty."""
    return reasons.word(text, language())


def spoken(*, inches: bool) -> Spoken:
    """How a paper speaks that is made from the window."""
    from records.report.spoken import Spoken

    return Spoken(language(), inches)


def language() -> str:
    """The language in force."""
    application = QCoreApplication.instance()
    return "en" if application is None else str(application.property(LANGUAGE) or "en")
