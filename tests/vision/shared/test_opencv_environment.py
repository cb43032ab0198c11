"""OpenCV's wheel brings a Qt of its own: importing it must not lead PySide6 there."""

from __future__ import annotations

import json
import os
import subprocess
import sys

import pytest

WATCH = """
import json, os, sys
before = dict(os.environ)
{first}
from vision.shared.opencv import cv2
changed = {{k: os.environ.get(k) for k in set(before) | set(os.environ) if os.environ.get(k) != before.get(k)}}
{then}
print(json.dumps({{"changed": changed, "opencv": cv2.__version__}}))
"""
WINDOW = """
from PySide6.QtWidgets import QApplication, QLabel
app = QApplication([])
assert app.platformName() == "offscreen", app.platformName()
label = QLabel("thread"); label.show(); app.processEvents()
"""


def _run(first: str = "", then: str = "", **extra: str) -> dict[str, object]:
    env = {**os.environ, "QT_QPA_PLATFORM": "offscreen", **extra}
    for name in ("QT_QPA_PLATFORM_PLUGIN_PATH", "QT_QPA_FONTDIR", "LD_LIBRARY_PATH"):
        if name not in extra:
            env.pop(name, None)
    done = subprocess.run(
        [sys.executable, "-c", WATCH.format(first=first, then=then)],
        capture_output=True,
        text=True,
        env=env,
        timeout=600,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout.splitlines()[-1])


def test_environment_is_unchanged_and_a_qt_window_opens_afterwards() -> None:
    pytest.importorskip("PySide6.QtWidgets")
    assert _run(then=WINDOW)["changed"] == {}


def test_values_set_by_the_person_survive() -> None:
    own = {"QT_QPA_PLATFORM_PLUGIN_PATH": "/opt/own/plugins", "QT_QPA_FONTDIR": "/opt/own/fonts"}
    assert _run(**own, LD_LIBRARY_PATH="/opt/own/lib")["changed"] == {}


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="the wheels of other systems set nothing")
def test_paths_of_an_earlier_import_are_taken_out() -> None:
    result = _run(first="import cv2; before = dict(os.environ)", LD_LIBRARY_PATH="/opt/own/lib")
    changed = result["changed"]
    assert isinstance(changed, dict)
    assert changed.get("LD_LIBRARY_PATH", "/opt/own/lib") == "/opt/own/lib"
    left = _run(first="import cv2", then="assert 'cv2' not in os.environ.get('QT_QPA_PLATFORM_PLUGIN_PATH', '')")
    assert left["opencv"]
