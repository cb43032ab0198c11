"""Bundles of parts: documents changed with a manifest that fits, manifests changed, and bytes of the zip changed.

A bundle is taken in whole or not at all: after a refusal the register holds what it held before.
"""

from __future__ import annotations

import hashlib
import io
import json
import zipfile
from functools import cache
from typing import Any

from records.exchange.arrival import file_document
from records.exchange.bundle import open_bundle
from records.exchange.outgoing import write_parts
from records.register import Register, open_register
from tests.fuzz.folder import folder
from tests.fuzz.recipe import Recipe, spoilt, spoilt_document
from tests.fuzz.refused import assert_plain
from tests.records.workshop import kept_workshop
from threads.shared.refusal import RefusalError


@cache
def seed() -> dict[str, bytes]:
    """The files of a good bundle."""
    made = folder() / "seed"
    made.mkdir()
    write_parts(kept_workshop(made), [1], made / "good.zip")
    with zipfile.ZipFile(made / "good.zip") as archive:
        return {name: archive.read(name) for name in archive.namelist()}


@cache
def _register() -> Register:
    return open_register(folder() / "into.sqlite", create=True)


def _rows() -> tuple[int, ...]:
    with _register().reading() as connection:
        return tuple(
            connection.execute(f"SELECT count(*) FROM {table}").fetchone()[0]
            for table in ("parts", "instruments", "pictures", "measurements", "notes")
        )


def _manifest(files: dict[str, bytes]) -> dict[str, Any]:
    entries = [{"name": n, "bytes": len(c), "sha256": hashlib.sha256(c).hexdigest()} for n, c in files.items()]
    return {"schema": "flankwise/bundle/1", "files": entries}


def bundle_of(recipe: Recipe) -> bytes:
    files = {name: content for name, content in seed().items() if name != "manifest.json"}
    way = recipe.number(5)
    if way < 3:
        document = spoilt_document(json.loads(files["parts.json"]), recipe)
        files["parts.json"] = json.dumps(document).encode("utf-8", "surrogatepass")
    manifest: Any = _manifest(files)
    if way == 3:
        manifest = spoilt_document(manifest, recipe)
        if recipe.number(2):
            name = recipe.choice(("../x", "/etc/x", "parts.json/", "pictures/a.png", "a\x00b", "PARTS.JSON", "x" * 300))
            files[name] = bytes(recipe.number(100_000))
    packed = io.BytesIO()
    kind = zipfile.ZIP_DEFLATED if recipe.number(2) else zipfile.ZIP_STORED
    with zipfile.ZipFile(packed, "w", kind) as archive:
        for name, content in files.items():
            archive.writestr(name, content)
        archive.writestr("manifest.json", json.dumps(manifest).encode("utf-8", "surrogatepass"))
    return spoilt(packed.getvalue(), recipe) if way == 4 else packed.getvalue()


def one(data: bytes) -> None:
    path = folder() / "bundle.zip"
    path.write_bytes(bundle_of(Recipe(data)))
    before = _rows()
    try:
        with open_bundle(path) as bundle:
            file_document(_register(), bundle.document, bundle.extract)
    except RefusalError as refusal:
        assert_plain(refusal)
        assert _rows() == before
