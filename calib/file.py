"""The calibration file: written whole or not at all, and read only if it is unchanged."""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

from calib.calibration import SCHEMA, Calibration, calibration_from_dict, canonical
from threads.shared.file_name import plain_name
from threads.shared.plain_json import plain, strictly_parsed
from threads.shared.refusal import Reason, RefusalError
from threads.shared.whole_file import write_whole
from vision.pictures.picture import Picture

_MAX_BYTES = 10_000_000


def calibration_document(calibration: Calibration, words: Callable[[Reason], str] = str) -> dict[str, Any]:
    """What stands in the file: the plain form of the calibration and its checksum; ``words`` as for ``plain``."""
    content = plain(calibration.to_dict(), words)
    return {**content, "checksum": _checksum(content)}


def save_calibration(
    calibration: Calibration, path: str | os.PathLike[str], words: Callable[[Reason], str] = str
) -> None:
    """Write the calibration file, replacing one that is there; ``words`` makes a sentence of a warning.

    Raises:
        RefusalError: calibration_not_written, when the place cannot be written.
    """
    text = json.dumps(calibration_document(calibration, words), indent=2, ensure_ascii=False, allow_nan=False) + "\n"
    try:
        write_whole(path, text.encode())
    except (OSError, ValueError) as error:
        why = getattr(error, "strerror", None) or "not a usable path"
        raise RefusalError("calibration_not_written", path=ascii(str(path)), why=why) from None


def load_calibration(path: str | os.PathLike[str], *, picture: Picture | None = None) -> Calibration:
    """Read a calibration file.

    Args:
        path: the file.
        picture: when given, the calibration must be valid for pictures of its size (after EXIF orientation). A picture
            turned by a quarter is refused too: lens model and non-square sensors do not turn with it.

    Raises:
        RefusalError: calibration_unreadable, calibration_altered, calibration_picture_size.
    """
    name = plain_name(path)
    data = _parse(path, name)
    schema = data.get("schema")
    if schema != SCHEMA:
        kind, _, version = str(schema).rpartition("/")
        if kind == SCHEMA.rpartition("/")[0] and version.isdecimal():
            raise RefusalError("calibration_unreadable.version", name=name, version=version[:9])
        raise RefusalError("calibration_unreadable.foreign", name=name)
    content = {key: value for key, value in data.items() if key != "checksum"}
    checksum = _checksum(content)
    if checksum is None or data.get("checksum") != checksum:
        raise RefusalError("calibration_altered", name=name)
    try:
        calibration = calibration_from_dict(content)
    except (KeyError, TypeError, ValueError, OverflowError):
        raise RefusalError("calibration_unreadable.entries", name=name) from None
    if picture is not None:
        check_picture_size(calibration, picture, name)
    return calibration


def check_picture_size(calibration: Calibration, picture: Picture, name: str) -> None:
    """Raise RefusalError calibration_picture_size where ``calibration``, from the file ``name``, is for others."""
    valid = (calibration.picture_width_px, calibration.picture_height_px)
    given = (picture.width_px, picture.height_px)
    if valid == given:
        return
    raise RefusalError(
        "calibration_picture_size.turned" if valid == given[::-1] else "calibration_picture_size",
        name=plain_name(picture.path),
        width_px=given[0],
        height_px=given[1],
        calibration=name,
        valid_width_px=valid[0],
        valid_height_px=valid[1],
    )


def _parse(path: str | os.PathLike[str], name: str) -> dict[str, Any]:
    try:
        with open(path, "rb", opener=_open_without_waiting) as file:
            raw = file.read(_MAX_BYTES + 1)
    except FileNotFoundError:
        raise RefusalError("calibration_unreadable.missing", name=name) from None
    except (OSError, ValueError) as error:
        if isinstance(error, IsADirectoryError | PermissionError) and Path(path).is_dir():  # the second on Windows
            raise RefusalError("calibration_unreadable.folder", name=name) from None
        why = getattr(error, "strerror", None) or "not a usable path"
        raise RefusalError("calibration_unreadable.denied", name=name, why=why) from None
    if len(raw) > _MAX_BYTES:
        raise RefusalError("calibration_unreadable.large", name=name)
    try:
        data = strictly_parsed(raw)
    except (ValueError, RecursionError):
        raise RefusalError("calibration_unreadable.damaged", name=name) from None
    if not isinstance(data, dict):
        raise RefusalError("calibration_unreadable.foreign", name=name)
    return data


def _open_without_waiting(path: str, flags: int) -> int:
    return os.open(path, flags | getattr(os, "O_NONBLOCK", 0))


def _checksum(content: dict[str, Any]) -> str | None:
    try:
        return "sha256:" + hashlib.sha256(canonical(content)).hexdigest()
    except (ValueError, RecursionError):  # lone surrogates, infinities: no file of ours has them
        return None
