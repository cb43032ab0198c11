"""The manual page is written from the commands' own help, and is the one that is kept."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from cli.commands import COMMANDS

ROOT = Path(__file__).resolve().parents[1]


@pytest.fixture(scope="module")
def page() -> str:
    script = [sys.executable, str(ROOT / "docs" / "manual_page.py")]
    return subprocess.run(script, cwd=ROOT, text=True, encoding="utf-8", capture_output=True, check=True).stdout


def test_the_page_that_is_kept_is_up_to_date(page: str) -> None:
    kept = (ROOT / "docs" / "flankwise.1").read_text("utf-8")
    assert kept == page, "python docs/manual_page.py > docs/flankwise.1"


def test_every_command_and_exit_code_is_in_it(page: str) -> None:
    lines = page.splitlines()
    assert [line[4:] for line in lines if line.startswith(".SS ") and " " not in line[4:]] == list(COMMANDS)
    assert {"0", "1", "2", "3", "4", "5"} <= set(lines)
    assert "\\fB\\-\\-calibration\\fR \\fICAL.json\\fR" in lines


def test_every_request_of_the_page_is_one_that_man_knows(page: str) -> None:
    known = {".TH", ".SH", ".SS", ".TP", '.\\"'}
    assert {line.split()[0] for line in page.splitlines() if line.startswith((".", "'"))} == known
