"""JPEG files: header, EXIF and colour profile from the segments, samples through Pillow.

Pillow, not OpenCV, decodes them: OpenCV takes a truncated file without a word and its decoder prints complaints of its
own, Pillow refuses the one and is silent. Segment layout: ITU-T T.81, annex B; EXIF 2.3 for APP1; ICC.1:2022, B.4 for
APP2.
"""

from __future__ import annotations

import io
import struct
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import numpy.typing as npt

from threads.shared.refusal import RefusalError
from vision.pictures.raster import (
    Raster,
    check_packing,
    check_size,
    damaged,
    exif_orientation,
    truncated,
)
from vision.pictures.tone import tone_of_icc

if TYPE_CHECKING:
    from PIL.Image import Image

_MOST_SCANS = 100
"""Progressive files have about ten; each one takes as long as the whole picture."""

_ROWS_AT_ONCE = 128


@dataclass
class _Segments:
    width: int = 0
    height: int = 0
    precision: int = 0
    channels: int = 1
    exif: bytes = b""
    profile: bytes = b""
    several: bool = False
    scan_at: int = 0


def decode_jpeg(data: bytes, name: str) -> Raster:
    """Samples and tone of a JPEG file.

    Raises:
        RefusalError: unreadable, truncated, too_large, too_small, unsupported_depth.
    """
    from PIL.JpegImagePlugin import JpegImageFile

    segments, lean = _walk(data, name)
    check_size(name, segments.width, segments.height)
    if segments.precision != 8:
        raise RefusalError("unsupported_depth.jpeg", name=name, bits=segments.precision)
    check_packing(name, segments.width * segments.height * segments.channels, len(data))
    _check_scans(data, segments.scan_at, name)
    try:
        # Not Image.open: it would warn of size, which is checked above.
        with JpegImageFile(io.BytesIO(lean)) as image:
            image.load()
            mode = image.mode
            pixels = _samples(image.convert("RGB") if mode == "CMYK" else image)
    except OSError as error:
        raise truncated(name) if "truncated" in str(error) else damaged(name) from None
    if mode not in ("L", "RGB", "CMYK"):
        raise RefusalError("unreadable.jpeg_channels", name=name, channels=mode)
    notes = []
    if segments.several:
        notes.append("the file holds several pictures: the first was read")
    if mode == "CMYK":
        notes.append("printing colours (CMYK) were turned into RGB by the simple rule; a camera's own file is better")
    return Raster(
        samples=pixels,
        full_scale=255.0,
        bit_depth=8,
        tone=None if mode == "CMYK" else tone_of_icc(segments.profile),
        orientation=exif_orientation(segments.exif),
        rendered=True,
        notes=tuple(notes),
    )


def _check_scans(data: bytes, first: int, name: str) -> None:
    """Refuse a file whose scans, the first of which begins at ``first``, do not end, or are too many."""
    coded = np.frombuffer(data, np.uint8)[first:]
    marks = coded[np.flatnonzero(coded[:-1] == 0xFF) + 1]
    ends = np.flatnonzero(marks == 0xD9)
    if not ends.size:
        raise truncated(name)
    if np.count_nonzero(marks[: ends[0]] == 0xDA) > _MOST_SCANS:
        raise damaged(name)


def _samples(image: Image) -> npt.NDArray[np.uint8]:
    """The samples of a decoded picture, (height, width) or (height, width, 3).

    Some rows at a time: all at once Pillow hands them over in small pieces that it joins, and takes twice as long.
    """
    width, height = image.size
    out = np.empty((height, width) if image.mode == "L" else (height, width, len(image.getbands())), np.uint8)
    for top in range(0, height, _ROWS_AT_ONCE):
        end = min(top + _ROWS_AT_ONCE, height)
        out[top:end] = np.asarray(image.crop((0, top, width, end)))
    return out


def _walk(data: bytes, name: str) -> tuple[_Segments, bytes]:
    """The facts of the segments before the first scan, and the file without its attachments.

    What is attached (EXIF, profile, comments) is read here and kept from the decoder, which could stumble over it.
    """
    found = _Segments()
    kept = [data[:2]]
    profile: dict[int, bytes] = {}
    at = 2
    while True:
        while data[at : at + 2] == b"\xff\xff":  # fill bytes
            at += 1
        if at + 4 > len(data):
            raise truncated(name)
        mark, kind, size = struct.unpack_from(">BBH", data, at)
        if mark != 0xFF or kind in (0x00, 0xD8, 0xD9) or size < 2:
            raise damaged(name)
        end = at + 2 + size
        if end > len(data):
            raise truncated(name)
        body = data[at + 4 : end]
        if kind == 0xDA:
            found.scan_at = end
            break
        if 0xC0 <= kind <= 0xCF and kind not in (0xC4, 0xC8, 0xCC):
            if len(body) < 6:
                raise damaged(name)
            found.precision, found.height, found.width, found.channels = struct.unpack_from(">BHHB", body)
        elif kind == 0xE1 and body.startswith(b"Exif\0\0"):
            found.exif = found.exif or body[6:]
        elif kind == 0xE2 and body.startswith(b"ICC_PROFILE\0") and len(body) > 14:
            profile[body[12]] = body[14:]
        elif kind == 0xE2 and body.startswith(b"MPF\0"):
            found.several = True
        if kind not in (0xFE, *range(0xE1, 0xEE), 0xEF):  # keep JFIF (APP0), Adobe (APP14) and all that decodes
            kept.append(data[at:end])
        at = end
    if not found.width or not found.height:
        raise damaged(name)
    found.profile = b"".join(profile[i] for i in sorted(profile))
    kept.append(data[at:])
    return found, b"".join(kept)
