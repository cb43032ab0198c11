"""Text on paper: every letter in a type that has it, embedded; a letter that no type has is shown as its code."""

from __future__ import annotations

import hashlib
import io
import unicodedata
from dataclasses import dataclass, field
from html import escape
from itertools import groupby
from pathlib import Path

from records.figures.type_files import code_points, dejavu, has_cubic_outlines, system_types
from records.report.outlines import as_truetype

REGULAR, BOLD = "Flankwise", "Flankwise-Bold"


@dataclass
class Types:
    """The types of one document.

    Attributes:
        letters: all code points of the document, as far as they are known before it is written.
        has: name of each registered type -> the code points that it can show.
        nowhere: code points that no type has.
    """

    letters: frozenset[int] = frozenset()
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
        for path in system_types():
            codes = code_points(path)
            if code not in codes:
                continue
            if has_cubic_outlines(path):  # what is taken out of it has these letters only
                codes &= self.letters | {code}
            name = f"{REGULAR}-{_mark_of(path, codes)}"  # a name means one type for as long as the program runs
            if _register(name, path, codes):
                self.has[name] = codes
                return name
        self.nowhere.add(code)
        return None


def load_types(text: str = "") -> Types:
    """Register the types that every document uses. ``text``: what will stand in this one, as far as it is known."""
    from reportlab.pdfbase.pdfmetrics import registerFontFamily

    types = Types(frozenset(map(ord, unicodedata.normalize("NFC", text))))
    for name, bold in ((BOLD, True), (REGULAR, False)):
        path = dejavu(bold=bold)
        types.has[name] = code_points(path)
        _register(name, path, types.has[name])
    registerFontFamily(REGULAR, normal=REGULAR, bold=BOLD, italic=REGULAR, boldItalic=BOLD)
    return types


def _mark_of(path: Path, codes: frozenset[int]) -> str:
    return hashlib.sha256(f"{path} {sorted(codes)}".encode()).hexdigest()[:10]


def _register(name: str, path: Path, codes: frozenset[int]) -> bool:
    from reportlab.pdfbase.pdfmetrics import registerFont
    from reportlab.pdfbase.ttfonts import TTFError, TTFont

    try:
        file = io.BytesIO(as_truetype(path, codes)) if has_cubic_outlines(path) else str(path)
        registerFont(TTFont(name, file))
    except (TTFError, OSError, ValueError, KeyError):  # one that may not be embedded, a damaged file
        return False
    return True
