"""The window: four places, named after where the person is in the work, and the line along the bottom."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from importlib.metadata import metadata
from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import (
    QAction,
    QActionGroup,
    QCloseEvent,
    QDragEnterEvent,
    QDropEvent,
    QGuiApplication,
    QIcon,
    QImage,
    QKeySequence,
    QResizeEvent,
)
from PySide6.QtWidgets import (
    QApplication,
    QButtonGroup,
    QFileDialog,
    QHBoxLayout,
    QMainWindow,
    QMenu,
    QPushButton,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from gui.bench.place import BenchPlace
from gui.bundles import ENDING, Bundles, is_bundle
from gui.desk import Desk
from gui.fit.place import FitPlace
from gui.foot import Foot
from gui.guide import Guide
from gui.keys import KeyGroup, KeyList, keys_of
from gui.language import LANGUAGES
from gui.leaving import Leaving
from gui.notice import Notice
from gui.part.place import PartPlace
from gui.pasted import keep_pasted
from gui.place import Place
from gui.recent import Recent
from gui.register import deeds
from gui.register.place import RegisterPlace
from gui.samples import SAMPLES
from gui.scrolling import ScrollArea, scrolling
from gui.sheet import apply_theme
from gui.splitters import keep_splitters, restore_splitters
from gui.theme import choose_size, choose_theme, theme
from gui.tour import Tour, tour_words
from gui.tray.measuring import Measuring
from gui.tray.view import TrayView
from gui.turns import Soon
from gui.unfinished import hold, left_behind, own_file, write_down
from records.register_path import register_path

ICON = Path(__file__).parent / "icons" / "flankwise.svg"
SIZES = (100, 125, 150, 175, 200)
PICTURES = "*.png *.jpg *.jpeg *.tif *.tiff *.bmp"


class Window(QMainWindow):
    """Everything the person sees. It owns the places; what they share is on ``desk``.

    ``outdated``: another language was chosen.
    """

    outdated = Signal()

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.desk = desk
        self.measuring = Measuring(desk)
        self.setWindowTitle("Flankwise")
        self.setWindowIcon(QIcon(str(ICON)))
        self.setAcceptDrops(True)
        self.resize(1280, 800)
        self.notice = Notice()
        self.stack = QStackedWidget()
        self.bench, self.part = BenchPlace(desk), PartPlace(desk)
        self.fit, self.register = FitPlace(desk), RegisterPlace(desk)
        self.places: dict[str, Place] = {}
        self._areas: list[ScrollArea] = []
        self._buttons = QButtonGroup(self)
        top, foot = self._make_top(), Foot(desk)
        whole = QWidget()
        column = QVBoxLayout(whole)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        self.tour = Tour(self.desk, self.go)
        self.leaving, self.tray = Leaving(), TrayView(desk)
        self.tray.enter.connect(self._enter_on_card)
        self.bundles = Bundles(self.register.paper.away.take_in)
        for line in (top, self.leaving, self.bundles, self.notice, self.tour, self.stack, self.tray, foot):
            column.addWidget(line, 1 if line is self.stack else 0)
        self.setCentralWidget(whole)
        self.keys, self.guide = KeyList(whole), Guide(whole)
        self._make_menus()
        desk.noticed.connect(self.notice.say)
        desk.written.connect(self.notice.offer)
        desk.go.connect(self.go)
        self.bench.chooser.picture_file.connect(self.ask_for_pictures)
        self._front = ""
        self.go("bench")
        self.restoreGeometry(desk.settings.state("geometry"))
        restore_splitters(self, desk.settings)
        self._file = own_file()
        self._lock = hold(self._file)
        self._left = left_behind()
        self._written: tuple[object, ...] = ()
        self._writing = Soon(self, self._write_down, 0)
        desk.tray_changed.connect(self._writing.want)
        desk.bench_changed.connect(self._writing.want)
        self._may_close = self._keep = False
        QGuiApplication.styleHints().colorSchemeChanged.connect(self._follow_system)

    def _make_top(self) -> QWidget:
        """The row of buttons that bring the places to the front, each added to the stack."""
        top = QWidget()
        row = QHBoxLayout(top)
        row.setContentsMargins(10, 0, 10, 0)
        row.setSpacing(0)
        for number, (place, words, hint) in enumerate(
            (
                (self.bench, self.tr("Bench"), self.tr("Is the set-up right?")),
                (self.part, self.tr("Part"), self.tr("What is this screw?")),
                (self.fit, self.tr("Fit"), self.tr("Original, replacement and hole")),
                (self.register, self.tr("Register"), self.tr("Every part on file")),
            )
        ):
            button = QPushButton(words)
            button.setProperty("place", True)
            button.setCheckable(True)
            button.setToolTip(f"{hint}  (Ctrl+{number + 1})")
            button.setAccessibleDescription(hint)
            self._buttons.addButton(button, number)
            row.addWidget(button)
            self._areas.append(scrolling(place))
            self.stack.addWidget(self._areas[-1])
            self.places[place.NAME] = place
        row.addStretch(1)
        self._buttons.idClicked.connect(lambda number: self.go(list(self.places)[number]))
        return top

    # --- places

    @property
    def front(self) -> str:
        """The name of the place in front."""
        return self._front

    def go(self, name: str) -> None:
        """Bring the place called ``name`` to the front."""
        if name == self._front:
            return
        if self._front:
            self.places[self._front].left()
        self._front = name
        for other, place in self.places.items():
            for action in place.actions_here:
                action.setEnabled(other == name)
        place = self.places[name]
        kept = [(area, area.verticalScrollBar().value()) for area in self._areas]
        self.stack.setCurrentIndex(list(self.places).index(name))
        self._buttons.button(list(self.places).index(name)).setChecked(True)
        place.entered()
        place.setFocus(Qt.FocusReason.OtherFocusReason)
        for area, seen in kept:  # Qt turns to whatever has the keyboard for a moment
            area.verticalScrollBar().setValue(seen)

    # --- menus

    def _make_menus(self) -> None:
        bar = self.menuBar()
        file = bar.addMenu(self.tr("&Picture"))
        self._add(file, self.tr("Open pictures…"), QKeySequence.StandardKey.Open, self.ask_for_pictures)
        self._add(file, self.tr("Paste a picture"), QKeySequence.StandardKey.Paste, self.paste)
        self._add(file, self.tr("Open a calibration…"), "Ctrl+Shift+O", self.ask_for_bench)
        kept, more = self.desk.settings, (file.addMenu(words) for words in self._recent_words())
        self.recent_pictures = Recent(kept, "recent pictures", next(more), self.open_picture)
        self.recent_benches = Recent(kept, "recent calibrations", next(more), self.desk.load_bench)
        self.desk.bench_changed.connect(self._bench_opened)
        file.addSeparator()
        self._add(file, self.tr("Next card of the tray"), "Alt+Right", lambda: self._move(1))
        self._add(file, self.tr("Card before it"), "Alt+Left", lambda: self._move(-1))
        self._add(file, self.tr("Take the card out of the tray"), "Alt+Del", self.desk.take_out)
        file.addSeparator()
        self._add(file, self.tr("Quit"), QKeySequence.StandardKey.Quit, self.close)
        edit = bar.addMenu(self.tr("&Edit"))
        undo = self.desk.undo.createUndoAction(self, self.tr("Undo"))
        undo.setShortcut(QKeySequence.StandardKey.Undo)
        redo = self.desk.undo.createRedoAction(self, self.tr("Redo"))
        redo.setShortcut(QKeySequence.StandardKey.Redo)
        edit.addAction(undo)
        edit.addAction(redo)
        go = bar.addMenu(self.tr("&Go"))
        for number, (name, button) in enumerate(zip(self.places, self._buttons.buttons(), strict=True), start=1):
            self._add(go, button.text(), f"Ctrl+{number}", partial(self.go, name))
        self._here = bar.addMenu(self.tr("&Here"))
        self._here.aboutToShow.connect(lambda: self._fill_here(self._here))
        for place in self.places.values():
            for action in place.actions_here:
                self.addAction(action)  # so that its key works
        view = bar.addMenu(self.tr("&View"))
        self._add(view, self.tr("Millimetres or inches"), "Ctrl+U", lambda: self.desk.set_inches(not self.desk.inches))
        view.addSeparator()
        self._add_choices(
            view,
            "theme",
            "system",
            [
                ("system", self.tr("Colours as the system has them")),
                ("light", self.tr("Light")),
                ("dark", self.tr("Dark")),
            ],
            self.choose_theme,
        )
        self._add_choices(
            view.addMenu(self.tr("Size of the text")),
            "size",
            "100",
            [(str(p), f"{p} %") for p in SIZES],
            self.choose_size,
        )
        self._add_choices(
            view.addMenu(self.tr("Language")),
            "language",
            "system",
            [("system", self.tr("As the system has it")), *LANGUAGES.items()],
            self.choose_language,
        )
        paper = bar.addMenu(self.tr("P&rint"))
        for what, words in self.register.paper.kinds():
            self._add(paper, f"{words}…", None, partial(self.print_paper, what))
        help_menu = bar.addMenu(self.tr("He&lp"))
        self._add(help_menu, self.tr("List of keys"), "F1", self.show_keys)
        self._add(help_menu, self.tr("Guide"), "Shift+F1", self.show_guide)
        self._add(help_menu, self.tr("Show me round with the sample pictures"), None, self.tour.begin)
        help_menu.addSeparator()
        self._add(help_menu, self.tr("About Flankwise"), None, self.show_about)

    def _recent_words(self) -> tuple[str, str]:
        return self.tr("Recent pictures"), self.tr("Recent calibrations")

    def _bench_opened(self) -> None:
        if self.desk.bench is not None and self.desk.bench.file:
            self.recent_benches.opened([self.desk.bench.file])

    def _add(
        self, menu: QMenu, words: str, key: str | QKeySequence.StandardKey | None, do: Callable[[], object]
    ) -> QAction:
        action = QAction(words, self)
        if key is not None:
            action.setShortcut(QKeySequence(key))
        action.triggered.connect(lambda *_: do())
        menu.addAction(action)
        return action

    def _add_choices(
        self, menu: QMenu, name: str, otherwise: str, choices: list[tuple[str, str]], do: Callable[[str], None]
    ) -> None:
        """One of ``choices`` (kept as, words) holds; it is kept in the settings as ``name``."""
        group = QActionGroup(self)
        for kept, words in choices:
            action = self._add(menu, words, None, partial(do, kept))
            action.setCheckable(True)
            action.setChecked(self.desk.settings.text(name, otherwise) == kept)
            group.addAction(action)

    def _fill_here(self, menu: QMenu) -> None:
        menu.clear()
        menu.addActions(self.places[self._front].actions_here)

    def show_guide(self) -> None:
        """The guide, over the place in front."""
        self.keys.hide()
        self._place_keys()
        self.guide.open()

    def show_about(self) -> None:
        """What program this is."""
        text = self.tr(
            "Flankwise {version} measures screw threads from the shadow that a part throws in a camera. Free software "
            "under the licence {licence}. It works without a network; the register is {register}."
        )
        told = metadata("flankwise")
        where = register_path(self.desk.register_file)
        self.desk.noticed.emit(
            "about", text.format(version=told["Version"], licence=told["License-Expression"], register=where)
        )

    def show_keys(self) -> None:
        """The list of keys, those of the place in front first."""
        if self.keys.isVisible():
            self.keys.hide()
            return
        self.guide.hide()
        button = self._buttons.button(list(self.places).index(self._front))
        menus = [menu for menu in (action.menu() for action in self.menuBar().actions()) if isinstance(menu, QMenu)]
        groups = [
            KeyGroup(button.text(), keys_of(self.places[self._front].actions_here)),
            *(KeyGroup(m.title().replace("&", ""), keys_of(m.actions())) for m in menus if m is not self._here),
        ]
        picture = (
            (self.tr("Arrows"), self.tr("move over the picture")),
            ("+  −", self.tr("zoom")),
            ("0", self.tr("the whole picture")),
        )
        groups.append(KeyGroup(self.tr("Over a picture"), picture))
        self._place_keys()
        self.keys.show_keys(groups)

    # --- pictures in

    def ask_for_pictures(self) -> None:
        """Let the person choose picture files."""
        folder = self.desk.settings.text("pictures")
        paths, _ = QFileDialog.getOpenFileNames(
            self, self.tr("Open pictures"), folder, self.tr("Pictures and bundles") + f" ({PICTURES} *{ENDING})"
        )
        if paths:
            self.desk.settings.set_text("pictures", str(Path(paths[0]).parent))
            self.open_files(paths)

    def open_files(self, paths: Sequence[str]) -> None:
        """Open pictures, calibrations and bundles, each where it belongs."""
        kinds = {path: "bundle" if is_bundle(path) else Path(path).suffix.lower() for path in paths}
        benches = [path for path, kind in kinds.items() if kind == ".json"]
        if benches:
            self.desk.load_bench(benches[-1])
        for path, kind in kinds.items():
            if kind == "bundle":
                self.go("register")
                self.bundles.offer(path)
        pictures = [path for path, kind in kinds.items() if kind not in {".json", "bundle"}]
        if pictures:
            self.open_pictures(pictures)

    def open_picture(self, path: str) -> None:
        """A card for the picture in ``path``."""
        self.open_pictures([path])

    def open_pictures(self, paths: Sequence[str]) -> None:
        """A card for each picture. The first is shown, but while one documents parts they wait for their turn."""
        filing = self._front == "register"
        self.recent_pictures.opened([path for path in paths if Path(path).parent != SAMPLES])
        self.desk.take_in(paths, show=not filing)
        if not filing:
            self.go("part")

    def print_paper(self, what: str) -> None:
        """Turn to this paper in Register and show its pages."""
        self.go("register")
        self.register.show_view("paper")
        self.register.paper.choose(what)
        self.register.paper.show_preview()

    def _move(self, step: int) -> None:
        """Highlight another card."""
        self.desk.highlight(self.desk.tray.moved(step).at)

    def _enter_on_card(self) -> None:
        """Enter on a card does what the button of the strip says, once one sees that button."""
        if self._front == "register":
            self.register.strip.file_it()
        elif self.desk.piece is not None:
            self.go("register")
            self.desk.to_file.emit()

    def ask_for_bench(self) -> None:
        """Let the person choose a calibration file."""
        folder = self.desk.settings.text("calibrations")
        path, _ = QFileDialog.getOpenFileName(
            self, self.tr("Open a calibration"), folder, self.tr("Calibrations") + " (*.json)"
        )
        if path:
            self.desk.settings.set_text("calibrations", str(Path(path).parent))
            self.desk.load_bench(path)

    def paste(self) -> None:
        """Take the picture, or the picture file, on the clipboard."""
        data = QApplication.clipboard().mimeData()
        paths = [url.toLocalFile() for url in data.urls() if url.isLocalFile()]
        if paths:
            self.open_files(paths)
            return
        image = data.imageData() if data.hasImage() else None
        if isinstance(image, QImage) and not image.isNull():
            words = self.tr("keeping the picture")
            self.desk.work.run(words, keep_pasted, image, done=self.open_picture, failed=self.desk.refuse, key="paste")
            return
        self.desk.noticed.emit("refusal", self.tr("There is no picture on the clipboard. Copy one and paste again."))

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if any(url.isLocalFile() for url in event.mimeData().urls()):
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        paths = [path for url in event.mimeData().urls() if (path := url.toLocalFile())]
        if not self.places[self._front].takes_files(paths):
            self.open_files(paths)
        event.acceptProposedAction()

    # --- the first moments

    def greet(self) -> None:
        """What is done at the start: the register of an older version is brought up to date, the camera of last time is
        used; what a crash left, or that there is a tour, is said.
        """
        if register_path(self.desk.register_file).exists():
            self.desk.work.run(
                self.tr("opening the register"), deeds.upgraded, self.desk.register_file, done=self._tell_upgrade,
                failed=self.desk.refuse, key="upgrade",
            )  # fmt: skip
        self.bench.chooser.resume()
        if not self.offer_what_was_left() and self.desk.settings.text("toured") != "yes":
            self.desk.note(tour_words())

    def _tell_upgrade(self, copy: Path | None) -> None:
        if copy is not None:
            text = self.tr("The register was brought up to date. As it was before, it is kept in {path}.")
            self.desk.note(text.format(path=copy))

    def _write_down(self) -> None:
        """What would be lost is on the disk, as it is now."""
        cards = self.desk.tray.unfiled
        bench = "" if self.desk.bench is None else self.desk.bench.file
        written = (bench, self._keep, *((c.piece.path, c.choices, c.given and c.given.entry, c.meant) for c in cards))
        if written != self._written:
            self._written = written
            write_down(self._file, bench, cards, kept=self._keep)

    def offer_what_was_left(self) -> bool:
        """Cards that the run before left are back in the tray; False where nothing was left."""
        left, self._left = self._left, None
        if left is None or not left.cards:
            return False

        if left.bench:
            self.desk.load_bench(left.bench)  # what is measured waits for it
        self.desk.take_up(left.cards)
        self.desk.note(
            self.tr("What was not on file last time is back in the tray.")
            if left.kept
            else self.tr("The program ended badly last time. What was not on file is back in the tray.")
        )
        self.go("part")
        return True

    # --- looks

    def choose_theme(self, name: str) -> None:
        """Colours: "system", "light" or "dark"."""
        self.desk.settings.set_text("theme", name)
        choose_theme(name)
        self.apply_theme()

    def choose_size(self, percent: str) -> None:
        """Size of the text, per cent."""
        self.desk.settings.set_text("size", percent)
        choose_size(int(percent))
        self.apply_theme()

    def apply_theme(self) -> None:
        """Show everything in the theme and the size of text in use."""
        application = QApplication.instance()
        assert isinstance(application, QApplication)
        apply_theme(application)
        self._colours_shown = theme().name
        for place in self.places.values():
            place.theme_changed()
        self.tray.theme_changed()

    def choose_language(self, name: str) -> None:
        """The language from now on: whoever made this window makes another in its place."""
        self.desk.settings.set_text("language", name)
        self.outdated.emit()

    def _follow_system(self, _scheme: Qt.ColorScheme) -> None:
        """The system has gone from light to dark, or back."""
        if self._colours_shown != theme().name:
            self.apply_theme()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._place_keys()

    def _place_keys(self) -> None:
        for over in (self.keys, self.guide):
            over.setGeometry(self.stack.geometry().adjusted(20, 20, -20, -20))

    def leave(self, *, keep: bool = False) -> None:
        """Close the window without a question; ``keep`` what is not on file for the next time, or forget it."""
        self._may_close, self._keep = True, keep
        self.close()

    def closeEvent(self, event: QCloseEvent) -> None:
        if not self._may_close:
            self.register.strip.queue.finish()  # what is on its way
            left = len(self.desk.tray.unfiled)
            if left and not _logging_out():
                event.ignore()
                self.leaving.ask(left, self.leave)
                return
            self._keep = bool(left)
        self.desk.settings.set_state("geometry", self.saveGeometry())
        keep_splitters(self, self.desk.settings)
        for place in self.places.values():
            place.closing()
        self.desk.work.close()
        self._write_down()
        if not self._keep:
            write_down(self._file, "", ())
        self._lock.unlock()
        self.desk.settings.write()
        super().closeEvent(event)


def _logging_out() -> bool:
    """Whether the system ends the session: no question may hold it up."""
    application = QGuiApplication.instance()
    return isinstance(application, QGuiApplication) and application.isSavingSession()
