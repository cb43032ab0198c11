"""What the four places of the window have in common."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QWidget

from gui.desk import Desk


class Place(QWidget):
    """One of the four places: Bench, Part, Fit, Register.

    A place shows the state of the desk and calls it; it asks for no window of its own and blocks nothing.
    ``NAME`` is its short name in settings and signals. ``actions_here`` are its actions with their keys: the menu and
    the list of keys show them, and they work while the place is in front.
    """

    NAME = ""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.desk = desk
        self.actions_here: list[QAction] = []

    def act(self, words: str, key: str | QKeySequence.StandardKey, do: Callable[[], object]) -> QAction:
        """One more action of the place: its words, its key, and what it does."""
        action = QAction(words, self)
        action.setShortcut(QKeySequence(key))
        action.triggered.connect(lambda *_: do())
        self.actions_here.append(action)
        return action

    def entered(self) -> None:
        """The place comes to the front."""

    def left(self) -> None:
        """Another place comes to the front."""

    def takes_files(self, paths: Sequence[str]) -> bool:  # noqa: ARG002
        """Files were dropped while the place is in front; whether it has a use of its own for them."""
        return False

    def views(self) -> Sequence[tuple[str, Callable[[], None]]]:
        """Further views within the place, each a short name and how it is reached: for pictures and tests."""
        return ()

    def closing(self) -> None:
        """The window closes: let go of cameras and files."""

    def theme_changed(self) -> None:
        """The theme has changed: what paints itself takes the new colours."""
