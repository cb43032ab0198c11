"""The camera that took a picture, from the file's EXIF: camera, lens, focal length. Most files state none."""

from __future__ import annotations

import math
import os
import struct
import warnings
import zlib
from collections.abc import Mapping
from dataclasses import dataclass
from importlib import import_module
from pathlib import Path
from typing import Any

from vision.pictures.file_kind import file_kind

_FOCAL_SAME = 0.005  # zoom lenses note their focal length in steps

# EXIF 2.32: tag of the main directory, and those of the EXIF directory 0x8769
_MODEL = 0x0110  # tags of EXIF 2.32
_EXIF = 0x8769  # as above
_FOCAL_LENGTH = 0x920A  # as above
_DIGITAL_ZOOM = 0xA404  # as above
_LENS_MODEL = 0xA434  # as above
_HEADER_ENDS = 33  # bytes of a PNG: signature and IHDR


@dataclass(frozen=True)
class CameraNote:
    """Each is None where the file does not state it; a note without any is false.

    Attributes:
        camera, lens: names as the camera wrote them.
        focal_length_mm: of a zoom lens, as it was set.
        digital_zoom: factor by which the camera enlarged the middle of the picture.
    """

    camera: str | None = None
    lens: str | None = None
    focal_length_mm: float | None = None
    digital_zoom: float | None = None

    def __bool__(self) -> bool:
        return any(value is not None for value in self.to_dict().values())

    def to_dict(self) -> dict[str, str | float | None]:
        return {
            "camera": self.camera,
            "lens": self.lens,
            "focal_length_mm": self.focal_length_mm,
            "digital_zoom": self.digital_zoom,
        }

    def difference(self, other: CameraNote) -> tuple[str, str, str] | None:
        """What both state differently: its name and both values; None where they may be the same setting."""
        for name, one, two in (("camera", self.camera, other.camera), ("lens", self.lens, other.lens)):
            if one is not None and two is not None and one != two:
                return name, ascii(one), ascii(two)
        for name, a, b, unit in (
            ("focal length", self.focal_length_mm, other.focal_length_mm, " mm"),
            ("digital zoom", self.digital_zoom, other.digital_zoom, ""),
        ):
            if a is not None and b is not None and abs(a - b) > _FOCAL_SAME * max(a, b):
                return name, f"{a:g}{unit}", f"{b:g}{unit}"
        return None


NO_NOTE = CameraNote()
_PNG_NOTES = (b"eXIf", b"Raw profile type exif")
"""One of these stands in every PNG file with EXIF: the name of its chunk, or the keyword of a text that holds it."""


def camera_note(path: str | os.PathLike[str]) -> CameraNote:
    """Read the note of a picture file; an empty one for files that have none or cannot be read."""
    try:
        with Path(path).open("rb") as file:
            kind = file_kind(file.read(8)).upper()
            if kind not in ("PNG", "JPEG", "TIFF"):
                return NO_NOTE
            rest = file.read() if kind == "PNG" else b""
            if kind == "PNG" and not any(mark in rest for mark in _PNG_NOTES):
                return NO_NOTE  # the usual case, without the 10 ms that loading Pillow takes
        from PIL import Image

        import_module(f"PIL.{kind.capitalize()}ImagePlugin")  # else Pillow loads all that it knows, some 50 ms
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # of size and of damaged EXIF: the picture's own reader says what matters
            with Image.open(path, formats=(kind,)) as image:
                exif = image.getexif()
                inner = exif.get_ifd(_EXIF)
                return CameraNote(
                    camera=_text(exif.get(_MODEL)),
                    lens=_text(inner.get(_LENS_MODEL)),
                    focal_length_mm=_positive(inner.get(_FOCAL_LENGTH)),
                    digital_zoom=_positive(inner.get(_DIGITAL_ZOOM)),
                )
    except Exception:  # noqa: BLE001 - a note that cannot be read is no note, whatever the library raises
        return CameraNote()


def as_noted(name: str) -> str | None:
    """The name of a camera as it stands in a file that ``with_camera`` made, which knows ASCII only."""
    return _text(name.encode("ascii", "replace").decode("ascii"))


def with_camera(png_file: bytes, name: str) -> bytes:
    """The PNG with a note (eXIf, PNG 1.5 extensions) that a camera of this name took it."""
    from PIL import Image

    noted = as_noted(name)
    if noted is None:
        return png_file
    exif = Image.Exif()
    exif[_MODEL] = noted
    content = b"eXIf" + exif.tobytes().removeprefix(b"Exif\0\0")
    chunk = struct.pack(">I", len(content) - 4) + content + struct.pack(">I", zlib.crc32(content))
    return png_file[:_HEADER_ENDS] + chunk + png_file[_HEADER_ENDS:]


def note_from_dict(data: object) -> CameraNote:
    """The inverse of ``CameraNote.to_dict``; values of a wrong type count as not stated."""
    if not isinstance(data, Mapping):
        return CameraNote()
    return CameraNote(
        camera=_text(data.get("camera")),
        lens=_text(data.get("lens")),
        focal_length_mm=_positive(data.get("focal_length_mm")),
        digital_zoom=_positive(data.get("digital_zoom")),
    )


def _text(value: object) -> str | None:
    if not isinstance(value, str):
        return None
    words = " ".join("".join(c if c.isprintable() else " " for c in value).split())
    return words[:100] or None


def _positive(value: Any) -> float | None:
    try:
        number = float(value)
    except (TypeError, ValueError, ZeroDivisionError):
        return None
    return number if math.isfinite(number) and number > 0 else None
