"""Lens distortion: where a straight picture would have a point, and back.

Three models, as dictionaries of plain values because they are stored as they are:

- ``{"model": "none"}``
- ``{"model": "radial", "k1": k1, "centre_px": [x, y], "radius_px": R0}``: a point at the distance ru from the centre is
  seen at rd = ru (1 + k1 (ru / R0)^2), the first term of the usual even polynomial (Brown, "Decentering distortion of
  lenses", 1966). R0 is half the diagonal of the picture.
- ``{"model": "radial and keystone", ..., "k2": k2, "keystone": [a, b]}``: the same with the second term of the
  polynomial, k2 (ru / R0)^4; and before it a point (x, y), from the centre, is brought to (x, y) / (1 + (a x + b y) /
  R0), because a plane that leans toward a near camera is seen the smaller the farther off it is. After undistort the
  magnification is that of the middle of the picture everywhere. The leaning plane is also foreshortened; that is not
  taken out, because the outline of a round part is not.
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


def leaning_lens(k1: float, k2: float, keystone: tuple[float, float], width_px: int, height_px: int) -> dict[str, Any]:
    """The model with all terms about the middle of a picture; see above."""
    terms = {"k2": float(k2), "keystone": [float(v) for v in keystone]}
    return {**radial_lens(k1, width_px, height_px), "model": "radial and keystone", **terms}


def check_lens(lens: Mapping[str, Any], width_px: int, height_px: int) -> None:
    """Raise ValueError when ``lens`` is no model of this module or cannot be undone everywhere in the picture.

    With a negative k1 or k2 the seen radius has a largest value; a corner beyond it has no original.
    """
    if lens.get("model") == "none":
        return
    if lens.get("model") not in ("radial", "radial and keystone"):
        raise ValueError(f"unknown lens model {lens.get('model')!r}")
    k1, k2, centre, radius, (a, b) = _terms(lens)
    if not all(map(math.isfinite, (k1, k2, *centre, radius, a, b))) or radius <= 0:
        raise ValueError("lens values that are no numbers")
    corner = max(math.hypot(x - centre[0], y - centre[1]) for x in (0, width_px) for y in (0, height_px)) / radius
    if max(k1, k2, abs(a), abs(b)) > 1 or not corner < _largest_seen(k1, k2):
        raise ValueError(f"a lens distortion of {k1 + k2:g} is not credible")
    if (abs(a) + abs(b)) * corner > 0.5:
        raise ValueError("a lens keystone that is not credible")


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
    if lens["model"] == "none":
        return points
    k1, k2, centre, radius, keystone = _terms(lens)
    if not (k1 or k2 or any(keystone)):
        return points
    offset = points - centre
    seen = np.hypot(offset[:, 0], offset[:, 1]) / radius
    # Newton from the seen radius: the polynomial is monotone and, for the small k1 and k2 of lenses, curved one way
    # only between there and the root, so that the steps cannot overshoot; six double the digits far beyond double
    # precision for |k1| up to 0.1.
    r = seen.copy()
    with np.errstate(all="ignore"):
        for _ in range(50):
            step = (r * (1 + k1 * r * r + k2 * r**4) - seen) / (1 + 3 * k1 * r * r + 5 * k2 * r**4)
            r = r - step
            if np.nanmax(np.abs(step), initial=0.0) < 1e-14:
                break
        if k1 < 0 or k2 < 0:
            r = np.where(seen < _largest_seen(k1, k2), r, np.nan)
        straight = offset * np.where(seen > 0, r / seen, 1.0)[:, None]
        lean = 1 - straight @ np.asarray(keystone) / radius
        straight /= np.where(lean > 0, lean, np.nan)[:, None]
    return np.asarray(centre + straight)


def distort(points: Points, lens: Mapping[str, Any]) -> Points:
    """Where the lens shows the (n, 2) undistorted ``points``, px."""
    points = np.asarray(points, np.float64)
    if lens["model"] == "none":
        return points
    k1, k2, centre, radius, keystone = _terms(lens)
    offset = points - centre
    offset = offset / (1 + offset @ np.asarray(keystone) / radius)[:, None]
    square = np.sum(offset**2, axis=1, keepdims=True) / radius**2
    return np.asarray(centre + offset * (1 + k1 * square + k2 * square**2))


def corner_shift_px(lens: Mapping[str, Any], width_px: int, height_px: int) -> float:
    """By how far the lens moves the corner of the picture that it moves most, px; outward counts positive."""
    corners = np.array([[x, y] for x in (0.0, width_px - 1.0) for y in (0.0, height_px - 1.0)])
    centre = np.array([(width_px - 1) / 2, (height_px - 1) / 2])
    moved = corners - undistort(corners, lens)
    outward = np.sum(moved * (corners - centre), axis=1) / np.hypot(*(corners - centre).T)
    return float(outward[np.argmax(np.abs(outward))])


def _terms(lens: Mapping[str, Any]) -> tuple[float, float, Points, float, tuple[float, float]]:
    """k1, k2, centre, radius and keystone; what the model does not have is 0."""
    a, b = lens.get("keystone", (0.0, 0.0))
    centre = np.asarray(lens["centre_px"], np.float64)
    return float(lens["k1"]), float(lens.get("k2", 0.0)), centre, float(lens["radius_px"]), (float(a), float(b))


def _largest_seen(k1: float, k2: float) -> float:
    """The largest seen radius, in R0, up to which there is one original: where the slope first becomes 0.

    The slope is 1 + 3 k1 q + 5 k2 q^2 with q the square of the radius.
    """
    square = 9 * k1 * k1 - 20 * k2
    # of the two zeros the smaller, in the form that loses no digits where k2 is tiny
    below = -3 * k1 + math.sqrt(square) if square >= 0 else 0.0
    q = 2 / below if below > 0 else math.inf
    return math.sqrt(q) * (1 + k1 * q + k2 * q * q) if math.isfinite(q) else math.inf
