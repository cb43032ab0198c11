"""The history of the bench: one line for each calibration and each verification, in the user's data folder.

It is a convenience: what cannot be written or read is left out, and never in the way of a calibration.
"""

from __future__ import annotations

import contextlib
import json
import math
import os
from collections.abc import Mapping
from dataclasses import asdict, dataclass, replace
from typing import TYPE_CHECKING, Any

from threads.shared.data_folder import data_folder

if TYPE_CHECKING:
    from calib.calibration import Calibration
    from calib.verification import Verification

_FILE = "calibrations.jsonl"
_MAX_BYTES = 20_000_000


@dataclass(frozen=True)
class Entry:
    """One line of the history.

    Attributes:
        event: ``"calibrated"`` or ``"verified"``.
        id: of the calibration.
        when: of the event, UTC, ISO 8601.
        file: name of the calibration file, without folders.
        gauges: what was used, in words.
        um_per_px, um_per_px_u95, edge_offset_px, edge_offset_px_u95: of the calibration.
        difference_um, difference_u95_um, holds: of a verification; None for a calibration.
    """

    event: str
    id: str
    when: str
    file: str
    gauges: str
    um_per_px: float
    um_per_px_u95: float
    edge_offset_px: float
    edge_offset_px_u95: float
    difference_um: float | None = None
    difference_u95_um: float | None = None
    holds: bool | None = None


def note(entry: Entry) -> bool:
    """Append ``entry``; whether that could be done."""
    line = json.dumps(asdict(entry), ensure_ascii=True, allow_nan=False) + "\n"
    try:
        folder = data_folder()
        folder.mkdir(parents=True, exist_ok=True)
        # one write to a file opened for appending: two programs at a time do not mix their lines
        descriptor = os.open(folder / _FILE, os.O_WRONLY | os.O_CREAT | os.O_APPEND | getattr(os, "O_BINARY", 0), 0o644)
        try:
            os.write(descriptor, line.encode())
        finally:
            os.close(descriptor)
    except (OSError, ValueError, RuntimeError):
        return False
    return True


def note_calibration(found: Calibration, file: str) -> bool:
    """Keep the calibration, written to the file called ``file``; whether that could be done."""
    kinds = [gauge.what for gauge in found.gauges]
    counts = {what: kinds.count(what) for what in dict.fromkeys(kinds)}
    gauges = ", ".join(f"{n} {what}{'s' if n > 1 else ''}" for what, n in counts.items())
    return note(_about("calibrated", found, found.when, file, gauges))


def note_verification(bench: Calibration, found: Verification, file: str) -> bool:
    """Keep the outcome of a check of ``bench``, read from ``file``; whether that could be done."""
    entry = _about("verified", bench, found.when, file, f"pin {found.nominal_mm:.4f} mm")
    return note(
        replace(
            entry,
            difference_um=found.difference_um,
            difference_u95_um=found.difference_u95_um,
            holds=found.holds,
        )
    )


def _about(event: str, bench: Calibration, when: str, file: str, gauges: str) -> Entry:
    """An entry about ``bench``."""
    return Entry(
        event=event,
        id=bench.id,
        when=when,
        file=file,
        gauges=gauges,
        um_per_px=bench.um_per_px,
        um_per_px_u95=bench.um_per_px_u95,
        edge_offset_px=bench.edge_offset_px,
        edge_offset_px_u95=bench.edge_offset_px_u95,
    )


def history() -> tuple[Entry, ...]:
    """All entries that can be read, oldest first; lines that are damaged are passed over."""
    try:
        with (data_folder() / _FILE).open("rb") as file:
            lines = file.read(_MAX_BYTES).splitlines()
    except (OSError, ValueError, RuntimeError):
        return ()
    found = []
    for line in lines:
        with contextlib.suppress(ValueError, TypeError, KeyError, RecursionError):
            found.append(_entry(json.loads(line)))
    return tuple(sorted(found, key=lambda entry: entry.when))


def _entry(data: Mapping[str, Any]) -> Entry:
    def number(key: str) -> float:
        value = data[key]
        if isinstance(value, bool) or not isinstance(value, (int, float)) or not math.isfinite(value):
            raise TypeError(key)
        return float(value)

    def text(key: str) -> str:
        value = data[key]
        if not isinstance(value, str):
            raise TypeError(key)
        return "".join(c if c.isprintable() else "?" for c in value)[:200]

    verified = data["event"] == "verified"
    holds = data.get("holds")
    if data["event"] not in ("calibrated", "verified") or (verified and not isinstance(holds, bool)):
        raise ValueError("no such event")
    return Entry(
        event=text("event"),
        id=text("id"),
        when=text("when"),
        file=text("file"),
        gauges=text("gauges"),
        um_per_px=number("um_per_px"),
        um_per_px_u95=number("um_per_px_u95"),
        edge_offset_px=number("edge_offset_px"),
        edge_offset_px_u95=number("edge_offset_px_u95"),
        difference_um=number("difference_um") if verified else None,
        difference_u95_um=number("difference_u95_um") if verified else None,
        holds=holds if verified else None,
    )
