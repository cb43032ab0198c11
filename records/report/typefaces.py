"""Text on paper: every letter in a type that has it, embedded; a letter that no type has is shown as its code."""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass, field
from html import escape
from itertools import groupby
from pathlib import Path

from records.figures.type_files import code_points, dejavu, system_types

REGULAR, BOLD = "Flankwise", "Flankwise-Bold"


@dataclass
class Types:
    """The types of one document.

    Attributes:
        has: name of each registered type -> the code points that it can show.
        nowhere: code points that no type has.
    """

    has: dict[str, frozenset[int]] = field(default_factory=dict)
    nowhere: set[int] = field(default_factory=set)

    def markup(self, text: str) -> str:
        """``text`` for a paragraph: escaped, each run in a type that has its letters.

        Letters with accents of their own are put together first (Unicode NFC); what does not print and what no type
        has is shown as ``[U+65E5]``.
        """
        parts = []
        for name, run in groupby(unicodedata.normalize("NFC", text), self._type_of):
            letters = "".join(run)
            if name is None:
                parts += [f"[U+{ord(letter):04X}]" for letter in letters]
            elif name == BOLD:  # in the regular type too: the style of the paragraph decides
                parts.append(escape(letters))
            else:
                parts.append(f'<font name="{name}">{escape(letters)}</font>')
        return "".join(parts)

    def plain(self, text: str) -> str:
        """``text`` for a line that is drawn in the regular type alone."""
        shown = self.has[REGULAR]
        letters = unicodedata.normalize("NFC", text)
        return "".join(c if ord(c) in shown and c.isprintable() else f"[U+{ord(c):04X}]" for c in letters)

    def _type_of(self, letter: str) -> str | None:
        if letter == "\n":
            letter = " "
        code = ord(letter)
        if not letter.isprintable():
            return None
        for name, codes in self.has.items():  # bold first: it has the fewest
            if code in codes:
                return name
        return None if code in self.nowhere else self._searched(code)

    def _searched(self, code: int) -> str | None:
        """The name of a type of the system that has ``code``, registered from then on."""
        name = f"Flankwise-{len(self.has)}"
        for path in system_types():
            codes = code_points(path)
            if code in codes and _register(name, path):
                self.has[name] = codes
                return name
        self.nowhere.add(code)
        return None


def load_types() -> Types:
    """Register the types that every document uses."""
    from reportlab.pdfbase.pdfmetrics import registerFontFamily

    types = Types()
    for name, bold in ((BOLD, True), (REGULAR, False)):
        path = dejavu(bold=bold)
        _register(name, path)
        types.has[name] = code_points(path)
    registerFontFamily(REGULAR, normal=REGULAR, bold=BOLD, italic=REGULAR, boldItalic=BOLD)
    return types


def _register(name: str, path: Path) -> bool:
    from reportlab.pdfbase.pdfmetrics import registerFont
    from reportlab.pdfbase.ttfonts import TTFError, TTFont

    try:
        registerFont(TTFont(name, str(path)))
    except (TTFError, OSError, ValueError, KeyError):  # outlines that cannot be embedded, a damaged file
        return False
    return True
