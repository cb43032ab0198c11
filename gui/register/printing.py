"""The report of a job as a file, as pages on the screen and on paper, each a plain call for a worker."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from threading import Lock
from typing import TYPE_CHECKING

import numpy as np
from PySide6.QtGui import QPainter
from PySide6.QtPrintSupport import QPrinter

from gui.levels import Bytes
from gui.picture_view import image_of
from gui.register.deeds import opened

if TYPE_CHECKING:
    from records.report.printed import Printed

_ONE = Lock()
"""Reports are drawn with settings of the whole process, and so are their pages: one at a time."""

Report = Callable[[float], None]


def printed(file: str | None, job: int, kind: str, paper: str, *, inches: bool) -> Printed:
    """The report of a job: "pdf" or "html". Raises RefusalError."""
    from records.report.printed import print_job

    with _ONE:
        return print_job(opened(file), job, kind, paper=paper, inches=inches)


def saved(file: str | None, job: int, target: Path, paper: str, *, inches: bool) -> Printed:
    """Write the report to ``target``, HTML where its ending says so. Raises RefusalError, OSError."""
    from threads.shared.whole_file import write_whole

    kind = "html" if target.suffix.lower() in (".html", ".htm") else "pdf"
    made = printed(file, job, kind, paper, inches=inches)
    write_whole(target, made.content)
    return made


def pages(file: str | None, job: int, paper: str, *, inches: bool, dots_per_inch: float, report: Report) -> list[Bytes]:
    """The pages of the report of a job as pictures (height, width, 3) BGR."""
    content = printed(file, job, "pdf", paper, inches=inches).content
    with _ONE:
        return list(_drawn(content, dots_per_inch, report))


def put_on_paper(
    file: str | None, job: int, paper: str, printer: QPrinter, *, inches: bool, dots_per_inch: float, report: Report
) -> int:
    """Print the report page by page, so that one page at a time is held; returns how many there were."""
    content = printed(file, job, "pdf", paper, inches=inches).content
    count = 0
    painter = QPainter(printer)
    try:
        with _ONE:
            for sheet in _drawn(content, dots_per_inch, report):
                if count:
                    printer.newPage()
                painter.drawImage(painter.viewport(), image_of(sheet))
                count += 1
    except BaseException:
        printer.abort()
        raise
    finally:
        painter.end()
    return count


def _drawn(content: bytes, dots_per_inch: float, report: Report) -> Iterator[Bytes]:
    import pypdfium2

    document = pypdfium2.PdfDocument(content)
    try:
        for number, page in enumerate(document):
            report(number / len(document))
            drawn = page.render(scale=dots_per_inch / 72, rev_byteorder=False).to_numpy()
            yield np.ascontiguousarray(drawn[..., :3])
    finally:
        document.close()
