"""The workshop's dies and taps, and which of them cut a replacement."""

from __future__ import annotations

import sqlite3

_STATEMENTS = (
    """CREATE TABLE dies (
        id INTEGER PRIMARY KEY NOT NULL, uid TEXT NOT NULL UNIQUE, added TEXT NOT NULL, who TEXT NOT NULL,
        name TEXT NOT NULL COLLATE NOCASE CHECK (name <> ''),
        kind TEXT NOT NULL CHECK (kind IN ('die', 'tap')), cuts TEXT, remark TEXT,
        withdrawn INTEGER NOT NULL DEFAULT 0 CHECK (withdrawn IN (0, 1)))""",
    "CREATE UNIQUE INDEX dies_by_name ON dies (name)",
    # beside the words in ``die``, which may name one that is not on file
    "ALTER TABLE replacements ADD COLUMN cut_by_id INTEGER REFERENCES dies(id)",
    "CREATE INDEX replacements_by_die ON replacements (cut_by_id)",
    """CREATE TRIGGER dies_kept BEFORE DELETE ON dies
        BEGIN SELECT RAISE(ABORT, 'dies are never removed: withdraw the row'); END""",
)


def upgrade(connection: sqlite3.Connection) -> None:
    """From version 2 to 3."""
    for statement in _STATEMENTS:
        connection.execute(statement)
