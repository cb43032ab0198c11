"""A small version of a picture, for lists and reports; for the eye only, nothing is measured in it."""

from __future__ import annotations

import io

import numpy as np

from vision.pictures.picture import Picture

LONG_SIDE_PX = 480


def thumbnail_of(picture: Picture) -> bytes:
    """A grey JPEG of at most ``LONG_SIDE_PX`` on its long side, upright, as bright to the eye as the picture."""
    from PIL import Image

    light = picture.light
    step = max(1, -(-max(light.shape) // (2 * LONG_SIDE_PX)))  # whole pixels left out first: quick for large ones
    tone = np.clip(light[::step, ::step], 0, 1) ** (1 / 2.2)
    image = Image.fromarray((255 * tone + 0.5).astype(np.uint8))
    image.thumbnail((LONG_SIDE_PX, LONG_SIDE_PX))
    written = io.BytesIO()
    image.save(written, "JPEG", quality=85)
    return written.getvalue()
