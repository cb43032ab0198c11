"""Figures as files: PNG, SVG or PDF, written whole or not at all, the same bytes for the same figure."""

from __future__ import annotations

import io
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np

from records.figures.style import styled
from threads.shared.whole_file import write_whole

if TYPE_CHECKING:
    from matplotlib.figure import Figure

MAKER = "Flankwise figure"
"""Stands in every file, so that a figure is known from a photograph."""

METADATA: dict[str, dict[str, Any]] = {
    ".png": {"Software": MAKER},
    ".svg": {"Date": None, "Creator": MAKER},
    ".pdf": {"CreationDate": None, "Creator": MAKER, "Producer": MAKER},
}
_MOST_BYTES = 200_000_000
PRINTED_DPI = 180
_PRINTED_QUALITY = 93


def figure_bytes(draw: Callable[[], Figure], suffix: str) -> bytes:
    """What ``draw`` draws, as a file that ends in ``suffix``. Raises KeyError for another one than png, svg, pdf."""
    metadata = METADATA[suffix.lower()]
    content = io.BytesIO()
    with styled():
        draw().savefig(content, format=suffix.lower().removeprefix("."), metadata=metadata)
    return content.getvalue()


def printed_jpeg(draw: Callable[[], Figure]) -> bytes:
    """What ``draw`` draws, as JPEG of ``PRINTED_DPI``: PDF takes that as it is, without packing it anew."""
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from PIL import Image

    content = io.BytesIO()
    with styled():
        figure = draw()
        figure.set_dpi(PRINTED_DPI)
        canvas = FigureCanvasAgg(figure)
        canvas.draw()
        image = Image.fromarray(np.asarray(canvas.buffer_rgba())[:, :, :3])
        image.save(content, "JPEG", quality=_PRINTED_QUALITY, subsampling=0)
    return content.getvalue()


def save_figure(draw: Callable[[], Figure], path: Path) -> None:
    """Draw and write. Raises OSError where the place cannot be written, KeyError for an unknown suffix."""
    write_whole(path, figure_bytes(draw, path.suffix))


def is_figure(path: Path) -> bool:
    """Whether the file at ``path`` was written by ``save_figure``."""
    try:
        if not path.is_file() or path.stat().st_size > _MOST_BYTES:
            return False
        return MAKER.encode() in path.read_bytes()
    except OSError:
        return False
