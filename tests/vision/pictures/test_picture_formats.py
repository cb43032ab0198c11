"""Every kind of file that is read must give the light that was put into it."""

from __future__ import annotations

import hashlib
import io
import os
import struct
import subprocess
import sys
import zlib
from pathlib import Path

import numpy as np
import numpy.typing as npt
import pytest
import tifffile
from PIL import Image

from vision.pictures.picture import Picture, read_picture
from vision.shared.opencv import cv2

HEIGHT, WIDTH = 210, 260
# The weights of ITU-R BT.709 and the curve of IEC 61966-2-1, written down again on purpose.
WEIGHTS = np.array([0.2126, 0.7152, 0.0722])


def _srgb(code: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
    return np.where(code <= 0.04045, code / 12.92, ((code + 0.055) / 1.055) ** 2.4)


def _grey(dtype: type = np.uint8) -> npt.NDArray[np.uint16]:
    """All levels of the type, darkest top left, so that turning and flipping shows."""
    top = np.iinfo(dtype).max
    return np.linspace(0, top, HEIGHT * WIDTH).round().astype(dtype).reshape(HEIGHT, WIDTH)


def _colour(dtype: type = np.uint8) -> npt.NDArray[np.uint16]:
    g = _grey(dtype)
    return np.stack([g, g[::-1], g[:, ::-1]], axis=-1)


def _luminance(colour: npt.NDArray[np.uint16]) -> npt.NDArray[np.float64]:
    return _srgb(colour / np.iinfo(colour.dtype).max) @ WEIGHTS


def _agree(picture: Picture, light: npt.NDArray[np.float64], tolerance: float = 2e-6) -> None:
    assert picture.light.dtype == np.float32
    assert (picture.height_px, picture.width_px) == picture.light.shape == light.shape
    assert float(np.max(np.abs(picture.light - light))) <= tolerance


def _chunk(kind: bytes, body: bytes) -> bytes:
    return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))


def _with_chunk(png: bytes, kind: bytes, body: bytes) -> bytes:
    """A PNG file with one more chunk after its header (8 + 25 bytes)."""
    return png[:33] + _chunk(kind, body) + png[33:]


def _png(array: npt.NDArray[np.uint16]) -> bytes:
    return cv2.imencode(".png", array if array.ndim == 2 else array[:, :, ::-1])[1].tobytes()


@pytest.mark.parametrize("dtype", [np.uint8, np.uint16])
def test_grey_png_is_linear_sensor_light(tmp_path: Path, dtype: type) -> None:
    (tmp_path / "a.png").write_bytes(_png(_grey(dtype)))
    picture = read_picture(tmp_path / "a.png")
    top = np.iinfo(dtype).max
    _agree(picture, _grey(dtype) / top)
    assert picture.bit_depth == np.dtype(dtype).itemsize * 8
    assert picture.step == pytest.approx(1 / top, rel=1e-3)
    assert "linear" in picture.notes[0]
    assert picture.sha256 == hashlib.sha256((tmp_path / "a.png").read_bytes()).hexdigest()
    assert picture.path == str(tmp_path / "a.png")
    assert not picture.light.flags.writeable


@pytest.mark.parametrize("dtype", [np.uint8, np.uint16])
def test_colour_png_is_srgb_made_linear_luminance(tmp_path: Path, dtype: type) -> None:
    (tmp_path / "a.png").write_bytes(_png(_colour(dtype)))
    picture = read_picture(tmp_path / "a.png")
    _agree(picture, _luminance(_colour(dtype)))
    assert "sRGB" in picture.notes[0]
    assert "Rec. 709" in picture.notes[0]


def test_grey_step_is_taken_where_the_light_is_half(tmp_path: Path) -> None:
    (tmp_path / "a.png").write_bytes(_png(_colour()))
    levels = _srgb(np.arange(256) / 255)
    middle = int(np.searchsorted(levels, 0.5))
    assert levels[middle] - levels[middle - 1] == pytest.approx(read_picture(tmp_path / "a.png").step, rel=0.02)


