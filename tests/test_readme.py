"""README.md: short, with small pictures; its first command does what it says, and every command it shows exists."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from PIL import Image

from cli.commands import COMMANDS
from tests.console_blocks import run, workplace

ROOT = Path(__file__).resolve().parents[1]
TEXT = (ROOT / "README.md").read_text("utf-8")
START, TESTS = re.findall(r"```sh\n(.*?)\n```", TEXT, flags=re.DOTALL)


def test_it_is_short_and_states_the_job_before_the_pictures_and_these_before_the_commands() -> None:
    assert TEXT.count("\n") < 250
    job, pictures, commands = (TEXT.index(words) for words in ("You repair", "![", "```sh"))
    assert job < pictures < commands
    shown = re.findall(r"!\[[^]]+\]\(([^)]+)\)", TEXT)
    assert len(shown) == 2
    for name in shown:
        assert (ROOT / name).stat().st_size < 200_000
        with Image.open(ROOT / name) as picture:
            assert picture.width <= 1000


@pytest.mark.slow
def test_the_first_command_identifies_the_sample(tmp_path: Path) -> None:
    """All but its installing, which CI does from a fresh clone."""
    _, installed, rest = START.partition("pip install -q -e . && ")
    assert installed
    printed = run(rest.replace(".venv/bin/", ""), workplace(tmp_path))
    assert "4-40" in printed
    assert "American National" in printed or "NC" in printed


def test_the_second_command_runs_all_tests() -> None:
    assert TESTS.endswith(" -m pytest -q -n auto --dist loadfile")
    assert "not slow" not in TESTS
    assert (ROOT / ".ci" / "run").read_text("utf-8").rstrip().endswith("-m pytest -q -n auto --dist loadfile")


def test_every_command_it_shows_is_one() -> None:
    shown = set(re.findall(r"flankwise ([a-z]+)", TEXT))
    assert len(shown) >= 10
    assert shown - set(COMMANDS) == set()


def test_the_files_that_it_names_are_there() -> None:
    named = set(re.findall(r"(?:sample_images|\.ci)/[\w./-]+\w", TEXT)) | set(re.findall(r"\]\(([\w./]+)\)", TEXT))
    assert len(named) >= 5
    assert [name for name in named if not (ROOT / name).exists()] == []
