"""What is done to the register, step by step in the order asked for, each to be undone and done again."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable

from PySide6.QtCore import QObject
from PySide6.QtGui import QUndoCommand

from gui.desk import Desk
from gui.register.deeds import Back, go_back

Do = Callable[[], Back | None]


class Steps(QObject):
    """One step after the other in workers: an undo never overtakes what it is to undo."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.desk = desk
        self._waiting: deque[tuple[str, Do, Callable[[Back | None], None], Callable[[], None]]] = deque()
        self._busy = False

    def do(self, words: str, what: Do, failed: Callable[[], None] = lambda: None) -> None:
        """Do ``what``, which returns how to go back; ``words`` name the step for undo.

        ``failed`` gives back what was typed, where it could not be done.
        """
        self.desk.undo.push(_Step(self, words, what, failed=failed))

    def done(self, words: str, back: Back, told: Callable[[bool], None]) -> QUndoCommand:
        """A step that was done already; ``told`` is called with False when it was undone, True when done again."""
        step = _Step(self, words, None, back, told)
        self.desk.undo.push(step)
        return step

    def run(
        self,
        words: str,
        what: Do,
        done: Callable[[Back | None], None],
        not_done: Callable[[], None] = lambda: None,
    ) -> None:
        """Do ``what`` after everything before it; no step of undo is made."""
        self._waiting.append((words, what, done, not_done))
        if not self._busy:
            self._next()

    def _next(self) -> None:
        if not self._waiting:
            return
        words, what, told, not_done = self._waiting.popleft()
        self._busy = True

        def ended() -> None:
            self._busy = False
            self._next()

        def done(result: Back | None) -> None:
            told(result)
            self.desk.register_changed.emit()
            ended()

        def failed(error: Exception) -> None:
            self.desk.refuse(error)
            not_done()
            ended()

        self.desk.work.run(words, what, done=done, failed=failed, keeps=True)


class _Step(QUndoCommand):
    """One step: going back and going forth are both going back on the last."""

    def __init__(
        self, steps: Steps, words: str, what: Do | None, back: Back | None = None,
        told: Callable[[bool], None] | None = None, failed: Callable[[], None] = lambda: None,
    ) -> None:  # fmt: skip
        super().__init__(words)
        self._failed = failed
        self._steps, self._what, self._back, self._told = steps, what, back, told
        self._words = words
        self._first = True

    def redo(self) -> None:
        if self._first:
            self._first = False
            if self._what is not None:
                self._steps.run(self._words, self._what, self._keep, self._failed)
            return
        self._turn(forth=True)

    def undo(self) -> None:
        self._turn(forth=False)

    def _turn(self, *, forth: bool) -> None:
        def turned(back: Back | None) -> None:
            self._keep(back)
            if self._told is not None:
                self._told(forth)

        self._steps.run(self._words, self._again, turned)

    def _again(self) -> Back | None:
        return None if self._back is None else go_back(self._steps.desk.register_file, self._back)

    def _keep(self, back: Back | None) -> None:
        self._back = back
