"""How long the window keeps its person waiting: the longest stretch in which it serves no event.

    python -m benchmarks.waiting

The real window, without a screen, on the sample pictures: every place for the first time, opening, measuring and
looking around, the answers in Fit, other colours and a larger text. Counted is the processor time of the interface's
thread. Exit code 1 where something other than new colours or another size of text takes more than 50 ms.
"""

from __future__ import annotations

import faulthandler
import gc
import os
import sys
import tempfile
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication, QEvent, QTimer

from flankwise.bench import Bench
from gui.app import create_application, create_window
from gui.settings import Settings
from vision.shared.plane import FixedScale

if TYPE_CHECKING:
    from gui.window import Window

SAMPLES = Path(__file__).resolve().parents[1] / "sample_images"
UNNOTICED_SECONDS = 0.050
"""So long nobody notices (common practice, no source)."""
STALL_SECONDS = 1.0
"""Longer, and a person thinks that the program hangs (common practice, no source); the tests allow no more."""
STYLED = "colours and size of text"
"""Styling all widgets anew may take some 0.3 s, and shows a pointer that says so."""
_TRIES = 3
"""What is slow by itself is so each time; what is slow because the machine does something else is not."""


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
def watched(least: float = STALL_SECONDS) -> Iterator[Blocked]:
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


def _stack_of(thread: str) -> str:
    """The innermost calls of a thread, the latest first; "" where it runs nothing of Python."""
    with tempfile.TemporaryFile("w+") as file:
        faulthandler.dump_traceback(file, all_threads=True)
        file.seek(0)
        stacks = file.read().split("\n\n")
    return next(("\n".join(s.splitlines()[1:7]) for s in stacks if thread in s.partition("\n")[0]), "")


def _settle(window: Window) -> None:
    window.desk.work.wait()
    until = time.monotonic() + 0.05
    while time.monotonic() < until:
        QCoreApplication.processEvents()
        time.sleep(0.001)


def first_shown(window: Window) -> None:
    """Bring every place to the front: what is made when it is first shown is made now."""
    for name in window.places:
        window.go(name)
        _settle(window)


def look_around(window: Window) -> None:
    """Open and measure pictures, change the unit, reach every view of Part."""
    for picture in sorted(SAMPLES.glob("*_4-40_bench_a.png")):
        window.open_picture(str(picture))
        _settle(window)
    for name in window.places:
        window.go(name)
        _settle(window)
    window.go("part")
    window.desk.set_inches(not window.desk.inches)
    _settle(window)
    for _, reach in window.part.views():
        reach()
        _settle(window)


def fit_together(window: Window) -> None:
    """An original, a replacement and a hole: every answer, and the slider of the engagement."""
    original, replacement = sorted(SAMPLES.glob("*_4-40_bench_a.png"))
    window.open_picture(str(original))
    _settle(window)
    window.fit.row.bench_as("original")
    window.open_picture(str(replacement))
    _settle(window)
    window.go("fit")
    for _, reach in window.fit.views():
        reach()
        _settle(window)
    for length in (40, 60, 80):
        window.fit.play_view.engagement.setValue(length)
        _settle(window)


def restyle(window: Window) -> None:
    """Other colours and another size of text, and back."""
    for choose, what in (
        (window.choose_theme, "dark"), (window.choose_size, "150"), (window.choose_size, "100"),
        (window.choose_theme, "light"),
    ):  # fmt: skip
        choose(what)
        _settle(window)


SCENARIOS: dict[str, Callable[[Window], None]] = {
    "every place for the first time": first_shown,
    "opening, measuring, looking around": look_around,
    "original, replacement and hole": fit_together,
    STYLED: restyle,
}


def main() -> int:
    """Run all, each on a window of its own, and print the longest stretch of the best of three tries."""
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    create_application()
    late = False
    for words, act in SCENARIOS.items():
        best: Blocked | None = None
        for _ in range(_TRIES):
            with tempfile.TemporaryDirectory() as folder:
                os.environ["FLANKWISE_DATA"] = folder
                window = create_window(Settings(Path(folder) / "window.ini"))
                window.desk.register_file = str(Path(folder) / "parts.sqlite")
                window.desk.set_bench(Bench(FixedScale(4.0, relative_u=1e-5, edge_offset_u_px=0.01)))
                window.resize(1280, 800)
                window.show()
                _settle(window)
                with watched(least=0.005) as blocked:
                    act(window)
                window.close()
                window.deleteLater()
                QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
            if best is None or blocked.longest < best.longest:
                best = blocked
        assert best is not None
        sys.stdout.write(f"{words:36} {1000 * best.longest:5.0f} ms\n")
        if best.longest > UNNOTICED_SECONDS:
            late = late or words != STYLED
            sys.stdout.write("".join(f"    {line}\n" for line in str(best).splitlines()[:7]))
    return int(late)


if __name__ == "__main__":
    raise SystemExit(main())
