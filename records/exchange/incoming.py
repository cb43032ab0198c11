"""What comes from elsewhere, whatever kind of file it is in."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from threads.shared.file_name import plain_name
from threads.shared.refusal import RefusalError

if TYPE_CHECKING:
    from records.exchange.arrived import Arrived
    from records.register import Register

READ = (".flankwise", ".zip", ".json", ".csv")
"""Endings of what can be taken in: a bundle, a document, a table that was filled in."""


def take_in(path: Path, register: Callable[[], Register], who: str | None = None) -> Arrived:
    """Look at the file, then file what is in it: all of it, or nothing.

    ``register`` is called, and so the register made, only when the file is found good. ``who`` has filled in a table;
    bundles and documents say it themselves. Raises RefusalError.
    """
    kind, name = path.suffix.lower(), plain_name(path)
    if kind == ".csv":
        from records.exchange.table import file_table, read_table

        lines = read_table(_bytes(path, name), name)
        return file_table(register(), lines, who=who)
    from records.exchange.arrival import file_document, read_document

    if kind == ".json":
        document = read_document(path, name)
        return file_document(register(), document, lambda _sha256, _target: False)
    from records.exchange.bundle import open_bundle

    with open_bundle(path) as bundle:
        return file_document(register(), bundle.document, bundle.extract)


def _bytes(path: Path, name: str) -> bytes:
    from threads.shared.spreadsheet import MOST_BYTES

    try:
        with path.open("rb") as file:
            return file.read(MOST_BYTES + 1)
    except OSError as error:
        raise RefusalError("table_unreadable", name=name, why=error.strerror) from error
