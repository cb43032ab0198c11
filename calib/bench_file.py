"""A calibration kept under a name of its own in the data folder, and in the history."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from pathlib import Path

from calib.calibration import Calibration
from calib.file import save_calibration
from calib.history import note_calibration
from threads.shared.data_folder import data_folder
from threads.shared.refusal import Reason

FOLDER = "calibrations"


def default_bench_file(now: datetime | None = None) -> Path:
    """A path in the data folder, named by the day, at which nothing lies yet."""
    folder = data_folder() / FOLDER
    day = (now or datetime.now().astimezone()).strftime("%Y-%m-%d")
    path, count = folder / f"bench_{day}.json", 1
    while path.exists():
        count += 1
        path = folder / f"bench_{day}_{count}.json"
    return path


def keep_bench(found: Calibration, path: Path, words: Callable[[Reason], str] = str) -> str:
    """Write ``found`` to ``path``, its folder made where it is missing, note it, and return the path.

    ``words`` as in ``save_calibration``.

    Raises RefusalError calibration_not_written, OSError.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    save_calibration(found, path, words)
    note_calibration(found, path.name)
    return str(path)
