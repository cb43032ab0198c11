"""All thresholds of vision/several/ that are no constants of a single module, in one place.

Where no other reason is given, a value is a workshop assumption, set between what usable and unusable pictures show
(the sample pictures and those that tests/vision draws).
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Limits:
    """Thresholds; lengths in px unless the name says otherwise."""

    exchanged: float = 9.0  # chi squared, three standard uncertainties: flanks that agree so much better when exchanged
    same_ridge: float = 0.3  # pitches: the same ridge in two pictures
    same_face: float = 0.01  # of its radius by which a face may differ between two pictures, beside px
    overlap_margin: tuple[float, float] = (3.0, 2.0)  # px beyond the overlap for nearest points, and within it
    facing: float = 0.9  # cosine between normals of one place in two pictures: 26 degrees
    least_along: float = 3.0  # sum over points of their normal's square along the axis: else nothing fixes the shift
    settled_px: float = 1e-4  # step of the shift that is the last one
    known: float = 0.99  # weight of a sample of a profile that is interpolated between known ones
    turn_fits_deg: float = 25.0  # between the turns stated and where the ridges stand
    turn_misses_deg: float = 50.0  # from which they contradict each other
    same_scale: float = 1e-6  # relative: rounding
    still_px: float = 3.0  # by which a part under two lights may seem moved: light takes as much from its edges
    still_deg: float = 0.1  # and turned
    near_camera: float = 1e-3  # 1/mm: a camera nearer than 1 m


LIMITS = Limits()
