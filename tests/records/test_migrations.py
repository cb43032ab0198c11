"""The tables are what the program takes them for, and a register of any earlier version can be brought up to date."""

from __future__ import annotations

import contextlib
import shutil
import sqlite3
import zipfile
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory

from records import register as opening
from records import schema, upgrade
from records.connection import engine_of
from records.listing import Conditions, page_of_parts
from records.nearest import nearest_parts
from records.reading import read_part
from records.register import VERSION, open_register, version_of
from records.verification import verify
from tests.records.registers import file_workshop, new_register
from vision.refusal import RefusalError

FIXTURES = sorted(Path(__file__).parent.glob("register_v*.zip"))
"""A register of each version, as that version's program wrote it."""


def test_the_tables_are_those_of_the_schema(tmp_path: Path) -> None:
    register = new_register(tmp_path)
    engine = engine_of(register.path)
    with engine.connect() as connection:
        context = MigrationContext.configure(connection, opts={"compare_type": True, "include_object": _ours})
        assert compare_metadata(context, schema.METADATA) == []
    engine.dispose()


def _ours(_: object, name: str, kind: str, *__: object) -> bool:
    """Leave out indexes, which the schema does not list, and the tables that the text search keeps for itself."""
    return kind not in {"index", "unique_constraint"} and not name.startswith("part_words")


def test_the_version_is_that_of_the_last_migration(tmp_path: Path) -> None:
    scripts = ScriptDirectory(str(Path(upgrade.__file__).parent / "migrations"))
    head = scripts.get_current_head()
    assert head is not None
    assert int(head) == VERSION
    assert version_of(new_register(tmp_path).path) == VERSION


@pytest.mark.parametrize("fixture", FIXTURES, ids=lambda path: path.stem)
def test_a_register_of_an_earlier_landing_opens_and_is_whole(fixture: Path, tmp_path: Path) -> None:
    with zipfile.ZipFile(fixture) as packed:
        packed.extractall(tmp_path)
    register = open_register(tmp_path / "register.sqlite")
    found = verify(register)
    assert (found.faults, found.remarks) == ((), ())
    assert found.counts["parts"] == 3
    with register.reading() as connection:
        lines = page_of_parts(connection, Conditions(text="bass clarinet")).lines
        assert [line.says for line in lines] == ["2-56 NC, class 2 or 3", "4-40 NC, class 2 or 3"]
        part = read_part(connection, lines[1].id)
        assert part.measurement is not None
        thread = part.measurement.thread
        assert thread.pitch_diameter.value == pytest.approx(2.4276, abs=0.0005)  # mm, as it was measured then
        assert nearest_parts(connection, thread)[0].part == part.id
        assert [(made.die, made.stock) for made in part.replacements] == [("4-40 NC round die", "brass rod 3 mm")]
        assert [(change.before, change.after) for change in part.corrections] == [("post screw", "post screw, long")]
    assert part.picture is not None
    assert register.store.original(part.picture.sha256, part.picture.suffix).exists()


def test_there_is_a_register_of_every_version() -> None:
    assert [int(path.stem.removeprefix("register_v")) for path in FIXTURES] == list(range(1, VERSION + 1))


SECOND = """
from alembic import op

revision = "0002"
down_revision = "0001"

def upgrade() -> None:
    op.execute("ALTER TABLE parts ADD COLUMN weight FLOAT")
    {more}
    op.execute("PRAGMA user_version = 2")
"""


@pytest.fixture
def later(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A program of version 2; what its migration does besides is written into the file that is returned."""
    folder = tmp_path / "later program"
    shutil.copytree(Path(upgrade.__file__).parent / "migrations", folder)
    monkeypatch.setattr(upgrade, "_MIGRATIONS", folder)
    monkeypatch.setattr(opening, "VERSION", 2)
    return folder / "versions" / "v0002_weight.py"


def register_of_before(tmp_path: Path) -> Path:
    path = tmp_path / "work" / "parts.sqlite"
    path.parent.mkdir()
    upgrade.migrate(path, "0001")
    with contextlib.closing(sqlite3.connect(path)) as made:
        made.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    return path


def test_an_older_register_is_copied_and_brought_up_to_date(tmp_path: Path, later: Path) -> None:
    later.write_text(SECOND.format(more="pass"), encoding="utf-8")
    path = register_of_before(tmp_path)
    before = path.read_bytes()
    register = open_register(path)
    assert version_of(path) == 2
    with register.reading() as connection:
        connection.execute("SELECT weight FROM parts")
    copy = register.upgraded_from
    assert copy is not None
    assert copy.parent == path.parent
    assert version_of(copy) == 1
    assert len(copy.read_bytes()) == len(before)
    assert open_register(path).upgraded_from is None


def test_an_upgrade_that_fails_leaves_the_register_as_it_was(tmp_path: Path, later: Path) -> None:
    later.write_text(SECOND.format(more='op.execute("SELECT nonsense FROM nowhere")'), encoding="utf-8")
    path = register_of_before(tmp_path)
    with pytest.raises(RefusalError) as caught:
        open_register(path)
    assert caught.value.reasons[0].code == "register_not_upgraded"
    assert "\n" not in caught.value.reasons[0].message
    assert version_of(path) == 1
    with contextlib.closing(sqlite3.connect(path)) as found:
        assert "weight" not in [row[1] for row in found.execute("PRAGMA table_info(parts)")]
    assert list(path.parent.glob("parts.before-upgrade-from-1.*.sqlite"))


def test_an_upgrade_that_breaks_references_is_undone(tmp_path: Path, later: Path) -> None:
    bad = "op.execute(\"INSERT INTO notes (uid, added, who, part_id, text) VALUES ('u', 'a', 'w', 99, 't')\")"
    later.write_text(SECOND.format(more=bad), encoding="utf-8")
    path = register_of_before(tmp_path)
    with pytest.raises(RefusalError):
        open_register(path)
    assert version_of(path) == 1


def test_a_filled_register_keeps_its_parts_through_an_upgrade(tmp_path: Path, later: Path) -> None:
    later.write_text(SECOND.format(more="pass"), encoding="utf-8")
    path = register_of_before(tmp_path)
    opening_version, opening.VERSION = opening.VERSION, 1
    file_workshop(open_register(path))
    opening.VERSION = opening_version
    register = open_register(path)
    assert register.upgraded_from is not None
    found = verify(register)
    assert (found.counts["parts"], found.faults) == (6, ())
