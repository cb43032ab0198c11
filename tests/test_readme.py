"""README.md shows what the program prints: every command in it is run, and its output compared.

``python tests/test_readme.py`` writes the present output into README.md.
"""

from __future__ import annotations

import re
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))  # when run as a script

from tests.console_blocks import FLANKWISE, commands_of, refresh, run, shape, workplace  # noqa: E402

README = ROOT / "README.md"


def test_readme_shows_what_is_printed(tmp_path: Path) -> None:
    folder = workplace(tmp_path)
    commands = commands_of(README)
    assert len(commands) >= 5
    for command, output in commands:
        assert list(shape(run(command, folder))) == list(shape(output)), command


def test_every_command_is_in_the_readme() -> None:
    text = README.read_text("utf-8")
    for command in ("calibrate", "measure", "identify", "limits", "series"):
        assert f"$ {FLANKWISE} {command}" in text


def test_the_files_that_the_readme_names_are_there() -> None:
    text = README.read_text("utf-8")
    named = set(re.findall(r"(?:sample_images|\.ci)/[\w./-]+\w", text)) | set(re.findall(r"\]\(([\w./]+)\)", text))
    assert len(named) >= 5
    assert [name for name in named if not (ROOT / name).exists()] == []


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as place:
        refresh(README, workplace(Path(place)))
