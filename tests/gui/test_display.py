"""The window without a display."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]


@pytest.mark.slow
@pytest.mark.skipif(sys.platform != "linux", reason="X11 and its display")
def test_without_a_display_one_line_says_what_to_do() -> None:
    ended = subprocess.run(
        [sys.executable, "-c", "from cli.main import run; run()", "gui"],
        capture_output=True, text=True, cwd=ROOT, timeout=600, check=False,
        env={**os.environ, "QT_QPA_PLATFORM": "xcb", "DISPLAY": ":61987"},
    )  # fmt: skip
    assert ended.returncode == 2
    assert ended.stderr.startswith("flankwise: the window cannot be opened")
    assert "desktop itself" in ended.stderr
    assert ended.stderr.count("\n") == 1
