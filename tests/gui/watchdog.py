"""How long the interface keeps its person waiting: the longest stretch between two looks at the event queue."""

from __future__ import annotations

import faulthandler
import gc
import tempfile
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field

from PySide6.QtCore import QTimer

MOST_SECONDS = 0.050
TRIES = 3


@dataclass
class Blocked:
    """Stretches in which nothing was served: seconds of processor the interface's thread used in each, and where."""

    stretches: list[tuple[float, str]] = field(default_factory=list)

    @property
    def longest(self) -> float:
        return max((seconds for seconds, _ in self.stretches), default=0.0)

    def __str__(self) -> str:
        worst = sorted(self.stretches, reverse=True)[:3]
        return "\n".join(f"{1000 * seconds:.0f} ms in\n{where}" for seconds, where in worst)


@contextmanager
def watched(least: float = MOST_SECONDS) -> Iterator[Blocked]:
    """Watch the interface's thread inside; stretches of more than ``least`` seconds are noted.

    Counted is what the thread itself computes, not what the machine gave to others meanwhile: tests run on machines
    that are shared. Where it was is seen by a second thread that looks at its stack, without taking hold of its frames:
    a painter among their variables would live on, and end in the wrong thread.
    """
    found = Blocked()
    me = f"0x{threading.get_ident():016x}"
    gc.collect()
    gc.freeze()  # as the program does; the tests' own objects are many more
    beat = [time.thread_time(), time.monotonic()]
    seen = [""]
    over = threading.Event()

    def tick() -> None:
        used = time.thread_time() - beat[0]
        if used > least:
            found.stretches.append((used, seen[0]))
        beat[:] = [time.thread_time(), time.monotonic()]
        seen[0] = ""

    def look() -> None:
        while not over.wait(0.01):
            if not seen[0] and time.monotonic() - beat[1] > 0.6 * least:
                seen[0] = _stack_of(me)

    timer = QTimer()
    timer.setInterval(0)
    timer.timeout.connect(tick)
    timer.start()
    looker = threading.Thread(target=look, daemon=True)
    looker.start()
    try:
        yield found
    finally:
        over.set()
        looker.join()
        timer.stop()
        tick()
        gc.unfreeze()


def watched_thrice(act: Callable[[], None]) -> Blocked:
    """Watch ``act``, up to three times, until nothing takes too long; what was seen the last time.

    What takes too long by itself does so each time; what is slow because the machine has other things to do does not.
    """
    for _ in range(TRIES):
        with watched() as blocked:
            act()
        if not blocked.stretches:
            break
    return blocked


def _stack_of(thread: str) -> str:
    """The innermost calls of a thread, the latest first; "" where it runs nothing of Python."""
    with tempfile.TemporaryFile("w+") as file:
        faulthandler.dump_traceback(file, all_threads=True)
        file.seek(0)
        stacks = file.read().split("\n\n")
    return next(("\n".join(s.splitlines()[1:7]) for s in stacks if thread in s.partition("\n")[0]), "")
