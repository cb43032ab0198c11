"""How long does it take to document an instrument by the keyboard alone?

    python -m benchmarks.keyboard [--parts 20]

The real window, offscreen, in a fresh register. The pictures lie in the tray; nothing but keys is pressed from then on:
to the register, the instrument, the job and the first position, and Enter for each part. Every part must be on file at
its position with its numbers. What a person needs to look and to think is not in the time.
Exit code 1 where a part is missing or was not measured.
"""

from __future__ import annotations

import argparse
import os
import sys
import tempfile
import time
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from benchmarks.tray import POSITION, a_window, make_pictures
from gui.samples import sample_bench
from gui.window import Window
from records.listing import Conditions, page_of_parts
from records.reading import read_part
from records.register import open_register

CTRL = Qt.KeyboardModifier.ControlModifier


def document(window: Window, parts: int) -> int:
    """Document what is in the tray by keys; how many keys it took."""
    pressed = 0

    def key(which: Qt.Key, modifier: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
        nonlocal pressed
        pressed += 1
        QTest.keyClick(QApplication.focusWidget() or window, which, modifier)
        QApplication.processEvents()

    def words(text: str) -> None:
        nonlocal pressed
        pressed += len(text)
        QTest.keyClicks(QApplication.focusWidget() or window, text)

    key(Qt.Key.Key_4, CTRL)
    key(Qt.Key.Key_N, CTRL)  # to the position; the instrument and the job are before it
    for _ in range(2):
        key(Qt.Key.Key_Backtab, Qt.KeyboardModifier.ShiftModifier)
    for number, text in enumerate(("marine sextant", "overhaul", POSITION.format(1))):
        if number:
            key(Qt.Key.Key_Tab)
        key(Qt.Key.Key_A, CTRL)
        words(text)
    for _ in range(parts):
        key(Qt.Key.Key_Return)
    window.register.strip.queue.finish()
    window.desk.work.wait(600)
    QApplication.processEvents()
    return pressed


def main(arguments: list[str] | None = None) -> int:
    """The command."""
    parser = argparse.ArgumentParser(prog="python -m benchmarks.keyboard")
    parser.add_argument("--parts", type=int, default=20)
    parts: int = parser.parse_args(arguments).parts
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    with tempfile.TemporaryDirectory() as folder:
        own = Path(folder)
        pictures = make_pictures(own, parts, half=False)
        with a_window(own, sample_bench()) as window:
            window.activateWindow()
            for line in (window.register.strip.instrument, window.register.strip.job, window.register.strip.position):
                line.clear()
            begun, busy = time.monotonic(), time.process_time()
            window.open_pictures([str(path) for path in pictures])
            pressed = document(window, parts)
            deadline = time.monotonic() + 600
            while window.desk.tray.unfiled and time.monotonic() < deadline:
                QTest.qWait(20)
            took, busy = time.monotonic() - begun, time.process_time() - busy
        with open_register(own / "parts.sqlite").reading() as connection:
            lines = page_of_parts(connection, Conditions(), most=2 * parts).lines
            filed = [read_part(connection, line.id) for line in lines]
    measured = [part for part in filed if part.measurement is not None]
    positions = {part.position.name for part in measured if part.position is not None}
    right = positions == {POSITION.format(number) for number in range(1, parts + 1)}
    sys.stdout.write(f"{len(filed)} parts by {pressed} keys in {took:.0f} s ({busy:.0f} s of processor time)\n")
    return 0 if right and len(filed) == parts else 1


if __name__ == "__main__":
    sys.exit(main())
