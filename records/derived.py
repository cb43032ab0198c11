"""What follows from the rows of a part and is kept beside them, so that lists and searches are quick.

Which measurement counts and what it was taken for (table ``current``); the words by which the part is found (table
``part_words``): its own, those of its place, its job, its notes, its replacements, what it was identified as, and, of
a hole, its thread and its trials.
"""

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
    || ifnull(' hole ' || (SELECT h.thread FROM holes h WHERE h.part_id = p.id), '')
    || ifnull(' ' || (SELECT group_concat(t.words, ' ') FROM (
                      SELECT ifnull(t.name, '') || ' ' || ifnull(t.remark, '') AS words
                      FROM trials t JOIN holes h ON h.id = t.hole_id
                      WHERE h.part_id = p.id AND t.withdrawn = 0 ORDER BY t.id) t), '')
) AS words
FROM parts p
LEFT JOIN instruments i ON i.id = p.instrument_id
LEFT JOIN positions o ON o.id = p.position_id
LEFT JOIN jobs j ON j.id = p.job_id
"""


_COUNTS = """
SELECT p.id,
    (SELECT id FROM measurements WHERE part_id = p.id AND withdrawn = 0 ORDER BY measured DESC, id DESC LIMIT 1)
        AS measurement_id
FROM parts p
"""
_CURRENT = f"""
SELECT c.id AS part_id, c.measurement_id,
    (SELECT id FROM identifications WHERE measurement_id = c.measurement_id ORDER BY added DESC, id DESC LIMIT 1)
        AS identification_id
FROM ({_COUNTS}) c
"""


def refresh(connection: sqlite3.Connection, parts: Iterable[int]) -> None:
    """Make anew what is derived of these parts, within the transaction that changes them. Raises sqlite3.Error."""
    for part in sorted(parts):
        connection.execute("DELETE FROM part_words WHERE rowid = ?", (part,))
        connection.execute(f"INSERT INTO part_words (rowid, words) {_WORDS} WHERE p.id = ?", (part,))
        connection.execute(f"INSERT OR REPLACE INTO current {_CURRENT} WHERE c.id = ?", (part,))


def stale(connection: sqlite3.Connection) -> list[int]:
    """Ids of parts of which something derived is not what their rows say."""
    found = connection.execute(
        f"SELECT e.id FROM ({_WORDS}) e LEFT JOIN part_words w ON w.rowid = e.id WHERE w.words IS NOT e.words "
        "UNION SELECT rowid FROM part_words WHERE rowid NOT IN (SELECT id FROM parts) "
        f"UNION SELECT e.part_id FROM ({_CURRENT}) e LEFT JOIN current c ON c.part_id = e.part_id "
        "WHERE (c.measurement_id, c.identification_id) IS NOT (e.measurement_id, e.identification_id)"
    )
    return [part for (part,) in found]


def match_query(text: str, *, typing: bool = False) -> str | None:
    """What a person typed as a query for ``part_words``: every word must occur, in any order, in any case.

    A word that ends in a letter may be the beginning of one; a number is that number, unless it is the last and the
    person is still ``typing``. What stands together, such as 4-40, must stand together. None where there is no word
    in it.

    >>> match_query("clarin 4-40")
    '"clarin"* "4-40"'
    >>> match_query("clarin 4-4", typing=True)
    '"clarin"* "4-4"*'
    """
    words = [word for word in text.replace("\0", " ").split() if any(sign.isalnum() for sign in word)]
    open_end = typing and not text[-1:].isspace()
    quoted = [
        '"' + word.replace('"', '""') + '"' + "*" * (not word[-1].isdigit() or (open_end and number == len(words)))
        for number, word in enumerate(words, 1)
    ]
    return " ".join(quoted) or None
