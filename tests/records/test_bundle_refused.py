"""Bundles and documents that are damaged or made to harm: refused with their code before a row is written."""

from __future__ import annotations

import hashlib
import json
import stat
import tempfile
import zipfile
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flankwise.reasons import message
from records.exchange import bundle as module
from records.exchange.arrival import checked_document, file_document, parsed, read_document
from records.exchange.bundle import open_bundle
from records.exchange.outgoing import write_parts
from records.register import open_register
from tests.records.workshop import kept_workshop

Files = dict[str, bytes]


@pytest.fixture(scope="module")
def good(tmp_path_factory: pytest.TempPathFactory) -> Files:
    """The files of a good bundle."""
    folder = tmp_path_factory.mktemp("good")
    write_parts(kept_workshop(folder), [1], folder / "good.zip")
    with zipfile.ZipFile(folder / "good.zip") as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def packed(path: Path, files: Files) -> Path:
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in files.items():
            archive.writestr(name, content)
    return path


def with_manifest(files: Files) -> Files:
    """The same with a manifest that fits."""
    rest = {name: content for name, content in files.items() if name != "manifest.json"}
    entries = [
        {"name": name, "bytes": len(content), "sha256": hashlib.sha256(content).hexdigest()}
        for name, content in rest.items()
    ]
    return {**rest, "manifest.json": json.dumps({"schema": "flankwise/bundle/1", "files": entries}).encode()}


def code_of(path: Path) -> str:
    with pytest.raises(module.RefusalError) as refused, open_bundle(path):
        pass
    assert "\n" not in message(refused.value)
    return refused.value.reasons[0].code


def changed(files: Files, change: Callable[[dict[str, Any]], None]) -> Files:
    """The bundle with other rows, and a manifest that fits."""
    document = json.loads(files["parts.json"])
    change(document)
    return with_manifest({**files, "parts.json": json.dumps(document).encode()})


def test_the_good_one_is_good(good: Files, tmp_path: Path) -> None:
    with open_bundle(packed(tmp_path / "a.zip", with_manifest(good))) as opened:
        assert len(opened.pictures) == 1
        assert not opened.extract("0" * 64, tmp_path / "none")
        assert not (tmp_path / "none").exists()


