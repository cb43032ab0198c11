"""Every view of the window against the rules of ``looks``, in a language, in every size; prints what is wrong as JSON.

Screens: 1024 x 700, 1280 x 800, 1920 x 1080 (which 3840 x 2160 is at 200 %: QT_SCALE_FACTOR), text at 100 and at 200 %.
"""

from __future__ import annotations

import json
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from gui.app import create_application, create_window
from gui.screenshots import data_in, settle, views
from gui.settings import Settings
from tests.gui import looks

if TYPE_CHECKING:
    from gui.window import Window

PLAIN = {"en": ((1024, 700), (1280, 800)), "de": ((1024, 700), (1920, 1080))}
"""Where German, whose words are longer, fits in the small one, so does English in the large one."""
LARGE = {"en": ((1280, 800),), "de": ((1024, 700),)}
"""The same for text at 200 %."""


def look_over(language: str) -> dict[str, object]:
    """How many views were seen in how many sizes, and what is wrong in each."""
    create_application()
    wrong: dict[str, list[str]] = {}
    seen: list[str] = []
    with tempfile.TemporaryDirectory() as own, data_in(own):
        settings = Settings(Path(own) / "window.ini")
        settings.set_text("language", language)
        settings.set_text("theme", "light" if language == "en" else "dark")
        window = create_window(settings)
        window.desk.register_file = str(Path(own) / "parts.sqlite")
        window.resize(*PLAIN[language][0])
        window.show()

        def look(name: str, reach: Callable[[], None], sizes: tuple[tuple[int, int], ...], *, colours: bool) -> None:
            reach()
            for size in sizes:
                window.resize(*size)
                settle(window)
                found = [*looks.cut_off(window), *looks.overlaps(window), *looks.unnamed(window)]
                found += looks.faint_text(window) if colours and size == sizes[-1] else []
                if (window.width(), window.height()) != size:
                    found.append(f"the window is {window.width()} x {window.height()}")
                seen.append(f"{name} {size[0]} x {size[1]} {window.desk.settings.text('size', '100')} %")
                if found:
                    wrong[seen[-1]] = found

        for name, reach in views(window):
            look(name, reach, PLAIN[language], colours=True)
        window.show_keys()  # away
        window.desk.highlight(window.desk.tray.cards[-1].number)  # a measured one: views have something in them
        window.choose_size("200")
        for name, reach in _again(window):
            look(name, reach, LARGE[language], colours=False)
        assert window.fit.row.original is not None
        assert window.fit.row.replacement is not None
        window.keys.hide()
        window.choose_size("100")
        look("smaller again", lambda: window.go("part"), PLAIN[language][:1], colours=False)
        window.leave()
        window.deleteLater()
    return {"seen": seen, "wrong": wrong}


def _again(window: Window) -> list[tuple[str, Callable[[], None]]]:
    """The views that show what is there already."""

    def within(place: str, show: Callable[[], None]) -> Callable[[], None]:
        def reach() -> None:
            window.go(place)
            show()

        return reach

    found: list[tuple[str, Callable[[], None]]] = []
    for place in window.places.values():
        found += [(f"{place.NAME}_{name}", within(place.NAME, show)) for name, show in place.views()]
    return [*found, ("keys", window.show_keys)]


if __name__ == "__main__":
    sys.stdout.write(json.dumps(look_over(sys.argv[1])))
