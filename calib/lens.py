"""Lens distortion: where a straight picture would have a point, and back.

Two models, as dictionaries of plain values because they are stored as they are:

- ``{"model": "none"}``
- ``{"model": "radial", "k1": k1, "centre_px": [x, y], "radius_px": R0}``: a point at the distance ru from the centre is
  seen at rd = ru (1 + k1 (ru / R0)^2), the first term of the usual even polynomial (Brown, "Decentering distortion of
  lenses", 1966). R0 is half the diagonal of the picture.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

import numpy as np
import numpy.typing as npt

Points = npt.NDArray[np.float64]

NO_LENS: dict[str, Any] = {"model": "none"}


def radial_lens(k1: float, width_px: int, height_px: int) -> dict[str, Any]:
    """The radial model about the middle of a picture; ``k1`` is the distortion in its corners."""
    centre = [(width_px - 1) / 2, (height_px - 1) / 2]
    return {"model": "radial", "k1": float(k1), "centre_px": centre, "radius_px": math.hypot(width_px, height_px) / 2}


def check_lens(lens: Mapping[str, Any], width_px: int, height_px: int) -> None:
    """Raise ValueError when ``lens`` is no model of this module or cannot be undone everywhere in the picture.

    With a negative k1 the seen radius has a largest value, 2/3 R0 / sqrt(-3 k1); a corner beyond it has no original.
    """
    if lens.get("model") == "none":
        return
    if lens.get("model") != "radial":
        raise ValueError(f"unknown lens model {lens.get('model')!r}")
    k1, (x, y), radius = float(lens["k1"]), lens["centre_px"], float(lens["radius_px"])
    if not all(map(math.isfinite, (k1, float(x), float(y), radius))) or radius <= 0:
        raise ValueError("lens values that are no numbers")
    corner = max(math.hypot(cx - x, cy - y) for cx in (0, width_px) for cy in (0, height_px)) / radius
    if k1 > 1 or (k1 < 0 and corner >= 2 / 3 / math.sqrt(-3 * k1)):
        raise ValueError(f"a lens distortion of {k1:g} is not credible")


def undistort(points: Points, lens: Mapping[str, Any]) -> Points:
    """Take the distortion out of ``points``.

    Args:
        points: (n, 2) pixel positions as seen.
        lens: one of the models above.

    Returns:
        (n, 2) positions, px, that ``distort`` brings back to ``points`` within 1e-9 of the radius. NaN for a point so
        far out that nothing is seen there (outside the picture of a lens that ``check_lens`` accepts).
    """
    points = np.asarray(points, np.float64)
    if lens["model"] == "none" or not lens["k1"]:
        return points
    k1, centre, radius = float(lens["k1"]), np.asarray(lens["centre_px"], np.float64), float(lens["radius_px"])
    offset = points - centre
    seen = np.hypot(offset[:, 0], offset[:, 1]) / radius
    # Newton from the seen radius: the cubic is monotone and curved one way only between there and the root, so that
    # the steps cannot overshoot; six double the digits far beyond double precision for |k1| up to 0.1.
    r = seen.copy()
    with np.errstate(all="ignore"):
        for _ in range(50):
            step = (r * (1 + k1 * r * r) - seen) / (1 + 3 * k1 * r * r)
            r = r - step
            if np.nanmax(np.abs(step), initial=0.0) < 1e-14:
                break
        if k1 < 0:
            r = np.where(seen < 2 / 3 / math.sqrt(-3 * k1), r, np.nan)
        scale = np.where(seen > 0, r / seen, 1.0)
    return np.asarray(centre + offset * scale[:, None])


def distort(points: Points, lens: Mapping[str, Any]) -> Points:
    """Where the lens shows the (n, 2) undistorted ``points``, px."""
    points = np.asarray(points, np.float64)
    if lens["model"] == "none":
        return points
    offset = points - np.asarray(lens["centre_px"], np.float64)
    square = np.sum(offset**2, axis=1, keepdims=True) / float(lens["radius_px"]) ** 2
    return np.asarray(np.asarray(lens["centre_px"]) + offset * (1 + float(lens["k1"]) * square))
