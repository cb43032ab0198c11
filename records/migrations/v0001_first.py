"""The first register."""

from __future__ import annotations

import sqlite3

_SIGNED = "uid TEXT NOT NULL UNIQUE, added TEXT NOT NULL, who TEXT NOT NULL"
_WITHDRAWN = "withdrawn INTEGER NOT NULL DEFAULT 0 CHECK (withdrawn IN (0, 1))"

_TABLES = (
    f"""CREATE TABLE instruments (
        id INTEGER PRIMARY KEY NOT NULL, {_SIGNED},
        name TEXT NOT NULL COLLATE NOCASE CHECK (name <> ''),
        maker TEXT, model TEXT, serial TEXT,
        made_from INTEGER, made_to INTEGER, country TEXT, owner_note TEXT,
        CHECK ((made_from IS NULL) = (made_to IS NULL) AND (made_from IS NULL OR made_from <= made_to)))""",
    f"""CREATE TABLE jobs (
        id INTEGER PRIMARY KEY NOT NULL, {_SIGNED},
        name TEXT NOT NULL COLLATE NOCASE CHECK (name <> ''),
        instrument_id INTEGER REFERENCES instruments(id), about TEXT)""",
    f"""CREATE TABLE positions (
        id INTEGER PRIMARY KEY NOT NULL, {_SIGNED},
        instrument_id INTEGER NOT NULL REFERENCES instruments(id),
        name TEXT NOT NULL COLLATE NOCASE CHECK (name <> ''), place INTEGER NOT NULL)""",
    f"""CREATE TABLE parts (
        id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL, {_SIGNED},
        name TEXT,
        instrument_id INTEGER REFERENCES instruments(id),
        position_id INTEGER REFERENCES positions(id),
        job_id INTEGER REFERENCES jobs(id), {_WITHDRAWN})""",
    f"""CREATE TABLE pictures (
        id INTEGER PRIMARY KEY NOT NULL, {_SIGNED},
        sha256 TEXT NOT NULL UNIQUE CHECK (length(sha256) = 64),
        suffix TEXT NOT NULL, file_name TEXT NOT NULL,
        bytes INTEGER NOT NULL, width_px INTEGER NOT NULL, height_px INTEGER NOT NULL)""",
    f"""CREATE TABLE part_pictures (
        id INTEGER PRIMARY KEY NOT NULL, {_SIGNED},
        part_id INTEGER NOT NULL REFERENCES parts(id),
        picture_id INTEGER NOT NULL REFERENCES pictures(id), shows TEXT)""",
    f"""CREATE TABLE calibrations (
        id INTEGER PRIMARY KEY NOT NULL, {_SIGNED},
        calibration TEXT NOT NULL, sha256 TEXT NOT NULL UNIQUE, document TEXT NOT NULL)""",
    f"""CREATE TABLE measurements (
        id INTEGER PRIMARY KEY NOT NULL, {_SIGNED},
        part_id INTEGER NOT NULL REFERENCES parts(id),
        picture_id INTEGER REFERENCES pictures(id),
        calibration_id INTEGER REFERENCES calibrations(id),
        measured TEXT NOT NULL, version TEXT NOT NULL, internal INTEGER NOT NULL DEFAULT 0,
        pitch FLOAT, pitch_u95 FLOAT,
        major_diameter FLOAT, major_diameter_u95 FLOAT,
        pitch_diameter FLOAT, pitch_diameter_u95 FLOAT,
        minor_diameter FLOAT, minor_diameter_u95 FLOAT,
        virtual_pitch_diameter FLOAT, virtual_pitch_diameter_u95 FLOAT,
        flank_angle_left FLOAT, flank_angle_left_u95 FLOAT,
        flank_angle_right FLOAT, flank_angle_right_u95 FLOAT,
        included_angle FLOAT, included_angle_u95 FLOAT,
        covariance BLOB, {_WITHDRAWN})""",
    """CREATE TABLE measurement_documents (
        measurement_id INTEGER PRIMARY KEY NOT NULL REFERENCES measurements(id), document TEXT NOT NULL)""",
    f"""CREATE TABLE identifications (
        id INTEGER PRIMARY KEY NOT NULL, {_SIGNED},
        measurement_id INTEGER NOT NULL REFERENCES measurements(id),
        status TEXT NOT NULL, says TEXT NOT NULL,
        designation TEXT, series TEXT, size TEXT, thread_class TEXT, probability FLOAT,
        document TEXT NOT NULL)""",
    f"""CREATE TABLE checks (
        id INTEGER PRIMARY KEY NOT NULL, {_SIGNED},
        measurement_id INTEGER NOT NULL REFERENCES measurements(id),
        against TEXT NOT NULL, verdict TEXT NOT NULL, document TEXT NOT NULL)""",
    f"""CREATE TABLE replacements (
        id INTEGER PRIMARY KEY NOT NULL, {_SIGNED},
        part_id INTEGER NOT NULL REFERENCES parts(id),
        made_part_id INTEGER REFERENCES parts(id),
        made TEXT NOT NULL, die TEXT, setting TEXT, stock TEXT, remark TEXT, {_WITHDRAWN})""",
    f"""CREATE TABLE notes (
        id INTEGER PRIMARY KEY NOT NULL, {_SIGNED},
        part_id INTEGER REFERENCES parts(id),
        instrument_id INTEGER REFERENCES instruments(id),
        job_id INTEGER REFERENCES jobs(id),
        text TEXT NOT NULL, {_WITHDRAWN},
        CHECK ((part_id IS NOT NULL) + (instrument_id IS NOT NULL) + (job_id IS NOT NULL) = 1))""",
    f"""CREATE TABLE corrections (
        id INTEGER PRIMARY KEY NOT NULL, {_SIGNED},
        table_name TEXT NOT NULL, row_uid TEXT NOT NULL, column_name TEXT NOT NULL,
        before TEXT, after TEXT, why TEXT)""",
    # what follows from other rows, kept for quick lists: which measurement of a part counts, and what it was taken for
    """CREATE TABLE current (
        part_id INTEGER PRIMARY KEY NOT NULL REFERENCES parts(id),
        measurement_id INTEGER REFERENCES measurements(id),
        identification_id INTEGER REFERENCES identifications(id))""",
    # what a person can search by word: one row a part, its rowid the id of the part
    "CREATE VIRTUAL TABLE part_words USING fts5(words, tokenize = 'unicode61 remove_diacritics 2', prefix = '2 3')",
)

