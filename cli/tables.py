"""What a person reads: paragraphs and tables, laid out for the columns there are. No number, unit or word is ever cut.

A table that does not fit even with its texts wrapped is printed as records: each row under its name.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from cli.characters import columns_of, is_wide

UNVERIFIED_MARK = "†"
"""Set behind everything that rests on a table row from memory."""

GAPS = (3, 2)
"""Columns between two columns of a table; the smaller where it does not fit otherwise."""

NARROWEST_TEXT = 14
"""A column of text is not made narrower than this: it is hard to read then."""

TALLEST_ROW = 4
"""Lines of one row from which the lines of a record are easier to read than the table."""

MOST_LINED = 2
"""Cells of a record that stand in lines of their own; more of them follow each other, with semicolons."""

_UNIT = r"(?:mm|µm|um|in|px|deg|%|°)(?![\w])|(?:µm|um)/mm"
_TOGETHER = re.compile(
    rf"(?<=\d) +(?={_UNIT})|(?<=[\d%°]) (?=± |\+/- )|(?<=±) (?=\d)|(?<=\+/-) (?=\d)"
    "|(?<=under) (?=1 %)|(?<=over) (?=99 %)"
)
"""The spaces within a number with its U95 and its unit."""
_GLUE = "\0"


@dataclass(frozen=True)
class Paragraph:
    """A text that is wrapped; ``first`` stands before it, the following lines begin under the text."""

    text: str
    first: str = ""


@dataclass
class Table:
    """A head, a rule, rows; a row may have fewer cells than the head.

    Columns in ``right`` are set to the right, the cells of those in ``whole`` are never wrapped. Cells of the shape
    "value ± U95 unit" are set with their ± under each other.
    """

    heads: tuple[str, ...]
    right: frozenset[int]
    whole: frozenset[int]
    rows: list[tuple[str, ...]] = field(default_factory=list)

    def add_row(self, *cells: str) -> None:
        """Add a row; cells that are left out at its end are empty."""
        self.rows.append((*cells, *[""] * (len(self.heads) - len(cells))))


Block = str | Paragraph | Table


def plain_table(*columns: str, right: Sequence[str] = (), whole: Sequence[str] = ()) -> Table:
    """An empty table with these heads; ``right`` and ``whole`` name columns by their heads."""
    return Table(
        columns,
        frozenset(i for i, name in enumerate(columns) if name in right),
        frozenset(i for i, name in enumerate(columns) if name in whole),
    )


def side_by_side(left: str, right: str) -> Paragraph:
    """``left`` in one line, ``right`` beside it as a paragraph of its own."""
    return Paragraph(right, f"{left}  ")


def indented(text: str, columns: int) -> Paragraph:
    """``text`` as a paragraph, all its lines ``columns`` to the right."""
    return Paragraph(text, " " * columns)


def unverified_note(what: str) -> str:
    """The footnote of the mark: ``what`` is from memory."""
    return f"{UNVERIFIED_MARK} {what}: from memory, unverified; not checked against the printed standard"


def source_lines(source: str, *, unverified: bool) -> list[str]:
    """Where the numbers come from, one source a line, the footnote of the mark first where it is called for."""
    sources = [part.strip() for part in source.split("; ") if part.strip()]
    note = [unverified_note("limits or sizes")] if unverified else []
    return [*note, "Sources:", *(f"  {part}" for part in dict.fromkeys(sources))]


def laid_out(part: Block, width: int) -> list[str]:
    """The lines of ``part`` in ``width`` columns; only a single word that is longer passes them."""
    if isinstance(part, Table):
        return _table_lines(part, width)
    if isinstance(part, Paragraph):
        if 2 * columns_of(part.first) > width and part.first.strip():
            return _hanging(part.first + part.text, width)
        return wrapped(part.text, width, part.first)
    return _hanging(part, width)


def wrapped(text: str, width: int, first: str = "", following: str | None = None) -> list[str]:
    """``text`` broken between words, never within a number with its unit; ``following`` begins all lines but one."""
    following = " " * columns_of(first) if following is None else following
    lines, line, gap = [], first, ""
    empty = True
    for word, space in _words(text, width - columns_of(following)):
        if not empty and columns_of(line) + len(gap) + columns_of(word) > width:
            lines.append(line)
            line, empty = following, True
        line += word if empty else gap + word
        gap, empty = space, False
    return [line.rstrip() for line in [*lines, line]]


def _words(text: str, width: int) -> Iterator[tuple[str, str]]:
    """The pieces that stay whole, each with the space that follows it."""
    glued = _TOGETHER.sub(lambda found: _GLUE * len(found[0]), text)
    for word, space in re.findall(r"(\S+|^)(\s*)", glued):
        whole = word.replace(_GLUE, " ")
        if columns_of(whole) > width and any(map(is_wide, whole)):
            yield from ((character, "") for character in whole[:-1])
            whole = whole[-1]
        yield whole, space


def _hanging(text: str, width: int) -> list[str]:
    """A line of text; where it is wrapped, what follows stands under the text behind its bullet or its heading."""
    lead = re.match(r" *(?:[-†] |\S.*?  +(?=\S))?", text)
    hang = 0 if lead is None else lead.end()
    if 3 * hang > width or hang + _longest_word(text[hang:]) > width:
        hang = len(text) - len(text.lstrip(" "))
    return wrapped(text[hang:], width, text[:hang], " " * hang)


def _table_lines(table: Table, width: int) -> list[str]:
    columns = [_aligned([row[i] for row in table.rows]) for i in range(len(table.heads))]
    for gap in GAPS:
        widths = _widths(table, columns, width - gap * (len(columns) - 1))
        if widths is None:
            continue
        head, *rows = (_row_lines(cells, widths, table, gap) for cells in (table.heads, *zip(*columns, strict=True)))
        if max(map(len, rows), default=0) <= TALLEST_ROW:
            rule = "─" * (sum(widths) + gap * (len(widths) - 1))
            return [*([*head, rule] if any(table.heads) else []), *(line for row in rows for line in row)]
    return _record_lines(table, width)


def _aligned(column: Sequence[str]) -> list[str]:
    """Cells "value ± U95 unit" with their values set to the right, so that the ± stand under each other."""
    values = [cell.partition(" ± ")[0] for cell in column if " ± " in cell]
    widest = max(map(columns_of, values), default=0)
    return [" " * (widest - columns_of(cell.partition(" ± ")[0])) + cell if " ± " in cell else cell for cell in column]


def _longest_word(text: str) -> int:
    return max((columns_of(word) for word, _ in _words(text.strip(), 0)), default=0)


def _widths(table: Table, columns: Sequence[Sequence[str]], room: int) -> list[int] | None:
    """The width of each column, the widest texts made narrower until all fit; None where they cannot."""
    widths, floors = [], []
    for i, (head, cells) in enumerate(zip(table.heads, columns, strict=True)):
        natural = max(map(columns_of, cells), default=0)
        widths.append(max(natural, columns_of(head)))
        words = max([_longest_word(head), *map(_longest_word, cells)])
        is_text = i not in table.whole and i not in table.right
        floors.append(max(words, min(natural, NARROWEST_TEXT)) if is_text else max(natural, _longest_word(head)))
    while sum(widths) > room:
        slack = [w if w > floor else -1 for w, floor in zip(widths, floors, strict=True)]
        if max(slack) < 0:
            return None
        widths[slack.index(max(slack))] -= 1
    return widths


def _row_lines(cells: Sequence[str], widths: Sequence[int], table: Table, gap: int) -> list[str]:
    """The lines of one row."""
    blocks = [
        [cell] if columns_of(cell) <= width else wrapped(cell.strip(), width)
        for cell, width in zip(cells, widths, strict=True)
    ]
    lines = []
    for n in range(max(map(len, blocks))):
        row = []
        for i, (block, width) in enumerate(zip(blocks, widths, strict=True)):
            text = block[n] if n < len(block) else ""
            fill = " " * (width - columns_of(text))
            row.append(fill + text if i in table.right else text + fill)
        lines.append((" " * gap).join(row).rstrip())
    return lines


def _record_lines(table: Table, width: int) -> list[str]:
    """Each row by its name, with each of its cells behind the head of its column."""
    title, *heads = table.heads
    numbered = all(name.isdecimal() for name, *_ in table.rows)
    lines = [] if numbered or not title else [title, "─" * columns_of(title)]
    for name, *cells in table.rows:
        there = [(head, cell.strip()) for head, cell in zip(heads, cells, strict=True) if cell.strip()]
        fields = [f"{head}  {cell}".strip() for head, cell in there]
        named = f"{title} {name.strip()}" if numbered else name
        if named and len(fields) == 1 and columns_of(f"{named}  {fields[0]}") <= width:
            lines.append(f"{named}  {fields[0]}")
            continue
        if named and len(fields) > MOST_LINED:
            run_in = "; ".join(f"{head}{_GLUE}{cell}".strip(_GLUE) for head, cell in there)
            lines += wrapped(f"{named}: {run_in}", width, "", "    ")
            continue
        lines += wrapped(named, width, "", "    ") if named else []
        for one in fields:
            lines += wrapped(one, width, "  ", "    ")
    return lines
