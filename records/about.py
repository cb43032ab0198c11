"""The program and the machine that it runs on, as far as a report of a defect needs them.

Without ``names`` nothing in it tells who uses the machine: no path, no name of a file, an account or a camera.
"""

from __future__ import annotations

import ctypes
import os
import platform
import re
import shutil
import sqlite3
import sys
from contextlib import closing, suppress
from dataclasses import asdict, dataclass
from importlib import metadata
from pathlib import Path
from typing import Any

from records.connection import connect_for_reading, value
from records.register import VERSION, version_of
from records.register_path import REGISTER_VARIABLE, register_path
from threads.shared.data_folder import FOLDER_VARIABLE, data_folder, log_folder
from threads.shared.refusal import Reason, RefusalError

SCHEMA = "flankwise/about/1"
LIBRARIES = (
    "libGL.so.1", "libEGL.so.1", "libfontconfig.so.1", "libdbus-1.so.3", "libglib-2.0.so.0", "libxkbcommon-x11.so.0",
    "libxcb-cursor.so.0", "libxcb-icccm.so.4", "libxcb-keysyms.so.1", "libxcb-shape.so.0",
)  # fmt: skip
"""What the window needs of a Linux system and its wheels do not bring; ``.ci/system-packages`` installs them."""
GIVEN = "given"
LITTLE_ROOM = 200_000_000
"""Bytes free on the disk of the data folder below which it is said: some forty pictures."""


@dataclass(frozen=True)
class Place:
    """A folder or file of the program: whether it is there and can be written, or would be.

    ``named_by``: the variable that names another than the usual one, or GIVEN. ``path``: only where names are wanted.
    """

    what: str
    there: bool
    writable: bool
    named_by: str | None
    path: str | None


@dataclass(frozen=True)
class About:
    """What there is.

    ``kind``: "frozen", "installed" or "checkout". ``packages``: versions by name, None for one that is not there.
    ``register_version``, ``parts``: None where there is no register that can be read. ``defects``: logs of failures.
    ``cameras``: how many; ``camera_names`` only where names are wanted. ``missing``: what may be in the way.
    """

    version: str
    kind: str
    python: str
    system: str
    packages: dict[str, str | None]
    places: tuple[Place, ...]
    register_version: int | None
    parts: int | None
    defects: int
    cameras: int
    camera_names: tuple[str, ...]
    missing: tuple[Reason, ...]

    def to_dict(self) -> dict[str, Any]:
        """The object of ``flankwise about --json``."""
        return {"schema": SCHEMA, **asdict(self), "missing": [reason.to_dict() for reason in self.missing]}


def about(register: str | os.PathLike[str] | None = None, *, names: bool = False) -> About:
    """Look at everything; nothing is written. Where the system has no list of cameras, each is opened for a moment."""
    from vision.pictures.cameras import cameras

    file = register_path(register)
    version, parts, faults = _register(file)
    found = cameras()
    packages = _packages()
    missing = [Reason("package_missing", package=name) for name, there in packages.items() if there is None]
    missing += _missing_on_linux() if sys.platform.startswith("linux") else []
    missing += [Reason("camera_refused", number=c.number) for c in found if not c.allowed]
    missing += [*faults, *_disk_faults(data_folder())]
    return About(
        version=metadata.version("flankwise"),
        kind=_kind(),
        python=platform.python_version(),
        system=_system(),
        packages=packages,
        places=tuple(
            _place(what, path, names=names, named_by=by)
            for what, path, by in (
                ("data", data_folder(), FOLDER_VARIABLE),
                ("register", file, GIVEN if register else REGISTER_VARIABLE),
                ("log", log_folder(), None),
            )
        ),
        register_version=version,
        parts=parts,
        defects=len(list(log_folder().glob("flankwise-*.log"))),
        cameras=len(found),
        camera_names=tuple(camera.name for camera in found) if names else (),
        missing=tuple(missing),
    )


def _kind() -> str:
    if getattr(sys, "frozen", False):
        return "frozen"
    return "checkout" if (Path(__file__).parents[1] / "pyproject.toml").exists() else "installed"


def _system() -> str:
    if sys.platform.startswith("linux"):
        with suppress(OSError):
            return f"{platform.freedesktop_os_release()['PRETTY_NAME']}, {platform.platform()}"
    return platform.platform()


def _packages() -> dict[str, str | None]:
    """The versions of what the program requires, in the order of its own list."""
    found: dict[str, str | None] = {}
    for requirement in metadata.requires("flankwise") or ():
        name = re.match(r"[\w.-]+", requirement)
        if name is None or "extra ==" in requirement:
            continue
        found[name[0]] = None
        with suppress(metadata.PackageNotFoundError):
            found[name[0]] = metadata.version(name[0])
    return found


def _place(what: str, path: Path, *, names: bool, named_by: str | None) -> Place:
    """``named_by``: the variable that may name it, or GIVEN; kept where it does."""
    chosen = named_by if named_by is not None and (named_by in os.environ or named_by == GIVEN) else None
    nearest = next((one for one in (path, *path.parents) if one.exists()), path)
    return Place(what, path.exists(), os.access(nearest, os.W_OK), chosen, str(path) if names else None)


def _register(file: Path) -> tuple[int | None, int | None, list[Reason]]:
    """Version and number of parts of the register as it is, and why they cannot be told."""
    if not file.exists():
        return None, None, []
    try:
        version = version_of(file)
        with closing(connect_for_reading(file)) as connection:
            parts = int(value(connection, "SELECT count(*) FROM parts WHERE withdrawn = 0"))
    except RefusalError as refusal:  # names the file: told by its code alone
        return None, None, [Reason("register_refused", code=refusal.reasons[0].code)]
    except (OSError, sqlite3.Error) as error:
        return None, None, [Reason("register_refused", code=type(error).__name__)]
    older = [Reason("register_older", version=version, known=VERSION)] if version < VERSION else []
    return version, parts, older


def _missing_on_linux() -> list[Reason]:
    missing = []
    for name in LIBRARIES:
        try:
            ctypes.CDLL(name)
        except OSError:
            missing.append(Reason("library_missing", library=name))
    if not (os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY") or os.environ.get("QT_QPA_PLATFORM")):
        missing.append(Reason("display_missing"))
    return missing


def _disk_faults(folder: Path) -> list[Reason]:
    nearest = next((one for one in (folder, *folder.parents) if one.exists()), folder)
    faults = [] if os.access(nearest, os.W_OK) else [Reason("data_read_only")]
    with suppress(OSError):
        free = shutil.disk_usage(nearest).free
        if free < LITTLE_ROOM:
            faults.append(Reason("little_room", megabytes=free // 1_000_000))
    return faults
