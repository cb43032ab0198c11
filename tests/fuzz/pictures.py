"""Picture files: PNG, JPEG, TIFF and BMP as cameras write them, spoilt in their headers and in their data.

A picture is read or refused. What is read has light between 0 and 1 and the size that it says.
"""

from __future__ import annotations

import io
import struct
import zlib
from functools import cache

import numpy as np
import tifffile
from PIL import Image

from tests.fuzz.folder import folder
from tests.fuzz.recipe import Recipe, spoilt
from tests.fuzz.refused import assert_plain
from threads.shared.refusal import RefusalError
from vision.pictures.picture import read_picture
from vision.shared.opencv import cv2

_HEAD = {"png": 60, "jpeg": 400, "tiff": 400, "bmp": 60}


@cache
def seeds() -> tuple[tuple[str, bytes], ...]:
    """Small pictures of all kinds that are read."""
    rows, columns = np.mgrid[0:210, 0:230]
    grey = ((rows // 7 + columns // 9) % 2 * 180 + 30).astype(np.uint8)
    colour = np.stack([grey, np.roll(grey, 3, 0), 255 - grey], axis=2)
    plain = (grey, grey.astype(np.uint16) * 257, colour)
    out = [("png", cv2.imencode(".png", picture)[1].tobytes()) for picture in plain]
    for mode in ("P", "LA", "RGBA"):
        file = io.BytesIO()
        Image.fromarray(colour).convert(mode).save(file, "PNG", icc_profile=b"\0" * 130)
        out.append(("png", file.getvalue()))
    for picture, options in ((grey, {}), (colour, {"progressive": True}), (colour, {"icc_profile": b"\0" * 200})):
        file = io.BytesIO()
        Image.fromarray(picture).save(file, "JPEG", quality=60, exif=b"Exif\0\0II*\0\x08\0\0\0\0\0", **options)
        out.append(("jpeg", file.getvalue()))
    file = io.BytesIO()
    Image.fromarray(colour).convert("CMYK").save(file, "JPEG", quality=50)
    out.append(("jpeg", file.getvalue()))
    for picture, options in (
        (grey, {}),
        (grey, {"compression": "zlib"}),
        (grey.astype(np.uint16) * 16, {"rowsperstrip": 16}),
        (grey.astype(np.float32) / 255, {"predictor": False}),
        (colour, {"photometric": "rgb", "tile": (64, 64)}),
        (colour, {"photometric": "rgb", "compression": "lzma", "bigtiff": True}),
    ):
        file = io.BytesIO()
        tifffile.imwrite(file, picture, **options)
        out.append(("tiff", file.getvalue()))
    for mode in ("L", "RGB", "1"):
        file = io.BytesIO()
        Image.fromarray(colour).convert(mode).save(file, "BMP")
        out.append(("bmp", file.getvalue()))
    for compression in ("packbits", "tiff_lzw"):
        file = io.BytesIO()
        Image.fromarray(grey).save(file, "TIFF", compression=compression)
        out.append(("tiff", file.getvalue()))
    return tuple(out)


def picture_of(recipe: Recipe) -> bytes:
    """A spoilt picture. PNG chunks get check sums that fit, else nothing behind the first would ever be looked at."""
    kind, seed = recipe.choice(seeds())
    if kind == "png" and recipe.number(3):
        return _png(seed, recipe)
    return spoilt(seed, recipe, head=_HEAD[kind])


def _png(seed: bytes, recipe: Recipe) -> bytes:
    chunks = []
    at = 8
    while at < len(seed):
        (size,) = struct.unpack_from(">I", seed, at)
        chunks.append((seed[at + 4 : at + 8], seed[at + 8 : at + 8 + size]))
        at += 12 + size
    if recipe.number(4) == 0:
        kind = recipe.choice((b"iCCP", b"gAMA", b"sBIT", b"cICP", b"eXIf", b"tRNS", b"acTL", b"zTXt", b"sRGB", b"PLTE"))
        body = recipe.choice((recipe.bytes(40), b"a\0\0" + zlib.compress(bytes(200_000))))
        chunks.insert(recipe.number(len(chunks) + 1), (kind, body))
    i = recipe.number(len(chunks))
    kind, body = chunks[i]
    if kind == b"IDAT" and recipe.number(2):
        raw = zlib.decompress(b"".join(b for k, b in chunks if k == b"IDAT"))
        chunks[i] = (kind, zlib.compress(spoilt(raw, recipe)))
    else:
        chunks[i] = (kind, spoilt(body, recipe))
    out = bytearray(seed[:8])
    for kind, body in chunks:
        out += struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))
    return bytes(out)


def one(data: bytes) -> None:
    path = folder() / "picture"
    path.write_bytes(picture_of(Recipe(data)))
    try:
        picture = read_picture(path)
    except RefusalError as refusal:
        assert_plain(refusal)
        return
    light = picture.light
    assert light.shape == (picture.height_px, picture.width_px)
    assert light.dtype == np.float32
    low, high = float(light.min()), float(light.max())
    assert low >= 0
    assert high <= 1 + 1e-5
