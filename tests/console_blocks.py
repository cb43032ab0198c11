"""What the documents show is what the program prints: their console blocks are run, and the output compared.

Numbers may differ in their last digits from machine to machine, so they are compared as numbers of the same shape.
"""

from __future__ import annotations

import os
import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
BLOCK = re.compile(r"```console\n(.*?)```", re.DOTALL)
FLANKWISE = "flankwise"


def shown(block: str) -> list[tuple[str, str]]:
    """The commands of a console block, each with the output under it."""
    parts = re.split(r"^\$ (.*)\n", block, flags=re.MULTILINE)
    return list(zip(parts[1::2], parts[2::2], strict=True))


def commands_of(document: Path) -> list[tuple[str, str]]:
    """The commands of a whole document in their order, each with the output under it."""
    return [pair for block in BLOCK.findall(document.read_text("utf-8")) for pair in shown(block)]


def run(command: str, folder: Path) -> str:
    """What ``command`` prints, stderr included, in a folder that has the sample pictures."""
    environment = {
        **os.environ,
        "PYTHONPATH": str(ROOT),
        "PATH": f"{folder / 'bin'}{os.pathsep}{os.environ['PATH']}",
        "FLANKWISE_DATA": "data",  # in the folder: a register of its own, empty at first
    }
    ended = subprocess.run(
        ["sh", "-c", command],
        cwd=folder,
        env=environment,
        text=True,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        timeout=600,
        check=False,
    )
    return ended.stdout


def workplace(folder: Path) -> Path:
    """A folder with the sample pictures, the documents, ``flankwise`` of this checkout, and the Python of the tests."""
    for name in ("sample_images", "docs"):
        (folder / name).symlink_to(ROOT / name)
    (folder / "bin").mkdir()
    for name, text in (
        (FLANKWISE, f"#!{sys.executable}\nfrom cli.main import run\nrun()\n"),
        ("python", f'#!/bin/sh\nexec "{sys.executable}" "$@"\n'),
    ):
        program = folder / "bin" / name
        program.write_text(text)
        program.chmod(0o755)
    return folder


def shape(text: str) -> Iterator[str]:
    """The words of ``text``, numbers, hashes, times and drawn lengths made alike."""
    text = re.sub(r"\[[-.o]{21}\]|[█░]+|─+", "=", text)
    text = re.sub(r"\b[0-9a-f]{10}\b", "ID", text)
    for word in text.split():
        yield re.sub(r"[-+]?\d+(\.\d+)?", "N", word)


def refresh(document: Path, folder: Path) -> None:
    """Write the present output under each command of ``document``."""

    def renewed(block: re.Match[str]) -> str:
        lines = [f"$ {command}\n{run(command, folder).rstrip()}\n" for command, _ in shown(block[1])]
        return "```console\n" + "\n".join(lines) + "```"

    document.write_text(BLOCK.sub(renewed, document.read_text("utf-8")), "utf-8")
