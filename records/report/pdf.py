"""A job as PDF: a sheet with one line and one picture a part, then a data sheet a part. Made to be pinned to the wall.

Text is text (it can be searched and copied), types are embedded, and nothing is told by colour alone.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial
from typing import Any

from reportlab import rl_config
from reportlab.lib.enums import TA_RIGHT
from reportlab.lib.pagesizes import A4, LETTER
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import inch, mm
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import (
    BaseDocTemplate,
    Flowable,
    Frame,
    HRFlowable,
    Image,
    PageBreak,
    PageTemplate,
    Spacer,
    Table,
)

from flankwise.words import CAUTION
from records.report.flowables import GREY, PALE, Drawn, Later, Length, Mark, PhotographFlowable, Ruled, Text
from records.report.gather import MAKER, Report
from records.report.illustrate import Illustration
from records.report.numbered import Numbered
from records.report.ridge import RidgeView, ridge_figure
from records.report.sheet import Sheet
from records.report.spoken import Spoken
from records.report.typefaces import BOLD, REGULAR, Types, load_types
from records.shrunken import PHOTO_SHAPE
from threads.shared.refusal import Reason

PAPERS = {"a4": A4, "letter": LETTER}
_MARGIN = 14 * mm
_FOOT = 11 * mm
_PHOTO_WIDE = 80 * mm
_FIGURE_HIGH = {"a4": 69 * mm, "letter": 61 * mm}
_SPARE = 6.0
"""Points that a page is reckoned less high than it is: what flows is set a little wider than it says."""
_LINES_BY_HAND = 7
_LEAST_FIGURE = 0.62
"""Of its height, to which a figure may be made smaller to save a page; its type is then still 5 points high."""


@dataclass(frozen=True)
class Styles:
    """The styles of paragraphs."""

    title: ParagraphStyle
    heading: ParagraphStyle
    body: ParagraphStyle
    small: ParagraphStyle
    right: ParagraphStyle
    answer: ParagraphStyle
    plain: ParagraphStyle


def figure_size(paper: str) -> tuple[float, float]:
    """Width and height of the figure of a data sheet, inches."""
    return (PAPERS[paper][0] - 2 * _MARGIN) / inch, _FIGURE_HIGH[paper] / inch


def report_pdf(report: Report, paper: str, types: Types | None = None) -> bytes:
    """The PDF. ``paper``: a key of ``PAPERS``.

    ``types``: those loaded for ``words_of``; afterwards they know which letters none has.
    """
    types, styles, frame = types or load_types(words_of(report)), styles_of(), frame_of(paper)
    page = _Page(types, styles, report.spoken, frame)
    flow = list(letterhead_of(report.head, types, styles))
    taken = _height_of([*flow, Spacer(1, 0)], frame.width) if report.single and flow else 0.0
    flow += [] if report.single else [*_job_sheet(report, page), PageBreak()]
    flow += [Later(partial(_pages_of, report, number, page, paper, taken)) for number in range(len(report.sheets))]
    foot = foot_of(report.job, report.printed, report.version, report.spoken)
    return built(flow, frame, report.job, types, foot, report.version)


def _pages_of(report: Report, number: int, page: _Page, paper: str, taken: float) -> list[Flowable]:
    """The data sheet of one part. ``taken``: points of its page by a letterhead."""
    illustration, flow = report.illustrations[number], [PageBreak()] if number else []
    flow += _fitted(report.sheets[number], illustration, page, paper, taken)
    if illustration is None and (small := report.thumbnails[number]) is not None:
        picture = Image(io.BytesIO(small), _PHOTO_WIDE, _PHOTO_WIDE, kind="proportional", hAlign="LEFT")
        flow += [Spacer(1, 4), picture]
    return [*flow, Ruled(report.spoken.word("For notes by hand"))]


@dataclass(frozen=True)
class PageFrame:
    """A page, and the room on it between the margins, points."""

    size: tuple[float, float]
    width: float
    height: float


@dataclass(frozen=True)
class _Page:
    """What every page of a report is written with."""

    types: Types
    styles: Styles
    spoken: Spoken
    frame: PageFrame

    def text(self, text: str, style: str = "body") -> Text:
        return Text(self.types.markup(text), getattr(self.styles, style))

    def head(self, word: str) -> Text:
        return self.text(self.spoken.word(word), "heading")


def frame_of(paper: str) -> PageFrame:
    """The room on a page of ``paper``, a key of ``PAPERS``."""
    size = PAPERS[paper]
    return PageFrame(size, size[0] - 2 * _MARGIN, size[1] - 2 * _MARGIN - _FOOT)


def built(
    flow: list[Flowable], page: PageFrame, title: str, types: Types, foot: tuple[str, str, str], version: str
) -> bytes:
    """The PDF of ``flow``. ``foot``: both lines on each page, and the word between its number and their count."""
    content = _Content()
    frame = Frame(_MARGIN, _MARGIN + _FOOT, page.width, page.height, 0, 0, 0, 0, showBoundary=0)
    document = BaseDocTemplate(
        content,
        pagesize=page.size,
        title="".join(c if c.isprintable() else "?" for c in f"{title}: parts register"),
        author="",
        subject="Screw threads measured from pictures",
        creator=f"{MAKER}, version {version}",
        invariant=1,
        pageCompression=1,
        initialFontName=REGULAR,
    )
    document.addPageTemplates([PageTemplate("sheet", [frame])])
    before, rl_config.useA85 = rl_config.useA85, 0  # bytes as they are: a quarter smaller, and quicker
    try:
        lines = types.plain(foot[0]), types.plain(foot[1]), foot[2]
        document.build(flow, canvasmaker=partial(Numbered, foot=lines, margin=_MARGIN))
    finally:
        rl_config.useA85 = before
    return content.written


class _Content:
    """Where the library writes a file to, all at once: as it is, without a copy."""

    written = b""

    def write(self, content: bytes) -> None:
        self.written = content


def words_of(report: Report) -> str:
    """All that is written in a report and comes from a person, in no order."""
    more = (*report.head, *report.owners, *report.about, *report.instruments, *report.summary)
    return "".join((report.job, *more, *map(str, report.sheets)))


def foot_of(what: str, printed: str, version: str, spoken: Spoken) -> tuple[str, str, str]:
    """The two lines at the foot of each page, and the word between its number and their count."""
    what = what if len(what) <= 60 else what[:57] + "..."
    line = Reason("paper.foot", what=what, day=printed, version=version)
    return spoken.say(line), spoken.word(CAUTION), spoken.word("of")


def letterhead_of(lines: tuple[str, ...], types: Types, styles: Styles) -> Iterator[Flowable]:
    """The head of the first page: the workshop's name, address and telephone; nothing where there is none."""
    if lines:
        yield Text(types.markup(lines[0]), styles.answer)
        if lines[1:]:
            yield Text(types.markup("  ·  ".join(lines[1:])), styles.small)
        yield HRFlowable("100%", 0.8, color=GREY, spaceBefore=3, spaceAfter=9)


