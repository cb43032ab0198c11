"""Instruments, jobs and positions by what a person calls them: the name, or the number."""

from __future__ import annotations

import re
import sqlite3
from collections.abc import Iterable
from difflib import SequenceMatcher, get_close_matches

from records.connection import value
from threads.shared.refusal import RefusalError

_WORDS = {"instruments": "instrument", "jobs": "job", "positions": "position", "dies": "die or tap"}
_ALIKE = 0.7
"""Share of letters that two spellings of one word have in common; of a word of three letters only one more or less."""
_SHORT_WORD, _ALIKE_SHORT = 3, 0.85
_MOST_NEAR = 3


def instrument_called(connection: sqlite3.Connection, text: str) -> int | None:
    """The id of the instrument of this name (or number), None where there is none."""
    return _called(connection, "instruments", text)


def job_called(connection: sqlite3.Connection, text: str) -> int | None:
    """The id of the job of this name (or number), None where there is none."""
    return _called(connection, "jobs", text)


def position_called(connection: sqlite3.Connection, instrument: int, text: str) -> int | None:
    """The id of the position of this name on ``instrument``, None where there is none."""
    found = connection.execute(
        "SELECT id FROM positions WHERE instrument_id = ? AND name = ?", (instrument, text.strip())
    ).fetchone()
    return None if found is None else int(found[0])


def known_instrument(connection: sqlite3.Connection, text: str) -> int:
    """As ``instrument_called``. Raises RefusalError (no_such_name) where there is none."""
    found = instrument_called(connection, text)
    if found is None:
        raise _unknown(connection, "instruments", text)
    return found


def known_job(connection: sqlite3.Connection, text: str) -> int:
    """As ``job_called``. Raises RefusalError (no_such_name) where there is none."""
    found = job_called(connection, text)
    if found is None:
        raise _unknown(connection, "jobs", text)
    return found


def known_position(connection: sqlite3.Connection, instrument: int, text: str) -> int:
    """As ``position_called``. Raises RefusalError (no_such_name) where there is none."""
    found = position_called(connection, instrument, text)
    if found is None:
        raise _unknown(connection, "positions", text, instrument)
    return found


def die_called(connection: sqlite3.Connection, text: str) -> int | None:
    """The id of the die or tap of this name, None where there is none; one that was withdrawn counts, too."""
    found: int | None = value(connection, "SELECT id FROM dies WHERE name = ?", (text.strip(),))
    return found


def known_die(connection: sqlite3.Connection, text: str) -> int:
    """As ``die_called``. Raises RefusalError (no_such_name) where there is none."""
    found = die_called(connection, text)
    if found is None:
        raise _unknown(connection, "dies", text)
    return found


def known_part(connection: sqlite3.Connection, part: int) -> int:
    """``part``, which is on file. Raises RefusalError (no_part_on_file) where it is not."""
    if connection.execute("SELECT 1 FROM parts WHERE id = ?", (part,)).fetchone() is None:
        raise RefusalError("no_part_on_file", part=part)
    return part


def part_at(connection: sqlite3.Connection, position: int) -> int | None:
    """The part filed last at a position and not withdrawn, None where there is none."""
    query = "SELECT id FROM parts WHERE position_id = ? AND withdrawn = 0 ORDER BY id DESC"
    found: int | None = value(connection, query, (position,))
    return found


def instrument_of_part(connection: sqlite3.Connection, part: int) -> int | None:
    """The instrument that a part belongs to, None where it belongs to none."""
    found: int | None = value(connection, "SELECT instrument_id FROM parts WHERE id = ?", (part,))
    return found


def name_of(connection: sqlite3.Connection, column: str, key: object) -> str | None:
    """The name that a person knows for the number in a column such as ``instrument_id``; None for other columns."""
    table = column.removesuffix("_id") + "s"
    if table not in _WORDS:
        return None
    found: str | None = value(connection, f"SELECT name FROM {table} WHERE id = ?", (key,))
    return found


