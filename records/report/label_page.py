"""Labels drawn at true size: one a page, as a label roll takes them, or in rows and columns on a sheet.

On a label: its lines, a square code with the number of the part (``records.label_code``), and a small picture.
"""

from __future__ import annotations

import io
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from reportlab.graphics import renderPDF
from reportlab.graphics.barcode.qr import QrCodeWidget
from reportlab.graphics.shapes import Drawing
from reportlab.lib.pagesizes import A4, LETTER
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import inch, mm
from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Paragraph

from records.filing import program_version
from records.from_memory import MARK
from records.report.flowables import PALE
from records.report.gather import MAKER
from records.report.typefaces import BOLD, REGULAR, Types, load_types

SLIP_MM = (50.0, 25.0)
DPI = 300
PAPERS_MM = {"a4": tuple(side / mm for side in A4), "letter": tuple(side / mm for side in LETTER)}

_MARGIN_MM = 1.5
_GAP_MM = 1.2
_SIZES = (12.0, 7.5, 8.5, 9.5, 6.5, 5.0)
"""Of the type of the five lines of a part and the footnote, points, where they fit."""
_BOLD = (0, 3)
_ROOMY, _GREATEST = (45 * mm, 24 * mm), 2.0
"""Width and height of the text of a label for which the sizes above are meant; on a larger one they grow with it."""
_LEAST, _STEP = 0.5, 0.94
"""To which share of its size the type is made smaller, and in which steps, before the ends of lines are left out."""
_CODE_MM = (9.0, 24.0)
"""Least and greatest side of the code: its 21 modules are then 0.4 mm and more, which scanners by hand read
(common practice, no source)."""
_CODE_SHARE = 0.3  # of the width
_PICTURE_MM = 8.0  # least height of a picture under the code


@dataclass(frozen=True)
class LabelSheet:
    """A sheet of labels in ``columns`` and ``rows``, in the middle of its paper; lengths in mm.

    ``size``: width and height of a label; ``gap``: between two of them, across and down.
    """

    columns: int
    rows: int
    size: tuple[float, float]
    gap: tuple[float, float] = (0.0, 0.0)

    def corner(self, place: int, paper: str) -> tuple[float, float]:
        """Left and upper edge of the label number ``place`` (from 0, row by row), from the paper's upper left."""
        across, down = place % self.columns, place // self.columns
        first = [
            (PAPERS_MM[paper][i] - count * self.size[i] - (count - 1) * self.gap[i]) / 2
            for i, count in enumerate((self.columns, self.rows))
        ]
        return first[0] + across * (self.size[0] + self.gap[0]), first[1] + down * (self.size[1] + self.gap[1])

    def fits(self, paper: str) -> bool:
        return min(self.corner(0, paper)) >= -0.5


SHEETS = {
    "a4": (
        LabelSheet(2, 4, (99.1, 67.7), (2.5, 0.0)),
        LabelSheet(2, 7, (99.1, 38.1), (2.5, 0.0)),
        LabelSheet(3, 7, (63.5, 38.1), (2.5, 0.0)),
        LabelSheet(3, 8, (70.0, 36.0)),
        LabelSheet(4, 10, (48.5, 25.4)),
        LabelSheet(5, 13, (38.1, 21.2), (2.5, 0.0)),
    ),
    "letter": (
        LabelSheet(2, 5, (101.6, 50.8), (4.8, 0.0)),
        LabelSheet(3, 10, (66.7, 25.4), (3.2, 0.0)),
        LabelSheet(4, 20, (44.5, 12.7), (7.6, 0.0)),
    ),
}
"""Sheets that are common (common practice, no source): print one on plain paper first and hold it against the sheet."""


@dataclass(frozen=True)
class Label:
    """What one label shows: lines, the largest first; ``code``: of the square; ``picture``: JPEG or PNG.

    ``sizes``: of the type of the lines, points; which of them are ``bold``.
    """

    lines: tuple[str, ...]
    code: str = ""
    picture: bytes | None = field(default=None, repr=False)
    sizes: tuple[float, ...] = _SIZES
    bold: tuple[int, ...] = _BOLD


def labels_pdf(labels: Sequence[Label], *, size_mm: tuple[float, float] = SLIP_MM) -> bytes:
    """A page of ``size_mm`` a label."""
    return _written(labels, (size_mm[0], size_mm[1]), LabelSheet(1, 1, size_mm), lambda _: (0.0, 0.0), cut_lines=False)


def label_sheets_pdf(
    labels: Sequence[Label], sheet: LabelSheet, paper: str, *, first: int = 1, cut_lines: bool = False
) -> bytes:
    """The labels on as many sheets as it takes. ``first``: the place, from 1, of the first one on the first sheet,
    of which some may be used up; ``cut_lines``: the edges of the labels, for plain paper.
    """
    blank = [Label(())] * (first - 1)
    return _written(
        [*blank, *labels], PAPERS_MM[paper], sheet, lambda place: sheet.corner(place, paper), cut_lines=cut_lines
    )


def label_png(label: Label, *, size_mm: tuple[float, float] = SLIP_MM) -> bytes:
    """One label as a picture of ``DPI``."""
    import pypdfium2

    document = pypdfium2.PdfDocument(labels_pdf([label], size_mm=size_mm))
    try:
        image = document[0].render(scale=DPI / 72).to_pil().convert("RGB")
    finally:
        document.close()
    # the library rounds the size of a page up
    image = image.crop((0, 0, round(size_mm[0] * mm / inch * DPI), round(size_mm[1] * mm / inch * DPI)))
    content = io.BytesIO()
    image.save(content, "PNG", dpi=(DPI, DPI))
    return content.getvalue()


