"""The same work on many things, in order, in processes of this machine.

Only a few results are waited for at a time, so that neither the tasks nor the results pile up; and what comes back
comes in the order of the tasks, so that two runs write the same file.
"""

from __future__ import annotations

import os
import signal
import threading
from collections import deque
from collections.abc import Callable, Iterable, Iterator
from contextlib import suppress
from dataclasses import dataclass
from multiprocessing import get_context, parent_process
from multiprocessing.connection import Connection, wait
from multiprocessing.process import BaseProcess
from multiprocessing.reduction import ForkingPickler
from typing import Any, Generic, TypeVar

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


@dataclass
class _Worker(Generic[Task]):
    """A process, and the task that it is at. Its pipe is its own: where it dies, the other end is closed at once.

    (Processes that share a pipe for their results wait for each other's: one that dies in the midst of a long result
    would leave all others, and whoever reads, waiting for the rest of it.)
    """

    process: BaseProcess
    pipe: Connection
    number: int = -1
    task: Task | None = None
    done: int = 0

    def answer(self) -> tuple[Any] | None:
        """The result; None where the process is gone. Raises what ``work`` raised."""
        try:
            answer, error = self.pipe.recv()
        except (EOFError, OSError):
            self.end()
            return None
        self.done += 1
        if error is not None:
            self.end()
            raise error
        return (answer,)

    def end(self) -> None:
        """Let it do what it is at, and no more."""
        with suppress(OSError):
            self.pipe.send_bytes(b"")
        while not self.pipe.closed:
            try:
                self.pipe.recv_bytes()
            except (EOFError, OSError):
                self.pipe.close()
        self.process.join()


def by_processes(
    work: Callable[[Task], Result], tasks: Iterable[Task], jobs: int, died: Callable[[Task], Result]
) -> Iterator[Result]:
    """``work`` of every task in ``jobs`` processes of one numeric thread each, in the order of the tasks.

    ``work`` can be pickled (a function of a module). A task whose process is ended, from outside or by a fault in a
    library, is tried once more with the machine to itself; if that ends, too, ``died`` of it stands in its place; the
    others go on. Breaking off (Ctrl-C) waits for the tasks under way and drops the rest.
    """
    source = enumerate(tasks)
    upcoming = next(source, None)
    again: deque[tuple[int, Task]] = deque()
    once: set[int] = set()
    ready: dict[int, Result] = {}
    idle: list[_Worker[Task]] = []
    busy: dict[Any, _Worker[Task]] = {}
    wanted = 0
    try:
        while upcoming is not None or busy or again or ready:
            while len(busy) < jobs:
                if again and not busy:
                    number, task = again.popleft()
                elif not again and upcoming is not None and upcoming[0] < wanted + AHEAD * jobs:
                    number, task = upcoming
                    upcoming = next(source, None)
                else:
                    break
                worker = idle.pop() if idle else _begin(work)
                worker.number, worker.task = number, task
                busy[worker.pipe] = worker
                with suppress(OSError):  # it is gone: that shows below
                    worker.pipe.send(task)
            while wanted in ready:
                yield ready.pop(wanted)
                wanted += 1
            for pipe in wait(list(busy)) if busy else ():
                worker = busy.pop(pipe)
                assert worker.task is not None
                answer = worker.answer()
                if answer is not None:
                    ready[worker.number] = answer[0]
                    (idle.append if worker.done < RENEW_AFTER else _Worker.end)(worker)
                elif worker.number in once:
                    ready[worker.number] = died(worker.task)
                else:
                    once.add(worker.number)
                    again.append((worker.number, worker.task))
    finally:
        for worker in (*idle, *busy.values()):
            worker.end()


def _begin(work: Callable[[Task], Result]) -> _Worker[Task]:
    context = get_context("spawn")
    ours, theirs = context.Pipe()
    with numeric_variables():  # read by the libraries when a process starts; "spawn" starts each afresh
        process = context.Process(target=_serve, args=(work, theirs), daemon=True)
        process.start()
    theirs.close()
    return _Worker(process, ours)


def _serve(work: Callable[[Task], Result], pipe: Connection) -> None:
    """Do one task after another until there are no more."""
    _start()
    while True:
        content = pipe.recv_bytes()
        if not content:
            return
        task = ForkingPickler.loads(content)
        try:
            answer: tuple[Result | None, Exception | None] = work(task), None
        except Exception as error:  # noqa: BLE001 - raised in the other process
            answer = None, error
        pipe.send(answer)


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
