"""Every view, by day and by night and in two sizes, against the rules of ``looks``; prints what is wrong as JSON."""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from gui.screenshots import take
from tests.gui import looks

if TYPE_CHECKING:
    from gui.window import Window


def look_over(folder: Path) -> dict[str, object]:
    """The pictures made in ``folder``, and what is wrong in each view."""
    wrong: dict[str, list[str]] = {}

    def visit(name: str, window: Window) -> None:
        size = [int(n) for n in name.split("_")[-2].split("x")]
        found = [*looks.cut_off(window), *looks.overlaps(window), *looks.unnamed(window), *looks.faint_text(window)]
        if [window.width(), window.height()] != size:
            found.append(f"the window is {window.width()} x {window.height()}")
        if found:
            wrong[name] = found

    made = take(folder, visit, few=True)
    return {"made": [str(path) for path in made], "wrong": wrong}


if __name__ == "__main__":
    sys.stdout.write(json.dumps(look_over(Path(sys.argv[1]))))
