"""How common each series is among the screws on a repairer's bench, before anything is measured.

One table (``data/commonness.csv``) holds two weights a series, with a reason: ``on_bench``, where nothing is known of
the instrument, and ``in_use``, where its country or year is known, so that origin and year (``provenance``) say where
and when, and the weight only how much the series was used there and then. All weights are common practice, no source.
A workshop changes them in a file of the same form in its data folder, and its register sharpens them: series found
there count as ``TABLE_COUNTS_AS`` screws against the table.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

from threads.own.own_folder import Edition, edition
from threads.rules.table import rows
from threads.shared.data_folder import data_folder
from threads.shared.whole_file import write_whole
from threads.standards.series import series_info

FILE_NAME = "commonness.csv"
OWN_SERIES = 60.0
"""``on_bench`` of a series that the workshop entered itself: as common there as the usual threads."""
UNLISTED = 0.5
"""``on_bench`` of a built-in series without a row: rare."""
TABLE_COUNTS_AS = 100.0
"""The table weighs as much as so many screws of the workshop's own register (workshop assumption)."""
MOST = 1000.0
"""Weights are relative; one above this is taken for a slip of the pen."""


class CommonnessError(ValueError):
    """A weight or a file of weights that cannot be used. The message is one line."""


@dataclass(frozen=True)
class Commonness:
    """Weight of a series. ``on_bench``, ``in_use``: relative, see the module. ``own``: the workshop set it."""

    series: str
    on_bench: float
    in_use: float
    reason: str
    own: bool = False


def commonness_of(series: str) -> Commonness:
    """The weight of a series. Raises UnknownSeriesError, CommonnessError (a damaged file of the workshop)."""
    return _weight(series, edition(), state())


@cache
def _weight(series: str, _edition: Edition, changed: tuple[str, int, int]) -> Commonness:
    info = series_info(series)
    own = _of_workshop(*changed)
    if info.name in own:
        return own[info.name]
    usual = OWN_SERIES if info.own else UNLISTED
    reason = "entered by the workshop" if info.own else "not in the table: rare"
    return _table().get(info.name) or Commonness(info.name, usual, 1.0 if info.own else 0.1, reason)


def weights_of(series: Iterable[str]) -> dict[str, Commonness]:
    """The weights of several series by their names. Raises as ``commonness_of``."""
    of_series, of_weights = edition(), state()  # looked at once: each look asks the disk
    return {name: _weight(name, of_series, of_weights) for name in series}


def shares(series: Sequence[str], *, known_origin: bool, on_file: Mapping[str, int] | None = None) -> dict[str, float]:
    """The share of each series among those named, summing to 1.

    Args:
        series: names.
        known_origin: country or year of the instrument are known.
        on_file: how many parts of each series are on file in the workshop; only used where the origin is not known.
    """
    weights = weights_of(series)
    share = {name: one.in_use if known_origin else one.on_bench for name, one in weights.items()}
    total = sum(share.values())
    if known_origin or not on_file:
        return {name: one / total for name, one in share.items()}
    counted = {name: on_file.get(name, 0) for name in series}
    whole = TABLE_COUNTS_AS + sum(counted.values())
    return {name: (TABLE_COUNTS_AS * one / total + counted[name]) / whole for name, one in share.items()}


def own_file() -> Path:
    """Where a workshop's own weights stand."""
    return data_folder() / FILE_NAME


def set_weight(series: str, on_bench: float, reason: str) -> Commonness:
    """Keep a weight of the workshop's own for a series, in place of the table's.

    Raises UnknownSeriesError, CommonnessError (a weight that cannot be), OSError.
    """
    if not 0 < on_bench <= MOST:
        raise CommonnessError(f"a weight of {on_bench:g} is not possible: give more than 0, at most {MOST:g}")
    now = commonness_of(series)
    path = own_file()
    kept = dict(_of_workshop(*_state(path)))
    kept[now.series] = replace(now, on_bench=on_bench, reason=" ".join(reason.split()), own=True)
    _write(path, kept)
    return kept[now.series]


def forget_weight(series: str) -> bool:
    """Go back to the table's weight; False where the workshop had none. Raises UnknownSeriesError, OSError."""
    name, path = series_info(series).name, own_file()
    kept = dict(_of_workshop(*_state(path)))
    if kept.pop(name, None) is None:
        return False
    _write(path, kept)
    return True


def _write(path: Path, kept: Mapping[str, Commonness]) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(("series", "on_bench", "in_use", "reason"))
    writer.writerows((one.series, f"{one.on_bench:g}", f"{one.in_use:g}", one.reason) for one in kept.values())
    write_whole(path, text.getvalue().encode())


@cache
def _table() -> dict[str, Commonness]:
    return {row["series"]: _row(row) for row in rows("commonness.csv")}


def state() -> tuple[str, int, int]:
    """State of the workshop's own weights on disk: a key for caches of what depends on them."""
    return _state(own_file())


def _state(path: Path) -> tuple[str, int, int]:
    try:
        found = path.stat()
    except OSError:  # no file, no own weights
        return str(path), 0, 0
    return str(path), found.st_mtime_ns, found.st_size


@cache
def _of_workshop(path: str, _changed: int, size: int) -> dict[str, Commonness]:
    if not size:
        return {}
    try:
        text = Path(path).read_text(encoding="utf-8")
        found = [replace(_row(row), own=True) for row in csv.DictReader(text.splitlines())]
    except (OSError, UnicodeDecodeError, KeyError, TypeError, ValueError, csv.Error) as error:
        raise CommonnessError(f"{path} is damaged: correct or remove it") from error
    if any(not 0 < one.on_bench <= MOST for one in found):
        raise CommonnessError(f"{path} holds a weight that is not possible: correct or remove it")
    return {one.series: one for one in found}


def _row(row: Mapping[str, str]) -> Commonness:
    return Commonness(row["series"], float(row["on_bench"]), float(row["in_use"]), row["reason"])