@pytest.mark.parametrize("content", [b"", b"PK", b"no zip at all", b"PK\x05\x06" + bytes(18)])
def test_no_zip_is_refused(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "a.zip"
    path.write_bytes(content)
    assert code_of(path) in {"bundle_unreadable", "bundle_foreign"}
    assert code_of(tmp_path / "none.zip") == "bundle_unreadable"


@pytest.mark.parametrize(
    "name",
    ["../evil.png", "/etc/evil", "pictures/../../evil.png", "pictures\\evil.png", "C:evil.png", "pictures/short.png",
     "parts.json.exe", "pictures/", f"pictures/{'a' * 64}.png/x", "PARTS.JSON"],
)  # fmt: skip
def test_no_file_under_another_name_is_taken(good: Files, tmp_path: Path, name: str) -> None:
    assert code_of(packed(tmp_path / "a.zip", with_manifest({**good, name: b"evil"}))) == "bundle_unsafe"
    assert sorted(path.name for path in tmp_path.iterdir()) == ["a.zip"]


@pytest.mark.filterwarnings("ignore:Duplicate name")
def test_two_files_of_one_name_are_refused(good: Files, tmp_path: Path) -> None:
    path = packed(tmp_path / "a.zip", good)
    with zipfile.ZipFile(path, "a") as archive:
        archive.writestr("parts.json", b"{}")
    assert code_of(path) == "bundle_unsafe"


@pytest.mark.parametrize("kind", [stat.S_IFLNK, stat.S_IFDIR, stat.S_IFIFO])
def test_links_and_folders_are_refused(good: Files, tmp_path: Path, kind: int) -> None:
    files = dict(good)
    target = next(name for name in files if name.startswith("pictures/"))
    content = files.pop(target)
    path = packed(tmp_path / "a.zip", files)
    with zipfile.ZipFile(path, "a") as archive:
        info = zipfile.ZipInfo(target)
        info.external_attr = (kind | 0o777) << 16
        archive.writestr(info, content)
    assert code_of(path) == "bundle_unsafe"


def test_what_would_swell_is_refused(good: Files, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    name = f"pictures/{'a' * 64}.png"
    bomb = packed(tmp_path / "bomb.zip", with_manifest({**good, name: bytes(3_000_000)}))
    assert bomb.stat().st_size < 200_000
    assert code_of(bomb) == "bundle_too_large"
    path = packed(tmp_path / "a.zip", good)
    for limit, value in (("MOST_FILES", 2), ("MOST_TOTAL", 1000), ("MOST_PICTURE", 10), ("MOST_DOCUMENT", 10)):
        with monkeypatch.context() as small:
            small.setattr(module, limit, value)
            assert code_of(path) == "bundle_too_large"


def test_what_is_not_as_the_manifest_says_is_refused(good: Files, tmp_path: Path) -> None:
    picture = next(name for name in good if name.startswith("pictures/"))
    path = tmp_path / "a.zip"
    assert code_of(packed(path, {**good, "parts.json": good["parts.json"] + b" "})) == "bundle_altered"
    assert code_of(packed(path, {**good, picture: good[picture][::-1]})) == "bundle_altered"
    assert code_of(packed(path, {name: good[name] for name in good if name != picture})) == "bundle_altered"
    # a manifest that fits does not help: a picture is named by its hash
    assert code_of(packed(path, with_manifest({**good, picture: good[picture][::-1]}))) == "bundle_altered"
    assert code_of(packed(path, {name: good[name] for name in good if name != "manifest.json"})) == "bundle_foreign"
    for manifest, code in (
        (b"{}", "bundle_foreign"),
        (b'{"schema": "flankwise/bundle/2"}', "bundle_newer"),
        (b'{"schema": "flankwise/bundle/1", "files": [1]}', "bundle_foreign"),
        (b'{"schema": "flankwise/bundle/1", "schema": "x"}', "document_unreadable"),
        (b"[" * 2_000, "document_unreadable"),
        (b"\xff", "document_unreadable"),
    ):
        assert code_of(packed(path, {**good, "manifest.json": manifest})) == code


def _set(kind: str, column: str, value: object) -> Callable[[dict[str, Any]], None]:
    return lambda document: document[kind][0].__setitem__(column, value)


def _again(kind: str, column: str, form: str) -> Callable[[dict[str, Any]], None]:
    return lambda document: document[kind][0].__setitem__(column, form.format(document[kind][0][column]))


def _of_thread(name: str, value: object) -> Callable[[dict[str, Any]], None]:
    return lambda document: document["measurements"][0]["document"]["thread"].__setitem__(name, value)


def _hashed(document: str) -> dict[str, str]:
    return {"document": document, "sha256": hashlib.sha256(document.encode()).hexdigest()}


@pytest.mark.parametrize(
    ("change", "code"),
    [
        (lambda document: document.update(schema="flankwise/parts/2"), "document_newer"),
        (lambda document: document.update(schema="else"), "document_foreign"),
        (lambda document: document.update(more=1), "document_invalid"),
        (lambda document: document.pop("notes"), "document_invalid"),
        (lambda document: document["parts"].append(document["parts"][0]), "document_invalid"),
        (_set("parts", "uid", "../x"), "document_invalid"),
        (_set("parts", "name", 7), "document_invalid"),
        (_set("parts", "added", "yesterday"), "document_invalid"),
        (_set("parts", "job", "0" * 8 + "-0000-0000-0000-" + "0" * 12), "reference_missing"),
        (_set("instruments", "name", " "), "document_invalid"),
        (_set("instruments", "made_to", 1900), "document_invalid"),
        (_set("pictures", "suffix", ".p/g"), "document_invalid"),
        (_set("calibrations", "document", "{}"), "document_invalid"),
        (lambda document: document["calibrations"][0].update(_hashed("{}")), "document_invalid"),
        (_set("measurements", "document", {"schema": "flankwise/measurement/1"}), "document_invalid"),
        (_set("notes", "part", None), "document_invalid"),
        (_set("replacements", "withdrawn", 1), "document_invalid"),
        (_again("parts", "uid", "{}\n"), "document_invalid"),
        (_again("parts", "added", "{}\n"), "document_invalid"),
        (_again("pictures", "sha256", "{}\n"), "document_invalid"),
        (_set("parts", "added", "2026-02-31T25:00:00Z"), "document_invalid"),
        (_set("parts", "name", "x" * 5000), "document_invalid"),
        (_of_thread("hand", "x" * 5000), "document_invalid"),
        (_of_thread("starts", 10**9), "document_invalid"),
        (_of_thread("pitch", {"value": 1e300, "u95": 0.001, "unit": "mm"}), "document_invalid"),
        (_of_thread("pitch", {"value": 0.0, "u95": 0.001, "unit": "mm"}), "document_invalid"),
        (_of_thread("pitch_diameter", {"value": 2.5, "u95": 1e200, "unit": "mm"}), "document_invalid"),
        (_of_thread("major_diameter", {"value": 2.5, "u95": 0.001, "unit": "in"}), "document_invalid"),
        (_of_thread("deep", json.loads("[" * 60 + "]" * 60)), "document_unreadable"),
        (_of_thread("more", 10**30), "document_unreadable"),
    ],
)
def test_rows_that_cannot_be_are_refused(
    good: Files, tmp_path: Path, change: Callable[[dict[str, Any]], None], code: str
) -> None:
    assert code_of(packed(tmp_path / "a.zip", changed(good, change))) == code


def test_a_number_beyond_all_is_refused(good: Files, tmp_path: Path) -> None:
    document = good["parts.json"].replace(b'"starts":1,', b'"starts":1,"more":1e999,')
    assert document != good["parts.json"]
    assert code_of(packed(tmp_path / "a.zip", with_manifest({**good, "parts.json": document}))) == "document_unreadable"


def test_a_manifest_that_is_longer_than_its_files_need_is_refused(good: Files, tmp_path: Path) -> None:
    manifest = json.loads(with_manifest(good)["manifest.json"])
    manifest["more"] = [f"{number:09}" for number in range(4000)]
    path = packed(tmp_path / "a.zip", {**good, "manifest.json": json.dumps(manifest).encode()})
    assert path.stat().st_size < 200_000
    assert code_of(path) == "bundle_too_large"


def test_a_picture_that_is_none_undoes_everything(good: Files, tmp_path: Path) -> None:
    picture = next(name for name in good if name.startswith("pictures/"))
    junk = b"#!/bin/sh\nrm -rf /\n"
    sha256 = hashlib.sha256(junk).hexdigest()
    suffix = Path(picture).suffix
    files = {name: content for name, content in good.items() if name != picture}
    files[f"pictures/{sha256}{suffix}"] = junk
    path = packed(tmp_path / "a.zip", changed(files, _set("pictures", "sha256", sha256)))
    there = open_register(tmp_path / "there.sqlite", create=True)
    with open_bundle(path) as opened, pytest.raises(module.RefusalError) as refused:
        file_document(there, opened.document, opened.extract)
    assert refused.value.reasons[0].code == "picture_refused"
    with there.reading() as connection:
        for table in ("instruments", "parts", "pictures"):
            assert connection.execute(f"SELECT count(*) FROM {table}").fetchone() == (0,)
    assert [path for path in there.store.folder.rglob("*") if path.is_file()] == []


def test_rows_that_cannot_be_filed_undo_everything(good: Files, tmp_path: Path) -> None:
    path = packed(tmp_path / "a.zip", changed(good, _set("notes", "text", "half a sign: \ud800")))
    there = open_register(tmp_path / "there.sqlite", create=True)
    with open_bundle(path) as opened, pytest.raises(module.RefusalError) as refused:
        file_document(there, opened.document, opened.extract)
    assert refused.value.reasons[0].code == "document_invalid"
    with there.reading() as connection:
        assert connection.execute("SELECT count(*) FROM parts").fetchone() == (0,)
    assert [path for path in there.store.folder.rglob("*") if path.is_file()] == []


@cache
def one_bundle() -> bytes:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        write_parts(kept_workshop(folder), [1], folder / "good.zip")
        return (folder / "good.zip").read_bytes()


@given(
    places=st.lists(st.tuples(st.integers(0, 10**6), st.integers(1, 255)), min_size=1, max_size=3), cut=st.booleans()
)
def test_damage_anywhere_is_refused_or_does_no_harm(
    tmp_path_factory: pytest.TempPathFactory, places: list[tuple[int, int]], cut: bool
) -> None:
    content = bytearray(one_bundle())
    for place, byte in places:
        content[place % len(content)] ^= byte
    path = tmp_path_factory.mktemp("damaged") / "a.zip"
    path.write_bytes(content[: places[0][0] % len(content)] if cut else content)
    try:
        with open_bundle(path) as opened:
            assert opened.document["schema"] == "flankwise/parts/1"  # what was hit means nothing: a date, a comment
    except module.RefusalError as refused:
        assert refused.reasons[0].code.startswith(("bundle_", "document_"))


@given(st.one_of(st.binary(max_size=200), st.text(max_size=200).map(str.encode)))
def test_any_bytes_for_a_document_are_refused(content: bytes) -> None:
    with pytest.raises(module.RefusalError) as refused:
        checked_document(parsed(content, "x"), "x")
    assert refused.value.reasons[0].code in {"document_unreadable", "document_foreign"}


def test_a_document_that_is_not_there_or_far_too_large_is_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with pytest.raises(module.RefusalError) as refused:
        read_document(tmp_path / "none.json", "none.json")
    assert refused.value.reasons[0].code == "document_unreadable"
    (tmp_path / "a.json").write_bytes(b" " * 100)
    monkeypatch.setattr("records.exchange.arrival.MOST_BYTES", 50)
    with pytest.raises(module.RefusalError) as refused:
        read_document(tmp_path / "a.json", "a.json")
    assert refused.value.reasons[0].code == "document_too_large"
