"""The folder of pictures beside the register: each file once, under its SHA-256, exactly as it came.

    originals/3f/3f0a...c2.png    the file as it came, never touched again
    thumbnails/3f/3f0a...c2.jpg   for the eye only; can be made again
    incoming/                     empty but for the moment in which something is filed

A file is written under ``incoming``, forced to the disk and only then given its name; before that a note of its name
is left in ``incoming`` and taken away after the rows that mention it are committed. All this happens while the right to
write the register is held. So whoever finds a note and holds that right knows that its writer is gone: what no row
mentions is removed (``clear_leftovers``), and nothing half done remains.
"""

from __future__ import annotations

import contextlib
import hashlib
import os
import secrets
import sqlite3
from dataclasses import dataclass, field
from pathlib import Path

from records.arriving import clear_arriving
from records.connection import connect
from records.copying import clear_unfinished
from records.disk import private_folder, sync_folder
from records.faults import faults_told
from threads.shared.file_name import plain_name
from threads.shared.in_place import discard, put_in_place
from threads.shared.refusal import RefusalError

_CHUNK = 1 << 20
_NOTE = ".note"
_KINDS = (
    (b"\x89PNG", ".png"), (b"\xff\xd8\xff", ".jpg"), (b"II*\0", ".tif"), (b"MM\0*", ".tif"), (b"BM", ".bmp"),
)  # fmt: skip


@dataclass
class PictureStore:
    """The folder; ``placed`` are the files that the action under way has added, ``notes`` what it left about them."""

    folder: Path
    placed: list[Path] = field(default_factory=list)
    notes: list[Path] = field(default_factory=list)

    @property
    def incoming(self) -> Path:
        return self.folder / "incoming"

    def original(self, sha256: str, suffix: str) -> Path:
        """Where the picture with this hash is, or would be."""
        return self.folder / "originals" / sha256[:2] / f"{sha256}{suffix}"

    def thumbnail(self, sha256: str) -> Path:
        """Where its thumbnail is, if it has one."""
        return self.folder / "thumbnails" / sha256[:2] / f"{sha256}.jpg"

    def take_in(self, source: Path, sha256: str, thumbnail: bytes | None) -> tuple[str, int]:
        """Copy the picture file ``source`` into the folder; return its suffix and its length in bytes.

        Only within ``Register.writing``. Raises OSError; RefusalError picture_changed where ``source`` no longer has
        this hash.
        """
        private_folder(self.folder)
        self.incoming.mkdir(exist_ok=True)
        temporary = self.incoming / f"{secrets.token_hex(8)}.tmp"
        try:
            suffix, length = _copy(source, temporary, sha256)
            target = self.original(sha256, suffix)
            if not (target.exists() and file_sha256(target) == sha256):
                self._note(sha256)
                self._place(temporary, target)
        finally:
            discard(temporary)
        small = self.thumbnail(sha256)
        if thumbnail is not None and not small.exists():
            self._note(sha256)
            temporary.write_bytes(thumbnail)
            self._place(temporary, small)
        return suffix, length

    def settle(self) -> None:
        """The rows that mention the new files are committed: take the notes away."""
        for note in self.notes:
            discard(note)
        self.notes.clear()
        self.placed.clear()

    def take_back(self) -> None:
        """The action failed: remove what it added."""
        for path in self.placed:
            discard(path)
        self.settle()

    def _note(self, sha256: str) -> None:
        note = self.incoming / f"{sha256}{_NOTE}"
        if note not in self.notes:
            self.notes.append(note)
            note.touch()
            sync_folder(self.incoming)

    def _place(self, temporary: Path, target: Path) -> None:
        if not target.parent.is_dir():
            target.parent.mkdir(parents=True, exist_ok=True)
            sync_folder(target.parent.parent)
            sync_folder(self.folder)
        self.placed.append(target)
        temporary.chmod(0o600)
        put_in_place(temporary, target)
        sync_folder(target.parent)


def clear_leftovers(store: PictureStore, register: Path) -> int:
    """Remove what a killed program left in ``store`` or beside ``register``; return how many files that were.

    Where another program is writing just now, or the folder cannot be written, nothing is done: what is there may be in
    use. Raises RefusalError for a register that cannot be read.
    """
    removed = clear_arriving(store.folder) + clear_unfinished(
        register.parent, register.name
    )  # registers and copies of them that were not finished
    try:
        left = sorted(store.incoming.iterdir())
    except OSError:
        left = []
    if not left:
        return removed
    with faults_told(register):
        try:  # even to connect is refused while another program connects or leaves
            with contextlib.closing(connect(register, timeout=0)) as connection:
                connection.execute("BEGIN IMMEDIATE")
                for path in left:
                    with contextlib.suppress(OSError):
                        if path.suffix == _NOTE:
                            removed += _remove_unknown(store, connection, path.stem)
                        path.unlink(missing_ok=True)
                        removed += path.suffix != _NOTE
        except sqlite3.OperationalError as error:
            if error.sqlite_errorcode & 0xFF not in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_READONLY):
                raise
    return removed


def _remove_unknown(store: PictureStore, connection: sqlite3.Connection, sha256: str) -> int:
    """Remove the files of a picture that no row mentions; how many there were. Raises OSError."""
    if connection.execute("SELECT 1 FROM pictures WHERE sha256 = ?", (sha256,)).fetchone():
        return 0
    removed = 0
    for path in (*store.original(sha256, "").parent.glob(f"{sha256}.*"), store.thumbnail(sha256)):
        if path.exists():
            path.unlink()
            removed += 1
    return removed


def file_sha256(path: Path) -> str:
    """SHA-256 of a file's bytes, hexadecimal. Raises OSError."""
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def _copy(source: Path, target: Path, sha256: str) -> tuple[str, int]:
    digest, length, suffix = hashlib.sha256(), 0, None
    with source.open("rb") as file, target.open("xb") as copy:
        while chunk := file.read(_CHUNK):
            if suffix is None:
                suffix = next((ending for start, ending in _KINDS if chunk.startswith(start)), ".bin")
            digest.update(chunk)
            length += len(chunk)
            copy.write(chunk)
        copy.flush()
        os.fsync(copy.fileno())
    if digest.hexdigest() != sha256:
        raise RefusalError("picture_changed", source=plain_name(source))
    return suffix or ".bin", length
