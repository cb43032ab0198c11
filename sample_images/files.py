"""Writing a picture as PNG, TIFF or JPEG, and its truth beside it."""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import numpy as np

from sample_images.render import Picture

SUFFIXES = (".png", ".tif", ".tiff", ".jpg", ".jpeg")


def write_picture(path: Path, picture: Picture, jpeg_quality: int = 95) -> None:
    """Write a picture in the format of the file's suffix.

    PNG and TIFF are grey, 8 or 16 bits, and hold the linear intensities as they are. JPEG is what a camera would
    write: three equal colour channels with the sRGB curve (IEC 61966-2-1); draw in 16 bits for it, or the
    dark tones lose steps.

    Raises:
        ValueError: another suffix.
        OSError: the file cannot be written.
    """
    from PIL import Image  # noqa: PLC0415  (only where a file is written)

    suffix = path.suffix.lower()
    if suffix == ".png":
        Image.fromarray(picture).save(path, optimize=True)
    elif suffix in (".tif", ".tiff"):
        import tifffile  # noqa: PLC0415  (only where a file is written)

        tifffile.imwrite(path, picture, compression="zlib", photometric="minisblack", software="", metadata=None)
    elif suffix in (".jpg", ".jpeg"):
        grey = srgb_code(picture / np.iinfo(picture.dtype).max)
        Image.fromarray(np.repeat(grey[:, :, None], 3, axis=2)).save(path, quality=jpeg_quality, subsampling=0)
    else:
        raise ValueError(f"a picture ends in one of {', '.join(SUFFIXES)}, not {path.name!r}")


def srgb_code(linear: np.ndarray[Any, np.dtype[np.floating[Any]]]) -> np.ndarray[Any, np.dtype[np.uint8]]:
    """Linear intensities 0 to 1 as 8-bit sRGB (IEC 61966-2-1)."""
    code = np.where(linear <= 0.0031308, 12.92 * linear, 1.055 * np.maximum(linear, 1e-9) ** (1 / 2.4) - 0.055)
    return np.clip(np.rint(code * 255), 0, 255).astype(np.uint8)


def write_truth(path: Path, truths: Sequence[dict[str, Any]] | dict[str, Any]) -> None:
    """Write one truth, or a list of them, as JSON; lengths and angles rounded to nine decimals.

    Raises:
        OSError: the file cannot be written.
    """
    path.write_text(json.dumps(_rounded(truths), indent=1, ensure_ascii=False) + "\n", encoding="utf-8")


def _rounded(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: _rounded(item) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [_rounded(item) for item in value]
    return round(value, 9) if isinstance(value, float) else value
