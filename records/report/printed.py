"""A job as the content of a file: to be written, or to be looked at before."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from records.register import Register
from records.report.gather import gather
from records.report.html import report_html
from records.report.pdf import PAPERS, figure_size, report_pdf, words_of
from records.report.spoken import Spoken
from records.report.typefaces import load_types

KINDS = ("pdf", "html")

_OF_PICTURES = 0.6
"""Share of the work that goes into the pictures of many parts; the rest into their pages."""


@dataclass(frozen=True)
class Printed:
    """A job as a file.

    Attributes:
        content: of the file; HTML in UTF-8.
        job: its name.
        parts: how many it has. ``measured``: how many of them are.
        missing: letters that no type of this machine has and that are printed as their codes.
    """

    content: bytes
    job: str
    parts: int
    measured: int
    missing: str = ""


def print_job(
    register: Register,
    job: int,
    kind: str = "pdf",
    *,
    paper: str = "a4",
    inches: bool = False,
    language: str = "en",
    processes: int | None = None,
    part: int | None = None,
    reached: Callable[[float], None] = lambda _: None,
) -> Printed:
    """The job with this id as one of ``KINDS``, on one of ``PAPERS``, in "en" or "de".

    ``part``: the sheet of this part alone, such as a hole. Its pictures are made in ``processes`` (one a core if
    None); ``reached`` is told the share of the work that is done. It may be called from any thread; two at once would
    draw into each other's figures.

    Raises:
        RefusalError: empty_job, and what reading raises.
        ValueError: another kind or paper.
    """
    if kind not in KINDS or paper not in PAPERS:
        raise ValueError(f"{kind} on {paper}: a job is printed as one of {KINDS} on one of {tuple(PAPERS)}")
    spoken = Spoken(language, inches)
    found = gather(
        register,
        job,
        spoken,
        figure_size=figure_size(paper),
        jobs=processes,
        part=part,
        reached=lambda share: reached(_OF_PICTURES * share),
    )
    types = load_types(words_of(found))
    content = report_pdf(found, paper, types) if kind == "pdf" else report_html(found)
    measured = sum(bool(sheet.dimensions) for sheet in found.sheets)
    missing = "".join(chr(code) for code in sorted(types.nowhere))
    return Printed(content, found.job, len(found.sheets), measured, missing)
