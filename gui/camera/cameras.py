"""Which cameras there are, by name."""

from __future__ import annotations

import contextlib
import platform
from dataclasses import dataclass
from pathlib import Path

_MOST_TRIED = 4
VIDEO_FOLDER = Path("/sys/class/video4linux")


@dataclass(frozen=True)
class Camera:
    """A camera of this machine: its number for OpenCV and its name, "" where the system does not tell."""

    number: int
    name: str


def cameras(folder: Path = VIDEO_FOLDER) -> tuple[Camera, ...]:
    """The cameras there are. Opens none where the system has a list; elsewhere the first few numbers are tried."""
    if are_listed():
        return _listed(folder)
    return tuple(Camera(number, "") for number in range(_MOST_TRIED) if _opens(number))


def are_listed() -> bool:
    """Whether the system has a list of cameras, read in no time; elsewhere each is opened, which takes seconds."""
    return platform.system() == "Linux"


def _listed(folder: Path) -> tuple[Camera, ...]:
    found = []
    for entry in folder.glob("video*"):
        # a camera's further nodes carry no picture: their index is not 0
        with contextlib.suppress(OSError, ValueError):
            if int(_read(entry / "index") or 0) == 0:
                found.append(Camera(int(entry.name.removeprefix("video")), _read(entry / "name")))
    return tuple(sorted(found, key=lambda camera: camera.number))


def _read(file: Path) -> str:
    try:
        return file.read_text("utf-8", "replace").strip()
    except OSError:
        return ""


def _opens(number: int) -> bool:
    from gui.camera.capture import quiet
    from vision.shared.opencv import cv2

    with quiet():
        capture = cv2.VideoCapture(number)
        try:
            return bool(capture.isOpened())
        finally:
            capture.release()
