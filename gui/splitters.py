"""Where a person has drawn the borders between views, kept from one day to the next."""

from __future__ import annotations

from PySide6.QtWidgets import QSplitter, QWidget

from gui.settings import Settings


def restore_splitters(window: QWidget, settings: Settings) -> None:
    """Put every named splitter of ``window`` where it was left."""
    for splitter in window.findChildren(QSplitter):
        state = settings.state(_key(splitter))
        if splitter.objectName() and not state.isEmpty():
            splitter.restoreState(state)


def keep_splitters(window: QWidget, settings: Settings) -> None:
    """Keep where they are."""
    for splitter in window.findChildren(QSplitter):
        if splitter.objectName():
            settings.set_state(_key(splitter), splitter.saveState())


def _key(splitter: QSplitter) -> str:
    return f"splitters/{splitter.objectName()}"
