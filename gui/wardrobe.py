"""New colours or another size of text for a window that is open: what is seen first, the rest in turns.

A style sheet of the whole application dresses every widget there is in one go, which takes ten times as long as anybody
waits for without noticing. Here so many widgets at a time wear the sheet for themselves. What only holds others and is
not spoken of in the sheet goes without.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator, Mapping

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QApplication, QFrame, QMenu, QMenuBar, QScrollArea, QSplitter, QStackedWidget, QWidget

from gui.sheet import style_sheet
from gui.theme import theme
from gui.turns import Steps, Turns

_FEW = 30
"""Widgets that are dressed at one time: some 3 ms."""
_TURN_SECONDS = 0.008
_WHOLE = "dressed as a whole"


def dressed_as_a_whole(holder: QWidget) -> QWidget:
    """``holder``, which makes what it holds anew now and then: it wears the sheet, so that what is new wears it too."""
    holder.setProperty(_WHOLE, True)
    return holder


class Wardrobe(QObject):
    """Dresses ``parts`` of ``window``, each with what is to be done once it wears the colours of the theme in force."""

    def __init__(self, window: QWidget, parts: Mapping[QWidget, Callable[[], None]]) -> None:
        super().__init__(window)
        self._window, self._parts = window, dict(parts)
        self._wearers = {part: tuple(_wearers(part)) for part in parts}
        self._turns = Turns(self)
        self.dress_at_once()

    def dress(self) -> None:
        """Dress what is seen in a few turns, and paint it once; then the rest."""
        self._turns.begin(self._in_turns())

    def dress_at_once(self) -> None:
        """Before the window is shown nobody waits."""
        sheet = _sheet()
        for part, then in self._parts.items():
            for wearer in self._wearers[part]:
                _dress(wearer, sheet)
            then()

    def _in_turns(self) -> Steps:
        sheet = _sheet()
        seen = [part for part in self._parts if part.isVisible()]
        self._window.setUpdatesEnabled(False)
        try:
            yield
            for part in seen:
                yield from self._few_at_a_time(part, sheet)
            for part in seen:
                self._parts[part]()
        finally:
            self._window.setUpdatesEnabled(True)
        for part in self._parts:
            if part not in seen:
                yield
                yield from self._few_at_a_time(part, sheet)
                self._parts[part]()

    def _few_at_a_time(self, part: QWidget, sheet: str) -> Steps:
        began = time.thread_time()
        for wearer in self._wearers[part]:
            _dress(wearer, sheet)
            if time.thread_time() - began > _TURN_SECONDS:
                yield
                began = time.thread_time()
        yield


def _sheet() -> str:
    """That of the theme and the size of text in force."""
    return style_sheet(theme(), QApplication.font().pointSizeF())


def _dress(wearer: QWidget, sheet: str) -> None:
    if wearer.styleSheet() != sheet:
        wearer.setStyleSheet("")  # from one sheet to another every widget is dressed as often as it has ancestors
        wearer.setStyleSheet(sheet)


def _wearers(root: QWidget) -> Iterator[QWidget]:
    """The widgets at and below ``root`` that wear the sheet, for themselves and for all that they hold."""
    if root.property(_WHOLE) or not _only_holds(root) or len(root.findChildren(QWidget)) <= _FEW:
        yield root
        return
    for child in root.children():
        if isinstance(child, QWidget):
            yield from _wearers(child)


def _only_holds(widget: QWidget) -> bool:
    """Whether nothing of it is spoken of in the sheet."""
    if isinstance(widget, (QStackedWidget, QScrollArea, QSplitter)):
        return True
    return not isinstance(widget, (QFrame, QMenu, QMenuBar))
