"""TIFF files through tifffile, and the odd BMP through Pillow.

Tag meanings: TIFF revision 6.0. tifffile is used because it keeps 12 and 16 bits and floating point as they are.
"""

from __future__ import annotations

import io
import logging
import lzma
import struct
import zlib
from typing import Any

import numpy as np
import numpy.typing as npt

from threads.shared.refusal import RefusalError
from vision.pictures.raster import (
    Raster,
    as_alpha,
    check_packing,
    check_size,
    damaged,
    truncated,
)
from vision.pictures.tone import tone_of_icc

_MAX_SAMPLE_VALUE, _DNG_VERSION, _PROFILE, _ORIENTATION = 281, 50706, 34675, 274
_WHITE_IS_ZERO, _BLACK_IS_ZERO, _RGB, _PALETTE, _SEPARATED, _YCBCR = 0, 1, 2, 3, 5, 6
_BYTES_OF_TYPE = {1: 1, 2: 1, 3: 2, 4: 4, 5: 8, 6: 1, 7: 1, 8: 2, 9: 4, 10: 8, 11: 4, 12: 8, 13: 4, 16: 8, 17: 8, 18: 8}
_DEFLATE, _LZMA = (8, 32946), 34925
_LZMA_MEMORY = 300_000_000  # bytes that unpacking may take
_NAMES = {8: "CIELAB", 9: "ICCLAB", 10: "ITULAB", 4: "mask"}

# tifffile logs what it finds odd in a file; without a handler Python would print that to stderr.
logging.getLogger("tifffile").addHandler(logging.NullHandler())


def decode_tiff(data: bytes, name: str) -> Raster:
    """Samples and tone of the first page of a TIFF file.

    Raises:
        RefusalError: unreadable, truncated, too_large, too_small, unsupported_depth.
    """
    import tifffile

    several = _check_directory(data, name)
    try:
        with tifffile.TiffFile(io.BytesIO(data)) as tif:
            page = tif.pages[0]
            if not isinstance(page, tifffile.TiffPage):
                raise damaged(name)
            _check_page(page, len(data), name)
            pixels = _samples(page, data, name)
            return _raster(page, pixels, several, name)
    except tifffile.TiffFileError:
        raise damaged(name) from None


def _check_directory(data: bytes, name: str) -> bool:
    """Refuse a file that ends before its first directory or the values of its tags do. Whether another one follows.

    Many writers put both behind the picture, where a cut takes them first; a reader that then goes by the tags that are
    left would show something else than what was taken. Layout: TIFF 6.0, section 2, and BigTIFF.
    """
    order = "<" if data[:2] == b"II" else ">"
    pointer, count, entry = ("Q", "Q", "HHQQ") if b"+" in data[:4] else ("I", "H", "HHII")
    try:
        (at,) = struct.unpack_from(order + pointer, data, 8 if pointer == "Q" else 4)
        (n,) = struct.unpack_from(order + count, data, at)
        at += struct.calcsize(order + count)
        for _ in range(min(n, 1000)):
            _, kind, number, value = struct.unpack_from(order + entry, data, at)
            at += struct.calcsize(order + entry)
            size = number * _BYTES_OF_TYPE.get(kind, 0)
            if size > struct.calcsize(order + pointer) and value + size > len(data):
                raise truncated(name)
        return n <= 1000 and bool(struct.unpack_from(order + pointer, data, at)[0])
    except struct.error:
        raise truncated(name) from None


