"""What is drawn between the words of a report: a photograph with its outline, a probability as a length."""

from __future__ import annotations

import io
from collections.abc import Sequence
from typing import Any

import numpy as np
from reportlab.lib.colors import HexColor, black, white
from reportlab.lib.units import mm
from reportlab.lib.utils import ImageReader
from reportlab.platypus.flowables import Flowable

from records.report import vector
from records.report.dimensioned import PlacedDimension, placed
from records.report.illustrate import Photograph
from records.report.typefaces import BOLD, REGULAR, Types
from records.report.vector import HATCH_DOTS, HATCH_WIDE, HATCHES, Array, Dots, Line, Shape, apart, hatch_lines

BLUE, VERMILION, GREY, PALE = (HexColor(code) for code in ("#0072B2", "#D55E00", "#666666", "#D9D9D9"))
"""Two colours of Okabe and Ito, which differ in brightness too, and greys."""


class PhotographFlowable(Flowable):  # type: ignore[misc]  # reportlab has no types
    """A photograph in a place of given size, dimensioned; the outline white under blue: seen on metal and in grey."""

    def __init__(self, photograph: Photograph, width: float, height: float, *, detailed: bool) -> None:
        super().__init__()
        self.photograph = photograph
        factor = min(width / photograph.width, height / photograph.height)
        self.width, self.height = photograph.width * factor, photograph.height * factor
        self.factor = factor
        self.detailed = detailed
        self.image = ImageReader(io.BytesIO(photograph.content))

    def wrap(self, *_: Any) -> tuple[float, float]:
        return self.width, self.height

    def draw(self) -> None:
        canvas, photograph = self.canv, self.photograph
        canvas.saveState()
        frame = canvas.beginPath()
        frame.rect(0, 0, self.width, self.height)
        canvas.clipPath(frame, stroke=0)
        canvas.drawImage(self.image, 0, 0, self.width, self.height)
        for colour, wide in ((white, 1.6), (BLUE, 0.8)) if self.detailed else ((white, 1.0), (BLUE, 0.5)):
            canvas.setStrokeColor(colour)
            canvas.setLineWidth(wide)
            for edge in photograph.edges:
                canvas.drawPath(self._path(edge[:: 1 if self.detailed else 3]))
        if self.detailed:
            self._dirt()
        for one in placed(photograph.dimensions, photograph.width, detailed=self.detailed, inches=photograph.inches):
            self._dimension(one)
        self._rule(7 if self.detailed else 5)
        canvas.restoreState()

    def _at(self, point: Any) -> tuple[float, float]:
        return float(point[0]) * self.factor, self.height - float(point[1]) * self.factor

    def _path(self, points: Any, *, close: bool = False) -> Any:
        path = self.canv.beginPath()
        for number, point in enumerate(points):
            (path.lineTo if number else path.moveTo)(*self._at(point))
        if close:
            path.close()
        return path

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
            for line in one.lines:
                canvas.drawPath(self._path(line))
        canvas.setFillColor(black)
        for head in one.heads:
            canvas.drawPath(self._path(head, close=True), stroke=0, fill=1)
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
    """A figure of plain shapes, by the operators of PDF (ISO 32000-1:2008, 8.4 and 8.5)."""

    def __init__(self, figure: vector.VectorFigure, types: Types) -> None:
        super().__init__()
        self.figure, self.types = figure, types
        self.width, self.height = figure.width, figure.height

    def wrap(self, *_: Any) -> tuple[float, float]:
        return self.width, self.height

    def draw(self) -> None:
        self._all(self.figure.shapes)

    def _all(self, shapes: Sequence[Shape]) -> None:
        canvas = self.canv
        for one in shapes:
            canvas.saveState()
            if isinstance(one, vector.Clipped):
                self._draw("{:.2f} {:.2f} {:.2f} {:.2f} re W n".format(*one.box))
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
        self._draw(f"{_path(one.points)} S")

    def _fill(self, one: vector.Area) -> None:
        canvas, around = self.canv, _path(one.points)
        canvas.setFillColor(HexColor(one.colour))
        canvas.setFillAlpha(one.opacity)
        self._draw(f"{around} f")
        if not one.hatch:
            return
        self._draw(f"{around} W n")
        canvas.setStrokeAlpha(one.opacity)
        canvas.setStrokeColor(HexColor(one.colour))
        canvas.setLineWidth(HATCH_WIDE)
        if one.hatch not in HATCHES:
            canvas.setLineCap(1)
            canvas.setDash(list(HATCH_DOTS))
        self._draw(" ".join(map(_path, hatch_lines(one.points, one.hatch))) + " S")

    def _dots(self, one: Dots) -> None:
        """Lines of no length with round ends are the shortest way to say a dot."""
        canvas, half = self.canv, one.wide / 2 if one.square else 0.0
        canvas.setStrokeColor(HexColor(one.colour))
        canvas.setStrokeAlpha(one.opacity)
        canvas.setLineWidth(one.wide)
        canvas.setLineCap(0 if one.square else 1)
        points = apart(one.points)
        ends = np.column_stack([points[:, 0] - half, points[:, 1], points[:, 0] + half, points[:, 1]])
        self._draw("%.1f %.1f m %.1f %.1f l " * len(ends) % tuple(ends.ravel().tolist()) + "S")

    def _draw(self, operators: str) -> None:
        self.canv._code.append(operators)  # noqa: SLF001 - paths of the library cost ten times as long

    def _write(self, one: vector.Words) -> None:
        canvas = self.canv
        canvas.setFillColor(HexColor(one.colour))
        canvas.setFont(BOLD if one.bold else REGULAR, one.size)
        canvas.translate(one.x, one.y)
        canvas.rotate(90 if one.turned else 0)
        write = {"start": canvas.drawString, "middle": canvas.drawCentredString, "end": canvas.drawRightString}
        write[one.place](0, 0, self.types.plain(one.text))


def _path(points: Array) -> str:
    return ("%.2f %.2f m " + "%.2f %.2f l " * (len(points) - 1)) % tuple(points.ravel().tolist())


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
    """Lines to write on by hand under a heading: so many, or as many as the rest of the page has room for, if any."""

    LINE, LEAST, MOST = 8 * mm, 3, 9

    def __init__(self, heading: str, lines: int | None = None) -> None:
        super().__init__()
        self.heading, self.lines = heading, lines
        self.width = self.height = 0.0

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        count = self.lines
        if count is None:
            count = min(int((height - 4) / self.LINE) - 1, self.MOST)
            count = count if count >= self.LEAST else 0
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
