"""Sentences that come from downstairs, in the language of the window where they are known in it."""

from __future__ import annotations

import re
from functools import cache, lru_cache

from PySide6.QtCore import QCoreApplication

from gui.reworded import for_window
from gui.translations.sentences import SENTENCES

_FILLED = re.compile(r"\{(\d+)\}")
_LEAST_LETTERS = 6
"""A pattern with fewer letters of its own would take any text for its own."""


@lru_cache(maxsize=2000)
def said(text: str) -> str:
    """``text``, a refusal, a warning or advice, in the window's words and the language in force.

    As it is where it is not known. ``gui.language.speak`` makes it forget.
    """
    if not text:
        return ""
    whole = _translated(for_window(text))
    if whole != text:
        return whole
    for pattern, pieces in _patterns():
        if not (text.startswith(pieces[0]) and text.endswith(pieces[-1])):
            continue  # most are told apart without an expression, each of which takes a while to be made
        found = _expression(pieces).fullmatch(text)
        if found is not None:
            told = _translated(for_window(pattern))
            if told == pattern:
                return text
            return _filled(told, [said(part) for part in found.groups()])
    return text


def _filled(pattern: str, parts: list[str]) -> str:
    return _FILLED.sub(lambda place: parts[int(place.group(1))], pattern)


def _translated(text: str) -> str:
    return QCoreApplication.translate("said", text)


@cache
def _expression(pieces: tuple[str, ...]) -> re.Pattern[str]:
    return re.compile("(.*?)".join(map(re.escape, pieces)), re.DOTALL)


@cache
def _patterns() -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Sentences with places to fill and their own pieces around those, the most text of their own first."""
    found: list[tuple[str, tuple[str, ...]]] = []
    for text in map(str, SENTENCES):
        pieces = tuple(_FILLED.split(text)[::2])
        if len(pieces) > 1 and sum(c.isalpha() for piece in pieces for c in piece) >= _LEAST_LETTERS:
            found.append((text, pieces))
    return tuple(sorted(found, key=lambda each: -sum(map(len, each[1]))))
