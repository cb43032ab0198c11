"""Tone curves of colour profiles, against an independent colour engine and closed forms."""

from __future__ import annotations

import struct

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import ImageCms

from vision.pictures.tone import SRGB, tone_of_icc, tone_of_png_gamma

CODES = np.linspace(0, 1, 1001)


def _grey_profile(curve: bytes) -> bytes:
    return bytes(16) + b"GRAY" + bytes(108) + struct.pack(">I4sII", 1, b"kTRC", 144, len(curve)) + curve


def _para(kind: int, *values: float) -> bytes:
    return b"para" + bytes(4) + struct.pack(f">HH{len(values)}i", kind, 0, *(round(v * 65536) for v in values))


def test_srgb_profile_of_the_colour_engine_is_the_srgb_curve() -> None:
    tone = tone_of_icc(ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes())
    assert tone is not None
    assert len(tone.curves) == 3
    for curve in tone.curves:
        assert np.allclose(curve(CODES), SRGB.curves[0](CODES), atol=2e-4)  # its parameters are rounded to 2^-16


@pytest.mark.parametrize(
    ("tag", "light"),
    [
        (b"curv" + bytes(4) + struct.pack(">I", 0), CODES),
        (b"curv" + bytes(4) + struct.pack(">IH", 1, 512), CODES**2),
        (b"curv" + bytes(4) + struct.pack(">I3H", 3, 0, 16384, 65535), np.interp(CODES, [0, 0.5, 1], [0, 0.25, 1])),
        (_para(0, 2.0), CODES**2),
        (_para(1, 2.0, 1.25, -0.25), np.where(CODES >= 0.2, (1.25 * CODES - 0.25) ** 2, 0)),
        (_para(2, 2.0, 1.0, 0.0, 0.0), CODES**2),
        (_para(3, 2.0, 1.0, 0.0, 0.25, 0.25), np.where(CODES >= 0.25, CODES**2, CODES / 4)),
        (_para(4, 2.0, 1.0, 0.0, 0.25, 0.25, 0.0, 0.0), np.where(CODES >= 0.25, CODES**2, CODES / 4)),
    ],
)
def test_curve_forms(tag: bytes, light: np.ndarray) -> None:
    tone = tone_of_icc(_grey_profile(tag))
    assert tone is not None
    assert np.allclose(tone.curves[0](CODES), light, atol=1e-4)


@pytest.mark.parametrize(
    "tag",
    [
        b"",
        b"curv",
        b"curv" + bytes(4) + struct.pack(">I3H", 3, 65535, 16384, 0),  # runs downwards
        b"curv" + bytes(4) + struct.pack(">I", 4_000_000_000),
        _para(7, 1.0),
        _para(0, 0.0),  # the same light for every code
        _para(1, 2.0, 0.0, 0.0),
        b"mft2" + bytes(40),
    ],
)
def test_curves_that_make_no_sense_are_ignored(tag: bytes) -> None:
    assert tone_of_icc(_grey_profile(tag)) is None


@given(st.binary(max_size=400))
def test_any_bytes_as_a_profile(junk: bytes) -> None:
    tone_of_icc(junk)
    tone_of_icc(_grey_profile(b"para" + junk))
    tone_of_icc(_grey_profile(b"curv" + junk))


def test_png_gamma() -> None:
    tone = tone_of_png_gamma(45455)
    assert tone is not None
    assert np.allclose(tone.curves[0](CODES), CODES**2.2, atol=1e-4)
    assert tone_of_png_gamma(0) is None
    assert tone_of_png_gamma(4_000_000_000) is None
