"""Reads the CSV files that spreadsheets write: whatever separator, decimal sign, encoding and line ends they chose."""

from __future__ import annotations

import codecs
import csv
import io
import re
from dataclasses import dataclass

from threads.shared.refusal import ReasonedError

SEPARATORS = ";\t,"
"""Looked for in this order; of several in the first line the most frequent one separates."""

MOST_BYTES = 1_000_000

_NUMBER = re.compile(r"\d{1,12}(?:[.,]\d{0,12})?|[.,]\d{1,12}", re.ASCII)


class SpreadsheetError(ReasonedError, ValueError):
    """A file that is not a table of text. The message is one line without the name of the file."""


@dataclass(frozen=True)
class Sheet:
    """A table as read.

    Attributes:
        head: the cells of the first row that is not empty, without the spaces around them.
        rows: (row number, cells) of each further row that is not empty; the numbers are those of the lines in the file.
        separator: between the cells. A comma in a number is a decimal sign unless it separates.
    """

    head: tuple[str, ...]
    rows: tuple[tuple[int, tuple[str, ...]], ...]
    separator: str


def read_sheet(content: bytes) -> Sheet:
    """Read a CSV file: UTF-8 with or without byte order mark, UTF-16 with one, else Windows-1252.

    A first line ``sep=;`` is heeded, an empty one skipped. Raises SpreadsheetError.
    """
    if len(content) > MOST_BYTES:
        raise SpreadsheetError("spreadsheet.large", megabytes=MOST_BYTES / 1e6)
    text = _decoded(content)
    if "\0" in text:
        raise SpreadsheetError("spreadsheet.not_text")
    declared = re.match(r"sep=(.)\r?\n", text)
    separator = declared[1] if declared else _separator_of(text)
    skipped = 1 if declared else 0
    reader = csv.reader(
        io.StringIO(text[declared.end() :] if declared else text, newline=""), delimiter=separator, strict=True
    )
    numbered: list[tuple[int, tuple[str, ...]]] = []
    line = 1 + skipped
    try:
        for cells in reader:
            stripped = tuple(cell.strip() for cell in cells)
            if any(stripped):
                numbered.append((line, stripped))
            line = reader.line_num + 1 + skipped
    except csv.Error as error:
        raise SpreadsheetError("spreadsheet.row", row=line, why=str(error)) from error
    if not numbered:
        raise SpreadsheetError("spreadsheet.empty")
    return Sheet(numbered[0][1], tuple(numbered[1:]), separator)


def number_of(cell: str, separator: str) -> float | None:
    """The number in a cell, None if it is none. A decimal comma is read where commas do not separate.

    >>> number_of("0,45", ";"), number_of("0.45", ";"), number_of("0,45", ","), number_of("1e3", ",")
    (0.45, 0.45, None, None)
    """
    if _NUMBER.fullmatch(cell) is None or ("," in cell and separator == ","):
        return None
    return float(cell.replace(",", "."))


def _decoded(content: bytes) -> str:
    if content.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        encodings = ["utf-16"]
    else:
        encodings = ["utf-8-sig", "cp1252"]
    for encoding in encodings:
        try:
            return content.decode(encoding)
        except UnicodeDecodeError:
            continue
    raise SpreadsheetError("spreadsheet.not_text")


def _separator_of(text: str) -> str:
    first = next((line for line in text.splitlines() if line.strip(f'{SEPARATORS} "')), "")
    return max(SEPARATORS, key=first.count) if any(sign in first for sign in SEPARATORS) else ","
