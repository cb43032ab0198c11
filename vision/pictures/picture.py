"""Reading a picture file into linear light.

What is taken as linear: edges are found at half the light, so values must be proportional to light.
- A tone that the file states (PNG: cICP, iCCP, sRGB, gAMA; JPEG and TIFF: the curves of an embedded profile) is obeyed.
- Without one, colour pictures and JPEG files of any kind are sRGB: that is what cameras and phones write.
- Without one, grey PNG, TIFF and BMP files, and floating point TIFF, are the linear values of a sensor.
The rule that was used stands in ``Picture.notes``.

Colour becomes one channel by linear luminance with the weights of Rec. 709. EXIF orientation is applied. An alpha
channel that is the same everywhere is dropped; one that is not is refused, because its edge was drawn by a program or
a hand and would be measured as if it were the outline of the part.
"""

from __future__ import annotations

import hashlib
import os
import stat
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt

from threads.shared.file_name import plain_name
from threads.shared.refusal import RefusalError
from vision.pictures.file_kind import file_kind
from vision.pictures.raster import Raster, damaged
from vision.pictures.tone import LINEAR, REC709_WEIGHTS, SRGB, Tone, srgb_code

MAX_FILE_BYTES = 2_000_000_000  # of a picture file: what is larger is none
LINEAR_LIGHT, SRGB_LIGHT, STATED = "linear", "srgb", "stated"
_STRIDE, _SAME_CHANNELS = 16, 0.012  # px, and of the brightest sample: three steps of eight bits
_ROWS_AT_ONCE = 128  # a strip of a colour picture that stays in the processor's cache


@dataclass(frozen=True)
class Picture:
    """A picture in linear light.

    Attributes:
        path: the path as it was given.
        sha256: of the bytes of the file, hexadecimal.
        width_px, height_px: after the EXIF orientation was applied.
        light: (height, width) float32, linear, 0..1; 1 is the full scale of the file. Not writeable.
        bit_depth: bits of a sample that carry information.
        clipped_bright: fraction of pixels in which any channel stands at full scale.
        step: one grey step of the file in linear light, where the light is half of full scale.
        notes: how the file was read, one line each, the rule of linearity first.
        tone: the rule: linear or srgb where the file states none, else stated.
        kind: of the file: png, jpeg, tiff, bmp.
        colourless: it is grey, or its three channels say the same.
    """

    path: str
    sha256: str
    width_px: int
    height_px: int
    light: npt.NDArray[np.float32]
    bit_depth: int
    clipped_bright: float
    step: float
    notes: tuple[str, ...]
    tone: str = LINEAR_LIGHT
    kind: str = ""
    colourless: bool = True


def retoned(picture: Picture, tone: str) -> Picture:
    """``picture`` as if its file, which states no tone, had been read in ``tone``: linear or srgb.

    Raises ValueError for one whose file states its tone, and for colours: their brightness is mixed already.
    """
    if picture.tone not in (LINEAR_LIGHT, SRGB_LIGHT) or tone not in (LINEAR_LIGHT, SRGB_LIGHT):
        raise ValueError(f"from {picture.tone} to {tone}")
    if not picture.colourless:
        raise ValueError("colours")
    if tone == picture.tone:
        return picture
    curve = srgb_code if tone == LINEAR_LIGHT else SRGB.curves[0]
    light = np.asarray(curve(picture.light.astype(np.float64)), np.float32)
    light.setflags(write=False)
    rule = f"values read as {tone}, like those of the gauges"
    return replace(picture, light=light, tone=tone, notes=(rule, *picture.notes[1:]))


