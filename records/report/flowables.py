"""What is drawn between the words of a report: a photograph with its outline, a probability as a length."""

from __future__ import annotations

import io
from collections.abc import Callable, Sequence
from typing import Any

import numpy as np
from reportlab.lib.colors import HexColor, black, white
from reportlab.lib.units import mm
from reportlab.lib.utils import ImageReader
from reportlab.platypus import Paragraph
from reportlab.platypus.flowables import Flowable

from records.report import vector
from records.report.dimensioned import PlacedDimension, placed
from records.report.illustrate import Photograph
from records.report.typefaces import BOLD, REGULAR, Types
from records.report.vector import HATCH_DOTS, HATCH_WIDE, HATCHES, Array, Dots, Line, Shape, apart, hatch_lines

BLUE, VERMILION, GREY, PALE = (HexColor(code) for code in ("#0072B2", "#D55E00", "#666666", "#D9D9D9"))
"""Two colours of Okabe and Ito, which differ in brightness too, and greys."""


class _Jpeg(ImageReader):  # type: ignore[misc]
    """A JPEG that is told from another by its bytes: the library would unpack each, and keep it so."""

    def __init__(self, content: bytes) -> None:
        super().__init__(io.BytesIO(content))
        self._content, self._dataA = content, None

    def getRGBData(self) -> bytes:  # noqa: N802 - the library's name
        return self._content


class PhotographFlowable(Flowable):  # type: ignore[misc]  # reportlab has no types
    """A photograph in a place of given size, dimensioned; the outline white under blue: seen on metal and in grey."""

    def __init__(self, photograph: Photograph, width: float, height: float, *, detailed: bool) -> None:
        super().__init__()
        self.photograph = photograph
        factor = min(width / photograph.width, height / photograph.height)
        self.width, self.height = photograph.width * factor, photograph.height * factor
        self.factor = factor
        self.detailed = detailed
        self.image = _Jpeg(photograph.content)

    def wrap(self, *_: Any) -> tuple[float, float]:
        return self.width, self.height

    def draw(self) -> None:
        canvas, photograph = self.canv, self.photograph
        canvas.saveState()
        frame = canvas.beginPath()
        frame.rect(0, 0, self.width, self.height)
        canvas.clipPath(frame, stroke=0)
        canvas.drawImage(self.image, 0, 0, self.width, self.height)
        outline = " ".join(map(self._path, photograph.edges))
        for colour, wide in ((white, 1.6), (BLUE, 0.8)) if self.detailed else ((white, 1.0), (BLUE, 0.5)):
            canvas.setStrokeColor(colour)
            canvas.setLineWidth(wide)
            draw_now(canvas, f"{outline} S")
        if self.detailed:
            self._dirt()
        for one in placed(photograph.dimensions, photograph.width, detailed=self.detailed, inches=photograph.inches):
            self._dimension(one)
        self._rule(7 if self.detailed else 5)
        canvas.restoreState()

    def _at(self, point: Any) -> tuple[float, float]:
        return float(point[0]) * self.factor, self.height - float(point[1]) * self.factor

    def _path(self, points: Array) -> str:
        return path_of(points * [self.factor, -self.factor] + [0.0, self.height])

    def _dirt(self) -> None:
        canvas = self.canv
        canvas.setLineWidth(0.7)
        canvas.setStrokeColor(VERMILION)
        for point in self.photograph.dirt[:200]:
            px, py = self._at(point)
            canvas.line(px - 1.5, py - 1.5, px + 1.5, py + 1.5)
            canvas.line(px - 1.5, py + 1.5, px + 1.5, py - 1.5)

    def _dimension(self, one: PlacedDimension) -> None:
        """Lines and arrows black on white, the value on white paper over its line."""
        canvas = self.canv
        for colour, wide in ((white, 1.3), (black, 0.4)):
            canvas.setStrokeColor(colour)
            canvas.setLineWidth(wide)
            draw_now(canvas, " ".join(map(self._path, one.lines)) + " S")
        canvas.setFillColor(black)
        draw_now(canvas, " ".join(map(self._path, one.heads)) + " f")
        size = one.size * self.factor
        wide = canvas.stringWidth(one.text, REGULAR, size) / 2
        canvas.saveState()
        canvas.translate(*self._at(one.text_at))
        canvas.rotate(one.angle)
        canvas.setFillColor(white, alpha=0.8)
        canvas.rect(-wide - 1, -0.5 * size, 2 * wide + 2, size, stroke=0, fill=1)
        canvas.setFillColor(black, alpha=1)
        canvas.setFont(REGULAR, size)
        canvas.drawCentredString(0, -0.36 * size, one.text)
        canvas.restoreState()

    def _rule(self, size: float) -> None:
        if self.photograph.rule is None:
            return
        canvas = self.canv
        length, words = self.photograph.rule[0] * self.factor, self.photograph.rule[1]
        wide, off = max(length, canvas.stringWidth(words, REGULAR, size)) + size, 0.5 * size
        canvas.setFillColor(white)
        canvas.rect(off, off, wide, 2.3 * size, stroke=0, fill=1)
        canvas.setStrokeColor(black)
        canvas.setLineWidth(0.28 * size)
        canvas.line(2 * off, 2.2 * off, 2 * off + length, 2.2 * off)
        canvas.setFillColor(black)
        canvas.setFont(REGULAR, size)
        canvas.drawString(2 * off, 3.5 * off, words)


