"""README.md shows what the program prints: every command in it is run, and its output compared.

Numbers may differ in their last digits from machine to machine, so they are compared as numbers of the same shape.
``python tests/test_readme.py`` writes the present output into README.md.
"""

from __future__ import annotations

import os
import re
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
README = ROOT / "README.md"
BLOCK = re.compile(r"```console\n(.*?)```", re.DOTALL)
FLANKWISE = "flankwise"


def shown(block: str) -> list[tuple[str, str]]:
    """The commands of a console block, each with the output under it."""
    parts = re.split(r"^\$ (.*)\n", block, flags=re.MULTILINE)
    return list(zip(parts[1::2], parts[2::2], strict=True))


def run(command: str, folder: Path) -> str:
    """What ``command`` prints, stderr included, in a folder that has the sample pictures."""
    environment = {**os.environ, "PYTHONPATH": str(ROOT), "PATH": f"{folder / 'bin'}{os.pathsep}{os.environ['PATH']}"}
    ended = subprocess.run(
        ["sh", "-c", command],
        cwd=folder,
        env=environment,
        text=True,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        timeout=120,
        check=False,
    )
    return ended.stdout


def workplace(folder: Path) -> Path:
    """A folder with the sample pictures and the command ``flankwise`` of this checkout."""
    (folder / "sample_images").symlink_to(ROOT / "sample_images")
    (folder / "bin").mkdir()
    program = folder / "bin" / FLANKWISE
    program.write_text(f"#!{sys.executable}\nfrom cli.main import run\nrun()\n")
    program.chmod(0o755)
    return folder


def shape(text: str) -> Iterator[str]:
    """The words of ``text``, numbers, hashes, times and drawn lengths made alike."""
    text = re.sub(r"\[[-.o]{21}\]|[█░]+|─+", "=", text)
    text = re.sub(r"\b[0-9a-f]{10}\b", "ID", text)
    for word in text.split():
        yield re.sub(r"[-+]?\d+(\.\d+)?", "N", word)


def test_readme_shows_what_is_printed(tmp_path: Path) -> None:
    folder = workplace(tmp_path)
    commands = [pair for block in BLOCK.findall(README.read_text("utf-8")) for pair in shown(block)]
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


def refresh() -> None:
    """Write the present output under each command of README.md."""
    with tempfile.TemporaryDirectory() as place:
        folder = workplace(Path(place))

        def renewed(block: re.Match[str]) -> str:
            lines = [f"$ {command}\n{run(command, folder).rstrip()}\n" for command, _ in shown(block[1])]
            return "```console\n" + "\n".join(lines) + "```"

        README.write_text(BLOCK.sub(renewed, README.read_text("utf-8")), "utf-8")


if __name__ == "__main__":
    refresh()
