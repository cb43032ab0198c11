"""Where a picture is smoothed: all about the edges of the part, as if the whole picture were."""

from __future__ import annotations

import numpy as np
from scipy.ndimage import distance_transform_edt, gaussian_filter

from tests.each import each
from tests.vision.made_pictures import BETWEEN, picture, screw
from vision.outline.silhouette import find_silhouette

LOOKED_AT = 96
"""Pixels from the outline; the farthest that is looked at is the shine 5 px beyond twice the widest blur."""


@each("background, turned", [(background, turned) for background in ("bright", "dark") for turned in (False, True)])
def test_smoothed_about_the_edges(background: str, turned: bool) -> None:
    """Against a Gaussian of scipy's over the whole picture, to 4 standard deviations as OpenCV's."""
    dark = screw(BETWEEN)
    made = picture(np.rot90(dark).copy() if turned else dark, background=background, slope=0.2)
    found = find_silhouette(made)
    on = np.ones(made.light.shape, np.bool_)
    on[found.outline[:, 1], found.outline[:, 0]] = False
    on[[0, 1, -2, -1]] = on[:, [0, 1, -2, -1]] = True  # where the part leaves the picture is no edge
    near = distance_transform_edt(on) < LOOKED_AT
    whole = gaussian_filter(made.light.astype(np.float64), found.presmooth_px, mode="mirror", truncate=4.0)
    np.testing.assert_allclose(found.smooth[near], whole[near], atol=2e-6)


def test_grain_is_that_of_the_smoothed_background() -> None:
    """White noise of 2 % under a Gaussian of 1 px: divided by 2 sqrt(pi), the square root of its effective pixels."""
    found = find_silhouette(picture(screw(), noise=0.02))
    assert abs(found.noise / 0.02 - 1) < 0.05
    assert abs(found.grain * 2 * np.sqrt(np.pi) / 0.02 - 1) < 0.08
