"""The file of results: one row a picture, appended and forced to the disk, so that a kill costs no row that is there.

A row is one line. A line that a kill left without its end, or the last one if it does not have all its cells, is cut
off when the file is opened again. While it is open nobody else can append to it.
"""

from __future__ import annotations

import csv
import errno
import os
import stat
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

from records.batch.columns import MEASURED
from records.cells import csv_line
from records.locked import locked
from threads.shared.file_name import plain_name
from threads.shared.refusal import RefusalError

_MOST_LINE = 1_000_000


@dataclass
class Results:
    """An open file of results.

    Attributes:
        path: where it is. ``descriptor``: of the open file.
        length: bytes up to the end of the last whole row.
        known: name of a picture -> the hashes under which it is there with the calibration and settings of this run.
        measured, unmeasured: how many rows there are of measured pictures, and of others.
        repaired: bytes of a broken last row that were cut off.
    """

    path: Path
    descriptor: int
    length: int = 0
    known: dict[str, tuple[str, ...]] = field(default_factory=dict)
    measured: int = 0
    unmeasured: int = 0
    repaired: int = 0

    def append(self, cells: Sequence[str]) -> None:
        """Add a row and force it to the disk.

        Raises RefusalError (disk_full, results_not_written); then no part of the row stays.
        """
        line = csv_line(cells)
        try:
            written = 0
            while written < len(line):
                written += os.write(self.descriptor, line[written:])
            os.fsync(self.descriptor)
        except OSError as error:
            os.ftruncate(self.descriptor, self.length)
            raise _not_written(self.path, error) from error
        self.length += len(line)


@contextmanager
def open_results(path: Path, head: Sequence[str], calibration: str, settings: str) -> Iterator[Results]:
    """Open the file of results at ``path`` to append, making it where there is none, repairing a broken last row.

    Args:
        path: the file.
        head: names of the columns.
        calibration: as it stands in the rows of this run.
        settings: likewise.

    Raises:
        RefusalError: results_not_written, disk_full; results_in_use (another run has it open); results_foreign (not a
            file of results, or one with other columns); results_otherwise (rows of another calibration or of other
            options); results_altered (a row within it was changed).
    """
    try:
        flags = os.O_RDWR | os.O_CREAT | os.O_APPEND | getattr(os, "O_BINARY", 0) | getattr(os, "O_NONBLOCK", 0)
        descriptor = os.open(path, flags, 0o666)
    except (OSError, ValueError) as error:
        raise _not_written(path, error) from error
    try:
        if not stat.S_ISREG(os.fstat(descriptor).st_mode):
            raise RefusalError("results_not_written.not_a_file", path=plain_name(path))
        if not locked(descriptor):
            raise RefusalError("results_in_use", path=plain_name(path))
        results = Results(path, descriptor)
        _read(results, list(head), calibration, settings)
        if results.repaired:
            os.ftruncate(descriptor, results.length)
        if not results.length:
            results.append(head)
        yield results
    finally:
        os.close(descriptor)


def _read(results: Results, head: list[str], calibration: str, settings: str) -> None:
    """Read the rows that are there; find where the last whole one ends. Nothing is written."""
    place = {name: index for index, name in enumerate(head)}
    size = os.fstat(results.descriptor).st_size
    damaged = 0
    with open(os.dup(results.descriptor), "rb") as file:  # noqa: PTH123 - the file that is locked, not its name
        file.seek(0)
        number = 0
        while line := file.readline(_MOST_LINE):
            number += 1
            whole = line.endswith(b"\n")
            row = _row(line) if whole else None
            if number == 1 and row != head:
                if whole or not csv_line(head).startswith(line):
                    raise _foreign(results.path, row)
                break
            if not whole:
                break
            if damaged:
                raise RefusalError("results_altered", line=damaged, path=plain_name(results.path))
            if row is None or len(row) != len(head):
                damaged = number
                continue
            results.length += len(line)
            if number == 1:
                continue
            if row[place["calibration"]] != calibration or row[place["settings"]] != settings:
                raise _otherwise(results.path, number, row[place["calibration"]], calibration)
            name, sha256 = row[place["picture"]], row[place["sha256"]]
            measured = row[place["status"]] == MEASURED
            if sha256:
                results.known[name] = (*results.known.get(name, ()), sha256)
            results.measured += measured
            results.unmeasured += not measured
    results.repaired = size - results.length


def _otherwise(path: Path, line: int, before: str, now: str) -> RefusalError:
    """A file whose rows are of another run: what is compared row by row must have been measured alike."""
    name = plain_name(path)
    if before != now:
        return RefusalError("results_otherwise.calibration", line=line, path=name, before=before, now=now)
    return RefusalError("results_otherwise.options", line=line, path=name)


def _row(line: bytes) -> list[str] | None:
    """The cells of a line, None where it is none of a CSV file."""
    try:
        rows = list(csv.reader([line.decode("utf-8").rstrip("\r\n")], strict=True))
    except (UnicodeDecodeError, csv.Error):
        return None
    return rows[0] if len(rows) == 1 else None


def _foreign(path: Path, row: list[str] | None) -> RefusalError:
    name = plain_name(path)
    if row is not None and row[:2] == ["picture", "sha256"]:
        return RefusalError("results_foreign.columns", name=name)
    return RefusalError("results_foreign.file", name=name)


def _not_written(path: Path, error: OSError | ValueError) -> RefusalError:
    if isinstance(error, OSError) and error.errno in (errno.ENOSPC, errno.EDQUOT, errno.EFBIG):
        return RefusalError("disk_full.results", path=plain_name(path))
    why = getattr(error, "strerror", None) or "not a usable path"
    return RefusalError("results_not_written", path=ascii(str(path)), why=why)
