"""The words by which a part is found: its own, those of its place, its job, its notes and what it was identified as."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable

_WORDS = """
SELECT p.id, trim(
    'part ' || p.id
    || ifnull(' ' || p.name, '')
    || ifnull(' ' || i.name || ifnull(' ' || i.maker, '') || ifnull(' ' || i.model, '') || ifnull(' ' || i.serial, '')
              || ifnull(' ' || i.made_from, '') || ifnull(' ' || i.country, '') || ifnull(' ' || i.owner_note, ''), '')
    || ifnull(' ' || o.name, '')
    || ifnull(' ' || j.name || ifnull(' ' || j.about, ''), '')
    || ifnull(' ' || (SELECT group_concat(DISTINCT d.designation) FROM identifications d
                      JOIN measurements m ON m.id = d.measurement_id WHERE m.part_id = p.id AND m.withdrawn = 0), '')
    || ifnull(' ' || (SELECT group_concat(n.text, ' ') FROM (
                      SELECT text FROM notes WHERE part_id = p.id AND withdrawn = 0 ORDER BY id) n), '')
    || ifnull(' ' || (SELECT group_concat(r.words, ' ') FROM (
                      SELECT ifnull(die, '') || ' ' || ifnull(setting, '') || ' ' || ifnull(stock, '') || ' '
                             || ifnull(remark, '') AS words
                      FROM replacements WHERE part_id = p.id AND withdrawn = 0 ORDER BY id) r), '')
) AS words
FROM parts p
LEFT JOIN instruments i ON i.id = p.instrument_id
LEFT JOIN positions o ON o.id = p.position_id
LEFT JOIN jobs j ON j.id = p.job_id
"""
_ONE = f"{_WORDS} WHERE p.id = ?"


def refresh_words(connection: sqlite3.Connection, parts: Iterable[int]) -> None:
    """Write anew the searchable words of these parts. Raises sqlite3.Error."""
    for part in sorted(parts):
        connection.execute("DELETE FROM part_words WHERE rowid = ?", (part,))
        connection.execute(f"INSERT INTO part_words (rowid, words) {_ONE}", (part,))


def stale_words(connection: sqlite3.Connection) -> list[int]:
    """Ids of parts whose searchable words are not what their rows say."""
    found = connection.execute(
        f"SELECT e.id FROM ({_WORDS}) e LEFT JOIN part_words w ON w.rowid = e.id WHERE w.words IS NOT e.words "
        "UNION SELECT w.rowid FROM part_words w WHERE w.rowid NOT IN (SELECT id FROM parts)"
    )
    return [part for (part,) in found]


def match_query(text: str) -> str | None:
    """What a person typed as a query for ``part_words``: every word must occur, as the beginning of a word.

    None where there is no word in it. What stands together, such as 4-40, must stand together.
    """
    parts = [part for part in text.split() if any(sign.isalnum() for sign in part)]
    doubled = [part.replace('"', '""') for part in parts]
    return " ".join(f'"{part}"*' for part in doubled) or None
