"""A job as one HTML file: pictures inside it, nothing fetched from anywhere, everything from the register escaped."""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Iterator, Sequence
from html import escape

from records.report.dimensioned import LARGE, SMALL, Array, placed
from records.report.gather import MAKER, Report
from records.report.illustrate import Illustration, Photograph
from records.report.pdf import foot_of
from records.report.ridge import RidgeView, ridge_figure
from records.report.sheet import Sheet
from records.report.spoken import Spoken
from records.report.vector import svg_of
from threads.shared.refusal import Reason

_STYLE = """
:root { color-scheme: light dark; --line: #8885; --faint: #777; --bar: #0072B2; }
body { font: 15px/1.45 "DejaVu Sans", Verdana, sans-serif; max-width: 62rem; margin: 2rem auto; padding: 0 1rem; }
h1 { font-size: 1.7rem; margin: 0; } h2 { font-size: 1.35rem; margin: 0; } h3 { font-size: 1rem; margin: 1rem 0 .2rem; }
p { margin: .2rem 0; } .faint { color: var(--faint); font-size: .85rem; } .answer { font-weight: bold; }
table { border-collapse: collapse; } td, th { padding: .15rem .8rem .15rem 0; text-align: left; vertical-align: top; }
tr { border-bottom: 1px solid var(--line); } td.value { text-align: right; font-weight: bold; }
td, .key { font-variant-numeric: tabular-nums; }
article { border-top: 2px solid; margin-top: 2.5rem; padding-top: 1rem; break-before: page; }
.beside { display: flex; flex-wrap: wrap; gap: 1.2rem; align-items: flex-start; margin: .6rem 0; }
.photo { position: relative; display: block; } .photo img, .photo svg { display: block; width: 100%; }
.photo svg { position: absolute; inset: 0; height: 100%; } .figure { max-width: 100%; background: white; }
.bar { display: inline-block; width: 8rem; height: .55rem; border: 1px solid var(--faint); }
.bar i { display: block; height: 100%; background: var(--bar); print-color-adjust: exact; }
@media print { body { font-size: 9.5pt; margin: 0; max-width: none; } }
"""

_FIGURE_SIZE = (515.0, 196.0)
"""Points, as on A4."""
_FIGURE = "One ridge of the thread, magnified, over the zones of the classes that it may belong to"
_FIGURE_OF_HOLE = "The screws tried in the hole by their pitch diameters, its range, the zones of its classes"


def report_html(report: Report) -> bytes:
    """The file, UTF-8."""
    return "\n".join(_document(report)).encode("utf-8", "replace")


def _document(report: Report) -> Iterator[str]:
    word, say = report.spoken.word, report.spoken.say
    yield f'<!DOCTYPE html>\n<html lang="{report.spoken.language}">\n<head>\n<meta charset="utf-8">'
    policy = "default-src 'none'; img-src data:; style-src 'unsafe-inline'"
    yield f'<meta http-equiv="Content-Security-Policy" content="{policy}">\n<meta name="generator" content="{MAKER}">'
    yield '<meta name="viewport" content="width=device-width">'
    yield f"<title>{_text(report.job)}</title>\n<style>{_STYLE}</style>\n</head>\n<body>"
    if report.head:
        yield f'<p><b>{_text(report.head[0])}</b></p><p class="faint">{_text("  ·  ".join(report.head[1:]))}</p>'
    yield f"<h1>{_text(report.job)}</h1>"
    owner = (say(Reason("paper.owner", name=", ".join(report.owners))),) if report.owners else ()
    yield from _lines((*report.instruments, *owner, *report.about, *report.summary))
    count = len(report.sheets)
    parts = say(Reason("paper.parts_one") if count == 1 else Reason("paper.parts", count=count))
    yield f'<p class="faint">{_text(parts)}</p>'
    yield f"<table><tr><th></th><th></th><th>{word('position')}</th><th>{word('dimensions')}</th></tr>"
    for number, (sheet, illustration, thumbnail) in enumerate(
        zip(report.sheets, report.illustrations, report.thumbnails, strict=True), 1
    ):
        yield "".join(_row(number, sheet, illustration, thumbnail))
    yield "</table>"
    for sheet, illustration in zip(report.sheets, report.illustrations, strict=True):
        yield from _article(sheet, illustration, report.spoken)
    for line in foot_of(report.job, report.printed, report.version, report.spoken)[:2]:
        yield f'<p class="faint">{_text(line)}</p>'
    yield "</body>\n</html>"


def _row(number: int, sheet: Sheet, illustration: Illustration | None, thumbnail: bytes | None) -> Iterator[str]:
    yield f"<tr><td>{number}</td><td>"
    if illustration is not None and illustration.photograph is not None:
        yield _photo(illustration.photograph, "9rem", detailed=False)
    elif thumbnail is not None:
        yield f'<img alt="" style="width:9rem" src="{_inlined(thumbnail)}">'
    yield f'</td><td><a href="#p{_text(sheet.uid)}"><b>{_text(sheet.place)}</b></a><br>{_text(sheet.answer)}'
    if sheet.dies:
        yield f'<br><span class="faint">{_text(sheet.dies[0].split(". ")[0])}</span>'
    yield f'<br><span class="faint">{_text(sheet.number)}</span></td>'
    yield f'<td class="key">{"<br>".join(_text(line) for line in sheet.key.split("; "))}</td></tr>'


