"""A backup made while the register is in use is whole, and brings it back; verify finds what was damaged."""

from __future__ import annotations

import json
import random
import sqlite3
import threading
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest

from flankwise.reasons import sentence
from records import backup, filing
from records.backup import LOCK, MANIFEST, back_up, read_backup, restore
from records.listing import Conditions, page_of_parts
from records.picture_store import clear_leftovers
from records.register import Register, open_register
from records.repair import repair
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
    assert sorted(path.name for path in folder.iterdir()) == [MANIFEST, LOCK, "pictures", second.database.name]


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
    assert all(one.parts % 2 == 0 for one in made)
    for one in made:
        restore(one.folder, tmp_path / one.folder.name / "copy.sqlite")
        assert verify(open_register(tmp_path / one.folder.name / "copy.sqlite")).faults == ()


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


def test_a_register_that_lacks_a_picture_is_backed_up_without_it_and_says_so(
    register: Register, tmp_path: Path
) -> None:
    lost = next((register.store.folder / "originals").rglob("*.png"))
    lost.unlink()
    made = back_up(register, tmp_path / "backup")
    assert (made.parts, made.pictures, list(made.missing)) == (4, 3, [lost.stem])
    assert [reason.code for reason in made.missing.values()] == ["picture_missing"]
    found, _ = restore(tmp_path / "backup", tmp_path / "new" / "parts.sqlite")
    assert list(found.missing) == [lost.stem]
    assert [one.code for one in verify(open_register(tmp_path / "new" / "parts.sqlite")).faults] == ["picture_missing"]


@pytest.mark.parametrize("locks", [True, False], ids=["locks", "a disk that knows no locks"])
def test_two_backups_into_one_folder_at_once_leave_a_good_one(
    register: Register, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, *, locks: bool
) -> None:
    folder = tmp_path / "backup"
    back_up(register, folder)
    copy, outcomes = backup.copy_database, []

    def meanwhile(source: Path, target: Path) -> None:
        monkeypatch.setattr(backup, "copy_database", copy)
        try:
            outcomes.append(back_up(register, folder).database.exists())
        except RefusalError as refusal:
            outcomes.append(refusal.code)
        copy(source, target)

    if not locks:
        monkeypatch.setattr(backup, "locked", lambda _: True)
    monkeypatch.setattr(backup, "copy_database", meanwhile)
    made = back_up(register, folder)
    assert outcomes == ([True] if not locks else ["backup_in_use"])
    assert read_backup(folder).database == made.database
    restore(folder, tmp_path / "new" / "parts.sqlite")


def test_a_damaged_register_does_not_take_the_place_of_a_good_backup(register: Register, tmp_path: Path) -> None:
    folder = tmp_path / "backup"
    good = back_up(register, folder)
    damage(register, "PRAGMA writable_schema = 1; UPDATE sqlite_schema SET rootpage = 3 WHERE name = 'parts_by_job'")
    assert codes(lambda: back_up(register, folder)) == ["register_damaged"]
    assert read_backup(folder).database == good.database


def test_what_is_made_is_for_its_owner_alone(register: Register, tmp_path: Path) -> None:
    back_up(register, tmp_path / "backup")
    restore(tmp_path / "backup", tmp_path / "new" / "parts.sqlite")
    made = open_register(tmp_path / "new" / "parts.sqlite")
    for one, copies in ((register, tmp_path / "backup"), (made, tmp_path / "new")):
        databases = [one.path, *copies.glob("*.sqlite"), *one.path.parent.glob("*.sqlite-wal")]
        pictures = [path for path in (copies / "pictures", one.store.folder) if path.exists()]
        assert pictures
        assert all(path.stat().st_mode & 0o077 == 0 for path in (*databases, *pictures))


def test_a_register_reached_by_a_link_keeps_its_pictures_with_its_target(register: Register, tmp_path: Path) -> None:
    link = tmp_path / "desk" / "parts.sqlite"
    link.parent.mkdir()
    link.symlink_to(register.path)
    reached = open_register(link)
    assert verify(reached).faults == ()
    with reached.writing() as writing:
        file_picture(writing, *picture_file(tmp_path, content=b"by the link"))
    assert sorted(path.name for path in link.parent.iterdir()) == ["parts.sqlite"]
    assert link.is_symlink()


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
        ("UPDATE measurements SET pitch = pitch + 1e-12 WHERE id = 2", "row_altered"),
        ("UPDATE measurement_documents SET document = CAST(x'7bff' AS TEXT) WHERE measurement_id = 2", "row_altered"),
        ("DELETE FROM measurement_documents WHERE measurement_id = 2", "row_altered"),
        ("UPDATE identifications SET document = 7 WHERE id = 1", "row_altered"),
        ("UPDATE positions SET place = place + 1 WHERE id = 3", "row_altered"),
        ("UPDATE parts SET added = replace(added, '2', '3') WHERE id = 1", "row_altered"),
        ("INSERT INTO notes (uid, added, who, part_id, text) VALUES ('u', 'a', 'w', 1, 't')", "row_foreign"),
        ("PRAGMA foreign_keys = 0; UPDATE parts SET job_id = 9 WHERE id = 1", "reference_broken"),
        ("UPDATE instruments SET name = 'another' WHERE id = 1", "index_stale"),
        ("DELETE FROM current WHERE part_id = 1", "index_stale"),
        ("DELETE FROM part_words WHERE rowid = 1", "index_stale"),
    ],
)  # fmt: skip
def test_verify_finds_what_was_altered(register: Register, sql: str, code: str) -> None:
    damage(register, sql)
    found = verify(register)
    assert found.counts["parts"] == 4
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
    faults = {fault.code for fault in found.faults}
    assert faults == {"calibration_altered", "row_altered", "picture_altered", "picture_missing"}
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
    other.execute("PRAGMA locking_mode = EXCLUSIVE")  # as the last program that leaves has it for a moment
    other.execute("BEGIN EXCLUSIVE")
    assert clear_leftovers(store, register.path) == 0
    other.close()
    assert open_register(register.path).cleared == 2
    assert not target.exists()
    assert list(store.incoming.iterdir()) == []
    found = verify(register)
    assert (found.faults, found.remarks) == ((), ())