@pytest.mark.parametrize(
    ("kind", "body", "light"),
    [
        (b"sRGB", b"\0", _srgb),
        (b"gAMA", struct.pack(">I", 45455), lambda c: c ** (1 / 0.45455)),
        (b"gAMA", struct.pack(">I", 100_000), lambda c: c),
        (b"gAMA", struct.pack(">I", 0), lambda c: c),  # nonsense is ignored
        (b"cICP", b"\x01\x0d\x00\x01", _srgb),
        (b"cICP", b"\x01\x08\x00\x01", lambda c: c),
    ],
)
def test_grey_png_obeys_the_tone_it_states(tmp_path: Path, kind: bytes, body: bytes, light) -> None:
    (tmp_path / "a.png").write_bytes(_with_chunk(_png(_grey()), kind, body))
    _agree(read_picture(tmp_path / "a.png"), light(_grey() / 255))


def test_colour_png_stated_linear_is_not_made_linear_twice(tmp_path: Path) -> None:
    (tmp_path / "a.png").write_bytes(_with_chunk(_png(_colour()), b"gAMA", struct.pack(">I", 100_000)))
    _agree(read_picture(tmp_path / "a.png"), (_colour() / 255) @ WEIGHTS)


def test_twelve_significant_bits(tmp_path: Path) -> None:
    twelve = _grey(np.uint16) >> 4
    (tmp_path / "scaled.png").write_bytes(_with_chunk(_png(twelve << 4 | twelve >> 8), b"sBIT", b"\x0c"))
    (tmp_path / "plain.png").write_bytes(_with_chunk(_png(twelve), b"sBIT", b"\x0c"))
    tifffile.imwrite(tmp_path / "tagged.tif", twelve, extratags=[(281, "H", 1, 4095, True)])
    for name in ("scaled.png", "plain.png", "tagged.tif"):
        picture = read_picture(tmp_path / name)
        _agree(picture, twelve / 4095, 2e-5)  # 0.06 of a step: the rounding of the scaled one
        assert picture.bit_depth == 12, name
        assert picture.step == pytest.approx(1 / 4095, rel=0.1), name


def test_twelve_bits_packed(tmp_path: Path) -> None:
    pytest.importorskip("imagecodecs", reason="tifffile packs and unpacks 12 bits with this optional package only")
    twelve = _grey(np.uint16) >> 4
    tifffile.imwrite(tmp_path / "a.tif", twelve, bitspersample=12)
    picture = read_picture(tmp_path / "a.tif")
    _agree(picture, twelve / 4095)
    assert picture.bit_depth == 12


def test_alpha_that_says_nothing_is_dropped(tmp_path: Path) -> None:
    opaque = np.full((HEIGHT, WIDTH), 255, np.uint8)
    Image.merge("LA", [Image.fromarray(_grey()), Image.fromarray(opaque)]).save(tmp_path / "la.png")
    Image.merge("RGBA", [*Image.fromarray(_colour()).split(), Image.fromarray(opaque)]).save(tmp_path / "rgba.png")
    Image.open(tmp_path / "rgba.png").save(tmp_path / "rgba.tif")
    _agree(read_picture(tmp_path / "la.png"), _grey() / 255)
    _agree(read_picture(tmp_path / "rgba.png"), _luminance(_colour()))
    _agree(read_picture(tmp_path / "rgba.tif"), _luminance(_colour()))


def test_palette(tmp_path: Path) -> None:
    image = Image.fromarray(_colour()).quantize(200)
    for name in ("a.png", "a.tif", "a.bmp"):
        image.save(tmp_path / name)
        picture = read_picture(tmp_path / name)
        _agree(picture, _luminance(np.asarray(image.convert("RGB"))))


def test_jpeg_colour_and_grey(tmp_path: Path) -> None:
    grey = np.broadcast_to(np.linspace(0, 255, WIDTH).astype(np.uint8), (HEIGHT, WIDTH))
    Image.fromarray(grey).save(tmp_path / "grey.jpg", quality=98)
    Image.fromarray(grey).convert("RGB").save(tmp_path / "colour.jpg", quality=98)
    for name in ("grey.jpg", "colour.jpg"):
        picture = read_picture(tmp_path / name)
        _agree(picture, _srgb(grey / 255), 0.02)  # what JPEG loses at quality 98
        assert "sRGB" in picture.notes[0]


