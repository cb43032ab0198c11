"""Text for the cells of a CSV file: one line each, and nothing that a spreadsheet would run as a formula."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Sequence

_STARTS_A_FORMULA = "=+\\-@\uff1d\uff0b\uff0d\uff20"
"""What makes a spreadsheet take a cell for a formula; the last four are the full-width forms of the first."""

_KEEPS_AS_TEXT = "'"
"""Before a cell it makes spreadsheets show what follows as it stands."""

_BEGINS = r"(?:^|(?<=[;|^~]))"
"""Where a cell can begin: commas are quoted, tabs and ends of lines written as codes; a colon stands in times."""
_RUNS = re.compile(rf"{_BEGINS}(?=[ ']*[{_STARTS_A_FORMULA}])")
_KEPT = re.compile(rf"{_BEGINS}'(?=[ ']*[{_STARTS_A_FORMULA}])")


def text_cell(text: str) -> str:
    r"""``text`` as one harmless line.

    What does not print, ends of lines above all, is written as its code; what a spreadsheet would run gets an
    apostrophe before it, and so does what already had one. That holds, too, behind a sign at which a spreadsheet with
    other settings would part the cell.

    >>> text_cell("=1+1"), text_cell("two\nlines"), text_cell("'=1"), text_cell("4-40"), text_cell("a;=1")
    ("'=1+1", 'two\\x0alines', "''=1", '4-40', "a;'=1")
    """
    written = "".join(c if c.isprintable() else _code(c) for c in text)
    return _RUNS.sub(_KEEPS_AS_TEXT, written)


def text_of_cell(cell: str) -> str:
    """The text that ``text_cell`` wrote as ``cell``, codes left as they are."""
    return _KEPT.sub("", cell)


def number_cell(number: float | None) -> str:
    """A number to nine significant digits; empty for None. Numbers may start with a minus: no spreadsheet runs them."""
    return "" if number is None else f"{number:.9g}"


def csv_line(cells: Sequence[str]) -> bytes:
    """A row as it stands in the file, UTF-8 with its end of line. Cells come from the functions above."""
    line = io.StringIO()
    csv.writer(line, lineterminator="\n").writerow(cells)
    return line.getvalue().encode()


def _code(character: str) -> str:
    code = ord(character)
    return f"\\x{code:02x}" if code < 0x100 else f"\\u{code:04x}" if code < 0x10000 else f"\\U{code:08x}"