def styles_of() -> Styles:
    """Those of every report."""
    body = ParagraphStyle("body", fontName=REGULAR, fontSize=8, leading=10.2)
    return Styles(
        title=ParagraphStyle("title", body, fontName=BOLD, fontSize=15, leading=18, spaceAfter=2),
        heading=ParagraphStyle(
            "heading", body, fontName=BOLD, fontSize=8.5, leading=11, spaceBefore=5, spaceAfter=1.5, keepWithNext=1
        ),
        body=body,
        small=ParagraphStyle("small", body, fontSize=6.8, leading=8.6, textColor=GREY),
        right=ParagraphStyle("right", body, alignment=TA_RIGHT),
        answer=ParagraphStyle("answer", body, fontName=BOLD, fontSize=10.5, leading=13),
        plain=ParagraphStyle("plain", body, fontSize=9.5, leading=12.5),
    )


def _job_sheet(report: Report, page: _Page) -> Iterator[Flowable]:
    spoken = page.spoken
    yield Mark("job", report.job)
    yield page.text(report.job, "title")
    for line in report.instruments:
        yield page.text(line)
    owner = spoken.say(Reason("paper.owner", name=", ".join(report.owners) or 40 * "_"))
    yield page.text(owner)
    for line in report.about:
        yield page.text(line)
    yield page.head("In plain words")
    yield page.text(" ".join(report.summary), "plain")
    yield Spacer(1, 6)
    yield from _contact_sheet(report, page)
    yield Spacer(1, 8)
    yield Ruled(spoken.word("For notes by hand"), _LINES_BY_HAND)


