"""``python -m gui.screenshots FOLDER``: each view of the window as a picture, in two sizes, by day and by night.

The demo is the Quayside Workshop's: the sample pictures on their bench. Nothing of the person's own data is touched.
"""

from __future__ import annotations

import argparse
import os
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from threads.shared.data_folder import FOLDER_VARIABLE

if TYPE_CHECKING:
    from gui.window import Window

SIZES = ((1280, 800), (1920, 1080))
THEMES = ("light", "dark")
_PACKED = 80  # Qt's measure of quality; as it is, packing takes most of the time
_SETTLE = 40  # rounds of events, so that layouts and plots come to rest
_STARTED = 6  # what is done may start more: measuring, identifying, drawing, reading the register


def views(window: Window) -> Iterator[tuple[str, Callable[[], None]]]:
    """The name of each view and how it is reached, in an order in which each finds what it needs."""
    from flankwise.bench import Bench
    from gui.samples import CUT, SAMPLES, SCREW, sample_bench

    desk = window.desk

    def bench() -> None:
        desk.set_bench(Bench(sample_bench()))
        window.go("bench")

    def within(place: str, show: Callable[[], None]) -> None:
        window.go(place)
        show()

    yield "bench_empty", partial(window.go, "bench")
    yield "register_empty", partial(window.go, "register")
    yield "bench", bench
    yield "part", partial(window.open_picture, str(SAMPLES / SCREW))
    yield "part_refused", partial(window.open_picture, str(SAMPLES / "pin_1000_bench_a.png"))
    yield "part_cut", partial(window.open_picture, str(SAMPLES / CUT))
    yield "fit", partial(window.go, "fit")
    yield "register", partial(window.go, "register")
    for place in window.places.values():
        for name, show in place.views():
            yield f"{place.NAME}_{name}", partial(within, place.NAME, show)
    yield "keys", window.show_keys


def settle(window: Window) -> None:
    """Let work, layouts and plots come to rest."""
    from PySide6.QtCore import QCoreApplication

    from gui.foot import Foot

    for _ in range(_STARTED):
        window.desk.work.wait()
        for _ in range(_SETTLE):
            QCoreApplication.processEvents()
        if not window.desk.work.jobs:
            break
    for foot in window.findChildren(Foot):
        foot.show_work()


@contextmanager
def data_in(folder: str) -> Iterator[None]:
    """Whatever is kept goes into ``folder`` meanwhile."""
    before = os.environ.get(FOLDER_VARIABLE)
    os.environ[FOLDER_VARIABLE] = folder
    try:
        yield
    finally:
        if before is None:
            del os.environ[FOLDER_VARIABLE]
        else:
            os.environ[FOLDER_VARIABLE] = before


def take(folder: Path, visit: Callable[[str, Window], None] | None = None, *, few: bool = False) -> list[Path]:
    """Write the pictures into ``folder`` and return their paths.

    For tests: ``visit`` is called at each view; with ``few`` each is taken in the large size by day or by night only.
    """
    from gui.app import create_application, create_window
    from gui.settings import Settings

    create_application()
    made: list[Path] = []
    with tempfile.TemporaryDirectory() as own, data_in(own):
        window = create_window(Settings(Path(own) / "window.ini"))
        window.desk.register_file = str(Path(own) / "parts.sqlite")
        window.resize(*SIZES[0])
        window.show()
        for number, (name, reach) in enumerate(views(window)):
            reach()
            settle(window)
            for theme in THEMES if number % 2 == 0 else THEMES[::-1]:  # the colours of the view before come first
                window.choose_theme(theme)
                for size in SIZES[:1] if few and theme != THEMES[number % 2] else SIZES:
                    window.resize(*size)
                    settle(window)
                    path = folder / f"{name}_{size[0]}x{size[1]}_{theme}.png"
                    window.grab().save(str(path), "PNG", _PACKED)
                    made.append(path)
                    if visit is not None:
                        visit(path.stem, window)
        window.close()
        window.deleteLater()
    return made


def main(arguments: list[str] | None = None) -> int:
    """The command."""
    parser = argparse.ArgumentParser(prog="python -m gui.screenshots", description="Pictures of each view.")
    parser.add_argument("folder", type=Path, help="where the pictures go")
    folder: Path = parser.parse_args(arguments).folder
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    folder.mkdir(parents=True, exist_ok=True)
    for path in take(folder):
        sys.stdout.write(f"{path}\n")
    return 0


if __name__ == "__main__":
    sys.exit(main())
