"""A paper as a file, as pages on the screen and on the printer, each a plain call for a worker."""

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
    from records.papers import Wanted
    from records.report.printed import Printed
    from records.report.spoken import Spoken

_ONE = Lock()
"""Papers are drawn with settings of the whole process, and so are their pages: one at a time."""

Report = Callable[[float], None]


def printed(file: str | None, wanted: Wanted, spoken: Spoken, report: Report, kind: str = "pdf") -> Printed:
    """The paper as a file of ``kind``. Raises RefusalError."""
    from records.papers import paper_printed

    with _ONE:
        return paper_printed(opened(file), wanted, spoken, kind, report)


def saved(file: str | None, wanted: Wanted, spoken: Spoken, target: Path, *, report: Report) -> Printed:
    """Write the paper to ``target``, of the kind that its ending says where the paper has it, else as PDF.

    Raises RefusalError, OSError.
    """
    from records.papers import ALSO_AS
    from threads.shared.whole_file import write_whole

    ending = target.suffix.lower().removeprefix(".")
    ending = "html" if ending == "htm" else ending
    kind = ending if ending in ALSO_AS.get(wanted.what, ()) else "pdf"
    made = printed(file, wanted, spoken, report, kind)
    write_whole(target, made.content)
    return made


def pages(file: str | None, wanted: Wanted, spoken: Spoken, *, dots_per_inch: float, report: Report) -> list[Bytes]:
    """The pages of the paper as pictures (height, width, 3) BGR."""
    content = printed(file, wanted, spoken, report).content
    with _ONE:
        return list(_drawn(content, dots_per_inch, report))


def put_on_paper(
    file: str | None, wanted: Wanted, spoken: Spoken, printer: QPrinter, *, dots_per_inch: float, report: Report
) -> int:
    """Print the paper page by page, so that one page at a time is held; returns how many there were."""
    content = printed(file, wanted, spoken, report).content
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
