"""Pages that know how many they are. What is finished is packed at once: hundreds of pages take much memory."""

from __future__ import annotations

import zlib
from typing import Any

from reportlab.pdfbase.pdfdoc import PDFArray, PDFDictionary, PDFName, PDFPage, PDFStream, PDFZCompress
from reportlab.pdfgen.canvas import Canvas

from records.report.flowables import GREY
from records.report.typefaces import REGULAR


class Numbered(Canvas):  # type: ignore[misc]  # reportlab has no types
    """Pages that know how many they are, with the foot on each."""

    def __init__(self, *arguments: Any, foot: tuple[str, str, str], margin: float, **options: Any) -> None:
        super().__init__(*arguments, **options)
        self._foot, self._margin = foot, margin
        self._pages: list[dict[str, Any]] = []

    def showPage(self) -> None:  # noqa: N802 - reportlab's name
        """Set the page aside, packed: the operators of hundreds of pages take much memory."""
        packed = zlib.compress("\n".join(self._code).encode(), 1)
        self._pages.append({**self.__dict__, "_code": packed})
        self._startPage()

    def save(self) -> None:
        count = len(self._pages)
        for page in self._pages:
            self.__dict__.update(page, _code=[zlib.decompress(page["_code"]).decode()])
            page.clear()
            self._write_foot(count)
            super().showPage()
            self._pack(self._doc.Pages.pages[-1])
        super().save()

    def _pack(self, page: PDFPage) -> None:
        """Compress the stream of a finished page now, not when all are written."""
        kind = PDFDictionary({"Filter": PDFArray([PDFName(PDFZCompress.pdfname)])})
        page.Contents = PDFStream(kind, PDFZCompress.encode(page.stream))
        page.stream = None

    def _write_foot(self, count: int) -> None:
        wide = self._pagesize[0]
        self.setStrokeColor(GREY)
        self.setLineWidth(0.4)
        self.line(self._margin, self._margin + 20, wide - self._margin, self._margin + 20)
        self.setFillColor(GREY)
        self.setFont(REGULAR, 7)
        self.drawString(self._margin, self._margin + 11, self._foot[0])
        self.drawRightString(wide - self._margin, self._margin + 11, f"{self._pageNumber} {self._foot[2]} {count}")
        self.setFont(REGULAR, 6.3)
        self.drawString(self._margin, self._margin + 2, self._foot[1])
