"""A job bundle: a zip with a document of rows, the pictures, and a manifest of hashes.

    manifest.json                  schema flankwise/bundle/1: name, length and SHA-256 of every other file
    parts.json                     the rows (``exchange.document``)
    pictures/3f0a...c2.png         the pictures, named by their SHA-256, as they came from the camera

Nothing is taken from a bundle before all of it has been looked at (``open_bundle``): names, kinds and sizes of what the
zip says it holds, then every byte against the manifest. Files are read under the names above and no other; none is ever
written under a name that stands in a bundle.
"""

from __future__ import annotations

import hashlib
import json
import os
import re
import stat
import zipfile
import zlib
from collections.abc import Iterator, Mapping
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from records.copying import clear_unfinished
from records.exchange.arrival import checked_document, parsed
from records.filing import document_text, program_version
from records.locked import locked
from records.picture_store import PictureStore, file_sha256
from records.register import utc_now
from threads.shared.file_name import plain_name
from threads.shared.in_place import discard, put_in_place
from threads.shared.refusal import Reason, RefusalError

SCHEMA = "flankwise/bundle/1"
MANIFEST, PARTS = "manifest.json", "parts.json"

MOST_FILES = 100_000
MOST_PICTURE = 2_000_000_000
MOST_DOCUMENT = 200_000_000
MOST_TOTAL = 100_000_000_000
MOST_PACKED = 200
"""How many times larger than in the zip a file over ``PACKED_FROM`` bytes may be: what is more is made to harm."""
PACKED_FROM = 1_000_000
_MOST_OF_AN_ENTRY = 1000
"""Bytes of the manifest for each file: name, length and hash take some 230."""

_PICTURE = re.compile(r"pictures/([0-9a-f]{64})\.[a-z]{3,4}")
_CHUNK = 1 << 20
_DAMAGED = (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, RuntimeError, ValueError)
_READABLE = (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED)


@dataclass(frozen=True, eq=False)
class Bundle:
    """A bundle that has been looked at; ``document`` as ``exchange.document`` has it."""

    archive: zipfile.ZipFile
    document: Mapping[str, Any]
    pictures: Mapping[str, str]

    def extract(self, sha256: str, target: Path) -> bool:
        """Write the picture with this hash to ``target``, a new file; False where the bundle does not have it."""
        name = self.pictures.get(sha256)
        if name is None:
            return False
        with self.archive.open(name) as source, target.open("xb") as file:
            while chunk := source.read(_CHUNK):
                file.write(chunk)
        return True


def write_bundle(path: Path, document: Mapping[str, Any], store: PictureStore) -> list[Reason]:
    """Write a bundle of ``document`` and the pictures that it names; the file appears whole or not at all.

    Returns which pictures are not in it, because the register does not have them as they were filed. Raises OSError.
    """
    missing = []
    beside = path.with_name(f".{path.name[:50]}.{os.getpid()}.tmp")
    entries = []
    clear_unfinished(path.parent, path.name)  # of an export that was killed
    try:
        with (
            beside.open("xb") as file,
            zipfile.ZipFile(file, "w", zipfile.ZIP_STORED, allowZip64=True) as archive,
        ):
            locked(file.fileno())
            content = document_text(document).encode()
            entries.append(_put(archive, PARTS, content))
            for row in document["pictures"]:
                source = store.original(row["sha256"], row["suffix"])
                if not source.is_file() or file_sha256(source) != row["sha256"]:
                    key = "picture_altered.store" if source.is_file() else "picture_missing.register"
                    missing.append(Reason(key, picture=row["file_name"]))
                    continue
                name = f"pictures/{row['sha256']}{row['suffix']}"
                archive.write(source, name)  # pictures are packed already
                entries.append({"name": name, "bytes": row["bytes"], "sha256": row["sha256"]})
            manifest = {"schema": SCHEMA, "written": utc_now(), "version": program_version(), "files": entries}
            archive.writestr(MANIFEST, json.dumps(manifest, indent=1), zipfile.ZIP_DEFLATED)
        put_in_place(beside, path)
    finally:
        discard(beside)
    return missing


