"""The style sheet: what the palette cannot say; and how both are given to the application."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from gui.theme import Theme, palette_of, theme

_STYLE = "fusion"
_SHEET = """
QToolTip {{ background: {raised}; color: {ink}; border: 1px solid {line}; padding: 4px; }}
QPushButton {{ background: {raised}; color: {ink}; border: 1px solid {line}; border-radius: 3px; padding: 6px 14px; }}
QPushButton:hover {{ border-color: {accent}; }}
QPushButton:focus {{ border: 2px solid {accent}; padding: 5px 13px; }}
QPushButton:disabled {{ color: {faint}; border-style: dashed; }}
QPushButton[main="true"] {{ background: {accent}; color: {on_accent}; border-color: {accent}; font-weight: 600; }}
QPushButton[main="true"]:disabled {{ background: {raised}; color: {faint}; }}
QPushButton[flat="true"] {{ background: transparent; border: none; padding: 4px 6px; color: {accent}; }}
QPushButton[flat="true"]:checked {{ color: {ink}; border-bottom: 2px solid {accent};
    border-radius: 0; }}
QPushButton[flat="true"]:focus {{ border: 2px solid {accent}; padding: 2px 4px; }}
QPushButton[listed="true"] {{ text-align: left; }}
QPushButton[place="true"] {{ background: transparent; border: none; border-bottom: 3px solid transparent;
    border-radius: 0; padding: 10px 22px 8px 22px; font-size: {place}pt; color: {faint}; }}
QPushButton[place="true"]:checked {{ color: {ink}; border-bottom-color: {accent}; }}
QPushButton[place="true"]:focus {{ background: {sunk}; }}
QLineEdit, QPlainTextEdit, QTextEdit {{ background: {sunk}; color: {ink};
    border: 1px solid {line}; border-radius: 3px; padding: 5px 7px; selection-background-color: {accent};
    selection-color: {on_accent}; }}
QLineEdit:focus, QPlainTextEdit:focus, QTextEdit:focus {{ border: 2px solid {accent};
    padding: 4px 6px; }}
QLineEdit[wrong="true"] {{ border: 2px solid {bad}; padding: 4px 6px; }}
QTreeView, QListView, QTableView {{ background: {sunk}; alternate-background-color: {raised}; color: {ink};
    border: 1px solid {line}; }}
QListView[tray="true"] {{ background: {raised}; border: none; }}
QHeaderView::section {{ background: {paper}; color: {faint}; border: none; border-bottom: 1px solid {line};
    padding: 4px 6px; }}
QLabel[faint="true"] {{ color: {faint}; }}
QLabel[heading="true"] {{ font-size: {heading}pt; font-weight: 600; }}
QLabel[large="true"] {{ font-size: {large}pt; font-weight: 600; }}
QLabel[small="true"] {{ font-size: {small}pt; color: {faint}; }}
{enlarged}QLabel[verdict="good"] {{ color: {good}; font-weight: 600; }}
QLabel[verdict="bad"] {{ color: {bad}; font-weight: 600; }}
QLabel[verdict="open"] {{ color: {open}; font-weight: 600; }}
QFrame[card="true"] {{ background: {raised}; border: 1px solid {line}; border-radius: 4px; }}
QFrame[foot="true"] {{ background: {raised}; border-top: 1px solid {line}; }}
QFrame[notice="true"] {{ background: {raised}; border: 1px solid {line}; border-left: 5px solid {accent}; }}
QFrame[notice="true"][weight="warning"] {{ border-left-color: {open}; }}
QFrame[notice="true"][weight="refusal"] {{ border-left-color: {bad}; }}
QProgressBar {{ background: {sunk}; border: 1px solid {line}; border-radius: 3px; text-align: center; color: {ink}; }}
QProgressBar::chunk {{ background: {accent}; }}
QMenuBar {{ background: {paper}; color: {ink}; }}
QMenuBar::item:selected, QMenu::item:selected {{ background: {accent}; color: {on_accent}; }}
QMenu {{ background: {raised}; color: {ink}; border: 1px solid {line}; }}
QMenu::item:disabled {{ color: {faint}; }}
"""


ENLARGED = (1.12, 1.25, 1.5, 1.6)
"""Sizes of labels for what is read from afar, times that of plain text: their property "times"."""
MOST_POINTS = 20.0
"""Where all text is large already, what was larger needs its room for words."""


def enlarged_points(times: float, points: float) -> float:
    """The size of what is ``times`` as large as plain text of so many points."""
    return max(points, min(times * points, MOST_POINTS))


def style_sheet(now: Theme, points: float) -> str:
    """The sheet of ``now``; ``points`` is the size of plain text."""
    colours = {name: getattr(now, name) for name in now.__dataclass_fields__ if name not in {"name", "zones"}}
    return _SHEET.format(
        **colours, place=round(1.15 * points, 1), heading=round(1.25 * points, 1),
        large=round(1.6 * points, 1), small=round(0.8 * points, 1), enlarged=_enlarged(points),
    )  # fmt: skip


def begin_theme(application: QApplication) -> None:
    """Give ``application`` the style and the palette before the first widget is made: later each is told of both."""
    if not application.styleSheet():
        application.setStyle(_STYLE)
        application.setPalette(palette_of(theme()))


def apply_theme(application: QApplication) -> None:
    """Give ``application`` the palette and the style sheet of the theme and the size of text in use.

    All widgets are styled anew, which takes some 0.2 s with a full window: the pointer says so meanwhile.
    """
    sheet = style_sheet(theme(), application.font().pointSizeF())
    if application.styleSheet() == sheet:
        return
    application.setOverrideCursor(Qt.CursorShape.WaitCursor)
    try:
        if application.styleSheet():
            application.setStyleSheet("")  # from one sheet straight to another takes three times as long
            application.setPalette(palette_of(theme()))
        application.setStyleSheet(sheet)
    finally:
        application.restoreOverrideCursor()


def _enlarged(points: float) -> str:
    rule = 'QLabel[times="{times:g}"] {{ font-size: {size:.1f}pt; }}\n'
    return "".join(rule.format(times=times, size=enlarged_points(times, points)) for times in ENLARGED)
