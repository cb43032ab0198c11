"""A printed page as a file: asked for, drawn in a worker, and said where it is."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

from PySide6.QtCore import QCoreApplication
from PySide6.QtWidgets import QFileDialog, QWidget

from gui.desk import Desk


def ask_for_figure(parent: QWidget, desk: Desk, name: str) -> Path | None:
    """Where the figure ``name`` is to go; None where the person thought better of it. PDF where nobody said else."""
    start = str(Path(desk.settings.text("figures")) / f"{name}.pdf")
    title = QCoreApplication.translate("figure", "Save a figure")
    path, _ = QFileDialog.getSaveFileName(parent, title, start, "PDF, SVG, PNG (*.pdf *.svg *.png)")
    if not path:
        return None
    desk.settings.set_text("figures", str(Path(path).parent))
    return Path(path) if Path(path).suffix else Path(f"{path}.pdf")


def save_figure(desk: Desk, path: Path, draw: Callable[[], Any]) -> None:
    """Write the page that ``draw`` makes (``records.figures.pages``) to ``path``, in a worker.

    An ending that no figure has is refused.
    """
    from records.figures.file import METADATA
    from records.figures.file import save_figure as write

    if path.suffix.lower() not in METADATA:
        text = QCoreApplication.translate("figure", "{name}: a figure is a pdf, an svg or a png.")
        desk.noticed.emit("refusal", text.format(name=path.name))
        return
    words = QCoreApplication.translate("figure", "drawing {name}").format(name=path.name)
    note = QCoreApplication.translate("figure", "The figure is in {path}.").format(path=path)
    desk.work.run(words, write, draw, path, done=lambda _: desk.saved(note, path), failed=desk.refuse)
