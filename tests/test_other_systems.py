"""What differs on Windows and macOS, emulated; ``docs/systems.md`` lists it all and says which of it rests on this.

The rules for names are those of Microsoft, "Naming Files, Paths, and Namespaces", written down here on their own.
"""

from __future__ import annotations

import errno
import io
import os
import re
import sqlite3
import sys
import types
import zipfile
from contextlib import closing
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calib.file import load_calibration
from cli.characters import ERRORS
from cli.main import main, run
from records import locked
from records.backup import back_up, restore
from records.batch import results
from records.exchange.outgoing import write_parts
from records.figures import type_files
from records.register import Register, open_register
from records.verification import verify
from tests.records.registers import file_picture, file_workshop, new_register, picture_file
from threads.own.own_folder import path_of
from threads.own.own_table import EXAMPLE, read_table
from threads.shared import in_place
from threads.shared.file_name import file_name_for
from threads.shared.refusal import RefusalError
from threads.shared.whole_file import write_whole
from vision.pictures import cameras as cameras_module
from vision.pictures.cameras import Camera, cameras
from vision.pictures.picture import read_picture

ROOT = Path(__file__).resolve().parents[1]
MAX_PATH = 260  # with the null at its end; Microsoft, "Maximum Path Length Limitation"


def held(winerror: int = 32) -> PermissionError:
    """As Windows refuses what another program has open."""
    error = PermissionError(errno.EACCES, "The process cannot access the file: another process is using it")
    error.winerror = winerror  # type: ignore[attr-defined]
    return error


@pytest.fixture
def scanner(monkeypatch: pytest.MonkeyPatch) -> list[float]:
    """A scanner for viruses, which holds every file that is to be replaced or removed for two attempts.

    Returns the pauses that were made, in s.
    """
    pauses: list[float] = []
    monkeypatch.setattr(in_place.time, "sleep", pauses.append)
    seen: dict[tuple[str, str], int] = {}

    def stubborn(name: str) -> None:
        real = getattr(os, name)

        def call(path: str | os.PathLike[str], *rest: object, **named: object) -> object:
            key = (name, os.fspath(path))
            seen[key] = seen.get(key, 0) + 1
            if seen[key] <= 2 and Path(path).exists():
                raise held(32 if seen[key] == 1 else 5)
            return real(path, *rest, **named)

        monkeypatch.setattr(os, name, call)

    for name in ("replace", "unlink"):
        stubborn(name)
    return pauses


def filled_register(folder: Path) -> Register:
    """The register of three parts that the first version's program wrote, brought up to date."""
    with zipfile.ZipFile(ROOT / "tests" / "records" / "register_v1.zip") as packed:
        packed.extractall(folder)
    return open_register(folder / "register.sqlite")


def test_files_that_a_scanner_holds_are_waited_for(tmp_path: Path, scanner: list[float]) -> None:
    """Filing, export, backup and restore end as if nobody had held anything, and leave nothing behind."""
    register = filled_register(tmp_path)
    with register.writing() as writing:
        file_picture(writing, *picture_file(tmp_path))
    assert scanner[:2] == [0.02, 0.05]
    write_parts(register, [1, 2], tmp_path / "two.flankwise")
    for _ in range(2):  # the second takes the place of the first
        backup = back_up(register, tmp_path / "backup")
    restored, _ = restore(tmp_path / "backup", tmp_path / "again" / "parts.sqlite")
    assert restored.parts == backup.parts == 3
    found = verify(open_register(tmp_path / "again" / "parts.sqlite"))
    assert found.faults == ()
    write_whole(tmp_path / "bench.json", b"{}")
    write_whole(tmp_path / "bench.json", b"[]")
    assert (tmp_path / "bench.json").read_bytes() == b"[]"
    assert [p.name for p in tmp_path.rglob("*") if p.suffix in {".tmp", ".note", ".part"}] == []
    assert len(list((tmp_path / "backup").glob("register-*.sqlite"))) == 1


