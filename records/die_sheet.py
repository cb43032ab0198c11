"""All dies and taps on one sheet of paper, to be pinned to the wall: what each really cuts."""

from __future__ import annotations

import io
from collections.abc import Sequence

from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.platypus import Flowable, Paragraph, SimpleDocTemplate, Spacer, Table

from flankwise.reasons import sentence
from records.filing import program_version
from records.register import utc_now
from records.report.flowables import GREY, PALE
from records.report.gather import MAKER
from records.report.pdf import PAPERS
from records.report.typefaces import BOLD, REGULAR, load_types
from threads.cutting.die_choice import DieState
from threads.cutting.die_words import what_it_cuts, what_was_learnt

_MARGIN = 14 * mm
_NAME = 0.34  # of the width


def die_sheet(states: Sequence[DieState], *, paper: str = "a4", inches: bool = False) -> bytes:
    """The sheet as a PDF, in the order of ``states``. ``paper``: a key of ``PAPERS``."""
    lines = [
        (one.die.name, one.die.kind, one.die.says or "", sentence(what_it_cuts(one), inches=inches),
         [sentence(more, inches=inches) for more in what_was_learnt(one)])
        for one in states
    ]  # fmt: skip
    types, content = load_types(str(lines)), io.BytesIO()
    write = types.markup
    body = ParagraphStyle("body", fontName=REGULAR, fontSize=9, leading=11.5)
    small = ParagraphStyle("small", body, fontSize=7.5, leading=9.5, textColor=GREY)
    title = ParagraphStyle("title", body, fontName=BOLD, fontSize=15, leading=18, spaceAfter=4)
    large = ParagraphStyle("large", body, fontName=BOLD, fontSize=10.5, leading=13)
    width = PAPERS[paper][0] - 2 * _MARGIN
    rows = [
        [
            [Paragraph(write(name), large), Paragraph(write(", ".join(filter(None, (kind, says)))), small)],
            [Paragraph(write(cuts), large), *(Paragraph(write(one), small) for one in learnt)],
        ]
        for name, kind, says, cuts, learnt in lines
    ]
    style = [
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ("LINEBELOW", (0, 0), (-1, -1), 0.4, PALE),
        ("LEFTPADDING", (0, 0), (0, -1), 0),
        ("TOPPADDING", (0, 0), (-1, -1), 3),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 4),
    ]
    foot = f"printed {utc_now()[:10]} with flankwise {program_version()}; ± is U95 (k = 2) of the next cut"
    flow: list[Flowable] = [Paragraph("Dies and taps, by what they cut", title)]
    flow += [Table(rows, colWidths=[_NAME * width, (1 - _NAME) * width], style=style)] if rows else []
    flow += [Spacer(1, 4), Paragraph(foot, small)]
    SimpleDocTemplate(
        content, pagesize=PAPERS[paper], leftMargin=_MARGIN, rightMargin=_MARGIN, topMargin=_MARGIN,
        bottomMargin=_MARGIN, title="Dies and taps", creator=f"{MAKER}, version {program_version()}", invariant=1,
        initialFontName=REGULAR,
    ).build(flow)  # fmt: skip
    return content.getvalue()
