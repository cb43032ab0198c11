"""How sharp a picture's edges are and how its camera sharpened them, and the two levels of its light."""

from __future__ import annotations

from dataclasses import asdict, dataclass

import numpy as np

from vision.outline.edges import EdgePoints
from vision.outline.silhouette import Silhouette, own_blur, sample
from vision.shared.opencv import cv2

_FROM, _TO, _STEPS = 1.5, 5.0, 8  # blurs from the edge between which light goes beyond its level
_POINTS = 400  # of the edge


@dataclass(frozen=True)
class Sharpness:
    """What two pictures of one camera have alike as long as nothing was changed.

    Attributes:
        blur_px: standard deviation of the blur across the edges.
        overshoot, undershoot: by how much the light beside an edge is brighter than the pad and darker than the part,
            in parts of the contrast: sharpening does both, partly coherent light only the first.
        bright, dark: light of pad and part beside the edges, 0 to 1.
    """

    blur_px: float
    overshoot: float
    undershoot: float
    bright: float
    dark: float

    def to_dict(self) -> dict[str, float]:
        """Plain data."""
        return {name: round(value, 6) for name, value in asdict(self).items()}


def sharpness_of(silhouette: Silhouette, edges: EdgePoints) -> Sharpness:
    """As the light along the normals of edge points shows it: medians, so that corners and dirt do not count."""
    some = edges.select(np.linspace(0, edges.xy.shape[0] - 1, min(_POINTS, edges.xy.shape[0])).astype(np.intp))
    blur = float(np.median(edges.blur_px))
    outer, inner = silhouette.level(some.xy[:, 0], some.xy[:, 1])
    span = np.where(np.abs(outer - inner) < 1e-6, 1e-6, outer - inner)
    away = blur * np.linspace(_FROM, _TO, _STEPS)

    def light(distance: float) -> float:
        x, y = (some.xy + distance * some.normal).T
        return float(np.median((sample(silhouette.smooth, x, y, cv2.INTER_LINEAR) - inner) / span))

    return Sharpness(
        own_blur(blur, silhouette.presmooth_px),
        max(max(light(d) for d in away) - 1, 0.0),
        max(-min(light(-d) for d in away), 0.0),
        float(np.median(outer)),
        float(np.median(inner)),
    )
