"""A backup made while the register is in use is whole, and brings it back; verify finds what was damaged."""

from __future__ import annotations

import json
import sqlite3
import threading
from collections.abc import Callable
from pathlib import Path

import pytest

from flankwise.reasons import sentence
from records import filing
from records.backup import MANIFEST, back_up, read_backup, restore
from records.listing import Conditions, page_of_parts
from records.picture_store import clear_leftovers
from records.register import Register, open_register
from records.verification import refuse_faults, verify
from tests.records.registers import file_picture, file_workshop, new_register, picture_file
from threads.shared.refusal import RefusalError


@pytest.fixture
def register(tmp_path: Path) -> Register:
    """Four parts, each with a picture of its own."""
    folder = tmp_path / "work"
    folder.mkdir()
    register = new_register(folder)
    add_pictures(register, file_workshop(register, 4), tmp_path)
    return register


def add_pictures(register: Register, parts: list[int], folder: Path) -> None:
    with register.writing() as writing:
        for part in parts:
            path, sha256 = picture_file(folder, content=str(part).encode())
            filing.show_part(writing, part, file_picture(writing, path, sha256))


def parts_on_file(register: Register) -> int:
    with register.reading() as found:
        return page_of_parts(found, Conditions()).total


def codes(action: Callable[[], object]) -> list[str]:
    with pytest.raises(RefusalError) as caught:
        action()
    assert all("\n" not in sentence(reason) for reason in caught.value.reasons)
    return [reason.code for reason in caught.value.reasons]


def test_what_was_backed_up_comes_back(register: Register, tmp_path: Path) -> None:
    folder = tmp_path / "backup"
    made = back_up(register, folder)
    assert (made.parts, made.pictures, made.copied) == (4, 4, 4)
    with register.writing() as writing:
        later = filing.add_part(writing, name="filed after the backup")
    add_pictures(register, [later], tmp_path)
    assert parts_on_file(register) == 5
    found, before = restore(folder, register.path)
    assert found.parts == 4
    assert before is not None
    assert parts_on_file(open_register(before)) == 5
    restored = open_register(register.path)
    assert parts_on_file(restored) == 4
    looked = verify(restored)
    assert looked.faults == ()
    assert [remark.code for remark in looked.remarks] == ["picture_unknown"]  # of the part that is no longer on file
    with restored.reading() as connection:
        assert connection.execute("PRAGMA journal_mode").fetchone() == ("wal",)


def test_it_comes_back_where_nothing_is_left(register: Register, tmp_path: Path) -> None:
    back_up(register, tmp_path / "backup")
    new = tmp_path / "new computer" / "register.sqlite"
    assert restore(tmp_path / "backup", new)[1] is None
    looked = verify(open_register(new))
    assert (looked.counts["parts"], looked.faults, looked.remarks) == (4, (), ())


def test_a_damaged_register_is_put_aside(register: Register, tmp_path: Path) -> None:
    back_up(register, tmp_path / "backup")
    content = bytearray(register.path.read_bytes())
    content[4096:] = b"\xa5" * (len(content) - 4096)
    register.path.write_bytes(content)
    _, before = restore(tmp_path / "backup", register.path)
    assert before is not None
    assert before.read_bytes() == bytes(content)
    assert verify(open_register(register.path)).faults == ()


def test_backing_up_again_copies_only_what_is_new(register: Register, tmp_path: Path) -> None:
    folder = tmp_path / "backup"
    first = back_up(register, folder)
    with register.writing() as writing:
        part = filing.add_part(writing)
    add_pictures(register, [part], tmp_path)
    second = back_up(register, folder)
    assert (second.parts, second.pictures, second.copied) == (5, 5, 1)
    assert not first.database.exists()
    assert sorted(path.name for path in folder.iterdir()) == ["backup.json", "pictures", second.database.name]


def test_a_backup_while_others_write_is_of_one_moment(register: Register, tmp_path: Path) -> None:
    stop = threading.Event()

    def write() -> None:
        while not stop.is_set():
            with register.writing() as writing:
                for _ in range(2):  # always two in one action
                    filing.add_part(writing)

    writer = threading.Thread(target=write)
    writer.start()
    try:
        made = [back_up(register, tmp_path / f"backup {n}") for n in range(3)]
    finally:
        stop.set()
        writer.join()
    assert all(backup.parts % 2 == 0 for backup in made)
    for backup in made:
        restore(backup.folder, tmp_path / backup.folder.name / "copy.sqlite")
        assert verify(open_register(tmp_path / backup.folder.name / "copy.sqlite")).faults == ()


def test_what_is_no_backup_is_refused(register: Register, tmp_path: Path) -> None:
    empty = tmp_path / "empty"
    empty.mkdir()
    assert codes(lambda: restore(empty, register.path)) == ["not_a_backup"]
    assert codes(lambda: restore(tmp_path / "missing", register.path)) == ["not_a_backup"]
    for text in ("{", "[]", '{"schema": "flankwise/backup/1"}', '{"schema": "x", "sha256": "", "database": ""}'):
        (empty / MANIFEST).write_text(text)
        assert codes(lambda: read_backup(empty)) == ["not_a_backup"]
    (empty / MANIFEST).unlink()
    (empty / "holiday.jpg").write_bytes(b"")
    assert codes(lambda: back_up(register, empty)) == ["folder_not_empty"]
    assert [path.name for path in empty.iterdir()] == ["holiday.jpg"]


