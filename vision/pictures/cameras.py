"""Which cameras there are, by name."""

from __future__ import annotations

import contextlib
import json
import os
import platform
import subprocess
from dataclasses import dataclass
from pathlib import Path

_MOST_TRIED = 4
_PATIENCE_S = 10.0
_POWERSHELL = (
    "[Console]::OutputEncoding = [Text.Encoding]::UTF8; Get-CimInstance Win32_PnPEntity | "
    "Where-Object { $_.PNPClass -in 'Camera','Image' -and $_.Status -eq 'OK' } | ForEach-Object { $_.Name }"
)
_ASKED = {
    "Darwin": ("system_profiler", "SPCameraDataType", "-json"),
    "Windows": ("powershell", "-NoProfile", "-NonInteractive", "-Command", _POWERSHELL),
}
"""How the systems are asked for the names of cameras that OpenCV only numbers."""
VIDEO_FOLDER = Path("/sys/class/video4linux")
DEVICES = Path("/dev")


@dataclass(frozen=True)
class Camera:
    """A camera of this machine: its number for OpenCV and its name, "" where the system does not tell.

    ``allowed``: this account may open it, as far as the system says so beforehand. ``perhaps``: the names of all
    cameras where nobody knows which of them has this number.
    """

    number: int
    name: str
    allowed: bool = True
    perhaps: tuple[str, ...] = ()


def cameras(folder: Path = VIDEO_FOLDER, devices: Path = DEVICES) -> tuple[Camera, ...]:
    """The cameras there are. Opens none where the system has a list; elsewhere the first few numbers are tried."""
    if are_listed():
        return _listed(folder, devices)
    numbers = [number for number in range(_MOST_TRIED) if _opens(number)]
    names = _names_told() if numbers else ()
    if len(names) == len(numbers) == 1:
        return (Camera(numbers[0], names[0]),)
    return tuple(Camera(number, "", perhaps=names) for number in numbers)


def _names_told() -> tuple[str, ...]:
    """What the cameras of this machine are called, in no order that could be relied on; none where nobody tells."""
    command = _ASKED.get(platform.system())
    if command is None:
        return ()
    try:
        windowless = getattr(subprocess, "CREATE_NO_WINDOW", 0)  # of Windows: no box of its own flashes up
        told = subprocess.run(  # noqa: S603
            command, capture_output=True, timeout=_PATIENCE_S, check=True, creationflags=windowless
        ).stdout
        if platform.system() == "Darwin":
            names = [str(one["_name"]) for one in json.loads(told)["SPCameraDataType"]]
        else:
            names = told.decode("utf-8", "replace").splitlines()
    except (OSError, subprocess.SubprocessError, ValueError, KeyError, TypeError):
        return ()
    return tuple(name.strip() for name in names if name.strip())


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
