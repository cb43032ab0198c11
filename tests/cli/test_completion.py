"""The Tab key of a shell: typer writes the script, and asks the program what fits."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
PROGRAM = [sys.executable, "-c", "from cli.main import run; run()"]


def ask(*words: str, **environment: str) -> subprocess.CompletedProcess[str]:
    asked = {**os.environ, "PYTHONPATH": str(ROOT), **environment}
    return subprocess.run([*PROGRAM, *words], env=asked, text=True, capture_output=True, timeout=600, check=False)


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_a_shell_is_told_how_to_ask(shell: str) -> None:
    ended = ask("--show-completion", shell, _TYPER_COMPLETE_TEST_DISABLE_SHELL_DETECTION="1")  # else the parent decides
    assert (ended.returncode, ended.stderr) == (0, "")
    assert "_FLANKWISE_COMPLETE" in ended.stdout


@pytest.mark.parametrize(
    ("typed", "offered"),
    [
        ("flankwise rec", ["record"]),
        ("flankwise record sh", ["show"]),
        ("flankwise measure --cali", ["--calibration"]),
    ],
)
def test_what_fits_is_offered(typed: str, offered: list[str]) -> None:
    ended = ask(_FLANKWISE_COMPLETE="complete_bash", COMP_WORDS=typed, COMP_CWORD=str(len(typed.split()) - 1))
    assert (ended.returncode, ended.stdout.split()) == (0, offered)
