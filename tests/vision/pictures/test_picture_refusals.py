"""What cannot be measured is refused with the right code in one line, whatever the bytes."""

from __future__ import annotations

import io
import os
import struct
import zlib
from pathlib import Path

import numpy as np
import pytest
import tifffile
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from PIL import Image

from flankwise.reasons import sentence
from threads.shared.refusal import RefusalError
from vision.pictures.picture import read_picture
from vision.shared.opencv import cv2

CODES = {"unreadable", "truncated", "too_large", "too_small", "unsupported_depth", "transparent"}
KINDS = ("png", "png16", "rgb.png", "jpg", "progressive.jpg", "tif", "zlib.tif", "lzw.tif", "bmp")


def _scene(height: int = 210, width: int = 260) -> np.ndarray:
    rng = np.random.default_rng(5)
    y, x = np.mgrid[:height, :width]
    return np.clip(
        200 * (np.abs(y - height / 2) > height / 5) + 20 + x / 40 + rng.normal(0, 3, y.shape), 0, 255
    ).astype(np.uint8)


def _file(kind: str) -> bytes:
    scene, held = _scene(), io.BytesIO()
    colour = np.stack([scene, scene, scene[::-1]], axis=-1)
    if kind == "png16":
        return cv2.imencode(".png", scene.astype(np.uint16) * 257)[1].tobytes()
    if kind == "lzw.tif":
        return cv2.imencode(".tif", colour, [cv2.IMWRITE_TIFF_COMPRESSION, 5])[1].tobytes()
    if kind.endswith("tif"):
        compression = None if kind == "tif" else kind.partition(".")[0]
        tifffile.imwrite(held, colour, compression=compression, photometric="rgb")
    elif kind.endswith("jpg"):
        Image.fromarray(colour).save(held, "JPEG", quality=90, progressive=kind != "jpg", exif=Image.Exif())
    elif kind == "bmp":
        Image.fromarray(colour).save(held, "BMP")
    else:
        Image.fromarray(colour if kind == "rgb.png" else scene).save(held, "PNG")
    return held.getvalue()


FILES = {kind: _file(kind) for kind in KINDS}


def _refused(path: Path | str) -> tuple[str, str]:
    with pytest.raises(RefusalError) as caught:
        read_picture(path)
    (reason,) = caught.value.reasons
    assert "\n" not in sentence(reason)
    assert len(sentence(reason)) > 20
    return reason.code, sentence(reason)


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("part", [0.3, 0.6, 0.9, 0.99])
def test_truncated(tmp_path: Path, kind: str, part: float, capfd: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "a").write_bytes(FILES[kind][: int(part * len(FILES[kind]))])
    assert _refused(tmp_path / "a")[0] == "truncated"
    assert capfd.readouterr() == ("", "")


@pytest.mark.parametrize("kind", KINDS)
def test_a_few_bytes_short(tmp_path: Path, kind: str) -> None:
    (tmp_path / "a").write_bytes(FILES[kind][:-3])
    assert _refused(tmp_path / "a")[0] == "truncated"


