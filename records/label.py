"""A small label for the bag or the drawer that a screw waits in: its number, where it belongs, what it is.

As text, or drawn on a slip (50 x 25 mm unless said otherwise) as PNG or PDF, to be printed at its true size.
"""

from __future__ import annotations

import io
from typing import TYPE_CHECKING

from flankwise.making import making_of_designation
from records.figures.style import new_figure, styled
from records.figures.type_files import families_for
from records.from_memory import FOOTNOTE, identified_from_memory, marked
from threads.shared.formatting import MM_PER_INCH, format_quantity

if TYPE_CHECKING:
    from matplotlib.figure import Figure
    from matplotlib.text import Text

    from records.entries import Part

SLIP_MM = (50.0, 25.0)
DPI = 300
_MARGIN_MM = 1.5
_POINT_MM = MM_PER_INCH / 72
_SIZES = (13.0, 8.0, 8.0, 9.0, 6.5, 5.5)
"""Of the type of the five lines and the footnote, points, where they fit."""
_LEAST = 0.5
"""Of its size, to which the type of a line that is too long is made smaller before its end is left out."""
_ROUNDING = 0.03


def label_lines(part: Part, *, inches: bool = False) -> list[str]:
    """What stands on the label: number and name; instrument; position; designation or dimensions; die, job and day.

    The footnote of the mark follows where the designation carries it.
    """
    measurement, from_memory = part.measurement, False
    identified = None if measurement is None else measurement.identification
    lines = [
        f"No. {part.id}" + (f"  {part.name}" if part.name else ""),
        "" if part.instrument is None else part.instrument.name,
        "" if part.position is None else part.position.name,
    ]
    if part.hole is not None:
        lines.append(f"hole {part.hole.thread}")
    elif measurement is None:
        lines.append("not measured")
    elif identified is not None and identified.status != "no_match":
        from_memory = identified_from_memory(identified.document)
        lines.append(marked(identified.says, from_memory=from_memory))
    else:
        thread = measurement.thread
        major, pitch = (format_quantity(q, inches=inches) for q in (thread.major_diameter, thread.pitch))
        lines.append(f"{major} x {pitch}")
    die = ""
    if identified is not None and identified.designation is not None and identified.status != "no_match":
        making = making_of_designation(identified.designation)
        die = "" if making is None else f"die {making.die}"
    last = (die, "" if part.job is None else part.job.name, part.added[:10])
    lines.append("  ".join(text for text in last if text))
    return [*lines, FOOTNOTE] if from_memory else lines


def label_text(part: Part, *, inches: bool = False) -> str:
    """The label as lines of text, empty ones left out."""
    return "\n".join(line for line in label_lines(part, inches=inches) if line)


def label_drawn(part: Part, kind: str, *, size_mm: tuple[float, float] = SLIP_MM, inches: bool = False) -> bytes:
    """The label as a ``png`` or ``pdf`` file of ``size_mm`` (width, height); what is too long gets smaller,
    then ends in an ellipsis.
    """
    return drawn_slip(label_lines(part, inches=inches), kind, size_mm)


def drawn_slip(
    lines: list[str],
    kind: str,
    size_mm: tuple[float, float],
    *,
    sizes: tuple[float, ...] = _SIZES,
    bold: tuple[int, ...] = (0, 3),
) -> bytes:
    """Any lines on a slip as ``label_drawn``; ``sizes`` of their type, points, and which are ``bold``."""
    written = io.BytesIO()
    with styled():
        _slip(lines, size_mm, sizes, bold).savefig(written, format=kind, dpi=DPI)
    return written.getvalue()


def _slip(lines: list[str], size_mm: tuple[float, float], sizes: tuple[float, ...], bold: tuple[int, ...]) -> Figure:
    width, height = size_mm
    figure = new_figure((width / MM_PER_INCH, height / MM_PER_INCH))
    figure.set_dpi(DPI)  # a letter is as wide as the dots that it is drawn with
    shrink = min(1.0, (height - 2 * _MARGIN_MM) / (sum(sizes[: len(lines)]) * 1.25 * _POINT_MM))
    y = height - _MARGIN_MM
    for number, (text, size) in enumerate(zip(lines, sizes, strict=False)):
        families, line = families_for(text)
        written = figure.text(
            _MARGIN_MM / width,
            y / height,
            line,
            fontfamily=families,
            fontsize=size * shrink,
            fontweight="bold" if number in bold else "normal",
            va="top",
            parse_math=False,
        )
        room = (width - 2 * _MARGIN_MM) / MM_PER_INCH * figure.dpi
        wide = written.get_window_extent().width
        if wide > room:
            written.set_fontsize(size * shrink * max(_LEAST, room / wide - _ROUNDING))
        _shorten(written, line, room)
        y -= size * shrink * 1.25 * _POINT_MM
    return figure


def _shorten(written: Text, line: str, room_px: float) -> None:
    """Leave out the end of a line that is wider than ``room_px``."""
    while line and written.get_window_extent().width > room_px:
        line = line[:-1]
        written.set_text(f"{line}…")
