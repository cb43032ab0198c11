"""The place "Bench"."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from gui.desk import Desk
from gui.place import Place


class BenchPlace(Place):
    """To be filled."""

    NAME = "bench"

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(desk, parent)