class Drawn(Flowable):  # type: ignore[misc]
    """A figure of plain shapes, made when its page is, by the operators of PDF (ISO 32000-1:2008, 8.4 and 8.5)."""

    def __init__(self, figure: Callable[[], vector.VectorFigure], size: tuple[float, float], types: Types) -> None:
        super().__init__()
        self.figure, self.types = figure, types
        self.width, self.height = size

    def wrap(self, *_: Any) -> tuple[float, float]:
        return self.width, self.height

    def draw(self) -> None:
        self._all(self.figure().shapes)

    def _all(self, shapes: Sequence[Shape]) -> None:
        canvas = self.canv
        for one in shapes:
            canvas.saveState()
            if isinstance(one, vector.Clipped):
                draw_now(self.canv, "{:.2f} {:.2f} {:.2f} {:.2f} re W n".format(*one.box))
                self._all(one.shapes)
            elif isinstance(one, vector.Words):
                self._write(one)
            elif isinstance(one, vector.Area):
                self._fill(one)
            elif isinstance(one, Dots):
                self._dots(one)
            else:
                self._line(one)
            canvas.restoreState()

    def _line(self, one: Line) -> None:
        self.canv.setStrokeColor(HexColor(one.colour))
        self.canv.setLineWidth(one.wide)
        self.canv.setLineJoin(1)
        if one.dashes:
            self.canv.setDash(list(one.dashes))
        draw_now(self.canv, f"{path_of(one.points)} S")

    def _fill(self, one: vector.Area) -> None:
        canvas, around = self.canv, path_of(one.points)
        canvas.setFillColor(HexColor(one.colour))
        canvas.setFillAlpha(one.opacity)
        draw_now(self.canv, f"{around} f")
        if not one.hatch:
            return
        draw_now(self.canv, f"{around} W n")
        canvas.setStrokeAlpha(one.opacity)
        canvas.setStrokeColor(HexColor(one.colour))
        canvas.setLineWidth(HATCH_WIDE)
        if one.hatch not in HATCHES:
            canvas.setLineCap(1)
            canvas.setDash(list(HATCH_DOTS))
        draw_now(self.canv, _lines(hatch_lines(one.points, one.hatch)))

    def _dots(self, one: Dots) -> None:
        """Lines of no length with round ends are the shortest way to say a dot."""
        canvas, half = self.canv, one.wide / 2 if one.square else 0.0
        canvas.setStrokeColor(HexColor(one.colour))
        canvas.setStrokeAlpha(one.opacity)
        canvas.setLineWidth(one.wide)
        canvas.setLineCap(0 if one.square else 1)
        points = apart(one.points)
        ends = np.column_stack([points[:, 0] - half, points[:, 1], points[:, 0] + half, points[:, 1]])
        draw_now(canvas, _lines(ends))

    def _write(self, one: vector.Words) -> None:
        canvas = self.canv
        canvas.setFillColor(HexColor(one.colour))
        canvas.setFont(BOLD if one.bold else REGULAR, one.size)
        canvas.translate(one.x, one.y)
        canvas.rotate(90 if one.turned else 0)
        write = {"start": canvas.drawString, "middle": canvas.drawCentredString, "end": canvas.drawRightString}
        write[one.place](0, 0, self.types.plain(one.text))


