"""The samples of a picture file as they stand in it, before they are made light."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from threads.shared.refusal import RefusalError
from vision.pictures.tone import Tone

MAX_PIXELS = 200_000_000  # of a picture: 800 MB as floating point
MIN_SIDE_PX = 200  # three threads of the fewest px do not fit into less
MOST_PACKED = 500
"""A file over ``PACKED_FROM`` bytes unpacked may be so many times smaller; a camera's picture is 3 to 50 times."""
PACKED_FROM = 50_000_000  # bytes unpacked, from which a file is asked how hard it is packed


@dataclass(frozen=True)
class Raster:
    """What a decoder hands over.

    Attributes:
        samples: (height, width) or (height, width, 3) array of uint8, uint16 or float32.
        full_scale: the sample value that stands for the brightest light.
        bit_depth: bits that carry information in a sample.
        tone: the tone that the file itself states; None when it states none.
        bgr: the three channels are blue, green, red (else red, green, blue).
        alpha: (height, width) opacity, or None.
        orientation: EXIF orientation 1..8.
        rendered: the file is of a kind that is made to be looked at (JPEG, colour): without a tone it is sRGB.
        notes: what the person should know, one line each.
    """

    samples: npt.NDArray[Any]
    full_scale: float
    bit_depth: int
    tone: Tone | None = None
    bgr: bool = False
    alpha: npt.NDArray[Any] | None = None
    orientation: int = 1
    rendered: bool = False
    notes: tuple[str, ...] = ()

    @property
    def is_colour(self) -> bool:
        return self.samples.ndim == 3


def check_size(name: str, width: int, height: int) -> None:
    """Refuse a picture that is too large to decode safely or too small to measure, from its header alone.

    Raises:
        RefusalError: too_large, too_small.
    """
    if width * height > MAX_PIXELS:
        raise RefusalError(
            "too_large.pixels", name=name, width_px=width, height_px=height, most_megapixels=MAX_PIXELS // 1000000
        )
    if min(width, height) < MIN_SIDE_PX:
        raise RefusalError("too_small", name=name, width_px=width, height_px=height, least_px=MIN_SIDE_PX)


def check_packing(name: str, unpacked: int, packed: int) -> None:
    """Refuse a file of ``packed`` bytes that says it holds ``unpacked`` bytes of samples, if no camera packs so well.

    Raises:
        RefusalError: too_large.
    """
    if unpacked > max(PACKED_FROM, MOST_PACKED * packed):
        raise RefusalError(
            "too_large.unpacked", name=name, megabytes=unpacked / 1000000.0, times=unpacked // max(packed, 1)
        )


def truncated(name: str) -> RefusalError:
    """The refusal for a file that ends before its picture does."""
    return RefusalError("truncated", name=name)


def damaged(name: str) -> RefusalError:
    """The refusal for a file whose contents contradict themselves."""
    return RefusalError("unreadable.damaged", name=name)


def exif_orientation(exif: bytes) -> int:
    """The orientation (tag 0x0112) of an EXIF block that starts with its byte order mark; 1 when there is none.

    Read here, not by a library, because a damaged block must neither warn nor fail: the picture is still good.
    """
    order: str = {b"II*\0": "little", b"MM\0*": "big"}.get(exif[:4], "")
    if not order:
        return 1

    def number(at: int, size: int) -> int:
        return int.from_bytes(exif[at : at + size], "little" if order == "little" else "big")

    ifd = number(4, 4)
    for i in range(min(number(ifd, 2), 500)):
        entry = ifd + 2 + 12 * i
        if number(entry, 2) == 0x0112:
            value = number(entry + 8, 2)
            return value if 1 <= value <= 8 and number(entry + 2, 2) == 3 else 1
    return 1


def as_alpha(channel: npt.NDArray[Any]) -> npt.NDArray[Any] | None:
    """The opacity channel, or None when it is the same everywhere and so says nothing about the part."""
    first = channel.flat[0]
    if first > 0 and bool(np.all(channel == first)):
        return None
    return channel
