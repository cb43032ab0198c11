"""What all figures have in common: colours, hatches, type, and how lengths and units stand on an axis.

Colours are the eight of Okabe and Ito ("Color Universal Design", 2008), which colour-blind eyes tell apart. No colour
is the only sign: zones differ in hatching, edges in the shape of their marks, lines in their dashes, and their
brightness differs, so that a photocopy still reads.
"""

from __future__ import annotations

import logging
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, cast

from threads.shared.formatting import MM_PER_INCH

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

BLACK, ORANGE, SKY, GREEN = "#000000", "#E69F00", "#56B4E9", "#009E73"
BLUE, VERMILION, PURPLE = "#0072B2", "#D55E00", "#CC79A7"
GREY, PALE = "#666666", "#D9D9D9"

A4 = (8.27, 11.69)
"""Inches."""

SETTINGS: dict[str, Any] = {
    "font.family": "DejaVu Sans",  # comes with the library: figures look alike everywhere
    "font.size": 8.5,
    "axes.titlesize": 10.0,
    "axes.titleweight": "bold",
    "axes.titlelocation": "left",
    "axes.labelsize": 8.5,
    "axes.edgecolor": "#444444",
    "axes.linewidth": 0.7,
    "axes.grid": False,
    "axes.unicode_minus": True,
    "xtick.labelsize": 8.0,
    "ytick.labelsize": 8.0,
    "legend.fontsize": 8.0,
    "legend.frameon": False,
    "hatch.linewidth": 0.6,
    "lines.linewidth": 1.2,
    "figure.facecolor": "white",
    "savefig.facecolor": "white",
    "savefig.dpi": 200,
    "pdf.fonttype": 42,  # whole outlines, embedded: text stays text
    "svg.fonttype": "path",
    "svg.hashsalt": "flankwise",  # the same figure gives the same file
    "path.simplify": False,
    "mathtext.default": "regular",
}


@dataclass(frozen=True)
class Look:
    """How one zone or part is drawn."""

    colour: str
    hatch: str
    dashes: str | tuple[int, tuple[float, ...]]
    mark: str


LOOKS = (
    Look(SKY, "////", "-", "o"),
    Look(ORANGE, "\\\\\\\\", (0, (5, 2)), "s"),
    Look(GREEN, "....", (0, (1, 1.5)), "^"),
    Look(PURPLE, "xxxx", (0, (5, 1.5, 1, 1.5)), "D"),
    Look(VERMILION, "----", (0, (8, 2)), "v"),
)
"""For candidates side by side, in this order."""

_DRAWING = threading.RLock()

PLAIN = Look(PALE, "", "-", "o")
"""For what is listed and not drawn elsewhere."""


@contextmanager
def styled() -> Iterator[None]:
    """Inside it the library draws with ``SETTINGS``, and leaves them behind when it is done.

    The library has one set of settings for the whole process: one thread draws at a time, others wait.
    """
    logging.getLogger("matplotlib").setLevel(logging.ERROR)  # it tells of its font cache; nobody asked
    from matplotlib import rc_context

    with _DRAWING, rc_context(cast("Any", SETTINGS)):  # the library's own type lists every setting by name
        yield


def new_figure(size: tuple[float, float] = A4) -> Figure:
    """An empty figure of ``size`` inches; no window, no state kept by the library."""
    from matplotlib.figure import Figure

    return Figure(figsize=size)


@dataclass(frozen=True)
class Scale:
    """In which unit lengths stand on the axes.

    ``of`` is the factor from mm to ``name``, ``fine`` the one to ``fine_name`` for small differences.
    """

    name: str
    of: float
    fine_name: str
    fine: float


MILLIMETRES = Scale("mm", 1.0, "µm", 1000.0)
INCHES = Scale("in", 1 / MM_PER_INCH, "0.0001 in", 10000 / MM_PER_INCH)


def scale_of(*, inches: bool) -> Scale:
    """The unit of the axes."""
    return INCHES if inches else MILLIMETRES


def plain_axes(axes: Axes) -> None:
    """No frame above and on the right: what is not needed is not drawn."""
    for side in ("top", "right"):
        axes.spines[side].set_visible(False)


def times(magnification: float) -> str:
    """How many times larger than life, to two digits: no page is printed more exactly.

    >>> times(158.3), times(22269.0)
    ('160 times', '22000 times')
    """
    return f"{float(f'{magnification:.2g}'):.0f} times"


def size_on_page(axes: Axes) -> tuple[float, float]:
    """Width and height of the place of ``axes``, inches."""
    figure: Any = axes.figure
    box = axes.get_position()
    return float(box.width * figure.get_figwidth()), float(box.height * figure.get_figheight())
