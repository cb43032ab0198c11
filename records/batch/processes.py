"""The same work on many things, in order, in processes of this machine.

Only a few results are waited for at a time, so that neither the tasks nor the results pile up; and what comes back
comes in the order of the tasks, so that two runs write the same file.
"""

from __future__ import annotations

import os
import signal
import threading
from collections import deque
from collections.abc import Callable, Generator, Iterable, Iterator
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from itertools import islice
from multiprocessing import get_context, parent_process
from typing import TypeVar

from vision.shared.one_thread import numeric_variables, use_one_thread

Task = TypeVar("Task")
Result = TypeVar("Result")

AHEAD = 4
"""Tasks handed out for each process before the first of their results is fetched."""

RENEW_AFTER = 250
"""Tasks after which a process is replaced by a fresh one: what a library has not given back is then given back."""


def cores() -> int:
    """Processors that this program may use."""
    try:
        return len(os.sched_getaffinity(0))
    except AttributeError:  # not on every system
        return os.cpu_count() or 1


def by_processes(
    work: Callable[[Task], Result], tasks: Iterable[Task], jobs: int, died: Callable[[Task], Result]
) -> Iterator[Result]:
    """``work`` of every task in ``jobs`` processes of one numeric thread each, in the order of the tasks.

    ``work`` can be pickled (a function of a module). Where its process is ended from outside or by a fault in a
    library, ``died`` of that task stands in its place; the others go on. Breaking off (Ctrl-C) waits for the tasks
    under way and drops the rest.
    """
    rest = iter(tasks)
    while share := list(islice(rest, RENEW_AFTER * jobs)):
        waiting = deque(share)
        while waiting:
            suspects = yield from _until_one_dies(work, waiting, jobs)
            for task in suspects:  # which of them it was shows when each is alone
                alone = deque([task])
                if (yield from _until_one_dies(work, alone, 1)):
                    yield died(task)


def _until_one_dies(
    work: Callable[[Task], Result], waiting: deque[Task], jobs: int
) -> Generator[Result, None, list[Task]]:
    """Take from ``waiting`` until it is empty or a process dies; return the tasks that may have been its end."""
    running: deque[tuple[Task, Future[Result]]] = deque()
    with _pool(jobs) as pool:
        try:
            while waiting or running:
                while waiting and len(running) < AHEAD * jobs:
                    future = pool.submit(work, waiting[0])
                    running.append((waiting.popleft(), future))
                yield running[0][1].result()
                running.popleft()
        except BrokenProcessPool:
            pass
    suspects: list[Task] = []
    for task, future in running:
        if not suspects and future.done() and not future.cancelled() and future.exception() is None:
            yield future.result()
        else:
            suspects.append(task)
    return suspects


@contextmanager
def _pool(jobs: int) -> Iterator[ProcessPoolExecutor]:
    with numeric_variables():  # read by the libraries when a process starts; "spawn" starts each afresh
        pool = ProcessPoolExecutor(jobs, mp_context=get_context("spawn"), initializer=_start)
        try:
            yield pool
        finally:
            pool.shutdown(wait=True, cancel_futures=True)


def _start() -> None:
    """In each process: one numeric thread, deaf to Ctrl-C (the parent decides), and gone when the parent is."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    use_one_thread()
    threading.Thread(target=_end_with_parent, daemon=True).start()


def _end_with_parent() -> None:
    parent = parent_process()
    if parent is not None:
        parent.join()
        os._exit(1)
