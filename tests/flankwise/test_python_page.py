"""The page on Python in the guide: its lines are run, in their order, in a folder with the sample pictures."""

from __future__ import annotations

import doctest
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]


def test_the_page_shows_what_python_prints(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "sample_images").symlink_to(ROOT / "sample_images")
    monkeypatch.chdir(tmp_path)
    page = str(ROOT / "docs" / "10_python.md")
    found = doctest.testfile(page, module_relative=False, encoding="utf-8", optionflags=doctest.ELLIPSIS)
    assert found.attempted >= 20
    assert found.failed == 0