@pytest.mark.parametrize("what", ["database", "picture altered", "picture missing", "outside"])
def test_a_damaged_backup_restores_nothing(register: Register, tmp_path: Path, what: str) -> None:
    folder = tmp_path / "backup"
    made = back_up(register, folder)
    picture = next((folder / "pictures" / "originals").rglob("*.png"))
    if what == "database":
        made.database.write_bytes(made.database.read_bytes() + b"more")
    elif what == "picture altered":
        picture.write_bytes(b"another")
    elif what == "picture missing":
        picture.unlink()
    else:
        manifest = json.loads((folder / MANIFEST).read_text())
        (folder / MANIFEST).write_text(json.dumps({**manifest, "database": "../work/parts.sqlite"}))
    before = register.path.read_bytes()
    assert codes(lambda: restore(folder, register.path)) == ["backup_damaged"]
    assert register.path.read_bytes() == before


def test_a_register_that_lacks_a_picture_is_not_backed_up_silently(register: Register, tmp_path: Path) -> None:
    next((register.store.folder / "originals").rglob("*.png")).unlink()
    assert codes(lambda: back_up(register, tmp_path / "backup")) == ["picture_missing"]
    assert not (tmp_path / "backup" / MANIFEST).exists()


def damage(register: Register, sql: str) -> None:
    """Change what the triggers forbid, as another program might."""
    bare = sqlite3.connect(register.path)
    for (name,) in bare.execute("SELECT name FROM sqlite_schema WHERE type = 'trigger'").fetchall():
        bare.execute(f"DROP TRIGGER {name}")
    bare.executescript(sql)
    bare.commit()
    bare.close()


@pytest.mark.parametrize(
    ("sql", "code"),
    [
        ("UPDATE measurements SET pitch = pitch + 1e-6 WHERE id = 2", "measurement_altered"),
        ("UPDATE measurement_documents SET document = substr(document, 2) WHERE measurement_id = 2",
         "measurement_damaged"),
        ("DELETE FROM measurement_documents WHERE measurement_id = 2", "measurement_damaged"),
        ("UPDATE identifications SET document = '{' WHERE id = 1", "document_damaged"),
        ("PRAGMA foreign_keys = 0; UPDATE parts SET job_id = 9 WHERE id = 1", "reference_broken"),
        ("UPDATE instruments SET name = 'another' WHERE id = 1", "index_stale"),
        ("DELETE FROM current WHERE part_id = 1", "index_stale"),
        ("DELETE FROM part_words WHERE rowid = 1", "index_stale"),
    ],
)  # fmt: skip
def test_verify_finds_what_was_altered(register: Register, sql: str, code: str) -> None:
    damage(register, sql)
    found = verify(register)
    assert code in {fault.code for fault in found.faults}
    assert codes(lambda: refuse_faults(found)) == [fault.code for fault in found.faults]


def test_verify_looks_at_every_picture_and_calibration(register: Register) -> None:
    with register.writing() as writing:
        filing.add_calibration(writing, '{"id": "abc"}')
    originals = sorted((register.store.folder / "originals").rglob("*.png"))
    originals[0].unlink()
    originals[1].write_bytes(originals[1].read_bytes()[:-1] + b"?")
    next((register.store.folder / "thumbnails").rglob("*.jpg")).unlink()
    (originals[2].parent / "holiday.jpg").write_bytes(b"")
    damage(register, "UPDATE calibrations SET document = document || ' '")
    found = verify(register)
    assert sorted(fault.code for fault in found.faults) == ["calibration_altered", "picture_altered", "picture_missing"]
    assert sorted(remark.code for remark in found.remarks) == ["picture_unknown", "thumbnail_missing"]


def test_what_a_killed_program_left_is_cleared_at_the_next_opening(register: Register, tmp_path: Path) -> None:
    path, sha256 = picture_file(tmp_path, content=b"half filed")
    store = register.store
    target = store.original(sha256, ".png")
    target.parent.mkdir(parents=True, exist_ok=True)
    target.write_bytes(path.read_bytes())
    known = next((store.folder / "originals").rglob("*.png"), None)
    assert known is not None
    for name in (f"{sha256}.note", f"{known.stem}.note", "0123.tmp"):
        (store.incoming / name).touch()
    unfinished = register.path.with_name(f".{register.path.name}.abcd.tmp")
    unfinished.touch()
    other = sqlite3.connect(register.path, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")  # another program is filing: all of this may be in use
    assert clear_leftovers(store, register.path) == 1  # but for the register that was never finished
    other.execute("ROLLBACK")
    other.close()
    assert open_register(register.path).cleared == 2
    assert not target.exists()
    assert list(store.incoming.iterdir()) == []
    found = verify(register)
    assert (found.faults, found.remarks) == ((), ())