def _contact_sheet(report: Report, page: _Page) -> Iterator[Flowable]:
    write, styles, spoken, width = page.types.markup, page.styles, page.spoken, page.frame.width
    count = len(report.sheets)
    parts = Reason("paper.parts_one") if count == 1 else Reason("paper.parts", count=count)
    yield page.text(spoken.say(parts), "small")
    yield Spacer(1, 3)
    wide = (0.05 * width, 32 * mm, 0.0, 0.28 * width)
    heads = [_bold(spoken.word(head), styles) for head in ("position", "dimensions")]
    rows: list[list[Any]] = [["", "", *heads]]
    for number, (sheet, illustration, thumbnail) in enumerate(
        zip(report.sheets, report.illustrations, report.thumbnails, strict=True), 1
    ):
        die = sheet.dies[0].split(". ")[0] if sheet.dies else ""
        words: list[Flowable] = [
            Text(f'<a href="#{sheet.uid}">{write(sheet.place)}</a>', ParagraphStyle("p", styles.body, fontName=BOLD)),
            page.text(sheet.answer),
        ]
        words += [page.text(die, "small")] if die else []
        words.append(page.text(sheet.number, "small"))
        key = [page.text(line) for line in sheet.key.split("; ") if line]
        rows.append([str(number), _small_picture(illustration, thumbnail), words, key])
    rest = width - wide[0] - wide[1] - wide[3]
    yield Table(
        rows,
        colWidths=[wide[0], wide[1], rest, wide[3]],
        repeatRows=1,
        style=[
            ("FONT", (0, 0), (-1, -1), REGULAR, 8),
            ("VALIGN", (0, 0), (-1, -1), "TOP"),
            ("LINEBELOW", (0, 0), (-1, -1), 0.4, PALE),
            ("LEFTPADDING", (0, 0), (0, -1), 0),
            ("TOPPADDING", (0, 0), (-1, -1), 2.5),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 2.5),
        ],
    )


def _small_picture(illustration: Illustration | None, thumbnail: bytes | None) -> Flowable | str:
    if illustration is not None and illustration.photograph is not None:
        return PhotographFlowable(illustration.photograph, 30 * mm, 20 * mm, detailed=False)
    if thumbnail is None:
        return ""
    return Image(io.BytesIO(thumbnail), 30 * mm, 20 * mm, kind="proportional")


def _fitted(
    sheet: Sheet, illustration: Illustration | None, page: _Page, paper: str, taken: float = 0.0
) -> list[Flowable]:
    """The data sheet; where it is a few lines too long for its page, with a smaller figure, so that it is one.

    ``taken``: height of what stands on the page already.
    """
    figure = _FIGURE_HIGH[paper]
    flow = list(_data_sheet(sheet, illustration, page, figure))
    over = _height_of(flow, page.frame.width) - page.frame.height + taken + _SPARE
    if illustration is None or illustration.figure is None or not 0 < over <= (1 - _LEAST_FIGURE) * figure:
        return flow
    return list(_data_sheet(sheet, illustration, page, figure - over))


def _height_of(flow: list[Flowable], width: float) -> float:
    """What the flowables take one under the other; of two spaces that meet, the larger one."""
    total, after, nowhere = 0.0, 0.0, Canvas(io.BytesIO())
    for one in flow:
        total += max(one.getSpaceBefore(), after) + one.wrapOn(nowhere, width, 1e6)[1]
        after = one.getSpaceAfter()
    return total


def _data_sheet(sheet: Sheet, illustration: Illustration | None, page: _Page, figure_high: float) -> Iterator[Flowable]:
    write, styles, word, width = page.types.markup, page.styles, page.spoken.word, page.frame.width
    yield Mark(sheet.uid, sheet.place)
    yield page.text(sheet.place, "title")
    yield page.text(", ".join(words for words in (sheet.number, sheet.instrument) if words))
    yield Spacer(1, 3)
    yield page.text(sheet.answer, "answer")
    yield page.text(sheet.kind, "small")
    yield Spacer(1, 3)
    photograph = None if illustration is None else illustration.photograph
    left: Flowable | str = ""
    if photograph is not None:
        left = PhotographFlowable(photograph, _PHOTO_WIDE, _PHOTO_WIDE / PHOTO_SHAPE, detailed=True)
    if sheet.dimensions:
        yield Table(
            [[left, _dimensions(sheet, styles, width - _PHOTO_WIDE - 14)]],
            colWidths=[_PHOTO_WIDE + 14, width - _PHOTO_WIDE - 14],
            style=_BARE,
        )
    if illustration is not None and illustration.figure is not None:
        yield Spacer(1, 5)
        yield _figure(illustration.figure, (width, figure_high), page)
    for heading, lines in (("How large it is", sheet.hole), ("Screws tried in it", sheet.trials)):
        if lines:
            yield page.head(heading)
            yield from map(page.text, lines)
    if sheet.groups:
        yield page.head("Which thread it is")
        yield _groups(sheet, page)
    yield from map(page.text, sheet.identity_notes)
    yield from _candidates(sheet, page)
    for heading, lines in (
        ("What to make it with", sheet.dies),
        ("Checked", sheet.checks),
        ("Replacements made", sheet.replacements),
        ("Notes", sheet.notes),
    ):
        if lines:
            yield page.head(heading)
            yield from (page.text(line, "small" if lines is sheet.dies else "body") for line in lines)
    remarks = () if illustration is None else tuple(map(page.spoken.say, illustration.remarks))
    if sheet.behind:
        yield page.head("Behind these numbers")
        yield page.text(" ".join(sheet.behind), "small")
    warnings = [f"<b>{word('Warning')}:</b> {write(warning)}" for warning in (*sheet.warnings, *remarks)]
    for some in (warnings, list(map(write, sheet.footnotes))):
        if some:
            yield Text(" ".join(some), styles.small)


