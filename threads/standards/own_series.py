"""The workshop's own series taken in and taken out again.

They stand beside the built-in ones in everything that ``series.entries`` reaches.
"""

from __future__ import annotations

from pathlib import Path

from threads.own.own_files import name_clash, own_series
from threads.own.own_folder import folder, path_of
from threads.own.own_row import Fault
from threads.own.own_table import OwnSeries, OwnTableError, read_table
from threads.rules.series_tables import builtin_names
from threads.shared import in_place
from threads.shared.refusal import Reason, ReasonedError
from threads.shared.whole_file import write_whole
from threads.standards import own_names
from threads.standards.designation import reads_as_standard
from threads.standards.series import UnknownSeriesError


class BuiltInSeriesError(ReasonedError, ValueError):
    """A built-in series was to be removed."""

    def __init__(self, name: str) -> None:
        super().__init__("built_in_series", name=name)


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
    clash = name_clash(name)
    if not clash and not replace and any(own.info.name.lower() == name.lower() for own in own_series()):
        clash = Reason("own_name.taken", name=name)
    if clash:
        raise OwnTableError(Fault(clash, column="series"))
    faults = _designation_clashes(new)
    if faults:
        raise OwnTableError(*faults)
    folder().mkdir(parents=True, exist_ok=True)
    write_whole(path_of(name), content)
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
    in_place.remove(path)
    return path


def _designation_clashes(new: OwnSeries) -> list[Fault]:
    """Threads whose designation a standard has, or that would be written alike."""
    faults: list[Fault] = []
    seen: dict[str, str] = {}
    others = {own_names.compact(text) for own in own_series() if own.info.name.lower() != new.info.name.lower()
              for entry in own.entries for text, *_ in own_names.spellings(entry)}  # fmt: skip
    for entry in new.entries:
        for spelling, thread_class, nut in own_names.spellings(entry):
            where = f"{entry.size} {entry.series} {thread_class or ''} {'nut' if nut else ''}"
            text = " ".join(where.split())
            if reads_as_standard(spelling):
                faults.append(Fault(Reason("own_name.like_built_in", text=text), column="series"))
            other = seen.setdefault(spelling, text)
            if other != text or spelling in others:
                faults.append(Fault(Reason("own_name.like_another", text=text), column="size"))
    return list(dict.fromkeys(faults))
