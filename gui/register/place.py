"""The place "Register": instruments, jobs, positions, every part; documenting, searching, printing."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import QModelIndex, Qt, QTimer
from PySide6.QtGui import QAction, QKeySequence, QUndoCommand
from PySide6.QtWidgets import (
    QButtonGroup,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QScrollArea,
    QSplitter,
    QStackedWidget,
    QTreeWidget,
    QTreeWidgetItem,
    QVBoxLayout,
    QWidget,
)

from gui.desk import Desk
from gui.place import Place
from gui.register import deeds
from gui.register.paper import Paper
from gui.register.part_panel import PartPanel
from gui.register.parts import PartsList, PartsModel
from gui.register.strip import Strip
from gui.said import said
from records.listing import Conditions
from records.nearest import Likeness
from records.overview import Overview
from threads.typed import TypedError, parse_length, parse_years

DELAY_MS = 120
"""After the last key before a search begins."""
_ROLE = Qt.ItemDataRole.UserRole


class RegisterPlace(Place):
    """The strip on top; below it what there is, the parts, and the chosen one or the paper."""

    NAME = "register"

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(desk, parent)
        self.strip = Strip(desk)
        self.search = QLineEdit()
        self.search.setPlaceholderText(self.tr("search: words, numbers, sizes"))
        self.search.setAccessibleName(self.tr("Search the register"))
        self.search.setClearButtonEnabled(True)
        self.least, self.most = QLineEdit(), QLineEdit()
        self.before = QLineEdit()
        fields = (
            (self.least, self.tr("pitch dia. from")),
            (self.most, self.tr("to")),
            (self.before, self.tr("made before")),
        )
        for field, words in fields:
            field.setPlaceholderText(words)
            field.setAccessibleName(words)
            field.setMaximumWidth(125)
            field.editingFinished.connect(self._search)
        self.tree = QTreeWidget()
        self.tree.setHeaderHidden(True)
        self.tree.setAccessibleName(self.tr("Instruments and jobs"))
        self.tree.currentItemChanged.connect(lambda *_: self._search())
        self.model = PartsModel(desk)
        self.parts = PartsList(self.model)
        self.count = QLabel()
        self.count.setProperty("faint", True)
        self.model.counted.connect(self._counted)
        self.panel, self.paper = PartPanel(desk), Paper(desk)
        self.parts.selectionModel().currentChanged.connect(self._chosen)
        self._right = QStackedWidget()
        self._buttons: list[QPushButton] = []
        self._typing = QTimer(self)
        self._typing.setSingleShot(True)
        self._typing.setInterval(DELAY_MS)
        self._typing.timeout.connect(self._search)
        self.search.textChanged.connect(lambda _: self._typing.start())
        self._make_actions()
        self._lay_out()
        self.strip.filed.connect(self._filed)
        desk.register_changed.connect(self._changed)
        desk.to_file.connect(self._to_file)
        self._stale = True

    def _make_actions(self) -> None:
        pairs: tuple[tuple[str, str, Callable[[], None]], ...] = (
            (self.tr("Search"), "Ctrl+F", self.search.setFocus),
            (self.tr("Next part: where does it belong"), "Ctrl+N", self.strip.position.setFocus),
            (self.tr("Parts like the one on the bench"), "Ctrl+L", self._like),
            (self.tr("The chosen part"), "Ctrl+D", lambda: self.show_view("part")),
            (self.tr("Report, export, backup"), "Ctrl+P", lambda: self.show_view("paper")),
        )
        for words, key, do in pairs:
            action = QAction(words, self)
            action.setShortcut(QKeySequence(key))
            action.triggered.connect(lambda *_, do=do: do())
            self.actions_here.append(action)

    def _lay_out(self) -> None:
        top = QHBoxLayout()
        top.addWidget(self.search, 1)
        for field in (self.least, self.most, self.before):
            top.addWidget(field)
        like = QPushButton(self.tr("Like the one on the bench"))
        like.setProperty("flat", True)
        like.clicked.connect(self._like)
        top.addWidget(like)
        middle = QWidget()
        column = QVBoxLayout(middle)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.parts, 1)
        column.addWidget(self.count)
        right = QWidget()
        column = QVBoxLayout(right)
        column.setContentsMargins(0, 0, 0, 0)
        row = QHBoxLayout()
        group = QButtonGroup(self)
        area = QScrollArea()
        area.setWidgetResizable(True)
        area.setWidget(self.panel)
        views: tuple[tuple[str, QWidget], ...] = (
            (self.tr("The part"), area),
            (self.tr("On paper and away"), self.paper),
        )
        for number, (words, widget) in enumerate(views):
            button = QPushButton(words)
            button.setProperty("flat", True)
            button.setCheckable(True)
            group.addButton(button, number)
            row.addWidget(button)
            self._right.addWidget(widget)
            self._buttons.append(button)
        self._buttons[0].setChecked(True)
        group.idClicked.connect(self._right.setCurrentIndex)
        row.addStretch(1)
        column.addLayout(row)
        column.addWidget(self._right, 1)
        whole = QSplitter(Qt.Orientation.Horizontal)
        for widget in (self.tree, middle, right):
            whole.addWidget(widget)
        whole.setSizes([200, 420, 640])
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 6, 10, 6)
        column.addWidget(self.strip)
        column.addLayout(top)
        column.addWidget(whole, 1)

    # --- what is shown

    def entered(self) -> None:
        """The place comes to the front."""
        self.strip.refresh()
        if self._stale:
            self._changed()

    def show_view(self, name: str) -> None:
        """Bring "part" or "paper" to the front on the right."""
        number = 0 if name == "part" else 1
        self._buttons[number].setChecked(True)
        self._right.setCurrentIndex(number)

    def views(self) -> Sequence[tuple[str, Callable[[], None]]]:
        """With a part on file and chosen; the report of its job."""
        return [("filed", self._show_filed), ("part", self._show_first), ("paper", self._show_paper)]

    def _show_filed(self) -> None:
        for field, text in (
            (self.strip.instrument, "bass clarinet 1936"),
            (self.strip.job, "overhaul"),
            (self.strip.position, "post 3"),
        ):
            field.setText(text)
        self.strip.file_it()

    def _show_first(self) -> None:
        self.parts.setCurrentIndex(self.model.index(0))
        self.show_view("part")

    def _show_paper(self) -> None:
        self.show_view("paper")
        self.paper.show_preview()

    def _changed(self) -> None:
        if not self.isVisible():
            self._stale = True
            return
        self._stale = False
        words = self.tr("reading the register")
        self.desk.work.run(
            words, deeds.look_over, self.desk.register_file, done=self._show_overview, failed=self.desk.refuse,
            key="register",
        )  # fmt: skip

    def _show_overview(self, found: Overview | None) -> None:
        self.tree.blockSignals(True)
        chosen = self._place()
        self.tree.clear()
        if found is not None:
            everything = self.tr("all parts: {count}").format(count=found.parts)
            self.tree.addTopLevelItem(_item(everything, ("", 0)))
            for heading, kind, rows, counts in (
                (self.tr("instruments"), "instrument", found.instruments, found.parts_on),
                (self.tr("jobs"), "job", found.jobs, found.parts_in),
            ):
                group = _item(heading, ("", 0))
                for row in rows:
                    group.addChild(_item(f"{row.name}  ({counts.get(row.id, 0)})", (kind, row.id)))
                self.tree.addTopLevelItem(group)
            self.tree.expandAll()
            self._choose(chosen)
            self.strip.know([i.name for i in found.instruments], [j.name for j in found.jobs])
            self.paper.know(found.jobs)
        self.tree.blockSignals(False)
        if found is None:
            text = self.tr(
                "Nothing is on file yet. Open or take a picture, say above where the part belongs, and press Enter: "
                "picture, sizes and identity are filed together, and the next part can come."
            )
            self.count.setText(text)
            self.count.setWordWrap(True)
            self.panel.show_part(None)
        else:
            self._search()

    def _choose(self, place: tuple[str, int]) -> None:
        for top in range(self.tree.topLevelItemCount()):
            group = self.tree.topLevelItem(top)
            assert group is not None
            for item in (group, *(group.child(i) for i in range(group.childCount()))):
                if item is not None and item.data(0, _ROLE) == place:
                    self.tree.setCurrentItem(item)
                    return

    def _place(self) -> tuple[str, int]:
        item = self.tree.currentItem()
        return ("", 0) if item is None else item.data(0, _ROLE)

    # --- searching

    def _search(self) -> None:
        conditions = self._conditions()
        if conditions is not None:
            self.model.search(conditions)

    def _conditions(self) -> Conditions | None:
        """What is asked for; None where a length or a year cannot be meant (which is said)."""
        kind, number = self._place()
        between, year = {}, None
        try:
            if self.least.text().strip() or self.most.text().strip():
                low, high = _length(self.least, 0.0), _length(self.most, 1e4)
                between = {"pitch_diameter": (low, high)}
            if self.before.text().strip():
                year = parse_years(self.before.text(), self.before.placeholderText())[0]
        except TypedError as error:
            self.desk.noticed.emit("refusal", said(str(error)))
            return None
        return Conditions(
            text=self.search.text().strip() or None,
            typing=True,
            between=between,
            made_before=year,
            instrument=number if kind == "instrument" else None,
            job=number if kind == "job" else None,
        )

    def _counted(self, total: int) -> None:
        self.count.setText(self.tr("{count} parts").format(count=total))
        if total and not self.parts.currentIndex().isValid() and self.panel.part is None:
            self.parts.setCurrentIndex(self.model.index(0))

    def _chosen(self, now: QModelIndex, _before: QModelIndex) -> None:
        number = now.data(_ROLE)
        if number is not None:
            self.panel.show_part(int(number))

    def _like(self) -> None:
        piece = self.desk.piece
        if piece is None or piece.measurement is None:
            self.desk.noticed.emit("refusal", self.tr("There is no measured part on the bench to compare with."))
            return
        words = self.tr("looking for parts like it")
        self.desk.work.run(
            words, deeds.like_these, self.desk.register_file, piece, done=self._show_like, failed=self.desk.refuse,
            key="like",
        )  # fmt: skip

    def _show_like(self, found: list[Likeness]) -> None:
        alike = [one for one in found if one.alike]
        if not found:
            self.desk.note(self.tr("No measured part is on file."))
            return
        self.panel.show_part(found[0].part)
        self.show_view("part")
        numbers = ", ".join(str(one.part) for one in alike)
        text = self.tr("As good as equal: part {numbers}.")
        if not alike:
            text = self.tr("None is equal; the nearest is shown.")
        self.desk.note(text.format(numbers=numbers))

    # --- filing

    def _to_file(self) -> None:
        self.strip.refresh()
        self.strip.position.setFocus()

    def _filed(self, filed: deeds.Filed) -> None:
        self.desk.undo.push(_Filing(self.desk, filed))
        self.panel.show_part(filed.part)
        self.desk.note(self.tr("On file as part {number}.").format(number=filed.part))


class _Filing(QUndoCommand):
    """A part was filed; undo withdraws it."""

    def __init__(self, desk: Desk, filed: deeds.Filed) -> None:
        super().__init__(filed.name)
        self._desk, self._filed, self._first = desk, filed, True

    def redo(self) -> None:
        if self._first:
            self._first = False
            return
        self._run(deeds.file_again)

    def undo(self) -> None:
        self._run(deeds.take_back_filing)

    def _run(self, what: Callable[[str | None, deeds.Filed], None]) -> None:
        desk = self._desk
        desk.work.run(
            self._filed.name, what, desk.register_file, self._filed, done=lambda _: desk.register_changed.emit(),
            failed=desk.refuse,
        )  # fmt: skip


def _length(field: QLineEdit, otherwise: float) -> float:
    """The length in ``field``, mm. Raises TypedError for what is none."""
    text = field.text().strip()
    return parse_length(text, field.placeholderText()) if text else otherwise


def _item(words: str, place: tuple[str, int]) -> QTreeWidgetItem:
    item = QTreeWidgetItem([words])
    item.setData(0, _ROLE, place)
    return item
