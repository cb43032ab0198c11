"""Tapped holes, each a part of its own, and the screws that were tried in them."""

from __future__ import annotations

import sqlite3

_SIGNED = "uid TEXT NOT NULL UNIQUE, added TEXT NOT NULL, who TEXT NOT NULL"
_TABLES = (
    f"""CREATE TABLE holes (
        id INTEGER PRIMARY KEY NOT NULL, {_SIGNED},
        part_id INTEGER NOT NULL UNIQUE REFERENCES parts(id),
        thread TEXT NOT NULL CHECK (thread <> ''),
        engagement FLOAT NOT NULL CHECK (engagement > 0), depth FLOAT)""",
    # a screw is on file as a part, or its measurement (the object of ``measure --json``) is kept with the trial
    f"""CREATE TABLE trials (
        id INTEGER PRIMARY KEY NOT NULL, {_SIGNED},
        hole_id INTEGER NOT NULL REFERENCES holes(id),
        screw_id INTEGER REFERENCES parts(id), name TEXT, document TEXT,
        tried TEXT NOT NULL,
        outcome TEXT NOT NULL CHECK (outcome IN ('went_in', 'stopped', 'moved')),
        turns FLOAT, movement FLOAT, movement_u95 FLOAT, overhang FLOAT, remark TEXT,
        withdrawn INTEGER NOT NULL DEFAULT 0 CHECK (withdrawn IN (0, 1)),
        CHECK ((screw_id IS NULL) <> (document IS NULL)),
        CHECK ((outcome = 'moved') = (movement IS NOT NULL)
               AND (movement IS NULL) = (overhang IS NULL) AND (movement IS NULL) = (movement_u95 IS NULL)))""",
)
_INDEXES = (
    "CREATE INDEX trials_by_hole ON trials (hole_id)",
    "CREATE INDEX trials_by_screw ON trials (screw_id)",
)
# a trial that was written down wrong is withdrawn
_TRIED_FOR_GOOD = (
    "id, uid, added, who, hole_id, screw_id, name, document, tried, outcome, turns, movement, movement_u95, overhang"
)


def upgrade(connection: sqlite3.Connection) -> None:
    """From version 1 to 2."""
    for statement in (*_TABLES, *_INDEXES):
        connection.execute(statement)
    for table in ("holes", "trials"):
        connection.execute(
            f"CREATE TRIGGER {table}_kept BEFORE DELETE ON {table} "
            f"BEGIN SELECT RAISE(ABORT, '{table} are never removed: withdraw the row'); END"
        )
    connection.execute(
        f"CREATE TRIGGER trials_stay BEFORE UPDATE OF {_TRIED_FOR_GOOD} ON trials "
        "BEGIN SELECT RAISE(ABORT, 'trials are never changed: add a new row'); END"
    )
