"""All dies and taps on one sheet of paper, to be pinned to the wall: what each really cuts."""

from __future__ import annotations

import io
from collections.abc import Sequence

from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.platypus import Flowable, Paragraph, SimpleDocTemplate, Spacer, Table

from records.filing import program_version
from records.register import utc_now
from records.report.flowables import GREY, PALE
from records.report.gather import MAKER
from records.report.pdf import PAPERS, letterhead_of, styles_of
from records.report.spoken import Spoken
from records.report.typefaces import BOLD, REGULAR, load_types
from threads.cutting.die_choice import DieState
from threads.cutting.die_words import what_it_cuts, what_was_learnt
from threads.shared.quantity import Quantity
from threads.shared.refusal import Reason

_MARGIN = 14 * mm
_PADDING = 6  # of reportlab's frames, points
_NAME, _CHART = 0.28, 0.26  # of the width
_CHART_HIGH = 13 * mm
_MOST = 12
"""So many of the latest cuts are drawn."""


class _Cuts(Flowable):  # type: ignore[misc]  # reportlab has no types
    """The latest cuts from left to right, each with its U95, and where the next one will lie as a band."""

    def __init__(self, cuts: Sequence[Quantity], following: Quantity, width: float) -> None:
        super().__init__()
        self.width, self.height = width, _CHART_HIGH
        self._cuts, self._following = cuts, following

    def draw(self) -> None:
        every = (*self._cuts, self._following)
        low, high = min(one.value - one.u95 for one in every), max(one.value + one.u95 for one in every)
        step, scale = self.width / (len(self._cuts) + 1), self.height / max(high - low, 1e-9)
        canvas, band = self.canv, self._following
        canvas.setFillColor(PALE)
        canvas.rect(0, (band.value - band.u95 - low) * scale, self.width, 2 * band.u95 * scale, stroke=0, fill=1)
        canvas.setFillColor(GREY)
        canvas.setStrokeColor(GREY)
        canvas.setLineWidth(0.6)
        for number, one in enumerate(self._cuts, 1):
            x, y, u95 = number * step, (one.value - low) * scale, one.u95 * scale
            canvas.line(x, y - u95, x, y + u95)
            canvas.circle(x, y, 1.3, stroke=0, fill=1)


def die_sheet(
    states: Sequence[DieState], spoken: Spoken | None = None, *, paper: str = "a4", head: tuple[str, ...] = ()
) -> bytes:
    """The sheet as a PDF, in the order of ``states``. ``paper``: a key of ``PAPERS``; ``head``: the letterhead."""
    spoken = spoken or Spoken()
    say, word = spoken.say, spoken.word
    lines = [
        (
            one.die.name,
            word(one.die.kind),
            one.die.says or "",
            say(what_it_cuts(one)),
            list(map(say, what_was_learnt(one))),
        )
        for one in states
    ]
    types, content = load_types(str((lines, head))), io.BytesIO()
    write = types.markup
    body = ParagraphStyle("body", fontName=REGULAR, fontSize=9, leading=11.5)
    small = ParagraphStyle("small", body, fontSize=7.5, leading=9.5, textColor=GREY)
    title = ParagraphStyle("title", body, fontName=BOLD, fontSize=15, leading=18, spaceAfter=4)
    large = ParagraphStyle("large", body, fontName=BOLD, fontSize=10.5, leading=13)
    width = PAPERS[paper][0] - 2 * _MARGIN - 2 * _PADDING
    rows = [
        [
            [Paragraph(write(name), large), Paragraph(write(", ".join(filter(None, (kind, says)))), small)],
            [Paragraph(write(cuts), large), *(Paragraph(write(one), small) for one in learnt)],
            _drawn(state, _CHART * width),
        ]
        for state, (name, kind, says, cuts, learnt) in zip(states, lines, strict=True)
    ]
    style = [
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ("LINEBELOW", (0, 0), (-1, -1), 0.4, PALE),
        ("LEFTPADDING", (0, 0), (0, -1), 0),
        ("TOPPADDING", (0, 0), (-1, -1), 3),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 4),
    ]
    key = "die_sheet.foot" if rows else "die_sheet.foot_empty"
    foot = say(Reason(key, day=utc_now()[:10], version=program_version()))
    flow = [*letterhead_of(head, types, styles_of()), Paragraph(word("Dies and taps, by what they cut"), title)]
    flow += (
        [Table(rows, colWidths=[_NAME * width, (1 - _NAME - _CHART) * width, _CHART * width], style=style)]
        if rows
        else []
    )
    flow += [Spacer(1, 4), Paragraph(foot, small)]
    SimpleDocTemplate(
        content, pagesize=PAPERS[paper], leftMargin=_MARGIN, rightMargin=_MARGIN, topMargin=_MARGIN,
        bottomMargin=_MARGIN, title=word("Dies and taps"), creator=f"{MAKER}, version {program_version()}", invariant=1,
        initialFontName=REGULAR,
    ).build(flow)  # fmt: skip
    return content.getvalue()


def _drawn(state: DieState, width: float) -> Flowable | str:
    following = state.next_cut
    if following is None:
        return ""
    return _Cuts([cut.thread.pitch_diameter for cut in state.die.cuts[-_MOST:]], following, width - 2 * _PADDING)
