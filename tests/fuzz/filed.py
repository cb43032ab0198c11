"""Rows of some kinds in an exported register, spoilt, filed into an empty one and used; shared by three harnesses."""

from __future__ import annotations

import shutil
import sqlite3
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

from records import filing
from records.exchange.arrival import checked_document, file_document
from records.exchange.document import document_of
from records.holes import add_hole
from records.register import Register, open_register
from records.statements import statement_note
from tests.fuzz.folder import folder
from tests.fuzz.recipe import Recipe, spoilt_document
from tests.fuzz.refused import assert_plain
from tests.records.dies_on_file import dies_register, file_screw, measured
from threads.identify.stated import stated
from threads.shared.quantity import Quantity
from threads.shared.refusal import ReasonedError

_TEXTS = (
    "open 1/4 turn", "9" * 400 + "/1 turns", "-0/0", "90°", "½", "1e999", "stated: NC, by drawing, weight 20",
    "stated: NC, by drawing, weight 1e999", "stated: , by word", "went_in", "moved", "4-40 NC-2 nut", "M3", "\u202ex",
)  # fmt: skip


@cache
def seed() -> dict[str, Any]:
    """The document of a register: dies and what they cut, a hole with trials, an instrument of which NC is stated."""
    register = dies_register(folder())
    with register.writing("Ada") as writing:
        instrument = filing.add_instrument(writing, "marine sextant", maker="Quayside Workshop", made=(1938, 1938))
        job = filing.add_job(writing, "overhaul", instrument=instrument)
        filing.add_note(writing, statement_note(stated("NC", "drawing")), instrument=instrument)
        position = filing.add_position(writing, instrument, "index arm 1")
        hole = filing.add_part(writing, name="hole of the index arm", instrument=instrument, position=position, job=job)
        for size in (2.41, 2.43):
            screw = filing.add_part(writing, name="index arm screw", instrument=instrument, job=job)
            filing.add_measurement(writing, screw, measured(size))
        add_hole(writing, hole, "4-40", engagement=3.0)
        row = writing.connection.execute("SELECT id FROM holes").fetchone()[0]
        screws = [file_screw(writing, size, "trial screw") for size in (2.41, 2.43, 2.45)]
        filing.add_trial(writing, row, outcome="went_in", screw=screws[0])
        filing.add_trial(writing, row, outcome="stopped", screw=screws[2], turns=2.5)
        moved = Quantity(0.24, 0.01, "mm")
        filing.add_trial(
            writing, row, outcome="moved", screw=screws[1], movement=moved.value, movement_u95=moved.u95, overhang=20.0
        )
    with register.reading() as connection:
        parts = [number for (number,) in connection.execute("SELECT id FROM parts")]
        return {
            **document_of(connection, parts),
            "identifications": [],
        }  # the tests' are shorter than real ones


@cache
def _empty() -> Path:
    path = folder() / "empty.sqlite"
    open_register(path, create=True)
    with sqlite3.connect(path) as connection:
        connection.execute("PRAGMA journal_mode = DELETE")
    connection.close()
    return path


def filed(recipe: Recipe, kinds: tuple[str, ...], use: Callable[[Register], object]) -> None:
    """Spoil rows of ``kinds``, file them, and ``use`` the register; a refusal leaves it empty."""
    document = dict(seed())
    kind = recipe.choice([kind for kind in kinds if document[kind]])
    rows = [dict(row) for row in document[kind]]
    for _ in range(1 + recipe.number(3)):
        row = recipe.choice(rows)
        name = recipe.choice(sorted(row, reverse=True))  # "uid" and "added" are looked at by a pattern
        row[name] = recipe.choice(_TEXTS) if recipe.number(2) else spoilt_document(row[name], recipe)
    document[kind] = rows
    path = folder() / "into.sqlite"
    for old in folder().glob("into.sqlite*"):
        old.unlink()
    shutil.copyfile(_empty(), path)
    register = open_register(path)
    try:
        file_document(register, checked_document(document, "parts.json"), _no_picture)
    except ReasonedError as refusal:
        assert_plain(refusal)
        with register.reading() as connection:
            assert connection.execute("SELECT count(*) FROM parts").fetchone() == (0,)
        return
    try:
        use(register)
    except ReasonedError as refusal:
        assert_plain(refusal)


def _no_picture(*_: object) -> Any:
    raise AssertionError("there is none")