def check_name_free(connection: sqlite3.Connection, table: str, row: int, name: str) -> None:
    """Refuse to give ``row`` a name that another row has. Raises RefusalError (name_taken)."""
    same = "name = ? AND id <> ?"
    if table == "positions":
        same += " AND instrument_id = (SELECT instrument_id FROM positions WHERE id = ?)"
    if value(connection, f"SELECT 1 FROM {table} WHERE {same}", (name, row, row)[: same.count("?")]) is not None:
        raise RefusalError("name_taken", what=_WORDS[table], name=name)


def check_new_name(connection: sqlite3.Connection, table: str, text: str, *, instrument: int | None = None) -> None:
    """Refuse a new name that is a name on file but for a slip of the pen.

    Raises RefusalError (name_alike), which says how to insist.
    """
    near = near_names(_WORDS[table], text, _names(connection, table, instrument))
    if near:
        raise RefusalError("name_alike", what=_WORDS[table], name=text, twin=tuple(map(repr, near[:_MOST_NEAR])))


def near_names(kind: str, text: str, names: Iterable[str]) -> list[str]:
    """Those of ``names`` that a person who types ``text`` may have meant; ``kind``: instrument, job or position."""
    near = _names_one_instrument if kind == "instrument" else mistyped
    return [name for name in names if near(text, name)]


def _names_one_instrument(text: str, name: str) -> bool:
    """Whether two names may be of one instrument: mistyped, or with words or a year more or another year."""
    one, other = sorted((_without_years(text), _without_years(name)), key=len)
    within = bool(one) and all(any(_same_word(a, b) for b in other) for a in one)
    return within or mistyped(text, name)


def _without_years(text: str) -> list[str]:
    return [word for word in re.findall(r"\w+", text.casefold()) if not re.fullmatch(r"1[5-9]\d\d|20\d\d", word)]


def mistyped(text: str, name: str) -> bool:
    """Whether ``text`` is ``name`` but for a letter or two in its longer words; numbers and short words always count.

    >>> mistyped("marine sextnat", "marine sextant"), mistyped("arm 3", "arm 4"), mistyped("shade A", "shade B")
    (True, False, False)
    """
    one, other = (re.findall(r"\w+", words.casefold()) for words in (text, name))
    if len(one) != len(other):
        return "".join(one) == "".join(other) and bool(one)
    return all(_same_word(a, b) for a, b in zip(one, other, strict=True)) and bool(one)


def _same_word(one: str, other: str) -> bool:
    """Whether two words are the same but for a slip of the pen; numbers and single letters always count."""
    if one == other:
        return True
    shorter = min(len(one), len(other))
    least = _ALIKE if shorter > _SHORT_WORD else _ALIKE_SHORT
    return shorter >= _SHORT_WORD and (one + other).isalpha() and SequenceMatcher(None, one, other).ratio() >= least


def _called(connection: sqlite3.Connection, table: str, text: str) -> int | None:
    name = text.strip()
    found = connection.execute(f"SELECT id FROM {table} WHERE name = ?", (name,)).fetchone()
    if found is None and re.fullmatch(r"#?\d{1,15}", name, re.ASCII):
        number = int(name.lstrip("#"))
        found = connection.execute(f"SELECT id FROM {table} WHERE id = ?", (number,)).fetchone()
    return None if found is None else int(found[0])


def _names(connection: sqlite3.Connection, table: str, instrument: int | None) -> list[str]:
    where = "" if instrument is None else " WHERE instrument_id = ?"
    found = connection.execute(f"SELECT name FROM {table}{where}", () if instrument is None else (instrument,))
    return [str(name) for (name,) in found]


def _unknown(connection: sqlite3.Connection, table: str, text: str, instrument: int | None = None) -> RefusalError:
    names = _names(connection, table, instrument)
    near = get_close_matches(text, names, 3, 0.4) or sorted(names)[:3]
    if not near:
        return RefusalError("no_such_name.none", what=_WORDS[table], name=text)
    return RefusalError("no_such_name", what=_WORDS[table], name=text, nearest=tuple(near))
