"""The printed page of one part as a file."""

from __future__ import annotations

from pathlib import Path

from gui.piece import Piece

SUFFIXES = (".pdf", ".svg", ".png")


def draw_figure(piece: Piece, path: Path, *, inches: bool) -> None:
    """Draw the page of ``piece``, its identification with it, into ``path``. Raises OSError."""
    from records.figures import pages
    from records.figures.file import save_figure

    if path.suffix.lower() not in SUFFIXES:
        path = path.with_name(f"{path.name}.pdf")
    measurement, found = piece.measurement, piece.identification
    assert measurement is not None
    if found is None:
        save_figure(lambda: pages.measurement_page(measurement, inches=inches), path)
    else:
        save_figure(lambda: pages.identification_page(measurement, found, inches=inches), path)
