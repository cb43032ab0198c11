"""Where pictures came from last time, for those who use the same camera every day."""

from __future__ import annotations

from dataclasses import dataclass

from gui.settings import Settings

_KIND, _NAME, _SIZE = "source", "source_name", "source_size"


@dataclass(frozen=True)
class LastSource:
    """``kind`` as in ``gui.camera.source``; the name of a camera or the path of a folder; a camera's size, px."""

    kind: str
    name: str = ""
    size: tuple[int, int] | None = None


def keep_source(settings: Settings, last: LastSource) -> None:
    """Remember ``last``."""
    settings.set_text(_KIND, last.kind)
    settings.set_text(_NAME, last.name)
    settings.set_text(_SIZE, "" if last.size is None else "{}x{}".format(*last.size))


def kept_source(settings: Settings) -> LastSource:
    """What was remembered; its kind is "" where nothing was."""
    width, _, height = settings.text(_SIZE).partition("x")
    size = (int(width), int(height)) if width.isdigit() and height.isdigit() else None
    return LastSource(settings.text(_KIND), settings.text(_NAME), size)