@contextmanager
def open_bundle(path: Path) -> Iterator[Bundle]:
    """Open a bundle and look at all of it; nothing is written.

    Raises RefusalError: bundle_unreadable (no zip, or a damaged one), bundle_foreign (no bundle), bundle_newer,
    bundle_unsafe (names, kinds of files), bundle_too_large, bundle_altered (hashes), and what
    ``arrival.checked_document`` raises.
    """
    name = plain_name(path)
    with ExitStack() as opened:
        try:
            archive = opened.enter_context(zipfile.ZipFile(path))
            entries = _entries(archive, name)
            _check_files(archive, entries, _manifest(archive, entries, name), name)
            document = checked_document(parsed(archive.read(PARTS), name), name)
        except OSError as error:
            raise RefusalError("bundle_unreadable", name=name, why=error.strerror or str(error)) from error
        except _DAMAGED as error:
            raise RefusalError("bundle_unreadable.damaged", name=name, why=str(error)) from error
        found = {match[1]: entry for entry in entries if (match := _PICTURE.fullmatch(entry))}
        yield Bundle(archive, document, found)


def _put(archive: zipfile.ZipFile, name: str, content: bytes) -> dict[str, Any]:
    archive.writestr(name, content, zipfile.ZIP_DEFLATED)
    return {"name": name, "bytes": len(content), "sha256": hashlib.sha256(content).hexdigest()}


def _entries(archive: zipfile.ZipFile, name: str) -> dict[str, zipfile.ZipInfo]:
    """What the zip says it holds, if all of it is of a kind that a bundle has."""
    infos = archive.infolist()
    names = [info.filename for info in infos]
    if MANIFEST not in names:
        raise RefusalError("bundle_foreign", name=name, manifest=MANIFEST)
    if len(infos) > MOST_FILES or sum(info.file_size for info in infos) > MOST_TOTAL:
        raise RefusalError("bundle_too_large.total", name=name)
    if len({each.casefold() for each in names}) != len(names):
        raise RefusalError("bundle_unsafe.twice", name=name)
    for info in infos:
        if info.orig_filename not in (MANIFEST, PARTS) and not _PICTURE.fullmatch(info.orig_filename):
            raise RefusalError("bundle_unsafe.name", name=name, file=ascii(info.filename[:80]))
        kind = stat.S_IFMT(info.external_attr >> 16)
        if kind not in (0, stat.S_IFREG) or info.is_dir():
            raise RefusalError("bundle_unsafe.link", name=name, file=info.filename[:80])
        if info.flag_bits & 1 or info.compress_type not in _READABLE:
            raise RefusalError("bundle_unsafe.packed", name=name, file=info.filename[:80])
        most = MOST_PICTURE if info.filename.startswith("pictures/") else MOST_DOCUMENT
        swollen = info.file_size > PACKED_FROM and info.file_size > MOST_PACKED * max(info.compress_size, 1)
        if info.filename == MANIFEST:
            most = _MOST_OF_AN_ENTRY * (len(infos) + 1)
        if info.file_size > most or swollen:
            raise RefusalError("bundle_too_large.file", name=name, file=info.filename[:80], bytes=info.file_size)
    return dict(zip(names, infos, strict=True))


def _manifest(
    archive: zipfile.ZipFile, entries: Mapping[str, zipfile.ZipInfo], name: str
) -> dict[str, tuple[int, str]]:
    """Length and hash of every other file, as the manifest has them."""
    manifest = parsed(archive.read(MANIFEST), name)
    schema = manifest.get("schema") if isinstance(manifest, dict) else None
    if schema != SCHEMA:
        if isinstance(schema, str) and schema.startswith("flankwise/bundle/"):
            raise RefusalError("bundle_newer", name=name)
        raise RefusalError("bundle_foreign.manifest", name=name)
    try:
        files = {str(one["name"]): (int(one["bytes"]), str(one["sha256"])) for one in manifest["files"]}
        count = len(manifest["files"])
    except (KeyError, TypeError, ValueError) as error:
        raise RefusalError("bundle_foreign.unreadable", name=name) from error
    if len(files) != count or set(files) != set(entries) - {MANIFEST} or PARTS not in files:
        raise RefusalError("bundle_altered.files", name=name)
    return files


def _check_files(
    archive: zipfile.ZipFile, entries: Mapping[str, zipfile.ZipInfo], files: Mapping[str, tuple[int, str]], name: str
) -> None:
    """Every byte against the manifest, and the name of every picture against its hash."""
    for entry, (length, sha256) in files.items():
        match = _PICTURE.fullmatch(entry)
        if entries[entry].file_size != length or (match and match[1] != sha256) or _hash(archive, entry) != sha256:
            raise RefusalError("bundle_altered", entry=entry[:80], name=name)


def _hash(archive: zipfile.ZipFile, entry: str) -> str:
    digest = hashlib.sha256()
    with archive.open(entry) as file:  # reads as many bytes as the zip's list says, no more
        while chunk := file.read(_CHUNK):
            digest.update(chunk)
    return digest.hexdigest()
