"""The real window, offscreen, with settings and a register of its own."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QCoreApplication, QEvent

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

import gui.piece
from flankwise.bench import Bench
from gui.app import create_application, create_window
from gui.desk import Desk
from gui.piece import Piece, slim
from gui.settings import Settings
from gui.tray.cards import State, Whence, facts_of, stamp_of
from gui.window import Window
from tests.measured_once import measured_once
from vision.result.folded import Folded
from vision.result.measurement import Measurement
from vision.shared.plane import FixedScale

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

__all__ = ["measured_once"]

SAMPLES = Path(__file__).parents[2] / "sample_images"


@contextmanager
def a_window(qtbot: QtBot, folder: Path) -> Iterator[Window]:
    """A shown window of 1280 x 800 whose defects fail the test; what it keeps goes into ``folder``."""
    application = create_application()
    made = create_window(Settings(folder / "window.ini"))
    made.desk.register_file = str(folder / "parts.sqlite")
    defects: list[str] = []
    made.desk.noticed.connect(lambda _, text: defects.append(text) if "unexpected" in text else None)
    made.resize(1280, 800)
    made.show()
    qtbot.waitExposed(made)
    try:
        yield made
        made.desk.work.wait(30)
        assert not defects
    finally:
        made.leave()
        made.deleteLater()
        QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
        application.setStyleSheet("")  # the next window is made without one, as in a new process: in half the time


@pytest.fixture(scope="session", autouse=True)
def _folded_once() -> Iterator[None]:
    """A measurement made before is not folded anew: it takes as long as measuring."""
    fold, known = gui.piece.fold, dict[tuple[int, ...], tuple[object, Folded]]()

    def once(measurement: Measurement) -> Folded:
        kept = measurement.solution, measurement.thread
        key = tuple(map(id, kept))
        if key not in known:
            known[key] = kept, fold(measurement)
        return known[key][1]

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(gui.piece, "fold", once)
        yield


@pytest.fixture
def qtbot(qtbot: QtBot) -> QtBot:
    """It waits a minute for what must come: on a busy machine everything comes late, and a test asserts no speed."""
    for wait in ("waitUntil", "waitSignal", "waitExposed"):
        setattr(qtbot, wait, partial(getattr(qtbot, wait), timeout=60_000))
    return qtbot


@pytest.fixture
def window(qtbot: QtBot, tmp_path: Path) -> Iterator[Window]:
    with a_window(qtbot, tmp_path) as made:
        yield made


@pytest.fixture
def by_hand(window: Window) -> Window:
    """The window with a scale of 4 µm a pixel given by hand: that of the samples of bench A."""
    window.desk.set_bench(Bench(FixedScale(4.0, relative_u=1e-5, edge_offset_u_px=0.01)))
    return window


def lay(desk: Desk, piece: Piece) -> None:
    """Lay a piece that was measured already on the bench, as a card of its own."""
    facts = facts_of(piece)
    state = State.FILED if piece.filed is not None else State.REFUSED if facts is None else State.READY
    tray = desk.tray.with_arrived(
        slim(piece), Whence.OPENED, stamp_of(piece.path), state=state, facts=facts, bench=desk.bench
    )
    desk.set_tray(tray.highlighting(tray.made))
    desk.show_whole(tray.made, piece)
