"""Copies of a register, and bringing one back.

A backup is a folder:

    backup.json                     what it is: schema, when, version, the database's name and SHA-256
    backup.lock                     whose turn it is
    register-20360512T101500Z.sqlite
    pictures/originals/...          as beside the register

The database is copied by SQLite's online backup, while others read and write; then the pictures that it mentions, then
``backup.json`` is put in place, and only then the databases that were there before are removed. So a backup that was
cut off leaves the earlier one, and backing up into the same folder again copies only what is new. One program at a time
has the folder (``backup.lock``). A picture that is missing or altered is named under ``missing``; all others are kept.
"""

from __future__ import annotations

import contextlib
import json
import os
import shutil
import sqlite3
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

from records.connection import connect, connect_for_reading, value
from records.copying import clear_unfinished, copy_database, stamp
from records.disk import private_folder, sync_file, sync_folder
from records.faults import faults_told
from records.locked import locked
from records.picture_store import PictureStore, file_sha256
from records.register import VERSION, Register, utc_now, version_of
from records.register_path import register_path
from threads.shared.file_name import plain_name
from threads.shared.in_place import discard, put_in_place, remove
from threads.shared.refusal import Reason, RefusalError
from threads.shared.whole_file import write_whole

SCHEMA = "flankwise/backup/1"
MANIFEST = "backup.json"
LOCK = "backup.lock"


@dataclass(frozen=True)
class Backup:
    """A backup. ``copied``: pictures that were not there before; ``pictures``: all of them; ``missing``: by their hash,
    those that the register no longer has as they were filed.
    """

    folder: Path
    when: str
    database: Path
    parts: int
    pictures: int
    copied: int = 0
    missing: Mapping[str, Reason] = field(default_factory=dict)


def back_up(register: Register, folder: Path) -> Backup:
    """Copy the register into ``folder``, which is new, empty, or holds an earlier backup.

    Raises RefusalError: folder_not_empty, backup_in_use, register_damaged, and what ``faults.faults_told`` raises; an
    earlier backup is then what it was.
    """
    with faults_told(folder):
        folder.mkdir(parents=True, exist_ok=True)
        # what a backup that was cut off leaves is no other file
        others = {path.name for path in folder.iterdir() if not path.name.startswith(("register-", "."))}
        others -= {"pictures", LOCK}
        if others and MANIFEST not in others:
            raise RefusalError("folder_not_empty", folder=plain_name(folder))
        with _alone(folder):
            return _back_up(register, folder)


def _back_up(register: Register, folder: Path) -> Backup:
    earlier = list(folder.glob("register-*"))
    store = PictureStore(folder / "pictures")
    clear_unfinished(folder)
    for path in store.incoming.glob("*"):
        discard(path)
    database = folder / f"register-{stamp()}.sqlite"
    copy_database(register.path, database)
    with contextlib.closing(connect_for_reading(database)) as connection:
        if value(connection, "PRAGMA quick_check(1)") != "ok":  # an earlier backup is better than this one
            raise RefusalError("register_damaged", name=plain_name(register.path))
        wanted = connection.execute("SELECT sha256, suffix, file_name FROM pictures").fetchall()
        parts = int(value(connection, "SELECT count(*) FROM parts"))
    copied, missing = 0, {}
    for sha256, suffix, name in wanted:
        try:
            copied += _copy_picture(register.store, store, sha256, suffix)
        except RefusalError as refusal:
            missing[sha256] = Reason(refusal.reasons[0].key, picture=name)
    made = Backup(folder, utc_now(), database, parts, len(wanted) - len(missing), copied, missing)
    manifest = {
        "schema": SCHEMA,
        "when": made.when,
        "register_version": VERSION,
        "database": database.name,
        "sha256": file_sha256(database),
        "parts": made.parts,
        "pictures": made.pictures,
        "missing": sorted(missing),
    }
    write_whole(folder / MANIFEST, (json.dumps(manifest, indent=2) + "\n").encode())
    for path in earlier:
        discard(path)
    return made


@contextmanager
def _alone(folder: Path) -> Iterator[None]:
    """Keep other backups out of the folder. Raises RefusalError (backup_in_use), OSError."""
    descriptor = os.open(folder / LOCK, os.O_RDWR | os.O_CREAT, 0o600)
    try:
        if not locked(descriptor):
            raise RefusalError("backup_in_use", folder=plain_name(folder))
        yield
    finally:
        os.close(descriptor)


def read_backup(folder: Path) -> Backup:
    """The backup in ``folder``, its database checked against its hash.

    Raises RefusalError: not_a_backup, backup_damaged, register_newer, not_a_register.
    """
    with faults_told(folder):
        try:
            manifest = json.loads((folder / MANIFEST).read_bytes())
            schema, sha256 = manifest["schema"], str(manifest["sha256"])
            database = folder / Path(str(manifest["database"])).name
            missing = {
                str(one): Reason("picture_missing.store", picture=str(one)) for one in manifest.get("missing", ())
            }
            counts = int(manifest["parts"]), int(manifest["pictures"])
            found = Backup(folder, str(manifest["when"]), database, *counts, missing=missing)
        except (FileNotFoundError, NotADirectoryError, ValueError, KeyError, TypeError, AttributeError):
            schema = None
        if schema != SCHEMA:
            raise RefusalError("not_a_backup", folder=plain_name(folder))
        if not database.is_file() or file_sha256(database) != sha256:
            raise RefusalError("backup_damaged.database", folder=plain_name(folder))
    version_of(database)
    return found


