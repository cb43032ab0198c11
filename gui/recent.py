"""Files that were opened last, newest first, kept in the settings: for the menu."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path

from PySide6.QtWidgets import QMenu

from gui.settings import Settings

MOST = 9


class Recent:
    """Those of one kind. ``menu`` lists the ones that are still there; the number before each is its key."""

    def __init__(self, settings: Settings, name: str, menu: QMenu, do: Callable[[str], object]) -> None:
        self._settings, self._name, self._menu, self._do = settings, name, menu, do
        menu.setToolTipsVisible(True)
        menu.aboutToShow.connect(self._fill)

    @property
    def paths(self) -> list[str]:
        """Those that are still there."""
        return [path for path in self._settings.text(self._name).split("\n") if path and Path(path).is_file()]

    def opened(self, paths: Sequence[str]) -> None:
        """These were opened, the last of them last."""
        kept = [*reversed(paths), *(path for path in self.paths if path not in paths)]
        self._settings.set_text(self._name, "\n".join(kept[:MOST]))

    def _fill(self) -> None:
        self._menu.clear()
        for number, path in enumerate(self.paths, start=1):
            action = self._menu.addAction(f"&{number}  {Path(path).name}")
            action.setToolTip(path)
            action.triggered.connect(partial(self._do, path))
