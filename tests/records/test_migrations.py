"""The tables are what the program takes them for, and a register of any earlier version can be brought up to date."""

from __future__ import annotations

import contextlib
import sqlite3
import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest

from cli.main import main
from flankwise.reasons import sentence
from records import migrations, upgrade
from records import register as opening
from records.listing import Conditions, page_of_parts
from records.migrations import STEPS
from records.nearest import nearest_parts
from records.reading import dies, read_part
from records.register import VERSION, open_register, version_of
from records.verification import verify
from tests.records.registers import file_workshop, new_register
from threads.shared.refusal import RefusalError

FIXTURES = sorted(Path(__file__).parent.glob("register_v*.zip"))
"""A register of each version, as that version's program wrote it."""


def test_the_version_is_that_of_the_last_migration(tmp_path: Path) -> None:
    assert len(STEPS) == VERSION
    assert version_of(new_register(tmp_path).path) == VERSION


@pytest.mark.parametrize("fixture", FIXTURES, ids=lambda path: path.stem)
def test_a_register_of_an_earlier_landing_opens_and_is_whole(fixture: Path, tmp_path: Path) -> None:
    with zipfile.ZipFile(fixture) as packed:
        packed.extractall(tmp_path)
    register = open_register(tmp_path / "register.sqlite")
    found = verify(register)
    assert (found.faults, found.remarks) == ((), ())
    version = int(fixture.stem.removeprefix("register_v"))
    assert found.counts["parts"] == (3 if version < 2 else 4)
    with register.reading() as connection:
        lines = page_of_parts(connection, Conditions(text="marine sextant")).lines
        # in words of that time; the samples changed after version 1
        assert str(lines[0].says).startswith(("2-56 NC, class 2", "2-64 NF, class 2"))
        assert str(lines[1].says).startswith("4-40 NC, class 2")
        part = read_part(connection, lines[1].id)
        assert part.measurement is not None
        thread = part.measurement.thread
        assert thread.pitch_diameter.value == pytest.approx(2.4282, abs=0.002)  # mm: sample_images/truth.json
        assert nearest_parts(connection, thread)[0].part == part.id
        first, *more = part.replacements
        assert (first.die, first.stock, first.cut_by) == ("4-40 NC round die", "brass rod 3 mm", None)
        by_dies = [(made.setting, name) for made in more for name in [dies_by_number(connection)[made.cut_by]]]
        assert by_dies == ([] if version < 3 else [("1/4 turn", "4-40 split die")])
        assert [(change.before, change.after) for change in part.corrections] == [
            ("index arm screw", "index arm screw, long")
        ]
        if version >= 2:
            hole = read_part(connection, 4).hole
            assert hole is not None
            assert (hole.thread, hole.engagement, hole.depth) == ("4-40", 3.0, 4.0)
            assert [(one.outcome, one.screw, one.turns) for one in hole.trials] == [
                ("moved", 1, None),
                ("stopped", None, 2.5),
            ]
    assert part.picture is not None
    assert register.store.original(part.picture.sha256, part.picture.suffix).exists()


def dies_by_number(connection: sqlite3.Connection) -> dict[int | None, str]:
    return {one.id: one.name for one in dies(connection)}


def schema_of(path: Path) -> set[tuple[str, ...]]:
    with contextlib.closing(sqlite3.connect(path)) as found:
        rows = found.execute("SELECT type, name, ifnull(sql, '') FROM sqlite_schema").fetchall()
    return {(kind, name, "".join(sql.split())) for kind, name, sql in rows}


def test_a_register_walks_through_every_version_since_the_first(tmp_path: Path) -> None:
    """After each step it has the tables of a register that the program of that version made anew, and all its rows."""
    with zipfile.ZipFile(FIXTURES[0]) as packed:
        packed.extractall(tmp_path)
    path = tmp_path / "register.sqlite"
    kept = ("parts", "measurements", "measurement_documents", "identifications", "calibrations", "pictures", "notes")
    query = " UNION ALL ".join(f"SELECT '{table}', count(*) FROM {table}" for table in kept)
    with contextlib.closing(sqlite3.connect(path)) as found:
        before = found.execute(query).fetchall()
        documents = found.execute("SELECT document FROM measurement_documents").fetchall()
    for fixture in FIXTURES[1:]:
        number = int(fixture.stem.removeprefix("register_v"))
        upgrade.migrate(path, number)
        with contextlib.closing(sqlite3.connect(path)) as found:
            assert found.execute("PRAGMA user_version").fetchone() == (number,)
            assert found.execute(query).fetchall() == before
        with zipfile.ZipFile(fixture) as packed:
            packed.extract("register.sqlite", tmp_path / str(number))
        there, made = schema_of(path), schema_of(tmp_path / str(number) / "register.sqlite")
        assert made <= there
        assert all("alembic" in name for _, name, _ in there - made)  # what made the first one noted its step itself
    with contextlib.closing(sqlite3.connect(path)) as found:
        assert found.execute("SELECT document FROM measurement_documents").fetchall() == documents
    register = open_register(path)
    assert register.upgraded_from is None
    assert verify(register).faults == ()