def restore(folder: Path, path: str | os.PathLike[str] | None = None) -> tuple[Backup, Path | None]:
    """Make the register at ``path`` what the backup in ``folder`` is; return where the register of before is kept.

    Every picture is compared with its hash before anything is changed. Then the pictures that are missing are brought
    back, then the database in one step: at each moment the register is either the old or the restored one.

    Raises RefusalError as ``read_backup``, and backup_damaged where a picture is missing or altered.
    """
    with contextlib.ExitStack() as alone:
        if (folder / LOCK).exists() and os.access(folder / LOCK, os.W_OK):  # a disc is read without
            alone.enter_context(_alone(folder))
        return _restore(read_backup(folder), register_path(path))


def _restore(backup: Backup, file: Path) -> tuple[Backup, Path | None]:
    store, source = Register(file).store, PictureStore(backup.folder / "pictures")
    with faults_told(file):
        with contextlib.closing(connect_for_reading(backup.database)) as connection:
            named = connection.execute("SELECT sha256, suffix FROM pictures").fetchall()
        wanted = [(sha256, suffix) for sha256, suffix in named if sha256 not in backup.missing]
        for sha256, suffix in wanted:
            kept = source.original(sha256, suffix)
            if not kept.is_file() or file_sha256(kept) != sha256:
                raise RefusalError("backup_damaged.picture", picture=kept.name)
        file.parent.mkdir(parents=True, exist_ok=True)
        for sha256, suffix in wanted:
            _copy_picture(source, store, sha256, suffix)
        before = _set_aside(file)
        if file.exists():
            with (
                contextlib.closing(sqlite3.connect(backup.database)) as original,
                contextlib.closing(connect(file)) as target,
            ):
                original.backup(target)
        else:
            beside = file.with_name(f".{file.name[:50]}.{os.getpid()}.tmp")
            discard(beside)
            copy_database(backup.database, beside)
            with contextlib.closing(connect(beside)) as copy:
                copy.execute("PRAGMA journal_mode = WAL")
            put_in_place(beside, file)
            sync_folder(file.parent)
    return backup, before


def _set_aside(file: Path) -> Path | None:
    """Keep the register that is there: a copy beside it, or, where it is damaged, the file itself renamed."""
    if not file.exists():
        return None
    copy = file.with_name(f"{file.stem}.before-restore.{stamp()}{file.suffix}")
    try:
        copy_database(file, copy)
        with contextlib.closing(connect_for_reading(copy)) as connection:
            if connection.execute("PRAGMA quick_check(1)").fetchone()[0] == "ok":
                return copy
    except sqlite3.DatabaseError as error:
        if error.sqlite_errorcode & 0xFF not in (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB):
            raise
    remove(copy, missing_ok=True)
    damaged = file.with_name(f"{file.stem}.damaged.{stamp()}{file.suffix}")
    for ending in ("-wal", "-shm", ""):
        with contextlib.suppress(FileNotFoundError):
            put_in_place(file.with_name(file.name + ending), damaged.with_name(damaged.name + ending))
    return damaged


def _copy_picture(source: PictureStore, target: PictureStore, sha256: str, suffix: str) -> bool:
    """Copy a picture with its thumbnail, unless it is there already; whether it was copied.

    Raises OSError; RefusalError picture_missing, picture_altered where ``source`` does not have what was filed.
    """
    private_folder(target.folder)
    kept, wanted = source.original(sha256, suffix), target.original(sha256, suffix)
    small = target.thumbnail(sha256)
    if source.thumbnail(sha256).exists() and not small.exists():
        _copy_file(source.thumbnail(sha256), small, target)
    if wanted.exists() and file_sha256(wanted) == sha256:
        return False
    if not kept.exists() or file_sha256(kept) != sha256:
        what = "altered" if kept.exists() else "missing"
        raise RefusalError(f"picture_{what}.store", picture=kept)
    _copy_file(kept, wanted, target)
    return True


def _copy_file(source: Path, wanted: Path, target: PictureStore) -> None:
    for folder in (wanted.parent, target.incoming):  # what is left there by a kill is cleared at the next opening
        folder.mkdir(parents=True, exist_ok=True)
    beside = target.incoming / f"{wanted.name}.{os.getpid()}.tmp"
    try:
        shutil.copyfile(source, beside)
        beside.chmod(0o600)
        sync_file(beside)
        put_in_place(beside, wanted)
    finally:
        discard(beside)
    sync_folder(wanted.parent)