def test_printing_colours(tmp_path: Path) -> None:
    cmyk = Image.fromarray(_colour()).convert("CMYK")
    cmyk.save(tmp_path / "a.tif")
    _agree(read_picture(tmp_path / "a.tif"), _luminance(_colour()))
    smooth = np.repeat(np.linspace(0, 255, WIDTH).astype(np.uint8)[None, :, None], 3, axis=2).repeat(HEIGHT, axis=0)
    Image.fromarray(smooth).convert("CMYK").save(tmp_path / "a.jpg", quality=98)
    picture = read_picture(tmp_path / "a.jpg")
    _agree(picture, _luminance(smooth), 0.03)
    assert any("CMYK" in note for note in picture.notes)


def _write_tiff(path: Path, array: npt.NDArray[np.uint16], compression: str | None) -> None:
    """Through OpenCV, because tifffile needs an optional package for most compressions."""
    code = {None: 1, "lzw": 5, "zlib": 8, "packbits": 32773}[compression]
    stored = array if array.ndim == 2 else array[:, :, ::-1]
    assert cv2.imwrite(str(path), stored, [cv2.IMWRITE_TIFF_COMPRESSION, code])


@pytest.mark.parametrize("compression", [None, "lzw", "zlib", "packbits"])
@pytest.mark.parametrize("dtype", [np.uint8, np.uint16])
def test_tiff(tmp_path: Path, compression: str | None, dtype: type) -> None:
    _write_tiff(tmp_path / "g.tif", _grey(dtype), compression)
    _write_tiff(tmp_path / "c.tif", _colour(dtype), compression)
    _agree(read_picture(tmp_path / "g.tif"), _grey(dtype) / np.iinfo(dtype).max)
    picture = read_picture(tmp_path / "c.tif")
    _agree(picture, _luminance(_colour(dtype)))
    assert "taken as sRGB" in picture.notes[0]


def test_tiff_of_other_layouts(tmp_path: Path) -> None:
    planes = np.moveaxis(_colour(), 2, 0)
    tifffile.imwrite(tmp_path / "planes.tif", planes, photometric="rgb", planarconfig="separate")
    tifffile.imwrite(tmp_path / "inverse.tif", 255 - _grey(), photometric="miniswhite")
    tifffile.imwrite(tmp_path / "tiles.tif", _grey(), tile=(64, 64))
    tifffile.imwrite(tmp_path / "big.tif", _grey(np.uint16), bigtiff=True, byteorder=">")
    _agree(read_picture(tmp_path / "planes.tif"), _luminance(_colour()))
    for name in ("inverse.tif", "tiles.tif"):
        _agree(read_picture(tmp_path / name), _grey() / 255)
    _agree(read_picture(tmp_path / "big.tif"), _grey(np.uint16) / 65535)


def test_floating_point_tiff(tmp_path: Path) -> None:
    light = (_grey() / 255).astype(np.float32)
    tifffile.imwrite(tmp_path / "unit.tif", light)
    tifffile.imwrite(tmp_path / "counts.tif", light * 3000)
    tifffile.imwrite(tmp_path / "colour.tif", np.stack([light] * 3, axis=-1), photometric="rgb")
    for name in ("unit.tif", "counts.tif", "colour.tif"):
        picture = read_picture(tmp_path / name)
        _agree(picture, light.astype(float))
        assert picture.bit_depth == 32
    assert any("3000" in note for note in read_picture(tmp_path / "counts.tif").notes)


def test_first_of_several_pages_with_a_note(tmp_path: Path) -> None:
    tifffile.imwrite(tmp_path / "a.tif", np.stack([_grey(), 255 - _grey()]), photometric="minisblack")
    picture = read_picture(tmp_path / "a.tif")
    _agree(picture, _grey() / 255)
    assert any("several" in note for note in picture.notes)
    frames = [Image.fromarray(_grey()), Image.fromarray(255 - _grey())]
    frames[0].save(tmp_path / "a.png", save_all=True, append_images=frames[1:])
    picture = read_picture(tmp_path / "a.png")
    _agree(picture, _grey() / 255)
    assert any("animation" in note for note in picture.notes)


# EXIF 2.3, tag 0x0112: what stands at row 0 / column 0 of the file.
UPRIGHT = {
    1: lambda a: a,
    2: lambda a: a[:, ::-1],
    3: lambda a: a[::-1, ::-1],
    4: lambda a: a[::-1],
    5: lambda a: a.T,
    6: lambda a: a.T[:, ::-1],
    7: lambda a: a.T[::-1, ::-1],
    8: lambda a: a.T[::-1],
}


