"""Work that takes time, away from the interface: in worker threads, told of in one line, given up on demand.

A worker owns no widget. What it returns is handed over in the interface's own thread. A job that was started anew under
the same key replaces the one before, whose result is dropped.
"""

from __future__ import annotations

import itertools
import threading
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from dataclasses import dataclass, field
from threading import Event
from typing import Any

from PySide6.QtCore import QCoreApplication, QObject, Signal

from gui.turns import any_left
from threads.shared.refusal import RefusalError

THREADS = 2
"""One for what the person waits for, one for what may take long."""


_here = threading.local()
"""What the job of this thread is called for."""


def told_to_wait() -> None:
    """Say from inside the work that another program keeps it waiting."""
    with suppress(AttributeError):  # outside of a worker
        _here.waits()


def tell(what: object) -> None:
    """Say ``what`` from inside the work to whoever started it, before it ends."""
    with suppress(AttributeError):  # as above
        _here.tells(what)


class CancelledError(Exception):
    """The person gave the job up; nothing is said about it."""


@dataclass
class Job:
    """One piece of work.

    Attributes:
        words: what is being done, for the line along the bottom.
        key: the next job of this key makes this one pointless.
        share: how much of it is done, 0 to 1; None where nobody knows.
        keeps: it is not given up with the others: what it writes is told of when it is done.
        waits: for another program, which holds what it needs.
        told: called with what it says by ``tell`` before it ends.
        gone: called where it ends without a word to ``done`` or ``failed``: it was given up, or met a defect.
    """

    number: int
    words: str
    key: str
    done: Callable[[Any], None]
    failed: Callable[[Exception], None]
    share: float | None = None
    keeps: bool = False
    gone: Callable[[], None] = lambda: None
    stop: Event = field(default_factory=Event)
    waits: bool = False
    told: Callable[[Any], None] = lambda _: None

    def report(self, share: float) -> None:
        """Say from inside the work how far it is. Raises CancelledError where it was given up."""
        if self.stop.is_set():
            raise CancelledError
        self.share = min(max(share, 0.0), 1.0)


class Work(QObject):
    """The jobs under way. ``changed`` is sent when one begins, ends or reports how far it is."""

    changed = Signal()
    _ended = Signal(object, object, object)
    _told_to_wait = Signal(object)
    _told = Signal(object, object)

    def __init__(self, defect: Callable[[Exception], None], parent: QObject | None = None) -> None:
        """``defect`` is called with whatever nobody expected."""
        super().__init__(parent)
        self._defect = defect
        self._pool = ThreadPoolExecutor(THREADS, thread_name_prefix="flankwise-work")
        self._jobs: dict[int, Job] = {}
        self._numbers = itertools.count(1)
        self._closed = False
        self._ended.connect(self._hand_over)
        self._told_to_wait.connect(self._show_waiting)
        self._told.connect(self._hand_on)

    def run(
        self,
        words: str,
        function: Callable[..., Any],
        *arguments: Any,
        done: Callable[[Any], None],
        failed: Callable[[Exception], None] | None = None,
        key: str = "",
        reports: bool = False,
        keeps: bool = False,
        gone: Callable[[], None] = lambda: None,
        told: Callable[[Any], None] = lambda _: None,
        **named: Any,
    ) -> Job:
        """Do ``function(*arguments, **named)`` in a worker and call ``done`` with its result in this thread.

        ``failed`` is called with a RefusalError or OSError instead; other exceptions are defects. With ``reports`` the
        function is given ``report=`` to call with the share done, which also ends it where the job was given up. One
        that ``keeps`` goes on when everything is given up, and is ended before the window closes. ``gone``, ``told``:
        as in Job.
        """
        if key:
            self.cancel(key)
        job = Job(next(self._numbers), words, key, done, failed or self._defect, keeps=keeps, gone=gone, told=told)
        if self._closed:
            job.stop.set()
            return job
        self._jobs[job.number] = job
        if reports:
            named["report"] = job.report
        self._pool.submit(self._do, job, function, arguments, named)
        self.changed.emit()
        return job

    def _do(self, job: Job, function: Callable[..., Any], arguments: Any, named: Any) -> None:
        result, error = None, None
        _here.waits = lambda: self._told_to_wait.emit(job)
        _here.tells = lambda what: self._told.emit(job, what)
        if not job.stop.is_set():
            try:
                result = function(*arguments, **named)
            except Exception as caught:  # noqa: BLE001 - handed over below and sorted there
                error = caught
        try:
            self._ended.emit(job, result, error)
        except RuntimeError:
            return  # the window is gone

    def _show_waiting(self, job: Job) -> None:
        job.waits = True
        self.changed.emit()

    def _hand_on(self, job: Job, what: object) -> None:
        if job.number in self._jobs:
            job.told(what)

    def _hand_over(self, job: Job, result: Any, error: Exception | None) -> None:
        known = self._jobs.pop(job.number, None)
        self.changed.emit()
        if known is None or job.stop.is_set() or isinstance(error, CancelledError):
            return
        if error is None:
            job.done(result)
        elif isinstance(error, (RefusalError, OSError)):
            job.failed(error)
        else:
            job.gone()
            self._defect(error)

    def cancel(self, key: str | None = None) -> None:
        """Give up the jobs of ``key``, or all but those that keep."""
        ended = [job for job in self._jobs.values() if ((not job.keeps) if key is None else job.key == key)]
        for job in ended:
            job.stop.set()
            del self._jobs[job.number]
        for job in ended:
            job.gone()
        self.changed.emit()

    def cancel_all(self) -> None:
        """Give up whatever is under way."""
        self.cancel()

    @property
    def jobs(self) -> tuple[Job, ...]:
        """Those under way, the oldest first."""
        return tuple(self._jobs.values())

    def wait(self, seconds: float = 60.0) -> bool:
        """Let everything under way end, events served meanwhile; False where the time did not do. For tests."""
        until = time.monotonic() + seconds
        while time.monotonic() < until:
            QCoreApplication.processEvents()
            if not self._jobs and not any_left():
                QCoreApplication.processEvents()  # what ended may have called for more
                if not self._jobs and not any_left():
                    return True
            time.sleep(0.002)
        return False

    def close(self) -> None:
        """Give everything up and take no more."""
        self._closed = True
        self.cancel()
        left = bool(self._jobs)  # those that keep: they are written down before the window is gone
        self._pool.shutdown(wait=left, cancel_futures=not left)
