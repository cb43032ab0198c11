"""Which cameras there are, by name."""

from __future__ import annotations

import contextlib
import os
import platform
from dataclasses import dataclass
from pathlib import Path

_MOST_TRIED = 4
VIDEO_FOLDER = Path("/sys/class/video4linux")
DEVICES = Path("/dev")


@dataclass(frozen=True)
class Camera:
    """A camera of this machine: its number for OpenCV and its name, "" where the system does not tell.

    ``allowed``: this account may open it, as far as the system says so beforehand.
    """

    number: int
    name: str
    allowed: bool = True


def cameras(folder: Path = VIDEO_FOLDER, devices: Path = DEVICES) -> tuple[Camera, ...]:
    """The cameras there are. Opens none where the system has a list; elsewhere the first few numbers are tried."""
    if are_listed():
        return _listed(folder, devices)
    return tuple(Camera(number, "") for number in range(_MOST_TRIED) if _opens(number))


def are_listed() -> bool:
    """Whether the system has a list of cameras, read in no time; elsewhere each is opened, which takes seconds."""
    return platform.system() == "Linux"


def _listed(folder: Path, devices: Path) -> tuple[Camera, ...]:
    found = []
    for entry in folder.glob("video*"):
        # a camera's further nodes carry no picture: their index is not 0
        with contextlib.suppress(OSError, ValueError):
            if int(_read(entry / "index") or 0) == 0:
                device = devices / entry.name
                allowed = not device.exists() or os.access(device, os.R_OK | os.W_OK)
                found.append(Camera(int(entry.name.removeprefix("video")), _read(entry / "name"), allowed))
    return tuple(sorted(found, key=lambda camera: camera.number))


def _read(file: Path) -> str:
    try:
        return file.read_text("utf-8", "replace").strip()
    except OSError:
        return ""


def _opens(number: int) -> bool:
    from vision.shared.opencv import cv2, quiet

    with quiet():
        capture = cv2.VideoCapture(number)
        try:
            return bool(capture.isOpened())
        finally:
            capture.release()