def _check_page(page: Any, length: int, name: str) -> None:
    """Refuse by the tags alone what cannot be measured, before anything is unpacked."""
    check_size(name, page.imagewidth, page.imagelength)
    photometric = int(page.photometric)
    if _DNG_VERSION in page.tags or photometric in (32803, 34892):
        raise RefusalError("unreadable.raw", name=name)
    if photometric not in (_WHITE_IS_ZERO, _BLACK_IS_ZERO, _RGB, _PALETTE, _SEPARATED, _YCBCR):
        raise RefusalError("unreadable.tiff_colours", name=name, colours=_NAMES.get(photometric, "unusual"))
    if page.imagedepth != 1 or not 1 <= page.samplesperpixel <= 5:
        raise RefusalError("unreadable.tiff_channels", name=name, channels=page.samplesperpixel, depth=page.imagedepth)
    bits, form = page.bitspersample, int(page.sampleformat)
    if not ((form == 1 and 8 <= bits <= 16) or (form == 3 and bits == 32)):
        kind = {1: "unsigned", 2: "signed", 3: "floating point"}.get(form, "unknown")
        raise RefusalError("unsupported_depth.samples", name=name, bits=bits, kind=kind)
    bytes_of_sample = (bits + 7) // 8
    check_packing(name, page.imagewidth * page.imagelength * page.samplesperpixel * bytes_of_sample, length)
    ends = [o + n for o, n in zip(page.dataoffsets, page.databytecounts, strict=False) if n]
    if not ends or max(ends) > length:
        raise truncated(name)