def _figure(figure: RidgeView | bytes, size: tuple[float, float], page: _Page) -> Flowable:
    if isinstance(figure, RidgeView):
        return Drawn(partial(ridge_figure, figure, size, page.spoken), size, page.types)
    return Image(io.BytesIO(figure), *size, kind="proportional")


_BARE = [
    ("FONT", (0, 0), (-1, -1), REGULAR, 8),
    ("VALIGN", (0, 0), (-1, -1), "TOP"),
    ("LEFTPADDING", (0, 0), (-1, -1), 0),
    ("RIGHTPADDING", (0, 0), (-1, -1), 0),
    ("TOPPADDING", (0, 0), (-1, -1), 0),
    ("BOTTOMPADDING", (0, 0), (-1, -1), 0),
]


def _dimensions(sheet: Sheet, styles: Styles, width: float) -> Table:
    rows = [[one.words, Text(f"<b>{one.value}</b>", styles.right), one.rest] for one in sheet.dimensions]
    return Table(
        rows,
        colWidths=[0.46 * width, 0.24 * width, 0.30 * width],
        style=[
            ("FONT", (0, 0), (-1, -1), REGULAR, 8),
            ("VALIGN", (0, 0), (-1, -1), "MIDDLE"),
            ("LEFTPADDING", (0, 0), (0, -1), 0),
            ("RIGHTPADDING", (0, 0), (-1, -1), 2),
            ("TOPPADDING", (0, 0), (-1, -1), 1.1),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 1.1),
            ("LINEBELOW", (0, 0), (-1, -1), 0.3, PALE),
        ],
    )


def _groups(sheet: Sheet, page: _Page) -> Table:
    rows: list[list[Any]] = []
    styles, width = page.styles, page.frame.width
    for group in sheet.groups:
        words: list[Flowable] = [Text(f"<b>{page.types.markup(group.names)}</b>", styles.body)]
        if group.told_apart_by:
            words.append(page.text(f"{page.spoken.word('told apart by')} {'; '.join(group.told_apart_by)}", "small"))
        rows.append([Length(group.probability, 0.16 * width), group.chance, words])
    return Table(
        rows,
        colWidths=[0.18 * width, 0.11 * width, 0.71 * width],
        style=[
            *_BARE,
            ("TOPPADDING", (0, 0), (0, -1), 3),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 2),
        ],
    )


def _candidates(sheet: Sheet, page: _Page) -> Iterator[Flowable]:
    if not sheet.candidates:
        return
    width, heads = page.frame.width, ("candidate", "probability", "by measurement", "origin and year")
    rows: list[list[Any]] = [[page.text(page.spoken.word(head), "small") for head in (*heads, "if so, the part is")]]
    for one in sheet.candidates:
        row = (one.name, one.chance, one.by_measurement, one.says, one.condition)
        rows.append([page.text(word, "small") for word in row])
    yield Spacer(1, 3)
    yield Table(
        rows,
        colWidths=[share * width for share in (0.17, 0.14, 0.14, 0.38, 0.17)],
        style=[
            *_BARE,
            ("LINEBELOW", (0, 0), (-1, 0), 0.4, GREY),
            ("TOPPADDING", (0, 0), (-1, -1), 0.8),
            ("RIGHTPADDING", (0, 0), (-1, -1), 4),
        ],
    )


def _bold(text: str, styles: Styles) -> Text:
    return Text(f"<b>{text}</b>", styles.body)
