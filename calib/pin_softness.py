"""The cone of the light that the edges of pins show by their softness: a thick one is softer than a thin one.

A band w = R A^2 / 8 inside the edge of a pin of radius R mirrors the part f of the light; that adds f (1 - f) w^2 to
the variance of its blur (``vision.model.grazing``). Everything else that blurs an edge in focus is the same for pins of
all sizes, so that two of them tell the cone A, above some 5 deg of half cone. A lens that takes in a cone of NA sees
each edge from as many directions, of which those toward the light see the wider band: A^2 looks larger by 1.3 NA^2
(traced pictures). Derived here; pictures from a path tracer agree within a tenth. A thick pin that lies out of focus
looks the same, so that what is found is an upper bound. By such a bound a light of which nothing is stated is no wider
than pins allow, and one that is stated is known no better.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from vision.model.grazing import OPENING_RELATIVE_U, REFLECTIVITY
from vision.model.lens import AIRY_MM

_LEAST_RATIO = 1.5  # of the thickest pin to the thinnest: in between they tell too little
_ASTIGMATIC = 0.7
"""Half the range of a lens' blur (variance) over all directions, over its mean: one is 2.4 times as wide as another."""
_TOLERANCE = 0.008  # of the variance: what two pictures of one pin differ by beside noise (traced and drawn: 0.004)
_CERTAIN = 2.0  # standard uncertainties of the difference that noise may make
_LAPPED = 0.7  # of the light that a lapped pin mirrors in cones wide enough to show
_SEEN_FROM = 1.3 * (1 + 2 * OPENING_RELATIVE_U)  # times NA^2, by which the square of the cone looks larger at most
_CLEARLY = 1.15  # times the cone that is stated: from here on the pins contradict it


@dataclass(frozen=True)
class ShownCone:
    """What the softness of pins says of the half cone of their light, degrees.

    Attributes:
        likely_deg: that which lapped pins show so.
        most_deg: the widest that any metal shows so.
        limit_deg: wider lights would make pins softer, whatever their metal and noise (one standard uncertainty).
        clear: noise, or a lens that blurs by direction, does not look the same.
    """

    likely_deg: float
    most_deg: float
    limit_deg: float
    clear: bool

    def contradicts(self, cone_deg: float) -> bool:
        """Whether a light of ``cone_deg`` does not do this."""
        return self.clear and self.likely_deg > _CLEARLY * cone_deg

    def from_at_least(self, cone_deg: float) -> tuple[float, float]:
        """The half cone whose square lies anywhere from that of ``cone_deg`` to the most, and its standard uncertainty.

        >>> [round(v, 2) for v in ShownCone(8.0, 9.0, 9.5, clear=True).from_at_least(3.0)]
        [6.71, 1.55]
        """
        low, high = cone_deg**2, max(self.most_deg, cone_deg) ** 2
        middle = math.sqrt((low + high) / 2)
        return middle, (high - low) / math.sqrt(12) / (2 * middle)

    def doubt(self, cone_deg: float) -> float:
        """Standard uncertainty of a stated half cone from pins that are softer than it makes them, but not clearly: its
        square lies anywhere from that of ``cone_deg``, which stays, to the most.
        """
        wider = max(self.most_deg, cone_deg) ** 2 - cone_deg**2
        return wider / math.sqrt(3) / (2 * cone_deg) if cone_deg > 0 else 0.0


def shown_cone(
    pins: Sequence[tuple[float, float, float]], lens_opening: float | None, apart_deg: float = 0.0
) -> ShownCone | None:
    """The cone shown by ``pins``: of each its diameter, the standard deviation of its edges' blur, and how well that is
    known, all in mm.

    None where the pins are of one size, or the thin one is clearly the softer one, which no light does. Pins that lie
    ``apart_deg`` from parallel show less: a lens may blur otherwise in another direction. A lens that is not stated is
    taken to be as wide open as diffraction asks for, or for the limit closed.
    """
    if len(pins) < 2:
        return None
    (thin, sharp, sharp_u), (thick, soft, soft_u) = min(pins), max(pins)
    excess = soft**2 - sharp**2
    astigmatic = _ASTIGMATIC * abs(math.sin(math.radians(apart_deg)))
    alike = _TOLERANCE + 2 * astigmatic / (1 - astigmatic)
    noise = 2 * math.hypot(soft * soft_u, sharp * sharp_u)
    least = math.hypot(alike * sharp**2, _CERTAIN * noise)
    if thick < _LEAST_RATIO * thin or sharp <= 0 or excess < -least:
        return None
    opening = AIRY_MM / sharp if lens_opening is None else lens_opening

    def cone(excess: float, reflectivity: float, seen_from: float) -> float:
        band = math.sqrt(max(excess, 0.0) / (reflectivity * (1 - reflectivity) * (thick**2 - thin**2) / 4))
        return math.degrees(math.sqrt(max(8 * band - seen_from, 0.0)))

    return ShownCone(
        cone(excess, _LAPPED, _SEEN_FROM * opening**2),
        cone(excess, REFLECTIVITY, _SEEN_FROM * opening**2),
        cone(max(excess, 0.0) + least / _CERTAIN, REFLECTIVITY, lens_opening**2 if lens_opening else 0.0),
        excess > least,
    )
