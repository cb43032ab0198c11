"""The place "Register"."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from gui.desk import Desk
from gui.place import Place


class RegisterPlace(Place):
    """To be filled."""

    NAME = "register"

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(desk, parent)
