"""What is left behind when the program itself fails: a log file, and one line that says where it is."""

from __future__ import annotations

import os
import platform
import sys
import tempfile
import traceback
from collections.abc import Sequence
from datetime import UTC, datetime
from pathlib import Path

from cli.errors import say
from threads.shared.data_folder import log_folder

DEBUG_VARIABLE = "FLANKWISE_DEBUG"
PACKAGES = (
    "flankwise", "numpy", "scipy", "opencv-python-headless", "scikit-image", "tifffile", "Pillow", "typer", "rich",
)  # fmt: skip


def wants_traceback() -> bool:
    """Whether FLANKWISE_DEBUG=1 asks for what only a programmer can read."""
    return os.environ.get(DEBUG_VARIABLE, "") not in {"", "0"}


def report_defect(error: BaseException, arguments: Sequence[str]) -> None:
    """Write a log of ``error`` and say in one line how to report it; with FLANKWISE_DEBUG=1 show the traceback too."""
    trace = "".join(traceback.format_exception(error))
    if wants_traceback() and sys.stderr is not None:
        sys.stderr.write(trace)
    place = _write_log(trace, arguments)
    where = f"with the log {place}" if place else f"with what it prints under {DEBUG_VARIABLE}=1"
    name = type(error).__name__
    what = f"{name}: {str(error)[:200]}"
    say(f"flankwise: this is a defect in flankwise ({what}). Please report it {where}, and the picture")


def _write_log(trace: str, arguments: Sequence[str]) -> Path | None:
    """The log's path, or None where no folder takes it."""
    now = datetime.now(UTC)
    versions = ", ".join(f"{package} {_version(package)}" for package in PACKAGES)
    text = (
        f"flankwise failed at {now.isoformat(timespec='seconds')}\n"
        f"arguments: {list(arguments)!r}\n"
        f"Python {platform.python_version()} on {platform.platform()}\n{versions}\n\n{trace}"
    )
    for folder in (log_folder(), Path(tempfile.gettempdir())):
        try:
            folder.mkdir(parents=True, exist_ok=True)
            path = folder / f"flankwise-{now:%Y%m%dT%H%M%S}-{os.getpid()}.log"
            path.write_text(text, encoding="utf-8", errors="backslashreplace")
        except OSError:
            continue
        return path
    return None


def _version(package: str) -> str:
    from importlib import metadata  # not needed where nothing goes wrong

    try:
        return metadata.version(package)
    except metadata.PackageNotFoundError:
        return "not installed"
