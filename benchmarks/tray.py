"""Does every part on file carry the picture and the numbers of its position, whatever arrives while one files?

    python -m benchmarks.tray [--rounds 25] [--pictures 40] [--seed 1]
    python -m benchmarks.tray --stream 500 [--every 1.0]

In a round the real window, offscreen, is given pictures of screws: dropped, opened, several at once, in random order
and at random moments. Meanwhile Enter is pressed at random moments, the person looks at other places and cards, and
answers no to what the program asks. Then the register is read: the picture on file at each position must be the one
that the button named when Enter was pressed, and its numbers those of that picture, measured by itself. Where nobody
has chosen a card, that is also the order of arrival.

``--stream``: a picture arrives every so many seconds (of this program's own processor time with ``--own-time``, for a
machine that has other work), each is filed as soon as it is highlighted, and another program
holds the register for the first eight seconds. Seen are the time from arrival until a picture is measured, and memory.

Exit code 1 where a part is filed wrongly or not at all; where a picture waits for more than ten others; where memory of
the last third is more than a twentieth above that of the middle one.
"""

from __future__ import annotations

import argparse
import hashlib
import os
import random
import sqlite3
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from statistics import median

import numpy as np
from PIL import Image
from PIL.PngImagePlugin import PngInfo
from PySide6.QtCore import QCoreApplication, QEvent, QMimeData, QPoint, QPointF, Qt, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from benchmarks.batch import memory_of
from flankwise.bench import Bench
from gui.app import create_application, create_window
from gui.piece import Choices, measure_piece
from gui.settings import Settings
from gui.tray.cards import State
from gui.turns import any_left
from gui.window import Window
from records.listing import Conditions, page_of_parts
from records.reading import read_part
from records.register import open_register
from vision.shared.plane import FixedScale, PlaneMap

SAMPLES = Path(__file__).resolve().parents[1] / "sample_images"
HALF = FixedScale(8.0, relative_u=1e-5, edge_offset_u_px=0.01)
"""The samples of bench A at half their size: quicker, and as good for this."""
POSITION = "index arm {}"
MOST_GROWTH = 1.05
MOST_WAITING = 10
HELD_S = 8.0
"""So long another program writes in the register: the window waits for ten seconds."""
_DONE_S = 300.0


@dataclass
class Round:
    """What a round came to: so many parts carry what belongs to their position, and what was wrong with others."""

    right: int = 0
    wrong: list[str] = field(default_factory=list)


def make_pictures(folder: Path, count: int, *, half: bool = True) -> list[Path]:
    """``count`` pictures of screws, no two alike: the samples of bench A, each moved a little."""
    made, samples = [], sorted(SAMPLES.glob("*screw*bench_a.png"))
    for number in range(count):
        image: Image.Image = Image.open(samples[number % len(samples)])
        if half:
            step = number // len(samples)
            width, height = image.width // 2, image.height // 2
            eight = np.asarray(image).astype(float) * (255 / (65535 if image.mode.startswith("I") else 255))
            image = Image.fromarray(np.rint(eight).astype(np.uint8))
            image = image.resize((width, height), Image.Resampling.BOX).crop((step, 0, width, height - step))
        note = PngInfo()
        note.add_text("Comment", f"picture {number}")
        made.append(folder / f"shot {number:03}.png")
        image.save(made[-1], pnginfo=note)
    return made


@contextmanager
def a_window(folder: Path, plane: PlaneMap) -> Iterator[Window]:
    """The window of a fresh start, with a register and settings of its own."""
    create_application()
    window = create_window(Settings(folder / "window.ini"))
    window.desk.register_file = str(folder / "parts.sqlite")
    window.desk.set_bench(Bench(plane))
    window.resize(1280, 800)
    window.show()
    window.go("register")
    strip = window.register.strip
    for line, text in (
        (strip.instrument, "marine sextant"),
        (strip.job, "overhaul"),
        (strip.position, POSITION.format(1)),
    ):
        line.setText(text)
    window.desk.work.wait()
    try:
        yield window
    finally:
        window.leave()
        window.deleteLater()
        QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)


def drop(window: Window, paths: Sequence[Path]) -> None:
    """Drop files on the window, as a file manager does."""
    what = QMimeData()
    what.setUrls([QUrl.fromLocalFile(str(path)) for path in paths])
    how = Qt.DropAction.CopyAction, what, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
    QApplication.sendEvent(window, QDragEnterEvent(QPoint(300, 300), *how))
    QApplication.sendEvent(window, QDropEvent(QPointF(300, 300), *how))


