"""For paper: where positions lie in pictures of the whole instrument, owners of jobs, and the workshop's letterhead."""

from __future__ import annotations

import sqlite3

_STATEMENTS = (
    # ``across`` and ``down``: shares of the picture's width and height, from its upper left corner
    """CREATE TABLE map_marks (
        id INTEGER PRIMARY KEY NOT NULL, uid TEXT NOT NULL UNIQUE, added TEXT NOT NULL, who TEXT NOT NULL,
        position_id INTEGER NOT NULL REFERENCES positions(id),
        picture_id INTEGER NOT NULL REFERENCES pictures(id),
        across FLOAT NOT NULL CHECK (across BETWEEN 0 AND 1), down FLOAT NOT NULL CHECK (down BETWEEN 0 AND 1),
        withdrawn INTEGER NOT NULL DEFAULT 0 CHECK (withdrawn IN (0, 1)))""",
    "CREATE INDEX map_marks_by_position ON map_marks (position_id)",
    "CREATE INDEX map_marks_by_picture ON map_marks (picture_id)",
    """CREATE TRIGGER map_marks_kept BEFORE DELETE ON map_marks
        BEGIN SELECT RAISE(ABORT, 'map_marks are never removed: withdraw the row'); END""",
    "ALTER TABLE jobs ADD COLUMN owner TEXT",
    # of the workshop, not of its parts: they go into a backup, and into no export
    "CREATE TABLE settings (name TEXT PRIMARY KEY NOT NULL, text TEXT NOT NULL) WITHOUT ROWID",
)


def upgrade(connection: sqlite3.Connection) -> None:
    """From version 4 to 5."""
    for statement in _STATEMENTS:
        connection.execute(statement)