def test_jpeg_cut_behind_a_preview_that_has_its_own_end(tmp_path: Path) -> None:
    """The preview in the EXIF block ends with the same two bytes as a whole picture does."""
    small = io.BytesIO()
    Image.fromarray(_scene(40, 50)).save(small, "JPEG")
    whole = io.BytesIO()
    Image.fromarray(_scene()).save(whole, "JPEG", exif=b"Exif\0\0II*\0\x08\0\0\0\0\0" + small.getvalue())
    data = whole.getvalue()
    (tmp_path / "a.jpg").write_bytes(data)
    read_picture(tmp_path / "a.jpg")
    (tmp_path / "a.jpg").write_bytes(data[: len(data) * 3 // 4])
    assert _refused(tmp_path / "a.jpg")[0] == "truncated"


@pytest.mark.parametrize(
    "junk", [b"", b"\0", b"hello, this is no picture", b"\x89PNG", b"\xff\xd8\xff", b"BM", b"II*\0", b"P5 9 9 255 "]
)
def test_no_picture(tmp_path: Path, junk: bytes) -> None:
    (tmp_path / "a.png").write_bytes(junk)
    assert _refused(tmp_path / "a.png")[0] in ("unreadable", "truncated")


def test_missing_folder_pipe_and_odd_names(tmp_path: Path) -> None:
    for path in (tmp_path / "nothing.png", tmp_path, "", "a\0b.png", str(tmp_path / ("x" * 5000))):
        code, message = _refused(path)
        assert code == "unreadable"
        assert str(tmp_path) not in message or path == tmp_path
    if hasattr(os, "mkfifo"):
        os.mkfifo(tmp_path / "pipe")
        assert _refused(tmp_path / "pipe")[0] == "unreadable"


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root may read everything")
def test_no_permission(tmp_path: Path) -> None:
    (tmp_path / "a.png").write_bytes(FILES["png"])
    (tmp_path / "a.png").chmod(0)
    assert _refused(tmp_path / "a.png")[0] == "unreadable"


@pytest.mark.parametrize("shape", [(40, 60), (199, 400), (400, 199)])
@pytest.mark.parametrize("kind", ["png", "jpg", "tif", "bmp"])
def test_too_small_says_how_many_are_needed(tmp_path: Path, shape: tuple[int, int], kind: str) -> None:
    path = tmp_path / f"a.{kind}"
    Image.fromarray(_scene(*shape)).save(path)
    code, message = _refused(path)
    assert code == "too_small"
    assert "200" in message
    assert f"{shape[1]} x {shape[0]}" in message


def _bomb(kind: str) -> bytes:
    """A header that promises 40000 x 40000 pixels and little behind it."""
    side = 40_000
    if kind == "png":
        header = struct.pack(">IIBBBBB", side, side, 8, 0, 0, 0, 0)
        body = zlib.compress(bytes(200_000))
        chunks = ((b"IHDR", header), (b"IDAT", body), (b"IEND", b""))
        return b"\x89PNG\r\n\x1a\n" + b"".join(
            struct.pack(">I", len(b)) + k + b + struct.pack(">I", zlib.crc32(k + b)) for k, b in chunks
        )
    if kind == "jpg":
        data = bytearray(FILES["jpg"])
        at = data.index(b"\xff\xc0")
        data[at + 5 : at + 9] = struct.pack(">HH", side, side)
        return bytes(data)
    if kind == "tif":
        data = FILES["tif"].replace(struct.pack("<HHII", 256, 4, 1, 260), struct.pack("<HHII", 256, 4, 1, side))
        return data.replace(struct.pack("<HHII", 257, 4, 1, 210), struct.pack("<HHII", 257, 4, 1, side))
    data = bytearray(FILES["bmp"])
    data[18:26] = struct.pack("<ii", side, side)
    return bytes(data)


@pytest.mark.parametrize("kind", ["png", "jpg", "tif", "bmp"])
def test_too_large_is_refused_by_the_header(tmp_path: Path, kind: str) -> None:
    (tmp_path / "a").write_bytes(_bomb(kind))
    assert _refused(tmp_path / "a")[0] == "too_large"


def test_cut_out_pictures_are_refused(tmp_path: Path) -> None:
    alpha = Image.fromarray(np.where(_scene() > 100, 255, 0).astype(np.uint8))
    for name in ("a.png", "a.tif"):
        Image.merge("RGBA", [*Image.fromarray(_scene()).convert("RGB").split(), alpha]).save(tmp_path / name)
        assert _refused(tmp_path / name)[0] == "transparent"


def test_depths_that_carry_no_grey(tmp_path: Path) -> None:
    black_and_white = Image.fromarray(_scene() > 100)
    for name in ("a.png", "a.bmp", "a.tif"):
        black_and_white.save(tmp_path / name)
        assert _refused(tmp_path / name)[0] == "unsupported_depth"
    tifffile.imwrite(tmp_path / "i32.tif", _scene().astype(np.int32))
    tifffile.imwrite(tmp_path / "i16.tif", _scene().astype(np.int16))
    tifffile.imwrite(tmp_path / "nan.tif", np.full((210, 260), np.nan, np.float32))
    for name in ("i32.tif", "i16.tif", "nan.tif"):
        assert _refused(tmp_path / name)[0] == "unsupported_depth"


def test_camera_raw_is_refused_with_advice(tmp_path: Path) -> None:
    tifffile.imwrite(tmp_path / "a.dng", _scene(), extratags=[(50706, "B", 4, bytes((1, 4, 0, 0)), True)])
    code, message = _refused(tmp_path / "a.dng")
    assert code == "unreadable"
    assert "raw" in message


def test_damaged_png_is_found_by_its_check_sums(tmp_path: Path) -> None:
    data = bytearray(FILES["png"])
    data[len(data) // 2] ^= 0x10
    (tmp_path / "a.png").write_bytes(data)
    assert _refused(tmp_path / "a.png")[0] == "unreadable"


def test_damage_in_attachments_does_not_matter(tmp_path: Path, capfd: pytest.CaptureFixture[str]) -> None:
    png = FILES["png"]
    (tmp_path / "a.png").write_bytes(png[:33] + struct.pack(">I4s5sI", 5, b"eXIf", b"II*\0x", 1) + png[33:])
    jpg = FILES["jpg"]
    (tmp_path / "a.jpg").write_bytes(
        jpg[:2] + struct.pack(">2BH14s", 255, 225, 16, b"Exif\0\0MM\0*\xff\xff\xff\xff") + jpg[2:]
    )
    assert np.array_equal(np.rint(255 * read_picture(tmp_path / "a.png").light), _scene())
    assert read_picture(tmp_path / "a.jpg").width_px == 260
    assert capfd.readouterr() == ("", "")


@pytest.mark.slow
@settings(max_examples=250, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(data=st.data())
def test_any_mutation_is_read_or_refused_and_nothing_else(tmp_path: Path, data: st.DataObject) -> None:
    content = bytearray(FILES[data.draw(st.sampled_from(KINDS))])
    for _ in range(data.draw(st.integers(1, 4))):
        # Headers are at the front, TIFF tags too: aim there half of the time.
        at = data.draw(st.one_of(st.integers(0, min(400, len(content) - 1)), st.integers(0, len(content) - 1)))
        what = data.draw(st.sampled_from(("set", "cut", "insert", "end")))
        if what == "set":
            content[at] = data.draw(st.integers(0, 255))
        elif what == "cut":
            del content[at : at + data.draw(st.integers(1, 40))]
        elif what == "insert":
            content[at:at] = data.draw(st.binary(min_size=1, max_size=12))
        else:
            del content[at + 1 :]
        if not content:
            break
    path = tmp_path / "mutated"
    path.write_bytes(bytes(content))
    refused = None
    try:
        picture = read_picture(path)
    except RefusalError as refusal:
        refused = refusal.reasons[0]
    if refused is None:
        assert picture.light.shape == (picture.height_px, picture.width_px)
        assert np.all((picture.light >= 0) & (picture.light <= 1))
    else:
        assert refused.code in CODES
        assert "\n" not in sentence(refused)