def one_round(
    folder: Path, pictures: Sequence[Path], numbers: dict[str, float], chance: random.Random, *, choosing: bool
) -> Round:
    """One instrument, documented while pictures arrive. ``choosing``: the person looks at other cards, too."""
    with a_window(folder, HALF) as window:
        left = list(pictures)
        chance.shuffle(left)
        arrived = [str(path) for path in left]
        promised: dict[str, str] = {}
        end = time.monotonic() + _DONE_S
        while (left or len(promised) < len(pictures)) and time.monotonic() < end:
            if left and chance.random() < 0.4:
                some = [left.pop(0) for _ in range(min(chance.randint(1, 5), len(left)))]
                if chance.random() < 0.5:
                    drop(window, some)
                else:
                    window.open_pictures([str(path) for path in some])
            elif chance.random() < 0.5:
                _press_enter(window, promised)
            elif choosing and chance.random() < 0.3:
                key = chance.choice((Qt.Key.Key_Right, Qt.Key.Key_Left))
                QTest.keyClick(window, key, Qt.KeyboardModifier.AltModifier)
            elif chance.random() < 0.2:
                window.go(chance.choice(("bench", "part", "fit")))
                _serve(chance.random() * 0.06)
                window.go("register")  # pictures that are opened here wait for their turn
            if window.register.strip.question.open and chance.random() < 0.5:
                window.register.strip.question.neither.click()
            _serve(chance.random() * 0.06)
        window.desk.work.wait(_DONE_S)
        return _compared(window, promised, arrived if not choosing else [], numbers)


def _press_enter(window: Window, promised: dict[str, str]) -> None:
    """Press Enter where one types positions, and note what the button said that this does."""
    strip, card = window.register.strip, window.desk.tray.highlighted
    if window.front != "register":
        return
    words = strip.done.text().replace("&&", "&")
    if strip.done.isEnabled() and card is not None:
        promised[words.removeprefix("File this as ")] = card.piece.path
    QTest.keyClick(strip.position, Qt.Key.Key_Return)


def _compared(window: Window, promised: dict[str, str], arrived: Sequence[str], numbers: dict[str, float]) -> Round:
    """Read the register anew and hold each part against what was promised for its position."""
    found = Round()
    if arrived:
        in_order = {POSITION.format(number): path for number, path in enumerate(arrived, start=1)}
        found.wrong += [
            f"{name} was promised another picture" for name in in_order if promised.get(name) != in_order[name]
        ]
    shas = {path: window_sha(path) for path in promised.values()}
    with open_register(window.desk.register_file).reading() as connection:
        lines = page_of_parts(connection, Conditions(), most=10_000).lines
        parts = [read_part(connection, line.id) for line in lines]
    there = {part.position.name: part for part in parts if part.position is not None}
    if len(parts) != len(promised):
        found.wrong.append(f"{len(parts)} parts are on file, {len(promised)} were told to be")
    for name, path in promised.items():
        part = there.get(name)
        picture = None if part is None else part.picture
        measured = None if part is None else part.measurement
        if picture is None or picture.sha256 != shas[path]:
            found.wrong.append(f"{name} carries another picture than {Path(path).name}")
        elif measured is None or abs(measured.thread.pitch_diameter.value - numbers[path]) > 1e-9:
            found.wrong.append(f"{name} carries other numbers than {Path(path).name}")
        else:
            found.right += 1
    return found


def window_sha(path: str) -> str:
    """SHA-256 of the file."""
    return hashlib.sha256(Path(path).read_bytes()).hexdigest()


def numbers_of(pictures: Sequence[Path]) -> dict[str, float]:
    """The pitch diameter of each picture, measured by itself without a window, mm."""
    found = {}
    for path in pictures:
        piece = measure_piece(str(path), HALF, Choices())
        assert piece.measurement is not None, path
        found[str(path)] = piece.measurement.thread.pitch_diameter.value
    return found


def _serve(seconds: float) -> None:
    until = time.monotonic() + seconds
    while True:
        QCoreApplication.processEvents()
        if time.monotonic() >= until:
            return
        time.sleep(0.002)


