"""Much to do in the interface's own thread: a little in each turn of its events, so that nobody waits for all of it."""

from __future__ import annotations

from collections.abc import Callable, Generator
from inspect import GEN_RUNNING, getgeneratorstate
from weakref import WeakSet

import shiboken6
from PySide6.QtCore import QObject, QTimer

Steps = Generator[None, None, None]
"""What is to be done, with a ``yield`` wherever others may have their turn."""

_under_way: WeakSet[QObject] = WeakSet()


class Turns(QObject):
    """One thing after another. What is begun anew drops what is left of the time before."""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self._steps: Steps | None = None
        self._timer = QTimer(self)
        self._timer.setInterval(0)
        self._timer.timeout.connect(self._next)

    def begin(self, steps: Steps) -> None:
        """Do the first of ``steps`` now and the others in turns of their own."""
        before, self._steps = self._steps, steps
        # where it runs, it is one of its own steps that begins anew
        if before is not None and getgeneratorstate(before) != GEN_RUNNING:
            before.close()
        _under_way.add(self)
        self._timer.start()
        self._next()

    def _next(self) -> None:
        steps = self._steps
        if steps is None:
            return
        over = next(steps, self) is self
        if steps is not self._steps:
            steps.close()
        elif over:
            self._steps = None
            self._timer.stop()
            _under_way.discard(self)


class Soon(QObject):
    """One thing that is done once, a little later, for any number of times that it was wanted."""

    def __init__(self, parent: QObject, do: Callable[[], None], milliseconds: int) -> None:
        super().__init__(parent)
        self._do = do
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(milliseconds)
        self._timer.timeout.connect(self._now)

    def want(self) -> None:
        """Do it, soon."""
        _under_way.add(self)
        self._timer.start()

    def _now(self) -> None:
        _under_way.discard(self)
        self._do()


def any_left() -> bool:
    """Whether something that was begun is not done yet."""
    return any(shiboken6.isValid(one) for one in _under_way)
