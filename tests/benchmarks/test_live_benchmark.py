"""The window left live for a few seconds, and what the benchmark would say of a leak."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from benchmarks.live import Left, report, write_video
from vision.shared.opencv import cv2


@pytest.mark.slow
def test_the_memory_is_looked_at_while_the_video_goes_on() -> None:
    """In a process of its own, as it is run; too short for a judgement."""
    command = [sys.executable, "-m", "benchmarks.live", "--minutes", "0.05"]
    environment = {**os.environ, "QT_QPA_PLATFORM": "offscreen"}
    done = subprocess.run(command, env=environment, capture_output=True, text=True, check=False, timeout=600)
    assert done.returncode in (0, 1), done.stderr
    assert "Traceback" not in done.stderr
    first = done.stdout.splitlines()[0]
    assert int(first.split()[0]) > 5
    assert "MiB" in done.stdout
    assert "growth" in done.stdout


def test_a_leak_is_told() -> None:
    still = Left(tuple((float(i), 200.0 + i % 3) for i in range(90)), 90, 1)
    leaking = Left(tuple((float(i), 200.0 + i) for i in range(90)), 90, 1)
    assert 0.99 < still.growth < 1.01
    assert leaking.growth > 1.1
    assert "1." in report(leaking)


def test_the_video_shows_a_screw(tmp_path: Path) -> None:
    capture = cv2.VideoCapture(str(write_video(tmp_path / "a.avi", 5)))
    ok, frame = capture.read()
    capture.release()
    assert ok
    assert frame.shape == (480, 640, 3)
    assert frame.min() < 60
    assert frame.max() > 180
