"""The guide inside the window: the pages that come with the program, searched as one types. Nothing is fetched."""

from __future__ import annotations

import sys
from pathlib import Path

from PySide6.QtCore import QLoggingCategory, Qt, QUrl
from PySide6.QtGui import QKeyEvent, QTextCursor
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QTextBrowser,
    QVBoxLayout,
    QWidget,
)

from gui.fields import ExampleField
from gui.splitters import Folding

FIRST = "README.md"
_LEFT_OUT = {"CONTRIBUTING.md"}
_FEWEST, _MOST = 3, 60
"""Letters from which on is searched, and hits that are listed."""
_AROUND = 40  # letters of a hit's line before it


def guide_folder() -> Path | None:
    """Where the pages are: beside the packages in a checkout and a frozen program, else where they were installed."""
    beside = Path(__file__).parents[1] / "docs"
    installed = Path(sys.prefix) / "share" / "flankwise" / "guide"
    return next((folder for folder in (beside, installed) if (folder / FIRST).is_file()), None)


def title_of(page: Path) -> str:
    """The heading of a page."""
    return next((line[2:] for line in page.read_text("utf-8").splitlines() if line.startswith("# ")), page.stem)


def hits(folder: Path, words: str) -> list[tuple[Path, str]]:
    """Pages with the lines in which all of ``words`` stand, whatever their case."""
    wanted = words.casefold().split()
    found = []
    for page in pages(folder):
        for line in page.read_text("utf-8").splitlines():
            low = line.casefold()
            if all(word in low for word in wanted):
                at = max(low.find(wanted[0]) - _AROUND, 0)
                found.append((page, line[at : at + 3 * _AROUND].strip(" #|>-")))
    return found[:_MOST]


def pages(folder: Path) -> list[Path]:
    """All pages in their order, the first page first."""
    named = sorted(folder.glob("*.md"), key=lambda page: (page.name != FIRST, _number(page), page.name))
    return [page for page in named if page.name not in _LEFT_OUT]


def _number(page: Path) -> int:
    head = page.stem.split("_")[0]
    return int(head) if head.isdigit() else 99


class Guide(QFrame):
    """Shown over the place, closed by Esc or its button: pages or what was found on the left, the page on the right."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("card", True)
        self.setAccessibleName(self.tr("Guide"))
        heading = QLabel(self.tr("Guide"))
        heading.setProperty("heading", True)
        self.search = ExampleField()
        self.search.setPlaceholderText(self.tr("search the guide"))
        self.search.setAccessibleName(self.tr("Search the guide"))
        self.search.setClearButtonEnabled(True)
        self.search.textChanged.connect(self._list)
        self.list = QListWidget()
        self.list.setAccessibleName(self.tr("Pages of the guide"))
        self.list.setWordWrap(True)
        self.list.currentItemChanged.connect(lambda item, _: self._chosen(item))
        self.page = QTextBrowser()
        self.page.setAccessibleName(self.tr("Page of the guide"))
        self.page.setOpenExternalLinks(False)
        self.page.setOpenLinks(False)
        self.page.anchorClicked.connect(self._follow)
        back, close = QPushButton(self.tr("Back")), QPushButton(self.tr("Close"))
        back.clicked.connect(self.page.backward)
        close.clicked.connect(self.hide)
        top = QHBoxLayout()
        top.addWidget(heading)
        top.addWidget(self.search, 1)
        for button in (back, close):
            button.setProperty("flat", True)
            top.addWidget(button)
        whole = Folding("guide")
        for number, widget in enumerate((self.list, self.page)):
            whole.addWidget(widget)
            whole.setStretchFactor(number, number)
        whole.setSizes([260, 740])
        column = QVBoxLayout(self)
        column.addLayout(top)
        column.addWidget(whole, 1)
        self.folder = guide_folder()
        QLoggingCategory.setFilterRules("qt.svg.warning=false")  # of figures, in which Qt misses a letter or two
        self.hide()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.hide()
            return
        super().keyPressEvent(event)

    def open(self) -> None:
        """Show the guide, and take the keyboard for the search."""
        if self.folder is None:
            self.page.setMarkdown(self.tr("The pages of the guide were not installed with the program."))
        elif not self.list.count():
            self._list("")
            self.list.setCurrentRow(0)
        self.show()
        self.raise_()
        self.search.setFocus(Qt.FocusReason.OtherFocusReason)

    def _list(self, words: str) -> None:
        """All pages, or those with the words."""
        if self.folder is None:
            return
        asked = len(words.strip()) >= _FEWEST
        found = hits(self.folder, words) if asked else [(page, "") for page in pages(self.folder)]
        self.list.blockSignals(True)  # the row that is the current one for a moment is nobody's choice
        self.list.clear()
        for page, line in found:
            item = QListWidgetItem("\n".join(filter(None, (title_of(page), line))))
            item.setData(Qt.ItemDataRole.UserRole, str(page))
            self.list.addItem(item)
        if asked and not found:
            self.list.addItem(self.tr("These words stand on no page."))
        self.list.setCurrentRow(-1)
        self.list.blockSignals(False)
        if asked:
            self.list.setCurrentRow(0)

    def _chosen(self, item: QListWidgetItem | None) -> None:
        path = None if item is None else item.data(Qt.ItemDataRole.UserRole)
        if path:
            self.page.setSource(QUrl.fromLocalFile(path))
            words = self.search.text().split()
            if words:
                self.page.moveCursor(QTextCursor.MoveOperation.Start)
                self.page.find(words[0])

    def _follow(self, to: QUrl) -> None:
        """Pages of the guide open here; what lies elsewhere, on disk or in the world, does not."""
        whole = self.page.source().resolved(to)
        local = Path(whole.toLocalFile())
        if whole.isLocalFile() and self.folder is not None and local.parent == self.folder and local.is_file():
            self.page.setSource(whole)
