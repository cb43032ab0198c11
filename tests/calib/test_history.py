"""The history of the bench: what is noted comes back, and nothing that is wrong with it does any harm."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calib.history import Entry, history, note
from threads.shared.data_folder import data_folder

ENTRY = Entry("calibrated", "0123456789", "2026-11-25T09:30:00Z", "bench.json", "2 pins", 4.0, 0.004, -0.2, 0.1)
VERIFIED = replace(
    ENTRY, event="verified", when="2026-11-26T09:30:00Z", difference_um=0.3, difference_u95_um=1.2, holds=True
)


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("FLANKWISE_DATA", str(tmp_path / "data"))
    return tmp_path / "data"


def test_what_is_noted_comes_back_in_order(folder: Path) -> None:
    assert history() == ()
    assert note(VERIFIED)
    assert note(ENTRY)
    assert history() == (ENTRY, VERIFIED)
    assert data_folder() == folder


def test_damaged_lines_are_passed_over(folder: Path) -> None:
    note(ENTRY)
    with (folder / "calibrations.jsonl").open("ab") as file:
        file.write(
            b'{"event": "calibrated"}\n\xff\xfe\n[]\n3\n{"event": "verified", "holds": 1}\n' + b"[" * 5000 + b"\n"
        )
    note(VERIFIED)
    assert history() == (ENTRY, VERIFIED)


@given(st.binary(max_size=200))
def test_any_bytes_are_no_trouble(tmp_path_factory: pytest.TempPathFactory, junk: bytes) -> None:
    place = tmp_path_factory.mktemp("junk")
    (place / "calibrations.jsonl").write_bytes(junk)
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("FLANKWISE_DATA", str(place))
        history()
        assert note(ENTRY)


def test_a_place_that_cannot_be_written_is_no_trouble(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "file").write_text("in the way")
    monkeypatch.setenv("FLANKWISE_DATA", str(tmp_path / "file"))
    assert not note(ENTRY)
    assert history() == ()


def test_without_the_variable_it_is_the_system_s_folder(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("FLANKWISE_DATA")
    assert data_folder().name == "flankwise"
