"""Every paper there is, by its name: what a window prints, previews and saves."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from records.letterhead import letterhead
from records.listing import Conditions, page_of_parts
from records.register import Register
from records.report.label_page import SLIP_MM, LabelSheet, label_sheets_pdf, labels_pdf
from records.report.printed import Printed, print_job
from records.report.spoken import Spoken

JOB, PART, LABELS, DRAWING, MAP, INSTRUMENT, TRAY, DIES = (
    "job", "part", "labels", "drawing", "map", "instrument", "tray", "dies",
)  # fmt: skip
OF = {
    JOB: (JOB,), PART: (PART,), LABELS: (PART, JOB, INSTRUMENT), DRAWING: (PART,), MAP: (INSTRUMENT,),
    INSTRUMENT: (INSTRUMENT,), TRAY: (PART,), DIES: (DIES,),
}  # fmt: skip
"""What each of them may be about."""
ALSO_AS = {JOB: ("pdf", "html"), PART: ("pdf", "html"), DRAWING: ("pdf", "dxf")}
"""Other kinds of file than PDF, for those that have one."""

_MOST = 2000


@dataclass(frozen=True)
class Wanted:
    """A paper. ``what``: one of those above; ``of`` and ``key``: about which part, job or instrument.

    ``sheet``: of labels, None for one a page of ``size_mm``; ``first``: as in ``label_sheets_pdf``. ``hole``: the tried
    hole that a drawing is made to fit.
    """

    what: str
    of: str = JOB
    key: int = 0
    paper: str = "a4"
    sheet: LabelSheet | None = None
    size_mm: tuple[float, float] = SLIP_MM
    first: int = 1
    hole: int | None = None


def paper_printed(
    register: Register,
    wanted: Wanted,
    spoken: Spoken,
    kind: str = "pdf",
    reached: Callable[[float], None] = lambda _: None,
) -> Printed:
    """The paper as a file of ``kind``; ``reached`` is told the share of a job that is done.

    Raises RefusalError as the maker of each.
    """
    key, paper = wanted.key, wanted.paper
    if wanted.what in (JOB, PART):
        part = key if wanted.what == PART else None
        return print_job(
            register, key, kind, paper=paper, inches=spoken.inches, language=spoken.language, part=part, reached=reached
        )
    if wanted.what == DRAWING:
        from records.workshop_drawing.filed import print_drawing

        return print_drawing(register, key, kind, spoken, paper=paper, hole=wanted.hole)
    if wanted.what == MAP:
        from records.report.map_sheet import print_map

        return print_map(register, key, spoken, paper=paper)
    if wanted.what == INSTRUMENT:
        from records.report.instrument_sheet import print_instrument

        return print_instrument(register, key, paper=paper, inches=spoken.inches, language=spoken.language)
    if wanted.what == TRAY:
        from records.report.tray_sheet import print_tray

        return print_tray(register, key, spoken, paper=paper)
    if wanted.what == DIES:
        return _dies(register, paper, spoken)
    return _labels(register, wanted, spoken)


def _dies(register: Register, paper: str, spoken: Spoken) -> Printed:
    from records.die_sheet import die_sheet
    from records.dies import states_on_file

    with register.reading() as connection:
        states = states_on_file(connection)
    content = die_sheet(states, spoken, paper=paper, head=letterhead(register))
    return Printed(content, spoken.word("Dies and taps"), len(states), len(states))


def _labels(register: Register, wanted: Wanted, spoken: Spoken) -> Printed:
    from records.labels import labels_of

    parts = [wanted.key]
    if wanted.of != PART:
        of = Conditions(job=wanted.key) if wanted.of == JOB else Conditions(instrument=wanted.key)
        with register.reading() as connection:
            parts = [line.id for line in page_of_parts(connection, of, most=_MOST).lines]
    labels = labels_of(register, parts, spoken)
    if wanted.sheet is None:
        content = labels_pdf(labels, size_mm=wanted.size_mm)
    else:
        content = label_sheets_pdf(labels, wanted.sheet, wanted.paper, first=wanted.first)
    return Printed(content, spoken.word("Labels"), len(labels), len(labels))


def tried_holes(register: Register) -> list[tuple[int, str]]:
    """The holes on file that drawings can be made to fit: number, and thread with the part's name or position."""
    with register.reading() as connection:
        found = connection.execute(
            "SELECT p.id, h.thread, ifnull(o.name, ifnull(p.name, '')) FROM holes h JOIN parts p ON p.id = h.part_id "
            "LEFT JOIN positions o ON o.id = p.position_id WHERE p.withdrawn = 0 AND EXISTS "
            "(SELECT 1 FROM trials t WHERE t.hole_id = h.id AND t.withdrawn = 0) ORDER BY p.id"
        ).fetchall()
    return [(int(part), f"{thread} {name}".strip()) for part, thread, name in found]