def test_a_file_that_stays_held_is_an_error_in_the_end_and_a_forbidden_one_at_once(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    pauses: list[float] = []
    monkeypatch.setattr(in_place.time, "sleep", pauses.append)
    (tmp_path / "old").write_text("old")
    for error, attempts in ((held(), len(in_place.PAUSES_S)), (PermissionError(errno.EACCES, "denied"), 0)):
        pauses.clear()

        def refuse(*_: object, error: PermissionError = error) -> None:
            raise error

        with monkeypatch.context() as patched:
            patched.setattr(os, "replace", refuse)
            with pytest.raises(PermissionError):
                write_whole(tmp_path / "old", b"new")
        assert len(pauses) == attempts
        assert [path.name for path in tmp_path.iterdir()] == ["old"]


def allowed_on_windows(name: str) -> bool:
    base = name.split(".", maxsplit=1)[0].rstrip(" ").lower()
    devices = {"con", "prn", "aux", "nul", "conin$", "conout$"}
    device = base in devices or re.fullmatch(r"(com|lpt)[0-9¹²³]", base) is not None
    return not (re.search(r'[<>:"/\\|?*\x00-\x1f]', name) or name[-1:] in {".", " ", ""} or device)


@given(st.one_of(st.text(max_size=300), st.sampled_from(["con", "Lpt1 .old", "COM¹", "a" * 400, "..", " ", "nul."])))
def test_every_suggested_name_is_one_everywhere(text: str) -> None:
    for ending in ("", ".pdf"):
        name = file_name_for(text, ending)
        assert allowed_on_windows(name), name
        assert len(name.encode()) <= 255
        assert name.endswith(ending)


def test_a_workshop_may_call_its_series_con(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("FLANKWISE_DATA", str(tmp_path))
    assert allowed_on_windows(path_of("CON").name)
    assert path_of("QW") == path_of("qw") == tmp_path / "series" / "qw.csv"


def test_names_in_bundles_and_stores_are_short_and_good_everywhere(tmp_path: Path) -> None:
    """Also on disks that do not tell capitals from small letters, and within the longest path of an older Windows."""
    register = filled_register(tmp_path)
    write_parts(register, [1, 2], tmp_path / "two.flankwise")
    with zipfile.ZipFile(tmp_path / "two.flankwise") as archive:
        names = archive.namelist()
    assert len({name.casefold() for name in names}) == len(names)
    assert [part for name in names for part in name.split("/") if not allowed_on_windows(part)] == []
    places = [p.relative_to(tmp_path) for p in register.store.folder.rglob("*")]
    folder = r"C:\Users\a person with a name\AppData\Local\flankwise" + "\\"
    assert max(len(folder) + len(str(place)) for place in places) < MAX_PATH - 1


@pytest.mark.skipif(os.name == "nt", reason="there the path is a real one")
def test_drive_letters_and_long_paths_reach_sqlite_unchanged(tmp_path: Path) -> None:
    """SQLite is given an address: what a path has of ``\\ : # % ?`` must come out of it again."""
    name = r"C:\Users\ä b\100 % #1?.sqlite"
    deep = tmp_path / ("long " * 20) / ("longer " * 20)
    for path in (tmp_path / name, deep / r"\\server\share\register.sqlite"):
        file_workshop(open_register(path, create=True), 1)
        assert path.is_file()
        with open_register(path).reading() as connection:
            assert connection.execute("SELECT count(*) FROM parts").fetchone() == (1,)
    assert len(str(deep)) > MAX_PATH


def test_nothing_waits_beside_the_register_for_a_folder_in_step(tmp_path: Path) -> None:
    """A program that copies single files to a server always finds one whole register, and its own copies are let be."""
    register = new_register(tmp_path)
    file_workshop(register, 2)
    with register.reading():
        pass
    assert [p.name for p in tmp_path.iterdir()] == ["parts.sqlite"]
    conflict = tmp_path / "parts (conflicted copy of the laptop).sqlite"
    conflict.write_bytes(b"of another machine")
    with open_register(register.path).writing() as writing:
        file_picture(writing, *picture_file(tmp_path))
    assert conflict.read_bytes() == b"of another machine"


def test_a_picture_that_lies_only_on_the_server_is_refused_in_one_line(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = picture_file(tmp_path)[0]

    def offline(*_: object, **__: object) -> None:
        raise OSError(errno.EINVAL, "The cloud file provider is not running")  # ERROR_CLOUD_FILE_PROVIDER_NOT_RUNNING

    monkeypatch.setattr("builtins.open", offline)
    with pytest.raises(RefusalError) as caught:
        read_picture(path)
    monkeypatch.undo()
    assert caught.value.reasons[0].key == "unreadable.denied"


def test_a_folder_is_called_one_where_opening_it_is_forbidden(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Windows says "permission denied" for a folder that is opened as a file."""

    def denied(*_: object, **__: object) -> None:
        raise PermissionError(errno.EACCES, "Permission denied")

    for read, code in ((read_picture, "unreadable.folder"), (load_calibration, "calibration_unreadable.folder")):
        with monkeypatch.context() as patched:
            patched.setattr("builtins.open", denied)
            with pytest.raises(RefusalError) as caught:
                read(tmp_path)
        assert caught.value.reasons[0].key == code


@pytest.mark.parametrize("encoding", ["cp1252", "cp850", "cp437", "utf-8"])
def test_code_pages_of_windows_show_every_number(encoding: str, monkeypatch: pytest.MonkeyPatch) -> None:
    shown = {}
    for now in ("utf-8", encoding):
        raw = io.BytesIO()
        monkeypatch.setattr(sys, "stdout", io.TextIOWrapper(raw, encoding=now, errors=ERRORS, newline="\r\n"))
        assert main(["limits", "4-40 NC-2"]) == main(["wires", "4-40 UNC-2A"]) == main(["series", "BA"]) == 0
        shown[now] = raw.getvalue().decode(now)
        monkeypatch.undo()
    assert re.findall(r"[\d.]+", shown[encoding]) == re.findall(r"[\d.]+", shown["utf-8"])
    assert shown[encoding].count("?") == shown["utf-8"].count("?")
    if encoding == "cp850":  # has ± and ° but no dagger
        assert "(m)" in shown[encoding]
        assert "†" in shown["utf-8"]


@pytest.mark.parametrize("arguments", [["gui"], ["limits", "4-40 NC-2"]])
def test_without_any_terminal(arguments: list[str], monkeypatch: pytest.MonkeyPatch) -> None:
    """Started from a menu, a program of Windows has neither stdin, stdout nor stderr."""
    opened: list[object] = []
    monkeypatch.setattr("gui.app.main", lambda *given: opened.append(given) or 0)
    monkeypatch.setattr(sys, "argv", ["flankwise", *arguments])
    with monkeypatch.context() as patched:
        for stream in ("stdin", "stdout", "stderr"):
            patched.setattr(sys, stream, None)
        with pytest.raises(SystemExit) as ended:
            run()
    assert ended.value.code == (0 if arguments == ["gui"] else 2)
    assert len(opened) == (arguments == ["gui"])


@pytest.mark.parametrize("debug", ["0", "1"])
def test_a_defect_without_a_terminal_leaves_its_log(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, debug: str
) -> None:
    def fail(*_: object) -> int:
        raise ZeroDivisionError

    monkeypatch.setattr("gui.app.main", fail)
    monkeypatch.setattr("cli.defects.log_folder", lambda: tmp_path)
    monkeypatch.setenv("FLANKWISE_DEBUG", debug)
    with monkeypatch.context() as patched:
        for stream in ("stdout", "stderr"):
            patched.setattr(sys, stream, None)
        assert main(["gui"]) == 1
    assert "ZeroDivisionError" in next(tmp_path.glob("flankwise-*.log")).read_text("utf-8")


@pytest.mark.parametrize("end", ["\r\n", "\r", "\n"])
def test_line_ends_of_tables_do_not_matter(end: str) -> None:
    assert read_table(EXAMPLE.replace("\n", end).encode()) == read_table(EXAMPLE.encode())


def test_a_calibration_survives_other_line_ends(tmp_path: Path) -> None:
    """As a version control or a mail program of Windows leaves them; the checksum is that of the content."""
    with zipfile.ZipFile(ROOT / "tests" / "records" / "register_v1.zip") as packed:
        packed.extract("register.sqlite", tmp_path)
    with closing(sqlite3.connect(tmp_path / "register.sqlite")) as register:
        ((document,),) = register.execute("SELECT document FROM calibrations")
    for end in ("\n", "\r\n"):
        (tmp_path / "bench.json").write_text(document.replace(",", f",{end}"), "utf-8", newline="")
        found = load_calibration(tmp_path / "bench.json")  # of the first version of the register: benches survive
        assert found.um_per_px == pytest.approx(4.0, abs=0.01)  # the scale that the samples of bench A were drawn at


def test_results_are_locked_as_windows_locks(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Its locks forbid reading what they cover, so one byte far behind the rows is locked."""
    calls: list[tuple[int, int, int]] = []
    taken = False

    def locking(descriptor: int, mode: int, count: int) -> None:
        if taken:
            raise OSError(errno.EDEADLK, "Resource deadlock avoided")  # as LK_NBLCK ends where another holds it
        calls.append((os.lseek(descriptor, 0, os.SEEK_CUR), mode, count))

    monkeypatch.setitem(sys.modules, "msvcrt", types.SimpleNamespace(locking=locking, LK_NBLCK=2))
    monkeypatch.setattr(locked.sys, "platform", "win32")
    path = tmp_path / "results.csv"
    with results.open_results(path, ["picture", "sha256"], "c", "s"):
        pass
    ((place, mode, count),) = calls
    assert place >= 1 << 30  # no file of results is as long
    assert (mode, count) == (2, 1)
    taken = True
    with pytest.raises(RefusalError) as caught, results.open_results(path, ["picture", "sha256"], "c", "s"):
        pass
    assert caught.value.reasons[0].code == "results_in_use"


def test_types_are_found_by_the_endings_of_windows(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    content = type_files.dejavu().read_bytes()
    for name in ("ARIALUNI.TTF", "msgothic.ttc", "desktop.ini"):
        (tmp_path / name).write_bytes(content)
    monkeypatch.setattr("matplotlib.font_manager.findSystemFonts", lambda **_: [str(p) for p in tmp_path.iterdir()])
    type_files.system_types.cache_clear()
    try:
        assert [path.name for path in type_files.system_types()] == ["ARIALUNI.TTF", "msgothic.ttc"]
        assert type_files.type_with(ord("Ω")) == tmp_path / "ARIALUNI.TTF"
    finally:
        for cached in (type_files.system_types, type_files.type_with):
            cached.cache_clear()


def test_cameras_without_a_list_are_tried_and_with_one_their_permission_is_seen(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(cameras_module.platform, "system", lambda: "Windows")
    monkeypatch.setattr(cameras_module, "_opens", lambda number: number == 1)
    told = {"stdout": b""}
    monkeypatch.setattr(cameras_module.subprocess, "run", lambda *_, **__: types.SimpleNamespace(**told))
    assert [(camera.number, camera.name, camera.allowed) for camera in cameras()] == [(1, "", True)]
    told["stdout"] = "Mikroskop für den Tisch\r\n".encode()
    assert cameras() == (Camera(1, "Mikroskop für den Tisch"),)
    monkeypatch.setattr(cameras_module.platform, "system", lambda: "Darwin")
    told["stdout"] = b'{"SPCameraDataType": [{"_name": "lid camera"}, {"_name": "bench microscope"}]}'
    assert cameras() == (Camera(1, "", perhaps=("lid camera", "bench microscope")),)
    told["stdout"] = b"not what was asked for"
    assert cameras() == (Camera(1, ""),)
    monkeypatch.setattr(cameras_module.platform, "system", lambda: "Linux")
    node = tmp_path / "sys" / "video2"
    node.mkdir(parents=True)
    (node / "name").write_text("bench microscope\n")
    (tmp_path / "dev").mkdir()
    (tmp_path / "dev" / "video2").touch()
    monkeypatch.setattr(cameras_module.os, "access", lambda *_: False)
    found = cameras(tmp_path / "sys", tmp_path / "dev")
    assert [(camera.number, camera.name, camera.allowed) for camera in found] == [(2, "bench microscope", False)]
