"""Calls into Qt do not run the interpreter's own objects out."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from gui.immortal import MANY, keep_singletons

if TYPE_CHECKING:
    from gui.window import Window


class _Sender(QObject):
    sent = Signal()


def test_more_signals_than_there_were_references_are_survived(window: Window) -> None:
    assert window.isVisible()
    sender = _Sender()
    for _ in range(20_000):  # True had about a thousand references, and lost one a signal
        sender.sent.emit()
    assert sys.getrefcount(True) > MANY // 2 or sys.version_info >= (3, 12)
    assert sys.getrefcount(None) > MANY // 2 or sys.version_info >= (3, 12)


def test_it_is_done_once() -> None:
    keep_singletons()
    keep_singletons()
    assert sys.getrefcount(None) < 3 * MANY
