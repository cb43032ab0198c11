"""Colours and type of the window, by day and by night.

The signs' colours are those of Okabe and Ito ("Color Universal Design", 2008), which colour-blind eyes tell apart; for
text they are darkened or lightened until they stand out at 4.5 : 1 (WCAG 2.1, 1.4.3). No colour is ever the only sign.
"""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QFont, QGuiApplication, QPalette
from PySide6.QtWidgets import QApplication


@dataclass(frozen=True)
class Theme:
    """One set of colours.

    Attributes:
        name: "light" or "dark".
        paper, raised, sunk: grounds: of the window, of what lies on it, of what can be typed into.
        ink, faint: text, and text of less weight.
        line: thin separations.
        accent, on_accent: what is chosen or to be pressed, and text upon it.
        good, bad, open: text of the three verdicts.
        zones: fills of zones and pieces side by side, in the order of ``records.figures.style.LOOKS``.
        picture: ground around a picture.
        outline, rejected: lines over a picture.
    """

    name: str
    paper: str
    raised: str
    sunk: str
    ink: str
    faint: str
    line: str
    accent: str
    on_accent: str
    good: str
    bad: str
    open: str
    zones: tuple[str, ...]
    picture: str
    outline: str
    rejected: str


LIGHT = Theme(
    name="light", paper="#F3F0E8", raised="#FBF9F4", sunk="#FFFFFF", ink="#1F1D1A", faint="#5F5A51", line="#CFC8B8",
    accent="#00598F", on_accent="#FFFFFF", good="#00694D", bad="#A84300", open="#6B5500",
    zones=("#56B4E9", "#E69F00", "#009E73", "#CC79A7", "#D55E00"),
    picture="#E4DFD2", outline="#0072B2", rejected="#D55E00",
)  # fmt: skip
DARK = Theme(
    name="dark", paper="#22211E", raised="#2B2A26", sunk="#191816", ink="#EFEAE0", faint="#B3AC9D", line="#4A473F",
    accent="#6FBFEF", on_accent="#10202B", good="#4FD0A5", bad="#FF9A57", open="#E8C452",
    zones=("#56B4E9", "#E69F00", "#009E73", "#CC79A7", "#D55E00"),
    picture="#181714", outline="#56B4E9", rejected="#E69F00",
)  # fmt: skip

BASE_POINTS = 11.0
_CHOSEN = "chosen theme"


def theme() -> Theme:
    """The current theme: that of the system unless a person has chosen."""
    application = QApplication.instance()
    chosen = None if application is None else application.property(_CHOSEN)
    if chosen in {"light", "dark"}:
        return DARK if chosen == "dark" else LIGHT
    return DARK if QGuiApplication.styleHints().colorScheme() == Qt.ColorScheme.Dark else LIGHT


def choose_theme(name: str) -> None:
    """Follow "system", or keep to "light" or "dark", from the next ``gui.sheet.apply_theme`` on."""
    application = QApplication.instance()
    if isinstance(application, QApplication):
        application.setProperty(_CHOSEN, name)
        schemes = {"light": Qt.ColorScheme.Light, "dark": Qt.ColorScheme.Dark}
        QGuiApplication.styleHints().setColorScheme(schemes.get(name, Qt.ColorScheme.Unknown))  # frames of the system


def choose_size(percent: int) -> None:
    """Write everything ``percent`` of its usual size, from the next ``gui.sheet.apply_theme`` on."""
    font = QFont(QApplication.font())
    font.setPointSizeF(BASE_POINTS * percent / 100)
    QApplication.setFont(font)


def figures_font(font: QFont, *, scale: float = 1.0, bold: bool = False) -> QFont:
    """``font`` with figures of one width, for numbers that stand under each other."""
    own = QFont(font)
    own.setPointSizeF(own.pointSizeF() * scale)
    own.setFeature(QFont.Tag("tnum"), 1)
    own.setBold(bold)
    return own


def palette_of(now: Theme) -> QPalette:
    """The colours of ``now`` as Qt hands them to widgets."""
    role = QPalette.ColorRole
    palette = QPalette()
    for which, colour in (
        (role.Window, now.paper), (role.WindowText, now.ink), (role.Base, now.sunk), (role.AlternateBase, now.raised),
        (role.Text, now.ink), (role.Button, now.raised), (role.ButtonText, now.ink), (role.BrightText, now.bad),
        (role.Highlight, now.accent), (role.HighlightedText, now.on_accent), (role.ToolTipBase, now.raised),
        (role.ToolTipText, now.ink), (role.PlaceholderText, now.faint), (role.Link, now.accent),
        (role.Mid, now.line), (role.Light, now.raised), (role.Dark, now.line),
    ):  # fmt: skip
        palette.setColor(which, QColor(colour))
    for which in (role.Text, role.WindowText, role.ButtonText):
        palette.setColor(QPalette.ColorGroup.Disabled, which, QColor(now.faint))
    return palette