def read_picture(path: str | os.PathLike[str]) -> Picture:
    """Read a PNG, JPEG, TIFF or BMP file.

    Raises:
        RefusalError: unreadable, truncated, too_large (over 200 million pixels), too_small (a side under 200 px),
            unsupported_depth, transparent. Never anything else, whatever the file holds.
    """
    name = plain_name(path)
    try:
        data = _read_bytes(path, name)
        raster = _decode(data, name)
        if raster.alpha is not None:
            raise RefusalError("transparent", name=name)
        tone, rule = _tone_of(raster)
        light, bright, step = _to_light(raster, tone)
        light = _turn(light, raster.orientation)
    except MemoryError:
        raise RefusalError("too_large.memory", name=name) from None
    light.setflags(write=False)
    stated = raster.tone is not None and tone is raster.tone
    return Picture(
        path=str(path),
        sha256=hashlib.sha256(data).hexdigest(),
        width_px=light.shape[1],
        height_px=light.shape[0],
        light=light,
        bit_depth=raster.bit_depth,
        clipped_bright=bright,
        step=step,
        notes=(rule, *raster.notes, *(["turned upright as the camera noted"] if raster.orientation != 1 else [])),
        tone=STATED if stated else SRGB_LIGHT if tone is SRGB else LINEAR_LIGHT,
        kind=file_kind(data),
        colourless=not raster.is_colour or _says_the_same(raster.samples),
    )


def _read_bytes(path: str | os.PathLike[str], name: str) -> bytes:
    try:
        with open(path, "rb", opener=_open_without_waiting) as file:
            info = os.fstat(file.fileno())
            if not stat.S_ISREG(info.st_mode):
                raise RefusalError("unreadable.not_a_file", name=name)
            if info.st_size > MAX_FILE_BYTES:
                raise RefusalError("too_large.file", name=name)
            return file.read()
    except FileNotFoundError:
        raise RefusalError("unreadable.missing", name=name) from None
    except (OSError, ValueError) as error:
        if isinstance(error, IsADirectoryError | PermissionError) and Path(path).is_dir():  # the second on Windows
            raise RefusalError("unreadable.folder", name=name) from None
        why = getattr(error, "strerror", None) or "not a usable path"
        raise RefusalError("unreadable.denied", name=name, why=why) from None


def _open_without_waiting(path: str, flags: int) -> int:
    """Open without blocking: a named pipe would wait for a writer."""
    return os.open(path, flags | getattr(os, "O_NONBLOCK", 0))


def _decode(data: bytes, name: str) -> Raster:
    """Hand the bytes to the decoder of their kind, chosen by their first bytes, never by the name of the file."""
    kind = file_kind(data)
    try:  # only the decoder that is needed: loading all three takes 5 ms of each command
        if kind == "png":
            from vision.pictures.png import decode_png

            return decode_png(data, name)
        if kind == "jpeg":
            from vision.pictures.jpeg import decode_jpeg

            return decode_jpeg(data, name)
        if kind:
            from vision.pictures.tiff import decode_bmp, decode_tiff

            return decode_tiff(data, name) if kind == "tiff" else decode_bmp(data, name)
    except (RefusalError, MemoryError):
        raise
    except Exception:  # noqa: BLE001 - the libraries raise anything at all when the bytes are nonsense
        raise damaged(name) from None
    raise RefusalError("unreadable.kind" if data else "unreadable.empty", name=name)


def _says_the_same(samples: npt.NDArray[Any]) -> bool:
    """Whether three channels are one: a grey picture in a coloured file, up to what JPEG's colours leave."""
    some = samples[::_STRIDE, ::_STRIDE].astype(np.float32)
    return bool(np.ptp(some, axis=2).max() <= _SAME_CHANNELS * some.max())


def _tone_of(raster: Raster) -> tuple[Tone, str]:
    """The tone that applies and the note that says so."""
    what = "colour" if raster.is_colour else "grey"
    if raster.tone is not None and len(raster.tone.curves) in (1, 3 if raster.is_colour else 1):
        tone, rule = raster.tone, f"{what} values made linear by what the file states ({raster.tone.name})"
    elif raster.rendered:
        tone, rule = SRGB, f"{what} values taken as sRGB and made linear"
    else:
        tone, rule = LINEAR, f"{what} values taken as linear in light: the file states no tone"
    return tone, rule + ("; brightness by the weights of Rec. 709" if raster.is_colour else "")


