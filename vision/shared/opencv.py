"""The one place where OpenCV is imported: ``from vision.shared.opencv import cv2``.

The project asks for the wheel without windows, opencv-python-headless. Where the other one is installed, opencv-python,
its Linux wheel (seen in 5.0.0.93) brings a Qt 5 of its own and, while it is imported, sets
``QT_QPA_PLATFORM_PLUGIN_PATH`` and ``QT_QPA_FONTDIR`` to its own folder and puts another in front of
``LD_LIBRARY_PATH``. A PySide6 window opened afterwards in the same process (or in a child process) would then look
for its platform plugin in OpenCV's folder and fail to start. Nothing of this project opens OpenCV's windows, so these
variables are put back to what they were. Nothing else of OpenCV is changed or limited.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

_REDIRECTED = ("QT_QPA_PLATFORM_PLUGIN_PATH", "QT_QPA_FONTDIR", "LD_LIBRARY_PATH")

_imported_before = "cv2" in sys.modules
_before = {name: os.environ.get(name) for name in _REDIRECTED}

import cv2  # noqa: E402 - the environment has to be looked at first


def _restore() -> None:
    """Put the variables back; where OpenCV was imported before this module, take out what points into its folder."""
    folder = str(Path(cv2.__file__).parent)
    for name, before in _before.items():
        value = before
        if _imported_before and value is not None:
            kept = [part for part in value.split(os.pathsep) if not part.startswith(folder)]
            value = os.pathsep.join(kept).strip(os.pathsep) or None
        if value is None:
            os.environ.pop(name, None)
        else:
            os.environ[name] = value


_restore()

__all__ = ["cv2", "quiet"]


@contextmanager
def quiet() -> Iterator[None]:
    """OpenCV says on stderr what a capture that does not open says anyway."""
    log = getattr(getattr(cv2, "utils", None), "logging", None)
    if log is None:
        yield
        return
    before = log.getLogLevel()
    log.setLogLevel(log.LOG_LEVEL_SILENT)
    try:
        yield
    finally:
        log.setLogLevel(before)