@pytest.mark.parametrize("orientation", range(1, 9))
def test_exif_orientation(tmp_path: Path, orientation: int) -> None:
    exif = Image.Exif()
    exif[0x0112] = orientation
    upright = UPRIGHT[orientation](_grey() / 255)
    Image.fromarray(_grey()).save(tmp_path / "a.png", exif=exif)
    tifffile.imwrite(tmp_path / "a.tif", _grey(), extratags=[(274, "H", 1, orientation, True)])
    Image.fromarray(_grey()).save(tmp_path / "a.jpg", exif=exif, quality=95)
    _agree(read_picture(tmp_path / "a.png"), upright)
    _agree(read_picture(tmp_path / "a.tif"), upright)
    picture = read_picture(tmp_path / "a.jpg")
    with Image.open(tmp_path / "a.jpg") as stored:  # as the file holds it, then turned
        _agree(picture, UPRIGHT[orientation](_srgb(np.asarray(stored) / 255)))
    assert ("turned upright" in " ".join(picture.notes)) == (orientation != 1)


def test_clipped_fractions(tmp_path: Path) -> None:
    grey = np.full((HEIGHT, WIDTH), 100, np.uint8)
    grey[:21] = 255
    grey[-42:] = 0
    colour = np.stack([grey, np.minimum(grey, 200), np.full_like(grey, 7)], axis=-1)
    (tmp_path / "g.png").write_bytes(_png(grey))
    (tmp_path / "c.png").write_bytes(_png(colour))
    tifffile.imwrite(tmp_path / "f.tif", (grey / 255).astype(np.float32))
    for name in ("g.png", "f.tif"):
        picture = read_picture(tmp_path / name)
        assert picture.clipped_bright == pytest.approx(0.1)
    picture = read_picture(tmp_path / "c.png")
    assert picture.clipped_bright == pytest.approx(0.1)  # one channel is enough


def test_compressed_tiff_without_the_codec_package(tmp_path: Path) -> None:
    """tifffile alone does not unpack LZW; OpenCV must step in and give the same light."""
    _write_tiff(tmp_path / "g.tif", _grey(np.uint16), "lzw")
    _write_tiff(tmp_path / "c.tif", _colour(), "lzw")
    code = (
        "import sys; sys.modules['imagecodecs'] = None\n"
        "import numpy as np; from vision.pictures.picture import read_picture\n"
        "for name in ('g', 'c'): np.save(name + '.npy', read_picture(name + '.tif').light)\n"
    )
    env = {**os.environ, "PYTHONPATH": str(Path(__file__).parents[3])}
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=tmp_path, env=env, capture_output=True, text=True, timeout=600, check=False
    )
    assert done.returncode == 0, done.stderr
    for name in ("g", "c"):
        assert np.array_equal(np.load(tmp_path / f"{name}.npy"), read_picture(tmp_path / f"{name}.tif").light)


def test_a_profile_gives_the_tone(tmp_path: Path) -> None:
    """A grey profile of gamma 1.8 built by hand (ICC.1:2022, 7 and 10.6)."""
    curve = b"curv" + bytes(4) + struct.pack(">IH", 1, round(1.8 * 256)) + bytes(2)
    profile = bytes(16) + b"GRAY" + bytes(108) + struct.pack(">I4sII", 1, b"kTRC", 144, len(curve)) + curve
    gamma = round(1.8 * 256) / 256
    packed = b"grey\0\0" + zlib.compress(profile)
    (tmp_path / "a.png").write_bytes(_with_chunk(_png(_grey()), b"iCCP", packed))
    tifffile.imwrite(tmp_path / "a.tif", _grey(), iccprofile=profile)
    for name in ("a.png", "a.tif"):
        picture = read_picture(tmp_path / name)
        _agree(picture, (_grey() / 255) ** gamma, 5e-6)
        assert "profile" in picture.notes[0]
    held = io.BytesIO()
    Image.fromarray(_grey()).save(held, "JPEG", icc_profile=profile, quality=95)
    (tmp_path / "a.jpg").write_bytes(held.getvalue())
    with Image.open(tmp_path / "a.jpg") as stored:
        _agree(read_picture(tmp_path / "a.jpg"), (np.asarray(stored) / 255) ** gamma, 5e-6)
