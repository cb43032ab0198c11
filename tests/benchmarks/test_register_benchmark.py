"""The register's benchmark runs, and a register survives a few kills; the full number is run by hand."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from benchmarks.import_kills import kill_imports
from benchmarks.register import SEARCHES, main, report_kills, report_times
from benchmarks.register_kills import KillReport, kill_commands, kill_filing
from records.verification import verify
from tests.records.registers import file_workshop, new_register

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="processes of POSIX")


@pytest.mark.slow
def test_kills_while_parts_are_filed_lose_nothing(tmp_path: Path) -> None:
    report = kill_filing(tmp_path / "filing", 5, seed=3)
    assert report.kills == 5
    assert (report.lost, report.half_filed, report.complaints) == (0, 0, ())
    assert report.after_commit > 0


@pytest.mark.slow
def test_kills_while_bundles_come_in_lose_nothing(tmp_path: Path) -> None:
    report = kill_imports(tmp_path / "imports", 2, seed=3)
    assert (report.kills, report.lost, report.half_filed, report.complaints) == (2, 0, 0, ())


def test_a_kill_of_a_whole_command_loses_nothing(tmp_path: Path) -> None:
    report = kill_commands(tmp_path / "commands", 1, seed=3)
    assert (report.kills, report.lost, report.half_filed, report.complaints) == (1, 0, 0, ())


@pytest.mark.slow
def test_the_times_are_measured(tmp_path: Path) -> None:
    register = new_register(tmp_path)
    file_workshop(register, 6)
    text, _ = report_times(register, runs=1)
    assert all(name in text for name in SEARCHES)
    assert "find-like" in text
    assert "flankwise record list" in text
    assert verify(register).faults == ()


@pytest.mark.parametrize(
    ("report", "kept"),
    [
        (KillReport(kills=3, after_commit=2, cleared=1), True),
        (KillReport(kills=3, lost=1), False),
        (KillReport(kills=3, half_filed=1), False),
        (KillReport(kills=3, complaints=("a picture is missing",)), False),
    ],
)
def test_a_broken_goal_is_reported(report: KillReport, kept: bool) -> None:
    text, found = report_kills(report)
    assert found == kept
    assert "3 kills" in text


@pytest.mark.slow
def test_the_command_ends_with_1_where_a_goal_is_missed(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr("benchmarks.register.LONGEST_SEARCH_S", 0.0)
    register = new_register(tmp_path)
    assert main(["--register", str(register.path), "--runs", "1"]) == 1
    assert "BROKEN" in capsys.readouterr().out
