"""Tables for a person, and the notes that go under them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from rich.padding import Padding
    from rich.table import Table

UNVERIFIED_MARK = "†"
"""Set behind everything that rests on a table row from memory."""

CAUTION = (
    "Where a thread carries load, pressure or people, do not rely on this: have it checked with gauges by someone "
    "qualified."
)


def plain_table(*columns: str, right: tuple[str, ...] = (), whole: tuple[str, ...] = ()) -> Table:
    """An empty table without a frame: a head, a rule, rows.

    Columns named in ``right`` are set to the right, the cells of those named in ``whole`` are never broken.
    """
    from rich import box
    from rich.table import Table

    table = Table(box=box.SIMPLE_HEAD, pad_edge=False, show_edge=False, header_style="bold")
    for column in columns:
        justify: Literal["left", "right"] = "right" if column in right else "left"
        table.add_column(column, justify=justify, overflow="fold", no_wrap=column in whole)
    return table


def side_by_side(left: str, right: str) -> Table:
    """``left`` in one line, ``right`` beside it as a paragraph of its own."""
    from rich.table import Table

    grid = Table.grid(padding=(0, 2))
    grid.add_column(no_wrap=True)
    grid.add_column()
    grid.add_row(left, right)
    return grid


def indented(text: str, columns: int) -> Padding:
    """``text`` as a paragraph, all its lines ``columns`` to the right."""
    from rich.padding import Padding
    from rich.text import Text

    return Padding(Text(text), (0, 0, 0, columns))


def unverified_note(what: str) -> str:
    """The footnote of the mark: ``what`` is from memory."""
    return f"{UNVERIFIED_MARK} {what}: from memory, unverified; not checked against the printed standard"


def source_lines(source: str, *, unverified: bool) -> list[str]:
    """Where the numbers come from, one source a line, the footnote of the mark first where it is called for."""
    sources = [part.strip() for part in source.split("; ") if part.strip()]
    note = [unverified_note("limits or sizes")] if unverified else []
    return [*note, "Sources:", *(f"  {part}" for part in dict.fromkeys(sources))]