def content_of(path: Path) -> dict[str, list[tuple[object, ...]]] | None:
    """Every row of every table, None where SQLite cannot read it."""
    bare = sqlite3.connect(path)
    bare.text_factory = bytes
    try:
        names = [name.decode() for (name,) in bare.execute("SELECT name FROM sqlite_schema WHERE type = 'table'")]
        return {
            name: bare.execute(f"SELECT * FROM {name}").fetchall()
            for name in names
            if not name.startswith(("sqlite_", "part_words_"))  # how words are kept for searching
        }
    except sqlite3.DatabaseError:
        return None
    finally:
        bare.close()


def damage_told(register: Register) -> bool:
    """Whether the command says that something is wrong: it names what, or refuses where the list of tables is hit."""
    try:
        return bool(verify(register).faults)
    except RefusalError as refusal:
        return refusal.code == "register_damaged"


def test_verify_finds_every_digit_that_changed(register: Register) -> None:
    """In the file itself, as a failing disk changes it: what SQLite reads otherwise afterwards is reported."""
    with closing(sqlite3.connect(register.path)) as bare:
        bare.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    good, before = register.path.read_bytes(), content_of(register.path)
    draw = random.Random(23)
    places = draw.sample([place for place in range(8192, len(good)) if good[place] in b"0123456789"], 40)
    changed = 0
    for place in places:
        register.path.write_bytes(good[:place] + b"%d" % ((good[place] - 47) % 10) + good[place + 1 :])
        if content_of(register.path) != before:
            changed += 1
            assert damage_told(register), place
    assert changed > 25


def test_a_damaged_page_ends_nothing(register: Register) -> None:
    """Whatever page is lost, the rows on it are named and the rest is looked at."""
    with closing(sqlite3.connect(register.path)) as bare:
        bare.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        ((root,),) = bare.execute("SELECT rootpage FROM sqlite_schema WHERE name = 'measurement_documents'")
    good = register.path.read_bytes()
    for page in range(1, len(good) // 4096, 7):
        register.path.write_bytes(good[: 4096 * page] + b"\xa5" * 4096 + good[4096 * (page + 1) :])
        assert damage_told(register) or content_of(register.path) is not None
    register.path.write_bytes(good[: 4096 * (root - 1)] + b"\xa5" * 4096 + good[4096 * root :])
    found = verify(register)
    named = [fault.values["row"] for fault in found.faults if fault.key == "row_altered.unreadable"]
    assert (named, found.counts["parts"]) == ([1, 2, 3, 4], 4)


def test_repair_brings_back_pictures_and_rows_from_where_they_are_whole(register: Register, tmp_path: Path) -> None:
    back_up(register, tmp_path / "backup")
    originals = sorted((register.store.folder / "originals").rglob("*.png"))
    (tmp_path / "camera").mkdir()
    originals[0].rename(tmp_path / "camera" / "DSC 1.png")
    originals[1].write_bytes(b"?" * originals[1].stat().st_size)
    damage(
        register,
        "UPDATE measurements SET pitch = 9 WHERE id = 2; DELETE FROM current WHERE part_id = 1;"
        "UPDATE measurement_documents SET document = '{}' WHERE measurement_id = 3; DELETE FROM checks",
    )
    done, found = repair(register, [tmp_path / "camera"])
    assert sorted(one.key for one in done) == ["repaired.index", "repaired.picture"]
    assert sorted({one.code for one in found.faults}) == ["picture_altered", "row_altered"]
    done, found = repair(register, [tmp_path / "backup"])
    assert sorted(one.key for one in done) == ["repaired.picture", "repaired.row", "repaired.row"]
    assert found.faults == ()


def test_a_picture_filed_again_heals_a_missing_one(register: Register, tmp_path: Path) -> None:
    path, sha256 = picture_file(tmp_path, content=b"2")
    lost = register.store.original(sha256, ".png")
    lost.unlink()
    assert [one.code for one in verify(register).faults] == ["picture_missing"]
    with register.writing() as writing:
        file_picture(writing, path, sha256)
    assert verify(register).faults == ()

    def fails() -> None:
        with register.writing() as writing:
            file_picture(writing, path, sha256)
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        fails()
    assert lost.exists()
