"""The calibration file: written whole or not at all, and read only if it is unchanged."""

from __future__ import annotations

import hashlib
import json
import os
from typing import Any

from calib.calibration import SCHEMA, Calibration, calibration_from_dict, canonical
from threads.shared.file_name import plain_name
from threads.shared.plain_json import strictly_parsed
from threads.shared.refusal import RefusalError
from threads.shared.whole_file import write_whole
from vision.pictures.picture import Picture

_MAX_BYTES = 10_000_000


def calibration_document(calibration: Calibration) -> dict[str, Any]:
    """What stands in the file: the plain form of the calibration and its checksum."""
    content = calibration.to_dict()
    return {**content, "checksum": _checksum(content)}


def save_calibration(calibration: Calibration, path: str | os.PathLike[str]) -> None:
    """Write the calibration file, replacing one that is there.

    Raises:
        RefusalError: calibration_not_written, when the place cannot be written.
    """
    text = json.dumps(calibration_document(calibration), indent=2, ensure_ascii=False, allow_nan=False) + "\n"
    try:
        write_whole(path, text.encode())
    except (OSError, ValueError) as error:
        why = getattr(error, "strerror", None) or "not a usable path"
        raise RefusalError(
            "calibration_not_written",
            f"The calibration cannot be written to {str(path)!a}: {why}. Choose another place with -o.",
        ) from None


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
            raise _unreadable(name, f"it is of version {version[:9]}, this program knows version 1. Update the program")
        raise _unreadable(name, "it is not a calibration file. Give the file that `flankwise calibrate` wrote")
    content = {key: value for key, value in data.items() if key != "checksum"}
    checksum = _checksum(content)
    if checksum is None or data.get("checksum") != checksum:
        raise RefusalError(
            "calibration_altered",
            f"{name} was changed after it was written: its checksum does not agree. Use an untouched copy, or "
            "calibrate again.",
        )
    try:
        calibration = calibration_from_dict(content)
    except (KeyError, TypeError, ValueError, OverflowError):
        raise _unreadable(name, "entries are missing or impossible. Calibrate again") from None
    if picture is not None:
        check_picture_size(calibration, picture, name)
    return calibration


def check_picture_size(calibration: Calibration, picture: Picture, name: str) -> None:
    """Raise RefusalError calibration_picture_size where ``calibration``, from the file ``name``, is for others."""
    valid = (calibration.picture_width_px, calibration.picture_height_px)
    given = (picture.width_px, picture.height_px)
    if valid == given:
        return
    turned = " It looks turned by a quarter: take it the same way up as the gauges." if valid == given[::-1] else ""
    raise RefusalError(
        "calibration_picture_size",
        f"{plain_name(picture.path)} has {given[0]} x {given[1]} pixels, {name} is for {valid[0]} x {valid[1]}: the "
        f"scale would be wrong.{turned} Use the camera's full picture in the same setting, or calibrate for this one.",
    )


def _parse(path: str | os.PathLike[str], name: str) -> dict[str, Any]:
    try:
        with open(path, "rb", opener=_open_without_waiting) as file:
            raw = file.read(_MAX_BYTES + 1)
    except FileNotFoundError:
        raise _unreadable(name, "it does not exist. Check the path") from None
    except IsADirectoryError:
        raise _unreadable(name, "it is a folder. Give the path of the file") from None
    except (OSError, ValueError) as error:
        why = getattr(error, "strerror", None) or "not a usable path"
        raise _unreadable(name, f"{why}. Check path and permissions") from None
    if len(raw) > _MAX_BYTES:
        raise _unreadable(name, "it is far too large for a calibration file. Check the path")
    try:
        data = strictly_parsed(raw)
    except (ValueError, RecursionError):
        raise _unreadable(
            name, "it is damaged or not a calibration file. Use an untouched copy, or calibrate again"
        ) from None
    if not isinstance(data, dict):
        raise _unreadable(name, "it is not a calibration file. Give the file that `flankwise calibrate` wrote")
    return data


def _open_without_waiting(path: str, flags: int) -> int:
    return os.open(path, flags | getattr(os, "O_NONBLOCK", 0))


def _checksum(content: dict[str, Any]) -> str | None:
    try:
        return "sha256:" + hashlib.sha256(canonical(content)).hexdigest()
    except (ValueError, RecursionError):  # lone surrogates, infinities: no file of ours has them
        return None


def _unreadable(name: str, why: str) -> RefusalError:
    return RefusalError("calibration_unreadable", f"{name} cannot be used as a calibration: {why}.")
