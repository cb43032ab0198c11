"""The folder of pictures: what must have reached the disk before a row may mention it."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from tests.records.registers import file_picture, new_register, picture_file


def test_an_original_is_on_the_disk_before_it_gets_its_name(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A power cut after the row is committed must not leave an empty file: data first, then name, then folder."""
    happened: list[tuple[str, int]] = []
    fsync, replace = os.fsync, Path.replace

    def noted_fsync(descriptor: int) -> None:
        happened.append(("synced", os.fstat(descriptor).st_ino))
        fsync(descriptor)

    def noted_replace(path: Path, target: Path) -> Path:
        happened.append(("named", path.stat().st_ino))
        return replace(path, target)

    register = new_register(tmp_path)
    picture, sha256 = picture_file(tmp_path)
    monkeypatch.setattr(os, "fsync", noted_fsync)
    monkeypatch.setattr(Path, "replace", noted_replace)
    with register.writing() as writing:
        file_picture(writing, picture, sha256)
    original = register.store.original(sha256, ".png")
    file, folder = original.stat().st_ino, original.parent.stat().st_ino
    named = happened.index(("named", file))
    assert ("synced", file) in happened[:named]
    assert ("synced", folder) in happened[named:]
