"""How many parts of each series a workshop has on file: what lies on its bench is likely to be more of the same."""

from __future__ import annotations

from pathlib import Path

from records.register_path import register_path


def series_on_file(path: str | Path | None = None) -> dict[str, int]:
    """Parts that were identified, by series, of the register at ``path`` (the usual one if None).

    Nothing is written, made or brought up to date; where there is no register that can be read, nothing is on file.
    """
    file = register_path(path)
    if not file.exists():
        return {}
    import sqlite3

    from records.connection import connect_for_reading
    from records.register import APPLICATION_ID

    try:
        connection = connect_for_reading(file)
        try:
            if connection.execute("PRAGMA application_id").fetchone() != (APPLICATION_ID,):
                return {}
            found = connection.execute(
                "SELECT i.series, count(*) FROM current c JOIN identifications i ON i.id = c.identification_id "
                "JOIN parts p ON p.id = c.part_id WHERE p.withdrawn = 0 AND i.status = 'identified' "
                "AND i.series IS NOT NULL GROUP BY i.series"
            )
            return {str(series): int(count) for series, count in found}
        finally:
            connection.close()
    except sqlite3.Error:  # another program's, damaged, locked: then only the table counts
        return {}
