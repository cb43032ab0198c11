"""Commands are loaded by name: the one that is typed, all for the help."""

from __future__ import annotations

import subprocess
import sys
from importlib import import_module
from pathlib import Path

import pytest

from cli.commands import COMMANDS
from cli.main import main
from cli.record import group as record
from tests.each import each

ROOT = Path(__file__).resolve().parents[2]


@each("path", [*COMMANDS.values(), *record.COMMANDS.values()])
def test_every_command_is_there(path: str) -> None:
    module, _, what = path.partition(":")
    assert hasattr(import_module(module), what)


@pytest.mark.parametrize(("words", "commands"), [([], COMMANDS), (["record"], record.COMMANDS)])
def test_the_help_lists_them_in_their_order(
    words: list[str], commands: dict[str, str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert main([*words, "--help"]) == 0
    listed = capsys.readouterr().out.split("Commands:\n", 1)[1].split("\n\n")[0].splitlines()
    assert [line.split()[0] for line in listed if line.startswith("  ") and line[2] != " "] == list(commands)


@pytest.mark.parametrize(
    ("words", "loaded"),
    [(["limits", "4-40 NC-2"], "cli.limits"), (["record", "list", "--help"], "cli.record.find")],
)
def test_only_what_is_typed_is_loaded(words: list[str], loaded: str) -> None:
    code = f"import sys; from cli.main import main; main({words!r}); print(*sorted(sys.modules))"
    ended = subprocess.run(
        [sys.executable, "-c", code], text=True, capture_output=True, cwd=ROOT, timeout=600, check=True
    )
    modules = ended.stdout.splitlines()[-1].split()
    assert loaded in modules
    assert not {"cli.calibrate", "cli.batch", "cli.record.add", "cli.record.exchange"} & set(modules)


def test_identifying_does_not_wait_for_scipy() -> None:
    """Its import takes a quarter of the whole command."""
    words = ["identify", str(ROOT / "sample_images" / "sextant_index_arm_screw_4-40_bench_a.png"), "--scale", "4um"]
    code = f"import sys; from cli.main import main; main({words!r}); print('scipy' in sys.modules)"
    ended = subprocess.run(
        [sys.executable, "-c", code], text=True, capture_output=True, cwd=ROOT, timeout=600, check=True
    )
    assert ended.stdout.splitlines()[-1] == "False"


def test_a_slip_of_the_pen_is_answered_with_the_nearest(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["record", "lits"]) == 2
    assert "'list'" in capsys.readouterr().err
