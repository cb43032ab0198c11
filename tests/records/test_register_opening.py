"""Opening a register: what is none, newer, damaged, in use or read-only is refused in one line and left untouched."""

from __future__ import annotations

import contextlib
import hashlib
import os
import sqlite3
import subprocess
import sys
import tempfile
import threading
from collections.abc import Callable
from pathlib import Path

import pytest

from flankwise.reasons import sentence
from records import connection, filing, reading, upgrade
from records import register as register_module
from records.listing import Conditions, page_of_parts
from records.register import APPLICATION_ID, VERSION, open_register, user_name, version_of
from records.register_path import register_path
from tests.records.registers import file_workshop, new_register, screws
from threads.shared.refusal import RefusalError

ROOT = Path(__file__).resolve().parents[2]


def refused(action: Callable[[], object], code: str) -> str:
    with pytest.raises(RefusalError) as caught:
        action()
    assert caught.value.reasons[0].code == code
    message = sentence(caught.value.reasons[0])
    assert "\n" not in message
    return message


def everything_in(folder: Path) -> dict[str, str]:
    return {
        path.name: hashlib.sha256(path.read_bytes()).hexdigest() for path in sorted(folder.iterdir()) if path.is_file()
    }


def test_the_register_is_made_where_it_is_wanted_and_only_then(tmp_path: Path) -> None:
    path = tmp_path / "new folder" / "parts.sqlite"
    assert "record add" in refused(lambda: open_register(path), "no_register")
    assert not path.parent.exists()
    register = open_register(path, create=True)
    assert version_of(path) == VERSION
    assert [file.name for file in path.parent.iterdir()] == ["parts.sqlite"]
    with register.reading() as found:
        assert found.execute("PRAGMA journal_mode").fetchone() == ("wal",)
        assert page_of_parts(found, Conditions()).total == 0


