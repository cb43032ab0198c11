"""The file of results: what is in it after kills at any byte, and which files are left alone."""

from __future__ import annotations

import errno
import os
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from records.batch import results as module
from records.batch.columns import head
from records.batch.results import open_results
from records.cells import csv_line
from tests.refused import refused
from threads.shared.refusal import RefusalError

HEAD = head(identify=False)
BENCH, SETTINGS = "bench00001", "abcdef0123"


def row(
    name: str, *, sha256: str = "ab" * 32, status: str = "measured", bench: str = BENCH, settings: str = SETTINGS
) -> list[str]:
    cells = dict.fromkeys(HEAD, "")
    cells |= {"picture": name, "sha256": sha256, "calibration": bench, "settings": settings, "status": status}
    return list(cells.values())


def whole_file(names: list[str]) -> bytes:
    return csv_line(HEAD) + b"".join(csv_line(row(name)) for name in names)


def code_of(path: Path, columns: tuple[str, ...] = HEAD) -> str:
    with pytest.raises(RefusalError) as refused, open_results(path, columns, BENCH, SETTINGS):
        pass
    return refused.value.reasons[0].code


def test_rows_are_there_and_known_when_opened_again(tmp_path: Path) -> None:
    path = tmp_path / "results.csv"
    with open_results(path, HEAD, BENCH, SETTINGS) as results:
        assert (results.known, results.measured, results.repaired) == ({}, 0, 0)
        for cells in (
            row("a.png"),
            row("b, c.png", status="refused"),
            row("a.png", sha256="cd" * 32),
            row("g.png", sha256="", status="failed"),
        ):
            results.append(cells)
    with open_results(path, HEAD, BENCH, SETTINGS) as results:
        assert results.known == {"a.png": ("ab" * 32, "cd" * 32), "b, c.png": ("ab" * 32,)}
        assert (results.measured, results.unmeasured, results.repaired) == (2, 2, 0)


@pytest.mark.parametrize("other", [{"bench": "other00000"}, {"settings": "0000000000"}])
def test_rows_of_another_run_are_not_gone_on_with(tmp_path: Path, other: dict[str, str]) -> None:
    path = tmp_path / "results.csv"
    content = csv_line(HEAD) + csv_line(row("a.png")) + csv_line(row("b.png", **other))
    path.write_bytes(content)
    assert code_of(path) == "results_otherwise"
    assert path.read_bytes() == content


@given(cut=st.integers(min_value=0), junk=st.binary(max_size=40).filter(lambda junk: b"\n" not in junk))
def test_cut_anywhere_it_keeps_the_whole_rows_and_goes_on(
    tmp_path_factory: pytest.TempPathFactory, cut: int, junk: bytes
) -> None:
    path = tmp_path_factory.mktemp("cut") / "results.csv"
    content = whole_file(["a.png", 'b\u00e9,"c".png', "d.png"])
    cut %= len(content) + 1
    kept = content[: content[:cut].rfind(b"\n") + 1]
    if len(kept) < len(csv_line(HEAD)):
        junk = b""  # before the first row is whole, only a file of results is gone on with
    path.write_bytes(content[:cut] + junk)
    with open_results(path, HEAD, BENCH, SETTINGS) as results:
        assert results.repaired == cut - len(kept) + len(junk)
        results.append(row("z.png"))
    assert path.read_bytes() == (kept or csv_line(HEAD)) + csv_line(row("z.png"))


def test_a_last_row_that_lacks_cells_is_cut(tmp_path: Path) -> None:
    path = tmp_path / "results.csv"
    path.write_bytes(whole_file(["a.png"]) + b"b.png,abc\n")
    with open_results(path, HEAD, BENCH, SETTINGS) as results:
        assert results.repaired == len(b"b.png,abc\n")
    assert path.read_bytes() == whole_file(["a.png"])


def test_ends_of_lines_of_another_system_do_no_harm(tmp_path: Path) -> None:
    path = tmp_path / "results.csv"
    path.write_bytes(whole_file(["a.png"]).replace(b"\n", b"\r\n"))
    with open_results(path, HEAD, BENCH, SETTINGS) as results:
        assert list(results.known) == ["a.png"]


@pytest.mark.parametrize(
    ("content", "code"),
    [
        (b"dear diary\n", "results_foreign"),
        (b"\x89PNG\r\n\x1a\n", "results_foreign"),
        (b"dear diary without an end", "results_foreign"),
        (csv_line(head(identify=True)), "results_foreign"),
        (csv_line(HEAD) + b"changed\n" + csv_line(row("b.png")), "results_altered"),
        (csv_line(HEAD) + b'"open\n' + csv_line(row("b.png")), "results_altered"),
        (csv_line(HEAD) + b"\xff\n" + csv_line(row("b.png")), "results_altered"),
    ],
)
def test_other_files_are_refused_and_left_untouched(tmp_path: Path, content: bytes, code: str) -> None:
    path = tmp_path / "results.csv"
    path.write_bytes(content)
    assert code_of(path) == code
    assert path.read_bytes() == content


def test_other_columns_are_named_as_such(tmp_path: Path) -> None:
    path = tmp_path / "results.csv"
    path.write_bytes(csv_line(head(identify=True)))
    with refused(RefusalError, match="other options"), open_results(path, HEAD, BENCH, SETTINGS):
        pass


def test_two_runs_cannot_write_one_file(tmp_path: Path) -> None:
    path = tmp_path / "results.csv"
    with open_results(path, HEAD, BENCH, SETTINGS):
        assert code_of(path) == "results_in_use"
    with open_results(path, HEAD, BENCH, SETTINGS):
        pass


def test_places_that_cannot_be_written_are_refused(tmp_path: Path) -> None:
    assert code_of(tmp_path) == "results_not_written"
    assert code_of(tmp_path / "none" / "results.csv") == "results_not_written"
    assert code_of(tmp_path / "nul\0.csv") == "results_not_written"
    os.mkfifo(tmp_path / "pipe")
    assert code_of(tmp_path / "pipe") == "results_not_written"


def test_a_full_disk_leaves_no_half_row(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "results.csv"
    with open_results(path, HEAD, BENCH, SETTINGS) as results:
        results.append(row("a.png"))
        write = os.write

        def full(descriptor: int, data: bytes) -> int:
            if len(data) > 40:
                return write(descriptor, data[:40])
            raise OSError(errno.ENOSPC, "No space left on device")

        monkeypatch.setattr(module.os, "write", full)
        with pytest.raises(RefusalError) as refused:
            results.append(row("b" * 100))
        assert refused.value.reasons[0].code == "disk_full"
        monkeypatch.undo()
        results.append(row("c.png"))
    assert path.read_bytes() == whole_file(["a.png", "c.png"])
