"""Types with cubic outlines are printed: taken out, written anew, embedded; what is no type is refused."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from fontTools.fontBuilder import FontBuilder
from fontTools.pens.t2CharStringPen import T2CharStringPen
from pypdf import PdfReader
from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Paragraph

from records.figures import type_files
from records.figures.type_files import code_points, dejavu, has_cubic_outlines
from records.report import typefaces
from records.report.outlines import as_truetype
from records.report.typefaces import BOLD, REGULAR, load_types

LETTERS = "下管中"


@pytest.fixture
def cubic(tmp_path: Path) -> Path:
    """A type of its own whose signs are one rounded shape, each a little wider than the one before."""
    names = [".notdef", *(f"sign{n}" for n in range(len(LETTERS)))]
    widths = {name: 500 + 100 * n for n, name in enumerate(names)}
    signs = {}
    for name, width in widths.items():
        pen = T2CharStringPen(width, None)
        pen.moveTo((100, 0))
        pen.curveTo((100, 400), (200, 700), (width - 100, 700))
        pen.lineTo((width - 100, 0))
        pen.closePath()
        signs[name] = pen.getCharString()
    made = FontBuilder(1000, isTTF=False)
    made.setupGlyphOrder(names)
    made.setupCharacterMap({ord(letter): name for letter, name in zip(LETTERS, names[1:], strict=True)})
    made.setupCFF("Bench-Regular", {"FullName": "Bench Regular"}, signs, {})
    made.setupHorizontalMetrics({name: (width, 100) for name, width in widths.items()})
    made.setupHorizontalHeader(ascent=800, descent=-200)
    made.setupNameTable({"familyName": "Bench", "styleName": "Regular", "psName": "Bench-Regular"})
    made.setupOS2(sTypoAscender=800, sTypoDescender=-200, usWinAscent=800, usWinDescent=200)
    made.setupPost()
    path = tmp_path / "bench.otf"
    made.save(path)
    return path


def test_a_type_with_cubic_outlines_is_printed(cubic: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert has_cubic_outlines(cubic)
    assert not has_cubic_outlines(dejavu())
    assert code_points(cubic) == set(map(ord, LETTERS))
    monkeypatch.setattr(typefaces, "system_types", lambda: (cubic,))
    types = load_types("下 管")
    text = types.markup("4 下管中日")  # the last but one was not told before, the last one has no type
    assert text.endswith("[U+65E5]")
    names = [name for name in types.has if name not in {REGULAR, BOLD}]
    assert ["".join(map(chr, sorted(types.has[name]))) for name in names] == ["下管", "下中管"]
    assert types.nowhere == {ord("日")}
    assert [stringWidth(letter, names[0], 10) for letter in "下管"] == pytest.approx([6.0, 7.0])
    written = io.BytesIO()
    canvas = Canvas(written)
    paragraph = Paragraph(text)
    paragraph.wrapOn(canvas, 300, 100)
    paragraph.drawOn(canvas, 50, 500)
    canvas.save()
    page = PdfReader(written).pages[0]
    assert "下管中" in page.extract_text().replace("\n", "")
    fonts = [font.get_object() for font in page["/Resources"]["/Font"].values()]
    assert sum("/FontFile2" in font.get("/FontDescriptor", {}) for font in fonts) >= 2


@pytest.mark.parametrize("content", [b"", b"OTTO", b"OTTO" + bytes(200), b"not a type at all"])
def test_what_is_no_type_is_refused(content: bytes, tmp_path: Path) -> None:
    path = tmp_path / "damaged.otf"
    path.write_bytes(content)
    with pytest.raises(ValueError, match=r"damaged\.otf"):
        as_truetype(path, [ord("下")])
    assert type_files.code_points(path) == frozenset()
