"""PNG files: the chunks that matter here, and the samples through OpenCV.

The chunk layout is that of the PNG specification (third edition, W3C), section 5 and 11. Chunks are walked here because
OpenCV keeps to itself what the file says about its tone, its significant bits and its end.
"""

from __future__ import annotations

import struct
import zlib
from dataclasses import dataclass, field

import numpy as np

from threads.shared.refusal import RefusalError
from vision.pictures.file_kind import PNG
from vision.pictures.raster import (
    Raster,
    as_alpha,
    check_packing,
    check_size,
    damaged,
    exif_orientation,
    truncated,
)
from vision.pictures.tone import LINEAR, SRGB, Tone, tone_of_icc, tone_of_png_gamma

_MAX_PROFILE_BYTES = 4_000_000  # of a colour profile, unpacked


@dataclass
class _Chunks:
    """Contents of the chunks. ``depth`` is the bit depth of the header, ``kind`` its colour type."""

    width: int
    height: int
    depth: int
    kind: int
    extra: dict[bytes, bytes] = field(default_factory=dict)


def decode_png(data: bytes, name: str) -> Raster:
    """Samples and tone of a PNG file.

    Raises:
        RefusalError: unreadable, truncated, too_large, too_small, unsupported_depth.
    """
    from vision.shared.opencv import cv2

    chunks, lean = _walk(data, name)
    check_size(name, chunks.width, chunks.height)
    channels = {0: 1, 2: 3, 3: 3, 4: 2, 6: 4}.get(chunks.kind, 4)
    check_packing(name, chunks.width * chunks.height * channels * max(chunks.depth // 8, 1), len(data))
    if chunks.depth < 8:  # grey, or a palette
        raise RefusalError("unsupported_depth.levels", name=name, levels=2**chunks.depth)
    pixels = cv2.imdecode(np.frombuffer(lean, np.uint8), cv2.IMREAD_UNCHANGED)
    if pixels is None or pixels.shape[:2] != (chunks.height, chunks.width) or pixels.dtype not in (np.uint8, np.uint16):
        raise damaged(name)

    alpha = None
    if pixels.ndim == 3:
        if pixels.shape[2] == 4:
            alpha = as_alpha(pixels[:, :, 3])
        pixels = np.ascontiguousarray(pixels[:, :, 0] if chunks.kind in (0, 4) else pixels[:, :, :3])
    notes = []
    if b"acTL" in chunks.extra:
        notes.append("the file is an animation: its first picture was read")
    if chunks.kind == 3:
        notes.append("the file has a palette: grey steps may be coarse")
    full_scale, bits = (255.0, 8) if pixels.dtype == np.uint8 else (65535.0, 16)
    significant = chunks.extra.get(b"sBIT", b"")
    if bits == 16 and significant and 8 <= significant[0] < 16:
        bits = significant[0]
        # The specification wants the samples scaled up to 16 bits; cameras that write them as they are also exist.
        if pixels.max() < 2**bits:
            full_scale = float(2**bits - 1)
        notes.append(f"{bits} significant bits in 16")
    return Raster(
        samples=pixels,
        full_scale=full_scale,
        bit_depth=bits,
        tone=_tone(chunks.extra),
        bgr=pixels.ndim == 3,
        alpha=alpha,
        orientation=exif_orientation(chunks.extra.get(b"eXIf", b"")),
        rendered=pixels.ndim == 3,
        notes=tuple(notes),
    )


def _walk(data: bytes, name: str) -> tuple[_Chunks, bytes]:
    """Read the chunks to the end and check them; refuse a file that ends early or whose check sums are wrong.

    The second result is the file with what decodes and nothing else: attachments, damaged or not, could only make the
    decoder complain.
    """
    at = since = len(PNG)
    view = memoryview(data)
    kept: list[bytes | memoryview] = [view[:at]]  # and from ``since`` on
    found: _Chunks | None = None
    while True:
        if at + 12 > len(data):
            raise truncated(name)
        size, kind = struct.unpack_from(">I4s", data, at)
        if size > 0x7FFFFFFF or not kind.isalpha():
            raise damaged(name)
        end = at + 12 + size
        if end > len(data):
            raise truncated(name)
        body = view[at + 8 : end - 4]
        critical = kind[:1].isupper()
        if zlib.crc32(view[at + 4 : end - 4]) == struct.unpack_from(">I", data, end - 4)[0]:
            if kind == b"IHDR" and size == 13:
                found = _Chunks(*struct.unpack_from(">IIBB", body))
            elif not critical and found is not None:
                found.extra.setdefault(kind, bytes(body[:_MAX_PROFILE_BYTES]))
        elif critical:
            raise damaged(name)
        if found is None:
            raise RefusalError("unreadable.header", name=name)
        if not critical and kind != b"tRNS":
            kept.append(view[since:at])
            since = end
        if kind == b"IEND":
            return found, b"".join([*kept, view[since:end]])
        at = end


def _tone(extra: dict[bytes, bytes]) -> Tone | None:
    """The tone that the chunks state; the order of precedence is that of the specification, 4.3."""
    transfer = extra.get(b"cICP", b"\0\0\0\0")[1:2]
    if transfer in (b"\x08", b"\x0d"):  # ITU-T H.273, transfer characteristics 8: linear, 13: sRGB
        return LINEAR if transfer == b"\x08" else SRGB
    if b"iCCP" in extra:
        packed = extra[b"iCCP"].partition(b"\0")[2][1:]
        try:
            profile = zlib.decompressobj().decompress(packed, _MAX_PROFILE_BYTES)
        except zlib.error:
            profile = b""
        tone = tone_of_icc(profile)
        if tone is not None:
            return tone
    if b"sRGB" in extra:
        return SRGB
    if len(extra.get(b"gAMA", b"")) == 4:
        return tone_of_png_gamma(struct.unpack(">I", extra[b"gAMA"])[0])
    return None
