"""Fitted threads without pictures: edge points of the model, moved along its normal, and the fit to them."""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt

from vision.fit.marquardt import Observed, Prior, fit_shadow
from vision.fit.solve import Solution
from vision.locate.frame import Frame
from vision.model.blurred import contour
from vision.model.shadow import COUNT, INDEX, ShadowParameters

Array = npt.NDArray[np.float64]

PX = 0.004
NOISE = 0.05 * PX
THREADS = 8
TRUE = ShadowParameters(
    offset=0.02,
    rotation=0.002,
    phase=0.11,
    pitch=0.5,
    tilt=0.01,
    nearness=0.0,
    taper=0.0,
    crest=1.48,
    pitch_radius=1.33,
    root=1.18,
    flank_right=math.radians(30.3),
    flank_left=math.radians(29.6),
    crest_corner=0.012,
    root_corner=0.02,
    blur=1.4 * PX,
).to_array()


def places(count: int = 3000) -> tuple[Array, Array]:
    """Places along the axis and edges of the points, in the order of the outline."""
    half = THREADS * TRUE[INDEX["pitch"]] / 2
    return np.tile(np.linspace(-half, half, count // 2), 2), np.repeat([1.0, -1.0], count // 2)


def edge_points(x: Array, u: Array, side: Array, outward: Array) -> Observed:
    """Points on the model's contour moved outward along its normal by ``outward`` (n,) mm."""
    height, slope, _ = contour(x, u, side, (0.1, -0.05), gradient=False)
    long = np.sqrt(1 + slope**2)
    u, w = u - outward * slope / long, side * (height + outward / long)
    c, s = math.cos(x[INDEX["rotation"]]), math.sin(x[INDEX["rotation"]])
    return Observed(c * u - s * w, x[INDEX["offset"]] + s * u + c * w, side, (0.1, -0.05), PX)


def solution(seen: Observed, *, noise: float = NOISE, start: Array = TRUE) -> Solution:
    """The fit to ``seen`` with priors as wide as those of a real one."""
    sigma = np.full(COUNT, np.inf)
    for name, width in (
        ("rotation", 0.1), ("tilt", 0.15), ("nearness", 0.02), ("taper", 0.02), ("crest_corner", 0.075),
        ("root_corner", 0.075), ("blur", 0.05 * TRUE[INDEX["blur"]]),
    ):  # fmt: skip
        sigma[INDEX[name]] = width
    mean = start.copy()
    for name in ("rotation", "tilt", "nearness", "taper", "crest_corner", "root_corner"):
        mean[INDEX[name]] = 0.0
    prior = Prior(mean, sigma)
    fit = fit_shadow(start.copy(), seen, prior, sigma=noise / 3, steps=15)
    half = THREADS * TRUE[INDEX["pitch"]] / 2
    return Solution(
        fit=fit,
        seen=seen,
        frame=Frame((1.8, 1.4), 0.1),
        start=-half,
        end=half,
        rejected=0.0,
        edge_blur=float(TRUE[INDEX["blur"]]),
        noise=noise,
        prior=prior,
        rejected_xy=np.empty((0, 2)),
    )