def test_the_person_is_told_where_the_register_of_before_is(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with zipfile.ZipFile(FIXTURES[0]) as packed:
        packed.extractall(tmp_path)
    path = tmp_path / "register.sqlite"
    for expected in (1, 0):  # the second time there is nothing to tell
        assert main(["record", "list", "--register", str(path)]) == 0
        told = capsys.readouterr().err
        copies = list(tmp_path.glob("register.before-upgrade-from-1.*.sqlite"))
        assert len(copies) == 1
        assert told.count("brought up to date") == told.count(str(copies[0])) == expected
    assert version_of(copies[0]) == 1


def test_there_is_a_register_of_every_version() -> None:
    assert [int(path.stem.removeprefix("register_v")) for path in FIXTURES] == list(range(1, VERSION + 1))


@pytest.fixture
def later(monkeypatch: pytest.MonkeyPatch) -> Callable[[str], None]:
    """Makes this a program of the next version, whose step runs one more statement."""

    def with_step(more: str = "SELECT 1") -> None:
        def step(connection: sqlite3.Connection) -> None:
            connection.execute("ALTER TABLE parts ADD COLUMN weight FLOAT")
            connection.execute(more)

        monkeypatch.setattr(migrations, "STEPS", (*STEPS, step))
        monkeypatch.setattr(opening, "VERSION", VERSION + 1)

    return with_step


def register_of_before(tmp_path: Path) -> Path:
    path = tmp_path / "work" / "parts.sqlite"
    path.parent.mkdir()
    upgrade.migrate(path, VERSION)
    with contextlib.closing(sqlite3.connect(path)) as made:
        made.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    return path


def test_an_older_register_is_copied_and_brought_up_to_date(tmp_path: Path, later: Callable[[str], None]) -> None:
    later("SELECT 1")
    path = register_of_before(tmp_path)
    before = path.read_bytes()
    register = open_register(path)
    assert version_of(path) == VERSION + 1
    with register.reading() as connection:
        connection.execute("SELECT weight FROM parts")
    copy = register.upgraded_from
    assert copy is not None
    assert copy.parent == path.parent
    assert version_of(copy) == VERSION
    assert len(copy.read_bytes()) == len(before)
    assert open_register(path).upgraded_from is None


def test_an_upgrade_that_fails_leaves_the_register_as_it_was(tmp_path: Path, later: Callable[[str], None]) -> None:
    later("SELECT nonsense FROM nowhere")
    path = register_of_before(tmp_path)
    with pytest.raises(RefusalError) as caught:
        open_register(path)
    assert caught.value.reasons[0].code == "register_not_upgraded"
    assert "\n" not in sentence(caught.value.reasons[0])
    assert version_of(path) == VERSION
    with contextlib.closing(sqlite3.connect(path)) as found:
        assert "weight" not in [row[1] for row in found.execute("PRAGMA table_info(parts)")]
    assert list(path.parent.glob(f"parts.before-upgrade-from-{VERSION}.*.sqlite"))


def test_an_upgrade_that_breaks_references_is_undone(tmp_path: Path, later: Callable[[str], None]) -> None:
    later("INSERT INTO notes (uid, added, who, part_id, text) VALUES ('u', 'a', 'w', 99, 't')")
    path = register_of_before(tmp_path)
    with pytest.raises(RefusalError):
        open_register(path)
    assert version_of(path) == VERSION


def test_a_filled_register_keeps_its_parts_through_an_upgrade(tmp_path: Path, later: Callable[[str], None]) -> None:
    later("SELECT 1")
    path = register_of_before(tmp_path)
    opening_version, opening.VERSION = opening.VERSION, VERSION
    file_workshop(open_register(path))
    opening.VERSION = opening_version
    register = open_register(path)
    assert register.upgraded_from is not None
    found = verify(register)
    assert (found.counts["parts"], found.faults) == (6, ())