def _check_segments(page: Any, data: bytes, name: str) -> None:
    """Refuse strips and tiles that unpack to more than they stand for: tifffile would unpack all of it."""
    compression = int(page.compression)
    if compression not in (*_DEFLATE, _LZMA):
        return
    most = int(np.prod(page.chunks)) * ((page.bitspersample + 7) // 8)
    for at, size in zip(page.dataoffsets, page.databytecounts, strict=False):
        unpack = zlib.decompressobj() if compression in _DEFLATE else lzma.LZMADecompressor(memlimit=_LZMA_MEMORY)
        try:
            if len(unpack.decompress(data[at : at + size], most + 1)) > most:
                raise damaged(name)
        except (zlib.error, lzma.LZMAError):
            raise damaged(name) from None


def _samples(page: Any, data: bytes, name: str) -> npt.NDArray[Any]:
    """Unpack the page. tifffile needs the package imagecodecs for some compressions; OpenCV knows the usual ones."""
    from vision.shared.opencv import cv2

    _check_segments(page, data, name)
    try:
        return np.asarray(page.asarray())
    except (ValueError, NotImplementedError) as error:
        if "imagecodecs" not in str(error):
            raise
    plain = int(page.photometric) in (_BLACK_IS_ZERO, _RGB) and page.bitspersample in (8, 16) and not page.extrasamples
    pixels = None
    if plain and _orientation(page) == 1:  # OpenCV would turn some of the others itself
        pixels = cv2.imdecode(np.frombuffer(data, np.uint8), cv2.IMREAD_UNCHANGED)
    if pixels is None or pixels.shape != page.shape or page.axes not in ("YX", "YXS"):
        raise RefusalError("unreadable.compression", name=name)
    return pixels if pixels.ndim == 2 else pixels[:, :, ::-1]


def _orientation(page: Any) -> int:
    tag = page.tags.get(_ORIENTATION)
    value = tag.value if tag is not None else 1
    return value if isinstance(value, int) and 1 <= value <= 8 else 1


def _raster(page: Any, pixels: npt.NDArray[Any], several: bool, name: str) -> Raster:
    notes = ["the file has several pages: the first was read"] if several else []
    if page.axes == "SYX":
        pixels = np.moveaxis(pixels, 0, 2)
    elif page.axes not in ("YX", "YXS"):
        raise RefusalError("unreadable.tiff_axes", name=name, axes=page.axes)
    if pixels.shape[:2] != (page.imagelength, page.imagewidth):
        raise damaged(name)
    photometric, bits = int(page.photometric), int(page.bitspersample)
    channels = {_RGB: 3, _YCBCR: 3, _SEPARATED: 4}.get(photometric, 1)
    if pixels.ndim == 2:
        pixels = pixels[:, :, None]
    if pixels.shape[2] < channels:
        raise damaged(name)
    alpha = as_alpha(pixels[:, :, channels]) if pixels.shape[2] > channels and page.extrasamples[:1] != (0,) else None
    pixels = pixels[:, :, :channels]

    if pixels.dtype.kind == "f":
        pixels, full_scale, more = _float_samples(pixels, name)
        notes += more
    else:
        pixels = pixels.astype(np.uint8 if bits == 8 else np.uint16, copy=False)
        full_scale = float(2**bits - 1)
        tag = page.tags.get(_MAX_SAMPLE_VALUE)
        highest = tag.value if tag is not None else None
        if isinstance(highest, tuple):
            highest = max(highest, default=None)
        if bits == 16 and highest in (1023, 4095, 16383):
            bits, full_scale = int(highest).bit_length(), float(highest)
            notes.append(f"{bits} bits in 16, as the file says")

    rendered = channels > 1 or photometric == _PALETTE
    if photometric == _PALETTE:
        pixels, full_scale = _through_palette(page, pixels, name)
        notes.append("the file has a palette: grey steps may be coarse")
    elif photometric == _SEPARATED:
        pixels, full_scale = _from_cmyk(pixels, full_scale), 255.0
        bits = 8
        notes.append("printing colours (CMYK) were turned into RGB by the simple rule; a camera's own file is better")
    elif photometric == _WHITE_IS_ZERO:
        pixels = (full_scale - pixels).astype(pixels.dtype)
    if pixels.ndim == 3 and pixels.shape[2] == 1:
        pixels = pixels[:, :, 0]

    profile = page.tags.get(_PROFILE)
    tone = tone_of_icc(bytes(profile.value)) if profile is not None and photometric != _SEPARATED else None
    return Raster(
        samples=np.ascontiguousarray(pixels),
        full_scale=full_scale,
        bit_depth=bits,
        tone=tone,
        alpha=alpha,
        orientation=_orientation(page),
        rendered=rendered and pixels.dtype.kind != "f",
        notes=tuple(notes),
    )


def _float_samples(pixels: npt.NDArray[Any], name: str) -> tuple[npt.NDArray[np.float32], float, list[str]]:
    """Floating point samples: linear light, 1 the full scale; when the picture goes higher, its maximum is."""
    if not bool(np.all(np.isfinite(pixels))):
        raise RefusalError("unsupported_depth.no_numbers", name=name)
    highest = float(pixels.max())
    if highest <= 1.0:
        return pixels.astype(np.float32), 1.0, []
    return pixels.astype(np.float32), highest, [f"floating point samples: {highest:.4g} was taken as full scale"]


def _through_palette(page: Any, pixels: npt.NDArray[Any], name: str) -> tuple[npt.NDArray[Any], float]:
    """The colours of the palette. Many writers put 8-bit values into the upper half of its 16 bits."""
    table = np.asarray(page.colormap, np.uint16)
    if table.ndim != 2 or table.shape[0] != 3 or pixels.dtype != np.uint8 or table.shape[1] < 256:
        raise damaged(name)
    eight_bits = not np.any(table & 0xFF)
    table = (table >> 8).astype(np.uint8) if eight_bits else table
    return np.take(table.T, pixels[:, :, 0], axis=0), 255.0 if eight_bits else 65535.0


def _from_cmyk(pixels: npt.NDArray[Any], full_scale: float) -> npt.NDArray[np.uint8]:
    """The simple rule: red = (1 - cyan) (1 - black), and so on, in coded values."""
    ink = pixels.astype(np.float32) / np.float32(full_scale)
    return np.rint(255.0 * (1.0 - ink[:, :, :3]) * (1.0 - ink[:, :, 3:4])).astype(np.uint8)


def decode_bmp(data: bytes, name: str) -> Raster:
    """Samples of a BMP file, as cheap microscope programs write them.

    Raises:
        RefusalError: unreadable, truncated, too_large, too_small, unsupported_depth.
    """
    from PIL.BmpImagePlugin import BmpImageFile

    try:
        with BmpImageFile(io.BytesIO(data)) as image:
            check_size(name, *image.size)
            check_packing(name, image.width * image.height * len(image.getbands()), len(data))
            image.load()
            if image.mode == "1":
                raise RefusalError("unsupported_depth.levels", name=name, levels=2)
            pixels = np.asarray(image if image.mode == "L" else image.convert("RGB"))
    except OSError as error:
        raise truncated(name) if "truncated" in str(error) else damaged(name) from None
    return Raster(samples=pixels, full_scale=255.0, bit_depth=8, rendered=pixels.ndim == 3)
