"""The table: for each code and case what is wrong and what to do, in English and German, and where the guide says more.

The files lie beside this module, one for each floor, named after it, and ``paper.csv`` with what only papers say.
``words.csv`` has the German of single words.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass, fields
from functools import cache
from pathlib import Path

COMMAND_LINE, WINDOW = "command line", "window"
ENGLISH, GERMAN = "en", "de"
FLOORS = ("threads", "vision", "calib", "records", "front")
PAPER = "paper"


@dataclass(frozen=True, slots=True)
class Row:
    """One row; texts have places to fill (``sentences``).

    Attributes:
        key: code, or code and case.
        wrong: what is the matter, in English.
        do: what to do at the command line; empty where nothing is to be done.
        do_in_window: what to do in the window, where that is something else.
        wrong_de, do_de: the same in German, as the window says it.
        guide: the page of the guide that explains it; for refusals and warnings only.
    """

    key: str
    wrong: str
    do: str
    do_in_window: str
    wrong_de: str
    do_de: str
    guide: str

    def texts(self, language: str, place: str) -> tuple[str, str]:
        """What is the matter, and what to do."""
        if language == GERMAN:
            return self.wrong_de, self.do_de
        return self.wrong, (self.do_in_window or self.do) if place == WINDOW else self.do


@cache
def rows() -> dict[str, Row]:
    """All rows by their key."""
    return {row.key: row for name in (*FLOORS, PAPER) for row in rows_of(name)}


def rows_of(table: str) -> list[Row]:
    """The rows of one floor, or of ``PAPER``, in their order."""
    names = tuple(field.name for field in fields(Row))
    return [Row(**{name: line[name] for name in names}) for line in _lines(table)]


@cache
def german_words() -> dict[str, str]:
    """Single words by their English."""
    return {line["word"]: line["german"] for line in _lines("words")}


def _lines(name: str) -> list[dict[str, str]]:
    with Path(__file__).with_name(f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))