_INDEXES = (
    "CREATE UNIQUE INDEX instruments_by_name ON instruments (name)",
    "CREATE INDEX instruments_by_year ON instruments (made_to)",
    "CREATE UNIQUE INDEX jobs_by_name ON jobs (name)",
    "CREATE INDEX jobs_by_instrument ON jobs (instrument_id)",
    "CREATE UNIQUE INDEX positions_by_name ON positions (instrument_id, name)",
    "CREATE INDEX parts_by_instrument ON parts (instrument_id, position_id)",
    "CREATE INDEX parts_by_position ON parts (position_id)",
    "CREATE INDEX parts_by_job ON parts (job_id)",
    "CREATE UNIQUE INDEX part_pictures_by_part ON part_pictures (part_id, picture_id)",
    "CREATE INDEX part_pictures_by_picture ON part_pictures (picture_id)",
    "CREATE INDEX measurements_by_part ON measurements (part_id, withdrawn, measured, id)",
    "CREATE INDEX measurements_by_picture ON measurements (picture_id)",
    "CREATE INDEX measurements_by_calibration ON measurements (calibration_id)",
    "CREATE INDEX measurements_by_pitch ON measurements (pitch, pitch_diameter)",
    "CREATE INDEX measurements_by_pitch_diameter ON measurements (pitch_diameter)",
    "CREATE INDEX measurements_by_major_diameter ON measurements (major_diameter)",
    "CREATE INDEX current_by_measurement ON current (measurement_id)",
    "CREATE INDEX current_by_identification ON current (identification_id)",
    "CREATE INDEX identifications_by_measurement ON identifications (measurement_id)",
    "CREATE INDEX identifications_by_designation ON identifications (designation)",
    "CREATE INDEX checks_by_measurement ON checks (measurement_id)",
    "CREATE INDEX replacements_by_part ON replacements (part_id)",
    "CREATE INDEX replacements_by_made_part ON replacements (made_part_id)",
    "CREATE INDEX notes_by_part ON notes (part_id)",
    "CREATE INDEX notes_by_instrument ON notes (instrument_id)",
    "CREATE INDEX notes_by_job ON notes (job_id)",
    "CREATE INDEX corrections_by_row ON corrections (row_uid)",
)

_MEASURED_FOR_GOOD = (
    "id, uid, added, who, part_id, picture_id, calibration_id, measured, version, internal, "
    "pitch, pitch_u95, major_diameter, major_diameter_u95, pitch_diameter, pitch_diameter_u95, minor_diameter, "
    "minor_diameter_u95, virtual_pitch_diameter, virtual_pitch_diameter_u95, flank_angle_left, flank_angle_left_u95, "
    "flank_angle_right, flank_angle_right_u95, included_angle, included_angle_u95, covariance"
)  # all but ``withdrawn``

_NEVER_CHANGED = (
    "pictures", "part_pictures", "calibrations", "measurement_documents", "identifications", "checks", "corrections",
)  # fmt: skip
_NEVER_REMOVED = (*_NEVER_CHANGED, "instruments", "jobs", "positions", "parts", "measurements", "replacements", "notes")


def upgrade(connection: sqlite3.Connection) -> None:
    """From an empty file to version 1."""
    for statement in (*_TABLES, *_INDEXES):
        connection.execute(statement)
    for table in _NEVER_CHANGED:
        connection.execute(
            f"CREATE TRIGGER {table}_stay BEFORE UPDATE ON {table} "
            f"BEGIN SELECT RAISE(ABORT, '{table} are never changed: add a new row'); END"
        )
    for table in _NEVER_REMOVED:
        connection.execute(
            f"CREATE TRIGGER {table}_kept BEFORE DELETE ON {table} "
            f"BEGIN SELECT RAISE(ABORT, '{table} are never removed: withdraw the row'); END"
        )
    connection.execute(
        f"CREATE TRIGGER measurements_stay BEFORE UPDATE OF {_MEASURED_FOR_GOOD} ON measurements "
        "BEGIN SELECT RAISE(ABORT, 'measurements are never changed: add a new row'); END"
    )
    connection.execute("PRAGMA application_id = 1179405143")  # "FLKW"
