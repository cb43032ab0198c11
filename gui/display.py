"""What is said where there is no display to open a window on: one line, where Qt would say several and abort."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager

from PySide6.QtCore import QMessageLogContext, QtMsgType, qInstallMessageHandler

EXIT_CODE = 2
NO_DISPLAY = (
    "flankwise: the window cannot be opened: no display answers, or a library that draws on it is missing. Start it on "
    "the desktop itself, or over 'ssh -X'; 'QT_DEBUG_PLUGINS=1 flankwise gui' says more"
)


@contextmanager
def a_line_without_display() -> Iterator[None]:
    """Around the making of the application: where Qt cannot start, say so in one line and end with EXIT_CODE."""
    if os.environ.get("QT_DEBUG_PLUGINS"):
        yield
        return
    before = qInstallMessageHandler(_last_words)
    try:
        yield
    finally:
        qInstallMessageHandler(before)


def _last_words(kind: QtMsgType, _context: QMessageLogContext, _message: str) -> None:
    if kind != QtMsgType.QtFatalMsg:
        return
    if sys.stderr is not None:
        sys.stderr.write(f"{NO_DISPLAY}\n")
        sys.stderr.flush()
    os._exit(EXIT_CODE)  # Qt would abort the process on return