def _article(sheet: Sheet, illustration: Illustration | None, spoken: Spoken) -> Iterator[str]:
    word = spoken.word
    yield f'<article id="p{_text(sheet.uid)}"><h2>{_text(sheet.place)}</h2>'
    yield f"<p>{_text(', '.join(words for words in (sheet.number, sheet.instrument) if words))}</p>"
    yield f'<p class="answer">{_text(sheet.answer)}</p><p class="faint">{_text(sheet.kind)}</p><div class="beside">'
    if illustration is not None and illustration.photograph is not None:
        yield _photo(illustration.photograph, "26rem")
    yield "<table>"
    for one in sheet.dimensions:
        yield f'<tr><td>{_text(one.words)}</td><td class="value">{_text(one.value)}</td><td>{_text(one.rest)}</td></tr>'
    yield "</table></div>"
    if illustration is not None and illustration.figure is not None:
        figure = illustration.figure
        if isinstance(figure, RidgeView):
            yield svg_of(ridge_figure(figure, _FIGURE_SIZE, spoken), word(_FIGURE))
        else:
            yield f'<img class="figure" alt="{word(_FIGURE_OF_HOLE)}" src="{_inlined(figure)}">'
    yield from _identity(sheet, spoken)
    for heading, lines in (
        ("How large it is", sheet.hole),
        ("Screws tried in it", sheet.trials),
        ("What to make it with", sheet.dies),
        ("Checked", sheet.checks),
        ("Replacements made", sheet.replacements),
        ("Notes", sheet.notes),
        ("Behind these numbers", sheet.behind),
    ):
        if lines:
            yield f"<h3>{word(heading)}</h3>"
            yield from _lines(lines)
    remarks = () if illustration is None else tuple(map(spoken.say, illustration.remarks))
    for line in (*(f"{word('Warning')}: {warning}" for warning in (*sheet.warnings, *remarks)), *sheet.footnotes):
        yield f'<p class="faint">{_text(line)}</p>'
    yield "</article>"


def _identity(sheet: Sheet, spoken: Spoken) -> Iterator[str]:
    word = spoken.word
    if sheet.groups:
        yield f"<h3>{word('Which thread it is')}</h3><table>"
        for group in sheet.groups:
            share = 100 * min(max(group.probability, 0.0), 1.0)
            told = f'<br><span class="faint">{word("told apart by")} {_text("; ".join(group.told_apart_by))}</span>'
            yield (
                f'<tr><td><span class="bar"><i style="width:{share:.1f}%"></i></span></td><td>{_text(group.chance)}'
                f"</td><td><b>{_text(group.names)}</b>{told if group.told_apart_by else ''}</td></tr>"
            )
        yield "</table>"
    yield from _lines(sheet.identity_notes)
    if sheet.candidates:
        heads = ("candidate", "probability", "by measurement", "origin and year", "if so, the part is")
        yield f'<table class="faint"><tr>{"".join(f"<th>{word(head)}</th>" for head in heads)}</tr>'
        for one in sheet.candidates:
            words = (one.name, one.chance, one.by_measurement, one.says, one.condition)
            yield f"<tr>{''.join(f'<td>{_text(word)}</td>' for word in words)}</tr>"
        yield "</table>"


def _photo(photograph: Photograph, width: str, *, detailed: bool = True) -> str:
    drawn = [
        f'<polyline points="{_points(edge)}" fill="none" stroke="{colour}" stroke-width="{wide}"/>'
        for colour, wide in (("white", 4), ("#0072B2", 2))
        for edge in photograph.edges
    ]
    for one in placed(photograph.dimensions, photograph.width, detailed=detailed, inches=photograph.inches):
        drawn += [
            f'<polyline points="{_points(line)}" fill="none" stroke="{colour}" stroke-width="{wide * one.size:.1f}"/>'
            for colour, wide in (("white", 0.2), ("black", 0.06))
            for line in one.lines
        ]
        drawn += [f'<polygon points="{_points(head)}"/>' for head in one.heads]
        x, y = one.text_at
        turned = f' text-anchor="middle" transform="rotate({-one.angle:.1f} {x:.1f} {y:.1f})"'
        drawn.append(_svg_text(one.text, x, y, one.size, turned))
    if photograph.rule is not None:
        (length, words), size = photograph.rule, photograph.width * (LARGE if detailed else SMALL)
        x, y = size, photograph.height - size
        drawn.append(f'<path d="M{x:.1f} {y:.1f}h{length:.1f}" stroke="black" stroke-width="{0.3 * size:.1f}"/>')
        drawn.append(_svg_text(words, x, y - size, size))
    return (
        f'<span class="photo" style="width:{width}"><img alt="The part, with the fitted outline and its dimensions" '
        f'src="{_inlined(photograph.content)}"><svg viewBox="0 0 {photograph.width} {photograph.height}">'
        f"{''.join(drawn)}</svg></span>"
    )


def _svg_text(text: str, x: float, y: float, size: float, more: str = "") -> str:
    """Text with its middle at the height ``y``, with a white edge: read on metal and on light."""
    place = f'x="{x:.1f}" y="{y + 0.36 * size:.1f}" font-size="{size:.1f}"'
    edge = f' stroke="white" stroke-width="{0.3 * size:.1f}"'
    return "".join(f"<text {place}{look}{more}>{_text(text)}</text>" for look in (edge, ""))


def _points(line: Array) -> str:
    return " ".join(f"{x:.1f},{y:.1f}" for x, y in line)


def _lines(lines: Sequence[str]) -> Iterator[str]:
    for line in lines:
        yield f"<p>{_text(line)}</p>"


def _inlined(content: bytes) -> str:
    return f"data:image/jpeg;base64,{b64encode(content).decode('ascii')}"


def _text(text: str) -> str:
    """``text`` for HTML; control characters, which it may not hold, as their codes."""
    shown = "".join(c if c.isprintable() or c == "\n" else f"[U+{ord(c):04X}]" for c in text)
    return escape(shown)
