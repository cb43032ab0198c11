"""Where pictures go that the program takes itself: a folder of the data folder, named by the moment."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from threads.shared.data_folder import data_folder
from threads.shared.whole_file import write_whole
from vision.pictures.averaged import linear_png
from vision.pictures.live_frame import F32

PICTURES = "pictures"


def pictures_folder() -> Path:
    """The folder; it is made where it is missing. Raises OSError."""
    folder = data_folder() / PICTURES
    folder.mkdir(parents=True, exist_ok=True)
    return folder


def keep_picture(light: F32, what: str = "part", camera: str = "", now: datetime | None = None) -> str:
    """Write ``light`` (height, width), linear, as a grey PNG of 16 bits and return its path. Raises OSError.

    ``camera``: which one took it; the file says so.
    """
    moment = (now or datetime.now().astimezone()).strftime("%Y-%m-%d_%H-%M-%S")
    folder = pictures_folder()
    name, count = f"{what}_{moment}", 1
    while (folder / f"{name}.png").exists():
        count += 1
        name = f"{what}_{moment}_{count}"
    path = folder / f"{name}.png"
    write_whole(path, linear_png(light, camera))
    return str(path)