@dataclass
class Stream:
    """What a stream came to: MiB at each arrival, seconds until each picture was measured, most that waited, filed."""

    memory: list[float] = field(default_factory=list)
    lag: list[float] = field(default_factory=list)
    waiting: int = 0
    filed: int = 0

    @property
    def growth(self) -> float:
        """Memory of the last third over that of the middle one; in the first third caches fill."""
        third = max(len(self.memory) // 3, 1)
        return median(self.memory[2 * third :]) / median(self.memory[third : 2 * third])


def stream(folder: Path, count: int, every_s: float, now: Callable[[], float] = time.monotonic) -> Stream:
    """``count`` pictures, one every ``every_s`` seconds by the clock ``now``, each filed when it is highlighted."""
    found, made = Stream(), folder / "shots"
    made.mkdir()
    pictures = make_pictures(made, min(count, 20), half=False)
    with a_window(folder, FixedScale(4.0, relative_u=1e-5, edge_offset_u_px=0.01)) as window:
        desk, strip = window.desk, window.register.strip
        arrived: dict[int, float] = {}

        def look() -> None:
            for card in desk.tray.cards:
                if card.number in arrived and card.state not in (State.WAITING, State.MEASURING):
                    found.lag.append(now() - arrived.pop(card.number))
            found.waiting = max(found.waiting, sum(card.state is State.WAITING for card in desk.tray.cards))

        desk.tray_changed.connect(look)
        other: sqlite3.Connection | None = _held(Path(str(desk.register_file)))
        began, held = now(), time.monotonic()
        for number in range(count):
            path = made / f"arrived {number:04}.png"
            path.write_bytes(pictures[number % len(pictures)].read_bytes())
            arrived[desk.tray.made + 1] = now()
            desk.take_in([str(path)])
            QTest.keyClick(strip.position, Qt.Key.Key_Return)
            while now() < began + (number + 1) * every_s and (desk.work.jobs or any_left()):
                _serve(0.01)
            if now is time.monotonic:
                _serve(max(began + (number + 1) * every_s - now(), 0.0))
            if other is not None and time.monotonic() - held > HELD_S:
                other.close()
                other = None
            found.memory.append(memory_of(os.getpid()))
        if other is not None:
            other.close()
        desk.work.wait(_DONE_S)
        with open_register(desk.register_file).reading() as connection:
            found.filed = page_of_parts(connection, Conditions(), most=1).total
    return found


def _held(file: Path) -> sqlite3.Connection:
    """A register at ``file`` in which another program is writing until the connection is closed."""
    open_register(file, create=True)
    other = sqlite3.connect(str(file), isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    return other


def main(arguments: list[str] | None = None) -> int:
    """The command."""
    parser = argparse.ArgumentParser(prog="python -m benchmarks.tray", description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--rounds", type=int, default=25)
    parser.add_argument("--pictures", type=int, default=40)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument(
        "--stream", type=int, default=0, help="so many pictures, one after the other, instead of rounds"
    )
    parser.add_argument("--every", type=float, default=1.0, help="seconds between two pictures of the stream")
    parser.add_argument("--own-time", action="store_true", help="count the seconds of the stream by processor time")
    chosen = parser.parse_args(arguments)
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    with tempfile.TemporaryDirectory() as own:
        os.environ["FLANKWISE_DATA"] = own
        folder = Path(own)
        return _stream(folder, chosen) if chosen.stream else _rounds(folder, chosen)


def _rounds(folder: Path, chosen: argparse.Namespace) -> int:
    (folder / "shots").mkdir()
    pictures = make_pictures(folder / "shots", chosen.pictures)
    numbers = numbers_of(pictures)
    right = 0
    for number in range(chosen.rounds):
        own = folder / f"round {number}"
        own.mkdir()
        began = time.monotonic()
        chance = random.Random(chosen.seed + number)  # noqa: S311 - moments, not secrets
        found = one_round(own, pictures, numbers, chance, choosing=number % 2 == 1)
        right += found.right
        print(
            f"round {number + 1}: {found.right} of {chosen.pictures} right, {time.monotonic() - began:.0f} s",
            flush=True,
        )
        for text in found.wrong:
            print(f"    {text}")
    wanted = chosen.rounds * chosen.pictures
    print(f"{right} of {wanted} parts carry the picture and the numbers of their position")
    return 0 if right == wanted else 1


def _stream(folder: Path, chosen: argparse.Namespace) -> int:
    count = chosen.stream
    found = stream(folder, count, chosen.every, time.process_time if chosen.own_time else time.monotonic)
    print(f"{found.filed} of {count} on file, one picture every {chosen.every:g} s")
    print(f"measured after {median(found.lag):.2f} s (half of them), at most {max(found.lag):.2f} s")
    print(f"at most {found.waiting} pictures waited")
    print(f"memory {found.memory[0]:.0f} MiB at first, {max(found.memory):.0f} at most")
    print(f"memory of the last third over that of the middle one: {found.growth:.3f}")
    good = found.filed == count and found.waiting <= MOST_WAITING and found.growth <= MOST_GROWTH
    return 0 if good else 1


if __name__ == "__main__":
    sys.exit(main())
