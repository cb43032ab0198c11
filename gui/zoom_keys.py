"""The keys over a picture or a plot: arrows move, + and - zoom, 0 shows the whole."""

from __future__ import annotations

from collections.abc import Callable

import pyqtgraph as pg
from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent

_STEP, _PAN = 1.25, 0.15
_ARROWS = {
    Qt.Key.Key_Left: (-_PAN, 0.0),
    Qt.Key.Key_Right: (_PAN, 0.0),
    Qt.Key.Key_Up: (0.0, _PAN),
    Qt.Key.Key_Down: (0.0, -_PAN),
}


def look_about(box: pg.ViewBox, event: QKeyEvent, show_all: Callable[[], None]) -> bool:
    """Move or zoom ``box`` as the key says, or ``show_all``; False for a key that means something else."""
    if event.key() in _ARROWS:
        across, up = _ARROWS[Qt.Key(event.key())]
        view = box.viewRect()
        upward = -1 if box.yInverted() else 1  # in a picture y runs down
        box.translateBy(x=across * view.width(), y=upward * up * view.height())
    elif event.key() in (Qt.Key.Key_Plus, Qt.Key.Key_Equal):
        box.scaleBy((1 / _STEP, 1 / _STEP))
    elif event.key() == Qt.Key.Key_Minus:
        box.scaleBy((_STEP, _STEP))
    elif event.key() in (Qt.Key.Key_0, Qt.Key.Key_Home):
        show_all()
    else:
        return False
    event.accept()
    return True
