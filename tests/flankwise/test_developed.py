"""A picture of another file, tone or sharpness than the gauges: converted where certain, else said and widened."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
from PIL import Image, ImageFilter

import flankwise
from calib.picture_kind import tone_shift
from flankwise.bench import Bench
from flankwise.part import Part
from sample_images.files import srgb_code

SAMPLES = Path(__file__).resolve().parents[2] / "sample_images"
PINS = [(SAMPLES / "pin_1000_bench_a.png", "1.000mm"), (SAMPLES / "pin_2500_bench_a.png", "2.500mm")]
PART = SAMPLES / "sextant_index_arm_screw_4-40_bench_a.png"
SAME_MM = 0.0005
DIAMETERS = ("pitch_diameter", "major_diameter", "minor_diameter")


@pytest.fixture(scope="module")
def bench() -> Bench:
    return flankwise.calibrate(pins=PINS, pin_u95="1um", focus_locked=True)


@pytest.fixture(scope="module")
def grey(bench: Bench) -> Part:
    return flankwise.measure(PART, bench)


def developed(picture: Image.Image, bright: float = 1.0) -> Image.Image:
    """As a camera writes it, from linear values."""
    return Image.fromarray(np.clip(bright * srgb_code(np.asarray(picture) / 255.0), 0, 255).astype(np.uint8))


def codes(part: Part) -> set[str]:
    return {warning.code for warning in part.warnings}


def differences(one: Part, other: Part) -> list[float]:
    return [abs(getattr(one.thread, name).value - getattr(other.thread, name).value) for name in DIAMETERS]


@pytest.mark.parametrize(("name", "change"), [
    ("grey.jpg", lambda grey: grey), ("colour.png", lambda grey: grey.convert("RGB")),
    ("palette.png", lambda grey: grey.convert("RGB").quantize(256)), ("print.jpg", lambda grey: grey.convert("CMYK")),
    ("camera.jpg", developed),
])  # fmt: skip
def test_a_tone_that_the_light_tells_is_used(
    name: str, change: Callable[[Image.Image], Image.Image], bench: Bench, grey: Part, tmp_path: Path
) -> None:
    with Image.open(PART) as drawn:
        change(drawn).save(tmp_path / name, quality=95)
    found = flankwise.measure(tmp_path / name, bench)
    assert max(differences(found, grey)) < SAME_MM
    assert not codes(found) & {"tone_differs", "sharpness_differs"}


def test_a_tone_that_it_does_not_tell_is_said_and_covered(bench: Bench, grey: Part, tmp_path: Path) -> None:
    """Another exposure as well: neither reading has the levels of the gauges."""
    with Image.open(PART) as drawn:
        developed(drawn, 1.12).save(tmp_path / "camera.jpg", quality=95)
    found = flankwise.measure(tmp_path / "camera.jpg", bench)
    assert "tone_differs" in codes(found)
    for name, off in zip(DIAMETERS, differences(found, grey), strict=True):
        assert off < getattr(found.thread, name).u95
        assert getattr(found.thread, name).u95 > getattr(grey.thread, name).u95


def test_sharpening_that_the_gauges_did_not_have_is_said(bench: Bench, grey: Part, tmp_path: Path) -> None:
    with Image.open(PART) as drawn:
        drawn.filter(ImageFilter.UnsharpMask(radius=2, percent=150, threshold=0)).save(tmp_path / "sharp.png")
    found = flankwise.measure(tmp_path / "sharp.png", bench)
    assert "sharpness_differs" in codes(found)
    assert "sharpness_differs" not in codes(grey)
    assert all("sharpness_differs" in codes(part) for part in flankwise.measure_all(tmp_path / "sharp.png", bench))


def test_sharpening_after_the_tone_moves_edges_as_far_as_it_is_said(tmp_path: Path) -> None:
    """As a camera does that adapts: gauges and part in its tone, only the part sharpened."""
    pictures = []
    for path in (PINS[0][0], PINS[1][0], PART):
        pictures.append(tmp_path / f"{path.stem}.jpg")
        with Image.open(path) as drawn:
            developed(drawn).save(pictures[-1], quality=95)
    camera = flankwise.calibrate(
        pins=[(path, size) for path, (_, size) in zip(pictures, PINS, strict=False)], pin_u95="1um", focus_locked=True
    )
    plain = flankwise.measure(pictures[2], camera)
    with Image.open(pictures[2]) as soft:
        soft.filter(ImageFilter.UnsharpMask(radius=1, percent=120, threshold=0)).save(
            tmp_path / "sharp.jpg", quality=95
        )
    found = flankwise.measure(tmp_path / "sharp.jpg", camera)
    assert "sharpness_differs" not in codes(plain)
    assert "sharpness_differs" in codes(found)
    for name, off in zip(DIAMETERS, differences(found, plain), strict=True):
        added = getattr(found.thread, name).u95 ** 2 - getattr(plain.thread, name).u95 ** 2
        assert off**2 < 1.4 * added


def test_one_pin_of_an_unclear_tone_carries_an_honest_offset(tmp_path: Path) -> None:
    """Linear values in a grey JPEG: read as sRGB the edges lie off by six tenths of the blur, 0.63 px here."""
    with Image.open(PINS[1][0]) as drawn:
        drawn.save(tmp_path / "pin.jpg", quality=95)
    found = flankwise.calibrate(pins=(tmp_path / "pin.jpg", "2.500mm"), pin_u95="1um").calibration
    assert abs(found.edge_offset_px - (-0.25 + 0.63)) < found.edge_offset_px_u95
    assert found.edge_offset_px_u95 > 0.35


def test_by_how_much_a_wrong_tone_moves_an_edge() -> None:
    """Light 0 to 1 over a Gaussian edge: half the light of sRGB stands at the code 0.735, 0.63 blurs outside."""
    assert tone_shift(1.0, 1.0, 0.0, read="srgb", true="linear") == pytest.approx(0.63, abs=0.01)
    assert tone_shift(1.0, 1.0, 0.0, read="linear", true="srgb") == pytest.approx(-0.79, abs=0.01)
    assert tone_shift(1.0, 1.0, 0.0, read="srgb", true="srgb") == 0
