"""The workshop's own series: kept as CSV files in the user's data folder, one file a series, never in the package.

They stand beside the built-in ones in everything that ``series.entries`` reaches. A file there that cannot be read
stops whatever needs the series with one line that names the file and the fault: to leave a series out silently would be
to answer without a thread that the person counts on.
"""

from __future__ import annotations

import os
import tempfile
from functools import cache
from pathlib import Path

from threads.own.own_row import Fault
from threads.own.own_table import OwnSeries, OwnTableError, read_table
from threads.shared.data_folder import data_folder
from threads.standards import own_names, trade_names
from threads.standards.series import Edition, UnknownSeriesError, builtin_names, edition

FOLDER = "series"
RESERVED = ("add", "remove", "show", "all")
"""Words of the command line that cannot be names."""


class BrokenOwnSeriesError(ValueError):
    """A file of an own series that cannot be read. The message is one line and says what to do."""

    def __init__(self, path: Path, reason: str) -> None:
        self.path = path
        super().__init__(
            f"the own series in {path} cannot be read: {reason}; mend the file, or take it out with "
            f"'flankwise series remove {path.stem}'"
        )


class BuiltInSeriesError(ValueError):
    """A built-in series was to be removed."""

    def __init__(self, name: str) -> None:
        super().__init__(f"{name} is built in: only the workshop's own series can be removed")


def folder() -> Path:
    """Where the files are; it need not exist yet."""
    return data_folder() / FOLDER


def path_of(name: str) -> Path:
    """The file of the own series called ``name``."""
    return folder() / f"{name.lower()}.csv"


def own_series() -> tuple[OwnSeries, ...]:
    """All own series, by name. Raises BrokenOwnSeriesError."""
    return _loaded(edition())


def add(content: bytes, *, replace: bool = False) -> OwnSeries:
    """Check the bytes of a CSV file (``own_table``) and keep it; all of it or nothing.

    With ``replace`` an own series of the same name is replaced.

    Raises:
        OwnTableError: the table is not in order, or its names clash with those of other series.
        BrokenOwnSeriesError: another file in the folder cannot be read.
        OSError: the folder cannot be written to.
    """
    new = read_table(content)
    name = new.info.name
    clash = _name_clash(name)
    if not clash and not replace and any(own.info.name.lower() == name.lower() for own in own_series()):
        clash = "is one of your own series already: choose another name, or replace it with --replace"
    if clash:
        raise OwnTableError(Fault(f"{name!r} {clash}", column="series"))
    faults = _designation_clashes(new)
    if faults:
        raise OwnTableError(*faults)
    _write(path_of(name), content)
    return new


def remove(name: str) -> Path:
    """Delete the file of an own series, also of one that cannot be read, and return its path.

    Raises:
        BuiltInSeriesError, threads.standards.series.UnknownSeriesError: the name is not that of an own series.
        OSError: the file cannot be deleted.
    """
    path = path_of(name.strip())
    if path.parent != folder() or not path.is_file():
        if name.strip().lower() in (known.lower() for known in builtin_names()):
            raise BuiltInSeriesError(name.strip())
        raise UnknownSeriesError(name)
    path.unlink()
    return path


@cache
def _loaded(files: Edition) -> tuple[OwnSeries, ...]:
    return tuple(_read(Path(name)) for name, *_ in files)


def _read(path: Path) -> OwnSeries:
    try:
        own = read_table(path.read_bytes())
    except OSError as error:
        raise BrokenOwnSeriesError(path, error.strerror or "it cannot be opened") from error
    except OwnTableError as error:
        more = f" (and {len(error.faults) - 1} more)" if len(error.faults) > 1 else ""
        raise BrokenOwnSeriesError(path, f"{error.faults[0]}{more}") from error
    clash = _name_clash(own.info.name)
    if clash:
        raise BrokenOwnSeriesError(path, f"its name {own.info.name!r} {clash}")
    if path_of(own.info.name).name != path.name:
        raise BrokenOwnSeriesError(path, f"its series is called {own.info.name!r}, but its file is not")
    return own


def _name_clash(name: str) -> str | None:
    """Why a series cannot be called so."""
    folded = name.lower()
    taken = {"".join(known.split()).lower() for known in (*builtin_names(), *trade_names.ALIASES, *trade_names.SERIES)}
    if folded in taken:
        return "is the name of a built-in series: choose another"
    return "is a word of the command line: choose another" if folded in RESERVED else None


def _designation_clashes(new: OwnSeries) -> list[Fault]:
    """Threads whose designation a standard has, or that would be written alike."""
    from threads.standards.designation import reads_as_standard

    faults: list[Fault] = []
    seen: dict[str, str] = {}
    others = {own_names.compact(text) for own in own_series() if own.info.name.lower() != new.info.name.lower()
              for entry in own.entries for text, *_ in own_names.spellings(entry)}  # fmt: skip
    for entry in new.entries:
        for spelling, thread_class, nut in own_names.spellings(entry):
            where = f"{entry.size} {entry.series} {thread_class or ''} {'nut' if nut else ''}"
            text = " ".join(where.split())
            if reads_as_standard(spelling):
                faults.append(Fault(f"{text!r} is written as a thread of a built-in series is", column="series"))
            other = seen.setdefault(spelling, text)
            if other != text or spelling in others:
                faults.append(Fault(f"{text!r} is written like another thread: choose other names", column="size"))
    return list(dict.fromkeys(faults))


def _write(path: Path, content: bytes) -> None:
    """Write all or nothing: into a file beside it, which then takes its place."""
    path.parent.mkdir(parents=True, exist_ok=True)
    descriptor, name = tempfile.mkstemp(dir=path.parent, suffix=".tmp")
    try:
        with os.fdopen(descriptor, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        Path(name).replace(path)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise
