"""The desktop program as a process: ``flankwise gui``."""

from __future__ import annotations

import gc
import signal
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from types import TracebackType

from PySide6.QtCore import QCoreApplication, QEvent, QObject, QTimer
from PySide6.QtGui import QFileOpenEvent, QFont, QFontDatabase
from PySide6.QtWidgets import QApplication

from gui.desk import Desk
from gui.display import a_line_without_display
from gui.language import speak
from gui.settings import Settings
from gui.sheet import begin_theme
from gui.theme import choose_size, choose_theme
from gui.window import SIZES, Window

# OpenCV first, through the one place that puts Qt's paths back: a later import could not lead Qt astray any more
from vision.shared.opencv import cv2 as _cv2  # noqa: F401

GENERIC = {"Monospace", "Sans Serif", "Serif"}
"""The families that Qt names on a Linux without a single type."""
SWITCH_SECONDS = 0.001
"""How long a worker may keep the interpreter while the interface waits for it."""


def create_application(arguments: Sequence[str] = ()) -> QApplication:
    """The one QApplication."""
    there = QApplication.instance()
    application = there if isinstance(there, QApplication) else QApplication(["flankwise", *arguments])
    application.setApplicationName("flankwise")
    application.setApplicationDisplayName("Flankwise")
    application.setDesktopFileName("flankwise")
    if set(QFontDatabase.families()) <= GENERIC:
        use_own_type()
    return application


def use_own_type() -> None:
    """Write in the type that comes with the program: a bare system has none, and would show boxes."""
    from records.figures.type_files import dejavu

    for bold in (False, True):
        QFontDatabase.addApplicationFont(str(dejavu(bold=bold)))
    QApplication.setFont(QFont("DejaVu Sans"))


def create_window(settings: Settings | None = None) -> Window:
    """The window with an empty desk, not yet shown."""
    kept = settings or Settings()
    application = create_application()
    speak(kept.text("language", "system"))
    choose_size(min(max(kept.number("size", SIZES[0]), SIZES[0]), SIZES[-1]))
    choose_theme(kept.text("theme", "system"))
    begin_theme(application)
    windows: list[Window] = []

    def defect(error: Exception) -> None:
        report_defect(windows[0] if windows else None, error)

    window = Window(Desk(kept, defect))
    windows.append(window)
    window.apply_theme()  # once all widgets are there: made under a style sheet, they take twice as long
    last = kept.text("bench")
    if last:
        window.desk.load_bench(last)
    return window


def renewed(window: Window) -> Window:
    """Another window in place of ``window``, in the language that was chosen: what is in the tray, the calibration,
    where pictures come from and the place in front are as they were. Steps of undo and what lies in Fit begin anew.
    """
    application = QApplication.instance()
    assert isinstance(application, QApplication)
    application.setQuitOnLastWindowClosed(False)  # for the moment between the two
    desk, place, video = window.desk, window.front, window.bench.source.video
    window.register.strip.queue.finish()
    window.leave()
    made = create_window(desk.settings)
    made.desk.register_file = desk.register_file
    made.desk.work.cancel("bench")  # it is at hand
    made.desk.set_bench(desk.bench)
    made.desk.set_tray(desk.tray.unmeasured())
    made.show()
    made.go(place)
    if video:
        made.bench.source.use_video(video)
    else:
        made.bench.chooser.resume()
    window.deleteLater()
    application.setQuitOnLastWindowClosed(True)
    return made


def report_defect(window: Window | None, error: BaseException) -> None:
    """Tell of what nobody expected, in the window; the program goes on."""
    if window is None:
        raise error
    text = QCoreApplication.translate(
        "Window", "Something unexpected happened ({what}). Your files are as they were. Please report it."
    )
    window.desk.noticed.emit("refusal", text.format(what=f"{type(error).__name__}: {error}"))


class Opener(QObject):
    """Opens in the window what a system hands over while the program runs: macOS does so in place of arguments."""

    def __init__(self, window: Callable[[], Window], parent: QObject) -> None:
        super().__init__(parent)
        self._window = window

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Take the events of files to be opened, leave all others alone."""
        if isinstance(event, QFileOpenEvent) and event.file():
            self._window().open_files([event.file()])
            return True
        return super().eventFilter(watched, event)


def _keep_up(windows: list[Window]) -> None:
    """The one window is replaced whenever another language was chosen."""

    def replace() -> None:
        windows[0] = renewed(windows[0])
        _keep_up(windows)

    windows[0].outdated.connect(lambda: QTimer.singleShot(0, replace))  # once its menu is closed


def main(arguments: Sequence[str] = (), place: str = "") -> int:
    """Open the window and run until it is closed. ``arguments``: files to open. ``place``: what comes to the front."""
    sys.setswitchinterval(SWITCH_SECONDS)
    with a_line_without_display():
        application = create_application()
    windows = [create_window()]
    gc.freeze()  # what is there now stays: to look through it for cycles again and again holds everything for 50 ms

    def hook(kind: type[BaseException], error: BaseException, _trace: TracebackType | None) -> None:
        if issubclass(kind, KeyboardInterrupt):
            windows[0].leave(keep=True)
        else:
            report_defect(windows[0], error)

    sys.excepthook = hook
    signal.signal(signal.SIGINT, lambda *_: windows[0].leave(keep=True))
    awake = QTimer()  # lets Python look at Ctrl-C now and then
    awake.timeout.connect(lambda: None)
    awake.start(300)
    application.installEventFilter(Opener(lambda: windows[0], application))
    _keep_up(windows)
    window = windows[0]
    window.show()
    window.greet()
    if place:
        window.go(place)
    if arguments:
        window.open_files([str(Path(path).absolute()) for path in arguments])
    return int(application.exec())