def test_which_register_is_meant(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("FLANKWISE_DATA", str(tmp_path))
    assert register_path() == tmp_path / "register.sqlite"
    monkeypatch.setenv("FLANKWISE_REGISTER", str(tmp_path / "named.sqlite"))
    assert register_path() == tmp_path / "named.sqlite"
    assert register_path(tmp_path / "given.sqlite") == tmp_path / "given.sqlite"


def test_who_is_at_the_bench(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("FLANKWISE_USER", "Ada")
    assert user_name() == "Ada"
    monkeypatch.setenv("FLANKWISE_USER", " ")
    monkeypatch.setattr("getpass.getuser", lambda: (_ for _ in ()).throw(KeyError("no name")))
    assert user_name() == "not known"


@pytest.mark.parametrize(
    ("content", "code"),
    [
        (b"", "not_a_register"),
        (b"just some text", "not_a_register"),
        (b"SQLite format 3\0 and then nothing", "not_a_register"),
        (b"\xff" * 5000, "not_a_register"),
    ],
)
def test_what_is_no_register_is_left_alone(tmp_path: Path, content: bytes, code: str) -> None:
    path = tmp_path / "parts.sqlite"
    path.write_bytes(content)
    refused(lambda: open_register(path, create=True), code)
    assert everything_in(tmp_path) == {"parts.sqlite": hashlib.sha256(content).hexdigest()}


def test_another_database_is_left_alone(tmp_path: Path) -> None:
    path = tmp_path / "parts.sqlite"
    other = sqlite3.connect(path)
    other.execute("CREATE TABLE parts (id INTEGER)")
    other.commit()
    other.close()
    before = everything_in(tmp_path)
    assert "not a parts register" in refused(lambda: open_register(path), "not_a_register")
    assert everything_in(tmp_path) == before


def test_a_folder_is_no_register(tmp_path: Path) -> None:
    refused(lambda: open_register(tmp_path), "folder_not_written")


def test_a_newer_register_is_left_untouched(tmp_path: Path) -> None:
    register = new_register(tmp_path)
    changed = sqlite3.connect(register.path)
    changed.execute(f"PRAGMA user_version = {VERSION + 1}")
    changed.close()
    before = everything_in(tmp_path)
    assert "Update the program" in refused(lambda: open_register(register.path), "register_newer")
    assert everything_in(tmp_path) == before


def test_a_version_that_still_waits_beside_the_file_counts(tmp_path: Path) -> None:
    register = new_register(tmp_path)
    changed = sqlite3.connect(register.path)
    changed.execute("PRAGMA wal_autocheckpoint = 0")
    changed.execute(f"PRAGMA user_version = {VERSION + 1}")
    changed.commit()  # the connection stays open: the change is in the -wal file only
    assert int.from_bytes(register.path.read_bytes()[60:64]) == VERSION
    refused(lambda: open_register(register.path), "register_newer")
    changed.close()


@pytest.mark.parametrize("damage", ["cut", "overwritten"])
def test_a_damaged_register_says_so(tmp_path: Path, damage: str) -> None:
    register = new_register(tmp_path)
    file_workshop(register)
    content = bytearray(register.path.read_bytes())
    if damage == "cut":
        del content[len(content) // 3 :]
    else:
        content[4096:] = b"\xa5" * (len(content) - 4096)
    register.path.write_bytes(content)
    before = everything_in(tmp_path)

    def use() -> None:
        with open_register(register.path).reading() as found:
            page_of_parts(found, Conditions())
            for part in range(1, 7):
                reading.read_part(found, part)

    assert "record restore" in refused(use, "register_damaged")
    assert everything_in(tmp_path)["parts.sqlite"] == before["parts.sqlite"]


def test_a_register_that_another_program_writes_is_waited_for_then_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    register = new_register(tmp_path)
    other = sqlite3.connect(register.path, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")

    def write() -> None:
        with register.writing() as writing:
            filing.add_part(writing, name="index arm screw")

    monkeypatch.setattr(connection.connect, "__kwdefaults__", {"foreign_keys": True, "timeout": 0.2})
    assert "another program" in refused(write, "register_locked")
    with register.reading() as found:  # reading goes on meanwhile
        assert page_of_parts(found, Conditions()).total == 0
    other.execute("ROLLBACK")
    other.close()
    write()


def test_whoever_writes_holds_the_right_from_the_start(tmp_path: Path) -> None:
    """Before the first row is written: what was read to decide on it cannot be changed by another program meanwhile."""
    register = new_register(tmp_path)
    with (
        contextlib.closing(sqlite3.connect(register.path, timeout=0, isolation_level=None)) as other,
        register.writing(),
        pytest.raises(sqlite3.OperationalError, match="locked"),
    ):
        other.execute("BEGIN IMMEDIATE")


def test_a_full_disk_files_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    register = new_register(tmp_path)
    real = connection.connect

    def nearly_full(*arguments: object, **options: object) -> sqlite3.Connection:
        made = real(*arguments, **options)  # type: ignore[arg-type]
        ((pages,),) = made.execute("PRAGMA page_count")
        made.execute(f"PRAGMA max_page_count = {pages + 2}")
        return made

    monkeypatch.setattr(register_module, "connect", nearly_full)
    before = everything_in(tmp_path)

    def write() -> None:
        with register.writing() as writing:
            part = filing.add_part(writing)
            filing.add_measurement(writing, part, screws(1)[0][1])

    assert "full" in refused(write, "disk_full")
    assert everything_in(tmp_path)["parts.sqlite"] == before["parts.sqlite"]
    monkeypatch.setattr(register_module, "connect", real)
    write()


AS_NOBODY = """
import os, sys
from cli.main import main

def use(folder):
    register = ["--register", folder + "/parts.sqlite"]
    new = ["--unmeasured", "--register", folder + "/new.sqlite"]
    return [
        main(["record", "list", *register]),
        main(["record", "note", "1", "worn", *register]),
        main(["record", "add", folder + "/picture.png", *new]),
    ]

print("before", *use(sys.argv[1]))  # with all rights: and now everything is loaded
if os.geteuid() == 0:
    os.setegid(65534)
    os.seteuid(65534)
print("after", *use(sys.argv[2]), flush=True)
"""


@pytest.mark.slow
@pytest.mark.skipif(not hasattr(os, "geteuid"), reason="users of POSIX")
def test_a_folder_that_cannot_be_written_can_be_read() -> None:
    with tempfile.TemporaryDirectory(prefix="flankwise-test-") as name:
        Path(name).chmod(0o755)
        folders = [Path(name) / which for which in ("writable", "read-only")]
        for folder in folders:
            folder.mkdir()
            file_workshop(new_register(folder), 2)
            (folder / "picture.png").write_bytes((ROOT / "sample_images" / "pin_1000_bench_a.png").read_bytes())
        before = everything_in(folders[1])
        folders[1].chmod(0o555)
        for path in folders[1].iterdir():
            path.chmod(0o444)
        ended = subprocess.run(
            [sys.executable, "-c", AS_NOBODY, *map(str, folders)],
            text=True,
            capture_output=True,
            cwd=ROOT,
            timeout=600,
            check=False,
        )
        folders[1].chmod(0o755)
        shown = ended.stdout.splitlines()
        assert [line for line in shown if line.startswith(("before", "after"))] == ["before 0 0 0", "after 0 3 3"]
        assert shown.count("2 parts") == 2
        refusals = ended.stderr.splitlines()
        assert len(refusals) == 2, ended.stderr
        assert "read-only" in refusals[0]
        assert "permissions" in refusals[1]
        assert everything_in(folders[1]) == before


def test_two_that_make_the_register_at_once_make_one(tmp_path: Path) -> None:
    path = tmp_path / "parts.sqlite"
    code = (
        "import sys; from records.register import open_register; from records import filing\n"
        "register = open_register(sys.argv[1], create=True)\n"
        "for number in range(5):\n"
        "    with register.writing() as writing: filing.add_part(writing, name=f'{sys.argv[2]} {number}')\n"
    )
    with contextlib.ExitStack() as ended:  # whatever is found wrong, no child and no pipe is left to a later test
        children = [
            ended.enter_context(
                subprocess.Popen(
                    [sys.executable, "-c", code, str(path), name], cwd=ROOT, stderr=subprocess.PIPE, text=True
                )
            )
            for name in ("a", "b", "c")
        ]
        for child in children:
            ended.callback(child.kill)
        said = [(child.communicate(timeout=600)[1], child.returncode) for child in children]
    assert said == [("", 0)] * 3
    with open_register(path).reading() as found:
        assert page_of_parts(found, Conditions()).total == 15
    assert {name for name in everything_in(tmp_path) if not name.endswith(("-wal", "-shm"))} == {"parts.sqlite"}


@pytest.mark.parametrize("moment", ["migrate", "sync_file", "_give_name"])
@pytest.mark.parametrize("before", [True, False])
def test_whoever_comes_second_may_be_cleared_away_at_any_moment(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, moment: str, before: bool
) -> None:
    path = tmp_path / "parts.sqlite"
    real = getattr(upgrade, moment)

    def others() -> None:
        monkeypatch.setattr(upgrade, moment, real)
        with open_register(path, create=True).writing() as writing:
            filing.add_part(writing, name="theirs")
        assert open_register(path).path == path
        assert not list(tmp_path.glob(".*.tmp"))  # ours is gone

    def overtaken(*arguments: object) -> None:
        if before:
            others()
        real(*arguments)
        if not before and moment != "_give_name":
            others()

    monkeypatch.setattr(upgrade, moment, overtaken)
    with open_register(path, create=True).reading() as found:
        assert page_of_parts(found, Conditions()).total == int(before or moment != "_give_name")
    assert {name for name in everything_in(tmp_path) if not name.endswith(("-wal", "-shm"))} == {"parts.sqlite"}


def test_reading_sees_one_moment(tmp_path: Path) -> None:
    register = new_register(tmp_path)
    file_workshop(register, 2)
    with register.reading() as found:
        assert page_of_parts(found, Conditions()).total == 2

        def write() -> None:
            with register.writing() as writing:
                filing.add_part(writing)

        other = threading.Thread(target=write)
        other.start()
        other.join()
        assert page_of_parts(found, Conditions()).total == 2
        with pytest.raises(sqlite3.OperationalError):
            found.execute("DELETE FROM current")
    with register.reading() as found:
        assert page_of_parts(found, Conditions()).total == 3


def test_the_mark_spells_the_name() -> None:
    assert APPLICATION_ID.to_bytes(4) == b"FLKW"