def _to_light(raster: Raster, tone: Tone) -> tuple[npt.NDArray[np.float32], float, float]:
    """Light (height, width), fraction clipped bright, and the grey step."""
    from vision.shared.opencv import cv2

    samples, full = raster.samples, raster.full_scale
    weights = np.array(REC709_WEIGHTS, np.float32)
    height, width = samples.shape[:2]
    if samples.dtype.kind == "f":
        code = np.clip(samples / np.float32(full), 0, 1)
        grey = code @ weights if raster.is_colour else code
        top = samples.max(2) if raster.is_colour else samples
        return (
            np.ascontiguousarray(grey, np.float32),
            float(np.mean(top >= full)),
            float(np.spacing(np.float32(0.5))),
        )

    codes = np.minimum(np.arange(256 if samples.dtype == np.uint8 else 65536) / full, 1.0)
    tables = [np.clip(curve(codes), 0.0, 1.0).astype(np.float32) for curve in tone.curves]
    step = _grey_step(tables[len(tables) // 2], full, raster.bit_depth)
    light = np.empty((height, width), np.float32)
    if raster.is_colour:
        if raster.bgr:
            weights, tables = weights[::-1], tables[::-1]
        table = np.stack([tables[i % len(tables)] * w for i, w in enumerate(weights)], axis=-1)[None]
    else:
        table = tables[0][None]
    bright = 0
    for top_row in range(0, height, _ROWS_AT_ONCE):
        strip = np.ascontiguousarray(samples[top_row : top_row + _ROWS_AT_ONCE])
        out = light[top_row : top_row + _ROWS_AT_ONCE]
        if raster.is_colour:
            weighted = np.empty(strip.shape, np.float32)
            _look_up(strip, table, weighted)
            cv2.transform(weighted, np.ones((1, 3), np.float32), out)
            one, two, three = cv2.split(strip)
            strip = cv2.max(cv2.max(one, two), three)
        else:
            _look_up(strip, table, out)
        if strip.max() >= full:
            bright += cv2.countNonZero(cv2.inRange(strip, full, 65535))
    return light, bright / light.size, step


def _look_up(strip: npt.NDArray[Any], table: npt.NDArray[np.float32], out: npt.NDArray[np.float32]) -> None:
    """Each sample through the table of its channel into ``out``; ``table`` is (1, levels) or (1, levels, 3)."""
    from vision.shared.opencv import cv2

    if strip.dtype == np.uint8:
        cv2.LUT(strip, table, out)
    elif strip.ndim == 2:
        np.take(table[0], strip, out=out, mode="clip")  # "clip" keeps numpy from working on a copy of ``out``
    else:
        for i in range(3):
            out[:, :, i] = np.take(table[0, :, i], strip[:, :, i])


def _grey_step(table: npt.NDArray[np.float32], full: float, bits: int) -> float:
    """The rise of the table over one step of the file, where it passes half the full scale.

    A file of fewer significant bits than its samples have takes steps of several codes at a time.
    """
    codes_per_step = max(1, round((full + 1) / 2**bits))
    middle = int(np.searchsorted(table, 0.5))
    low, high = max(middle - codes_per_step, 0), min(middle + codes_per_step, int(full))
    return float(table[high] - table[low]) / max(high - low, 1) * codes_per_step


def _turn(light: npt.NDArray[np.float32], orientation: int) -> npt.NDArray[np.float32]:
    """Apply the EXIF orientation (EXIF 2.3, tag 0x0112): bring row 0 to the top and column 0 to the left."""
    from vision.shared.opencv import cv2

    if orientation == 1:
        return light
    turned = cv2.transpose(light) if orientation >= 5 else light
    flip = {2: 1, 3: -1, 4: 0, 6: 1, 7: -1, 8: 0}.get(orientation)
    return np.asarray(turned if flip is None else cv2.flip(turned, flip), np.float32)
