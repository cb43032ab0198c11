"""The one place where OpenCV is imported: ``from vision.shared.opencv import cv2``.

The project asks for the wheel without windows, opencv-python-headless. Where the other one is installed, opencv-python,
its Linux wheel (seen in 5.0.0.93) brings a Qt 5 of its own and, while it is imported, sets
``QT_QPA_PLATFORM_PLUGIN_PATH`` and ``QT_QPA_FONTDIR`` to its own folder and puts another in front of
``LD_LIBRARY_PATH``. A PySide6 window opened afterwards in the same process (or in a child process) would then look
for its platform plugin in OpenCV's folder and fail to start. Nothing of this project opens OpenCV's windows, so these
variables are put back to what they were. Nothing else of OpenCV is changed or limited.
"""

from __future__ import annotations

import importlib
import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from types import ModuleType
from typing import TYPE_CHECKING, Any

_REDIRECTED = ("QT_QPA_PLATFORM_PLUGIN_PATH", "QT_QPA_FONTDIR", "LD_LIBRARY_PATH")


class _OpenCv:
    """OpenCV, imported when something of it is first asked for: many commands look at no picture and need not wait."""

    def __getattr__(self, name: str) -> Any:
        value = getattr(_imported(), name)
        setattr(self, name, value)  # found at once from now on
        return value


def _imported() -> ModuleType:
    """OpenCV, with the variables put back; where it was imported before, without what points into its folder."""
    imported_before = "cv2" in sys.modules
    before = {name: os.environ.get(name) for name in _REDIRECTED}
    module = importlib.import_module("cv2")
    folder = str(Path(str(module.__file__)).parent)
    for name, was in before.items():
        value = was
        if imported_before and was is not None:
            kept = [part for part in was.split(os.pathsep) if not part.startswith(folder)]
            value = os.pathsep.join(kept).strip(os.pathsep) or None
        if value is None:
            os.environ.pop(name, None)
        else:
            os.environ[name] = value
    return module


if TYPE_CHECKING:
    import cv2
else:
    cv2 = _OpenCv()
    if "cv2" in sys.modules:  # what it has changed already is put right at once
        _imported()

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
