"""Small files that say they are large, or unpack to far more than they say: refused before they are unpacked."""

from __future__ import annotations

import io
import lzma
import struct
import zlib
from pathlib import Path

import numpy as np
import pytest
import tifffile
from PIL import Image

from flankwise.reasons import sentence
from threads.shared.refusal import RefusalError
from vision.pictures.picture import read_picture


def refused(path: Path, content: bytes) -> str:
    path.write_bytes(content)
    with pytest.raises(RefusalError) as caught:
        read_picture(path)
    (reason,) = caught.value.reasons
    assert "\n" not in sentence(reason)
    return reason.code


def png(width: int, height: int, data: bytes) -> bytes:
    def chunk(kind: bytes, body: bytes) -> bytes:
        return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))

    head = struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", data) + chunk(b"IEND", b"")


def test_png_of_a_thousandfold_size(tmp_path: Path) -> None:
    """13 000 x 13 000 pixels of one shade: 170 kB that would unpack to 169 MB."""
    assert refused(tmp_path / "bomb.png", png(13_000, 13_000, zlib.compress(bytes(13_000 * 13_001), 9))) == "too_large"


def test_png_with_a_swollen_profile_is_read(tmp_path: Path) -> None:
    """What is attached is unpacked so far as a colour profile reaches."""
    grey = np.tile(np.arange(240, dtype=np.uint8), (240, 1))
    held = io.BytesIO()
    Image.fromarray(grey).save(held, "PNG")
    body = b"profile\0\0" + zlib.compress(bytes(200_000_000), 9)
    chunk = struct.pack(">I", len(body)) + b"iCCP" + body + struct.pack(">I", zlib.crc32(b"iCCP" + body))
    content = held.getvalue()
    (tmp_path / "a.png").write_bytes(content[:33] + chunk + content[33:])
    assert read_picture(tmp_path / "a.png").width_px == 240


def test_large_pictures_of_one_shade_are_read(tmp_path: Path) -> None:
    """24 megapixels, drawn and not photographed, pack a thousandfold too."""
    (tmp_path / "a.png").write_bytes(png(6000, 4000, zlib.compress(bytes(6001 * 4000), 9)))
    assert read_picture(tmp_path / "a.png").height_px == 4000


def test_jpeg_that_says_it_is_large(tmp_path: Path) -> None:
    held = io.BytesIO()
    Image.fromarray(np.zeros((240, 240), np.uint8)).save(held, "JPEG")
    content = held.getvalue()
    at = content.index(b"\xff\xc0") + 5
    assert refused(tmp_path / "a.jpg", content[:at] + struct.pack(">HH", 14_000, 14_000) + content[at + 4 :]) == (
        "too_large"
    )


def test_jpeg_with_scan_after_scan(tmp_path: Path) -> None:
    held = io.BytesIO()
    Image.fromarray(np.zeros((240, 240), np.uint8)).save(held, "JPEG", progressive=True)
    content = held.getvalue()
    last = content.rindex(b"\xff\xda")
    scan = content[last:-2]
    assert refused(tmp_path / "a.jpg", content[:-2] + scan * 500 + content[-2:]) == "unreadable"


@pytest.mark.parametrize("compression", ["zlib", "lzma"])
def test_tiff_whose_strip_unpacks_to_more_than_the_picture(tmp_path: Path, compression: str) -> None:
    """A strip of 240 x 240 pixels that holds 60 MB."""
    path = tmp_path / "a.tif"
    tifffile.imwrite(path, np.zeros((240, 240), np.uint8), compression=compression)
    with tifffile.TiffFile(path) as tif:
        page = tif.pages[0]
        offsets, counts = page.tags["StripOffsets"], page.tags["StripByteCounts"]
        at, count_at = offsets.valueoffset, counts.valueoffset
    bomb = zlib.compress(bytes(60_000_000), 9) if compression == "zlib" else lzma.compress(bytes(60_000_000))
    content = bytearray(path.read_bytes())
    where = len(content)
    content += bomb
    struct.pack_into("<I", content, at, where)
    struct.pack_into("<I" if counts.dtype.name == "LONG" else "<H", content, count_at, min(len(bomb), 65535))
    assert refused(path, bytes(content)) == "unreadable"


def test_tiff_with_an_endless_chain_of_pages(tmp_path: Path) -> None:
    """Only the first page is looked at; that others follow is said."""
    path = tmp_path / "a.tif"
    ramp = np.tile(np.arange(240, dtype=np.uint8), (240, 1))
    with tifffile.TiffWriter(path) as writer:
        for _ in range(3):
            writer.write(ramp, contiguous=False)
    assert "several pages" in " ".join(read_picture(path).notes)
    tifffile.imwrite(path, ramp)
    assert "several pages" not in " ".join(read_picture(path).notes)
