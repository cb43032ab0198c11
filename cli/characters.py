"""Which characters reach a screen: none that steers it, and none that its encoding does not have."""

from __future__ import annotations

import codecs
import sys
import unicodedata

ERRORS = "flankwise"
"""The name of this module's error handler for encoding, for ``TextIOWrapper.reconfigure``."""

INSTEAD = {
    "±": "+/-", "µ": "u", "μ": "u", "°": "deg", "†": "(m)", "×": "x", "²": "^2", "─": "-", "█": "#", "░": ".",
    "–": "-", "—": "-", "…": "...", "→": "->", "≤": "<=", "≥": ">=", "‘": "'", "’": "'", "“": '"', "”": '"',
    "α": "alpha", "λ": "lambda", "φ": "phi", "σ": "sigma",
}  # fmt: skip
"""What is written for a sign that stdout's encoding lacks; letters lose their accents, the rest becomes "?"."""

JOINERS = "\u200c\u200d"
"""Zero-width joiners: without width, but Persian and several Indian scripts cannot be spelled without them."""


def harmless(text: str) -> str:
    r"""``text`` in one line that does nothing to a terminal: what would steer it or turn the reading order is spelled.

    >>> harmless("screw\x1b[2J.png")
    'screw\\x1b[2J.png'
    """
    return text if text.isprintable() else "".join(map(_harmless, text))


def writable(text: str) -> str:
    """``text`` with the signs that stdout's encoding lacks replaced."""
    encoding = sys.stdout.encoding or "ascii"
    return text.encode(encoding, ERRORS).decode(encoding)


def columns_of(text: str) -> int:
    """How many columns of a terminal ``text`` takes: two for a wide East Asian character, none for an accent."""
    return len(text) if text.isascii() else sum(map(_columns, text))


def is_wide(character: str) -> bool:
    """Whether ``character`` takes two columns; between such characters a line may be broken."""
    return unicodedata.east_asian_width(character) in {"W", "F"}


def _columns(character: str) -> int:
    if unicodedata.category(character) in {"Mn", "Me", "Cf"}:
        return 0
    return 2 if is_wide(character) else 1


def _harmless(character: str) -> str:
    if character.isprintable() or character in JOINERS:
        return character
    if unicodedata.category(character) == "Zs" or character == "\t":
        return " "
    return character.encode("unicode_escape").decode("ascii")


def _instead(error: UnicodeError) -> tuple[str, int]:
    if not isinstance(error, UnicodeEncodeError):
        raise error
    return "".join(map(_one_instead, error.object[error.start : error.end])), error.end


def _one_instead(character: str) -> str:
    plain = unicodedata.normalize("NFKD", character).encode("ascii", "ignore").decode("ascii")
    return INSTEAD.get(character) or plain or "?"


codecs.register_error(ERRORS, _instead)