def _written(
    labels: Sequence[Label],
    page_mm: tuple[float, ...],
    sheet: LabelSheet,
    corner: Callable[[int], tuple[float, float]],
    *,
    cut_lines: bool,
) -> bytes:
    types = load_types("".join(line for label in labels for line in label.lines))
    content = io.BytesIO()
    wide, high = (side * mm for side in page_mm)
    canvas = Canvas(content, pagesize=(wide, high), invariant=1, initialFontName=REGULAR)
    canvas.setTitle("Labels")
    canvas.setCreator(f"{MAKER}, version {program_version()}")
    on_page = sheet.columns * sheet.rows
    for number, label in enumerate(labels):
        if number and number % on_page == 0:
            canvas.showPage()
        left, top = corner(number % on_page)
        canvas.saveState()
        canvas.translate(left * mm, high - (top + sheet.size[1]) * mm)
        if cut_lines and label.lines:
            canvas.setStrokeColor(PALE)
            canvas.setLineWidth(0.3)
            canvas.rect(0, 0, sheet.size[0] * mm, sheet.size[1] * mm)
        _draw(canvas, label, sheet.size, types)
        canvas.restoreState()
    canvas.save()
    return content.getvalue()


def _draw(canvas: Canvas, label: Label, size_mm: tuple[float, float], types: Types) -> None:
    """One label, its lower left corner at the origin."""
    width, height = (side - 2 * _MARGIN_MM for side in size_mm)
    side = _code_side(width, height, picture=label.picture is not None) if label.code else 0.0
    text_wide = width
    if side:
        text_wide = width - side - _GAP_MM
        left = _MARGIN_MM + width - side
        _draw_code(canvas, label.code, left * mm, (_MARGIN_MM + height - side) * mm, side * mm)
        rest = height - side - _GAP_MM
        if label.picture is not None and rest >= _PICTURE_MM - 0.5:
            _draw_picture(canvas, label.picture, left * mm, _MARGIN_MM * mm, side * mm, rest * mm)
    y = (_MARGIN_MM + height) * mm
    for paragraph, high in _fitted(label, types, text_wide * mm, height * mm):
        y -= high
        paragraph.drawOn(canvas, _MARGIN_MM * mm, y)


def _code_side(width: float, height: float, *, picture: bool) -> float:
    """The side of the code, mm: smaller where that leaves room for the picture below it; 0 where there is no room."""
    least, most = _CODE_MM
    side = min(_CODE_SHARE * width, height, most)
    beside = height - _GAP_MM - _PICTURE_MM
    if picture and side > beside >= least + 1:
        side = beside
    return side if side >= least else 0.0


def _draw_code(canvas: Canvas, code: str, x: float, y: float, side: float) -> None:
    widget = QrCodeWidget(code, barLevel="M", barBorder=0, barWidth=side, barHeight=side)
    drawing = Drawing(side, side)
    drawing.add(widget)
    renderPDF.draw(drawing, canvas, x, y)


def _draw_picture(canvas: Canvas, content: bytes, x: float, y: float, width: float, height: float) -> None:
    try:
        image = ImageReader(io.BytesIO(content))
    except OSError:  # a thumbnail that is damaged: the label goes without
        return
    canvas.drawImage(image, x, y, width, height, preserveAspectRatio=True, anchor="n")


def _fitted(label: Label, types: Types, width: float, height: float) -> list[tuple[Paragraph, float]]:
    """The lines with their heights, in type as large as has room; where even the least has none, without their ends."""
    factor = max(min(height / _ROOMY[1], width / _ROOMY[0], _GREATEST), 1.0)
    while True:
        found = [_wrapped(line, number, label, types, factor, width) for number, line in _shown(label)]
        if sum(high for _, high in found) <= height:
            return found
        if factor <= _LEAST:
            break
        factor = max(factor * _STEP, _LEAST)
    found = [_one_line(line, number, label, types, factor, width) for number, line in _shown(label)]
    while found and sum(high for _, high in found) > height:
        found.pop()
    return found


def _shown(label: Label) -> list[tuple[int, str]]:
    return [(number, line) for number, line in enumerate(label.lines) if line]


def _wrapped(
    line: str, number: int, label: Label, types: Types, factor: float, width: float
) -> tuple[Paragraph, float]:
    size = label.sizes[min(number, len(label.sizes) - 1)] * factor
    style = ParagraphStyle(
        "label", fontName=BOLD if number in label.bold else REGULAR, fontSize=size, leading=1.17 * size
    )
    paragraph = Paragraph(types.markup(line).replace(f" {MARK}", f"\u00a0{MARK}"), style)
    return paragraph, paragraph.wrap(width, 1e6)[1]


def _one_line(
    line: str, number: int, label: Label, types: Types, factor: float, width: float
) -> tuple[Paragraph, float]:
    """As much of the line as goes on one, found by halving."""
    whole = _wrapped(line, number, label, types, factor, width)
    single = _wrapped("x", number, label, types, factor, width)[1]
    if whole[1] <= single:
        return whole
    low, high = 0, len(line)
    while high - low > 1:
        middle = (low + high) // 2
        fits = _wrapped(f"{line[:middle]}…", number, label, types, factor, width)[1] <= single
        low, high = (middle, high) if fits else (low, middle)
    return _wrapped(f"{line[:low]}…", number, label, types, factor, width)
