"""What is drawn between the words of a report: a photograph with its outline, a probability as a length."""

from __future__ import annotations

import io
from typing import Any

from reportlab.lib.colors import HexColor, black, white
from reportlab.lib.utils import ImageReader
from reportlab.platypus.flowables import Flowable

from records.report.illustrate import Photograph
from records.report.typefaces import REGULAR

BLUE, VERMILION, GREY, PALE = (HexColor(code) for code in ("#0072B2", "#D55E00", "#666666", "#D9D9D9"))
"""Two colours of Okabe and Ito, which differ in brightness too, and greys."""


class PhotographFlowable(Flowable):  # type: ignore[misc]  # reportlab has no types
    """A photograph in a place of given size, the fitted outline white under blue: seen on metal, on light, in grey."""

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
                path = canvas.beginPath()
                step = 1 if self.detailed else 3
                for number, (x, y) in enumerate(edge[::step]):
                    (path.lineTo if number else path.moveTo)(x * self.factor, self.height - y * self.factor)
                canvas.drawPath(path)
        if self.detailed:
            self._details()
        canvas.restoreState()

    def _details(self) -> None:
        canvas, photograph = self.canv, self.photograph
        canvas.setLineWidth(0.7)
        canvas.setStrokeColor(VERMILION)
        for x, y in photograph.dirt[:200]:
            px, py = x * self.factor, self.height - y * self.factor
            canvas.line(px - 1.5, py - 1.5, px + 1.5, py + 1.5)
            canvas.line(px - 1.5, py + 1.5, px + 1.5, py - 1.5)
        if photograph.rule is not None:
            length, words = photograph.rule[0] * self.factor, photograph.rule[1]
            wide = max(length, canvas.stringWidth(words, REGULAR, 7)) + 8
            canvas.setFillColor(white)
            canvas.rect(4, 4, wide, 17, stroke=0, fill=1)
            canvas.setStrokeColor(black)
            canvas.setLineWidth(2)
            canvas.line(8, 8, 8 + length, 8)
            canvas.setFillColor(black)
            canvas.setFont(REGULAR, 7)
            canvas.drawString(8, 12.5, words)


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
