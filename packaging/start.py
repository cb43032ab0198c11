"""Where the frozen program begins: ``flankwise`` is the command line, ``flankwise-window`` opens the window."""

from __future__ import annotations

import multiprocessing
import sys
from pathlib import Path

WINDOW = "flankwise-window"

if __name__ == "__main__":
    multiprocessing.freeze_support()  # a process of ``batch`` is this program once more, and ends in here
    if WINDOW in (Path(sys.executable).stem, Path(sys.argv[0]).stem):  # on Linux the second is a link to the first
        sys.argv.insert(1, "gui")
    from cli.main import run

    run()
