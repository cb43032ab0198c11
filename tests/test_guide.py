"""The guide (docs/, docs/developing/) shows what the program prints, names files that are there, knows every warning.

The pages are one story: they are run in their order, in one folder, with the calibration of the second page.
``python tests/test_guide.py`` writes the present output into them and draws the figures anew.
"""

from __future__ import annotations

import re
import runpy
import subprocess
import sys
import tempfile
from pathlib import Path

import numpy as np
import pytest

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))  # when run as a script

from flankwise.reasons.table import rows_of  # noqa: E402
from tests.console_blocks import commands_of, refresh, run, shape, workplace  # noqa: E402

DOCS = ROOT / "docs"
PAGES = sorted(DOCS.glob("*.md"))
DEVELOPING = [*sorted((DOCS / "developing").glob("*.md")), ROOT / "DEVELOPERS.md"]
RUN = [*PAGES, *DEVELOPING]  # one of the last adds a series of its own, after all that identify
FIGURES = DOCS / "figures"


def tried_out(folder: Path) -> Path:
    """``folder`` as somebody has it who typed the first line of README.md before opening the guide."""
    (command,) = re.findall(r"\.venv/bin/(flankwise calibrate .*?) &&", (ROOT / "README.md").read_text("utf-8"))
    assert "written to bench.json" in run(command, folder)
    return folder


def test_the_command_is_found_as_the_guide_says(tmp_path: Path) -> None:
    (line,) = re.findall(r"^    (\. \S+activate)$", (DOCS / "README.md").read_text("utf-8"), re.MULTILINE)
    subprocess.run([sys.executable, "-m", "venv", "--without-pip", str(tmp_path / ".venv")], check=True, timeout=600)
    command = tmp_path / ".venv" / "bin" / "flankwise"
    command.write_text("#!/bin/sh\necho found\n")
    command.chmod(0o755)
    typed = ["sh", "-c", f"{line} && flankwise --version"]
    ended = subprocess.run(typed, cwd=tmp_path, capture_output=True, text=True, timeout=600, check=True)
    assert ended.stdout == "found\n"


@pytest.mark.slow
def test_the_guide_shows_what_is_printed(tmp_path: Path) -> None:
    folder = tried_out(workplace(tmp_path))
    commands = [pair for page in RUN for pair in commands_of(page)]
    assert len(commands) >= 10
    for command, output in commands:
        assert list(shape(run(command, folder))) == list(shape(output)), command


@pytest.mark.parametrize("page", RUN, ids=[page.name for page in RUN])
def test_what_a_page_points_to_is_there(page: Path) -> None:
    text = page.read_text("utf-8")
    targets = [t.split("#")[0] for t in re.findall(r"\]\(([^)]+)\)", text) if not t.startswith("#")]
    assert [t for t in targets if not (page.parent / t).exists()] == []
    assert [p for p in re.findall(r"sample_images/[\w./-]+\w", text) if not (ROOT / p).exists()] == []


def test_the_page_of_warnings_is_made_from_the_table() -> None:
    page = runpy.run_path(str(DOCS / "warnings_page.py"))["page"]()
    assert (DOCS / "7_warnings.md").read_text("utf-8") == page, "python docs/warnings_page.py > docs/7_warnings.md"


def test_every_warning_and_refusal_of_a_picture_or_gauge_is_on_it() -> None:
    stated = re.findall(r"^\| `(\w+)`", (DOCS / "7_warnings.md").read_text("utf-8"), re.MULTILINE)
    assert len(stated) == len(set(stated))
    known = {row.key.partition(".")[0] for floor in ("vision", "calib", "records") for row in rows_of(floor)}
    assert known - {"hand_unread"} <= set(stated)  # that stands within another sentence


def lines_of(drawing: Path) -> dict[str, np.ndarray]:
    """The named lines of a figure, each with its numbers."""
    text = drawing.read_text("utf-8")
    found = re.findall(r'<g id="(line-[\w-]+)">\s*<path d="([^"]+)"', text)
    return {name: np.array(re.findall(r"-?\d+\.?\d*", path), dtype=float) for name, path in found}


@pytest.mark.slow
def test_figures_are_those_that_the_code_draws(tmp_path: Path) -> None:
    subprocess.run([sys.executable, str(FIGURES / "draw.py"), str(tmp_path)], cwd=ROOT, check=True, timeout=600)
    drawn = {p.name for p in tmp_path.glob("*.svg")}
    assert drawn == {p.name for p in FIGURES.glob("*.svg")}
    for name in drawn:
        kept, new = lines_of(FIGURES / name), lines_of(tmp_path / name)
        assert kept, name
        assert kept.keys() == new.keys(), name
        for line in kept:
            assert kept[line].size == new[line].size, (name, line)
            assert np.abs(kept[line] - new[line]).max() < 0.5, (name, line)  # points on paper


def test_every_figure_is_shown_somewhere() -> None:
    text = "".join(page.read_text("utf-8") for page in PAGES)
    assert [p.name for p in FIGURES.glob("*.svg") if f"figures/{p.name}" not in text] == []


if __name__ == "__main__":
    subprocess.run([sys.executable, str(FIGURES / "draw.py"), str(FIGURES)], cwd=ROOT, check=True)
    with tempfile.TemporaryDirectory() as place:
        there = tried_out(workplace(Path(place)))
        for one in RUN:
            refresh(one, there)
