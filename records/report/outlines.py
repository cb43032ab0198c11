"""A type with cubic outlines (PostScript's, in OpenType files) as one with the quadratic outlines of TrueType.

Paper is printed with reportlab, which embeds TrueType outlines only; but most free types for Chinese, Japanese and
Korean have cubic ones. So the signs that a document needs are taken out and their outlines are written anew, within a
thousandth of the size of the type.
"""

from __future__ import annotations

import hashlib
import io
import struct
from collections.abc import Collection
from pathlib import Path

TOLERANCE = 0.001
"""By how much an outline may depart, in parts of the size of the type."""

_NAMES = (4, 6)
"""Of the table of names: the full one, and PostScript's."""


def as_truetype(path: Path, codes: Collection[int]) -> bytes:
    """The signs for ``codes`` of the first type in the file at ``path``, as a TrueType file.

    Raises OSError, and ValueError for a file that is no such type or that nothing can be taken out of.
    """
    from fontTools.pens.cu2quPen import Cu2QuPen
    from fontTools.pens.ttGlyphPen import TTGlyphPen
    from fontTools.subset import Options, Subsetter
    from fontTools.ttLib import TTFont, TTLibError, newTable

    written = io.BytesIO()
    try:
        with path.open("rb") as file:
            font = TTFont(file, fontNumber=0, lazy=True)
            wanted = Subsetter(Options(layout_features=[], notdef_outline=True, hinting=False))
            wanted.populate(unicodes=codes)
            wanted.subset(font)
            signs, order = font.getGlyphSet(), font.getGlyphOrder()
            glyphs = {}
            for name in order:
                pen = TTGlyphPen(None)
                signs[name].draw(Cu2QuPen(pen, TOLERANCE * font["head"].unitsPerEm, reverse_direction=True))
                glyphs[name] = pen.glyph()
            font["loca"], font["glyf"] = newTable("loca"), newTable("glyf")
            font["glyf"].glyphOrder, font["glyf"].glyphs = order, glyphs
            for table in ("CFF ", "CFF2", "VORG"):
                if table in font:
                    del font[table]
            limits = font["maxp"]
            limits.tableVersion = 0x00010000  # TrueType's, with more fields; most are counted when it is written
            limits.maxZones = 1
            for field in (
                "maxTwilightPoints", "maxStorage", "maxFunctionDefs", "maxInstructionDefs", "maxStackElements",
                "maxSizeOfInstructions", "maxComponentElements",
            ):  # fmt: skip
                setattr(limits, field, 0)
            font["post"].formatType = 3.0  # without names of signs
            mark = hashlib.sha256(str(sorted(codes)).encode()).hexdigest()[:8]
            for entry in font["name"].names:
                if entry.nameID in _NAMES:  # what was taken out twice differs, and so must its name in a document
                    entry.string = f"{entry.toUnicode()}-{mark}"
            font.sfntVersion = "\0\1\0\0"
            font.save(written)
    except (TTLibError, KeyError, AttributeError, AssertionError, IndexError, struct.error) as error:
        raise ValueError(f"{path.name} cannot be used as a type: {error}") from error
    return written.getvalue()
