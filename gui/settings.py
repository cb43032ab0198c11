"""What the program remembers from one day to the next: an INI file in the data folder, written at once."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QByteArray, QSettings

from threads.shared.data_folder import data_folder

FILE = "window.ini"


class Settings:
    """Texts and states by name. Losing the file harms nobody, and what another version left is passed over."""

    def __init__(self, file: Path | None = None) -> None:
        self._kept = QSettings(str(file or data_folder() / FILE), QSettings.Format.IniFormat)

    def text(self, name: str, otherwise: str = "") -> str:
        """What is kept under ``name``."""
        value = self._kept.value(name, otherwise)
        return value if isinstance(value, str) else otherwise

    def number(self, name: str, otherwise: int) -> int:
        """The whole number kept under ``name``; ``otherwise`` where it is none, as another version may have left."""
        text = self.text(name)
        return int(text) if text.isascii() and text.isdecimal() and len(text) < 10 else otherwise

    def set_text(self, name: str, text: str) -> None:
        self._kept.setValue(name, text)

    def state(self, name: str) -> QByteArray:
        """The state of a window or a splitter; empty where none is kept."""
        value = self._kept.value(name)
        return value if isinstance(value, QByteArray) else QByteArray()

    def set_state(self, name: str, state: QByteArray) -> None:
        self._kept.setValue(name, state)

    def write(self) -> None:
        """Put everything on disk now."""
        self._kept.sync()