def draw_now(canvas: Any, operators: str) -> None:
    """Hand operators of PDF to the page: paths by the library's own objects cost ten times as long."""
    canvas._code.append(operators)  # noqa: SLF001


def _lines(ends: Array) -> str:
    """The operators of straight lines (n, 4), x, y to x, y, to a tenth of a point."""
    return "%.1f %.1f m %.1f %.1f l " * len(ends) % tuple(ends.ravel().tolist()) + "S"


def path_of(points: Array) -> str:
    """The operators of a line through ``points`` (n, 2), n > 0, that is then stroked or filled."""
    return ("%.2f %.2f m " + "%.2f %.2f l " * (len(points) - 1)) % tuple(points.ravel().tolist())


class Later(Flowable):  # type: ignore[misc]
    """What stands for flowables that are made when their turn comes: those of hundreds of pages take much memory."""

    def __init__(self, make: Callable[[], list[Flowable]]) -> None:
        super().__init__()
        self.make = make

    def wrap(self, width: float, _: float) -> tuple[float, float]:
        return width, 1e6  # higher than any page: it has to be split

    def split(self, *_: float) -> list[Flowable]:
        return self.make()


class Text(Paragraph):  # type: ignore[misc]
    """A paragraph that is broken into lines once for each width: a page is measured before it is set."""

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        if getattr(self, "_width", None) != width:
            self._width, self._size = width, super().wrap(width, height)
        return self._size


class Length(Flowable):  # type: ignore[misc]
    """A probability as the filled part of a bar."""

    def __init__(self, probability: float, width: float, height: float = 6.0) -> None:
        super().__init__()
        self.probability, self.width, self.height = min(max(probability, 0.0), 1.0), width, height

    def wrap(self, *_: Any) -> tuple[float, float]:
        return self.width, self.height

    def draw(self) -> None:
        self.canv.setLineWidth(0.5)
        self.canv.setStrokeColor(GREY)
        self.canv.setFillColor(BLUE)
        self.canv.rect(0, 0, self.width * self.probability, self.height, stroke=0, fill=1)
        self.canv.rect(0, 0, self.width, self.height, stroke=1, fill=0)


class Ruled(Flowable):  # type: ignore[misc]
    """Lines to write on by hand under a heading: as many as the rest of the page has room for, if any.

    With ``lines`` not more than these, and where there is no room for some, they go to the next page.
    """

    LINE, LEAST, MOST = 8 * mm, 3, 9

    def __init__(self, heading: str, lines: int | None = None) -> None:
        super().__init__()
        self.heading, self.lines = heading, lines
        self.width = self.height = 0.0

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        count = min(int((height - 4) / self.LINE) - 1, self.lines or self.MOST)
        count = count if count >= self.LEAST else self.lines or 0
        self.width, self.height = width, (count + 0.7) * self.LINE if count else 0.0
        return width, self.height

    def draw(self) -> None:
        if not self.height:
            return
        canvas = self.canv
        canvas.setFillColor(GREY)
        canvas.setFont(REGULAR, 6.8)
        canvas.drawString(0, self.height - 0.45 * self.LINE, self.heading)
        canvas.setStrokeColor(PALE)
        canvas.setLineWidth(0.6)
        for line in range(round(self.height / self.LINE)):
            canvas.line(0, line * self.LINE, self.width, line * self.LINE)


class Mark(Flowable):  # type: ignore[misc]
    """Nothing to see: here a page of the table of contents begins, and its number is told to whoever asks."""

    def __init__(self, key: str, words: str) -> None:
        super().__init__()
        self.key, self.words = key, words

    def wrap(self, *_: Any) -> tuple[float, float]:
        return 0.0, 0.0

    def draw(self) -> None:
        self.canv.bookmarkPage(self.key)
        self.canv.addOutlineEntry(self.words, self.key, level=0)
