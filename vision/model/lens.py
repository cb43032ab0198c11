"""What is known of the blur of a lens: how its light is spread, as Gaussians and their derivatives.

A kernel is a sum over round Gaussians G_k of standard deviation k s, s being the blur that the flanks show,

    K = sum_k (a_k + sum_m (k s)^m / m! [b_km Re + c_km Im] (d/du + i d/dw)^m) G_k,

u along the axis and w across it. m = 1 smears to one side (coma), m = 2 makes the blur differ by direction
(astigmatism), 3 and 4 are what aberrations of a whole wavelength and less need besides: the shapes of diffraction,
defocus, astigmatism, coma and spherical aberration come out within 0.001 of the contrast (derived here).
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace
from functools import cached_property

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]

AIRY_MM = 0.217 * 0.55e-3
"""Standard deviation of a diffraction disc times the numerical aperture, mm: full width at half height 0.51 lambda /
NA, green light."""
WIDTHS = (1.0, 0.65, 1.5, 2.3, 4.0, 8.0)
"""Standard deviations of the Gaussians, in units of the blur that the flanks show."""
ORDERS = {1: 4, 2: 4, 3: 3, 4: 3}
"""By m, how many of them, from the first, have derivatives of that order."""
TERMS = tuple((i, m) for m, count in ORDERS.items() for i in range(count))
"""Which width and order each pair of the harmonics is of."""
TAILS = 4
"""The first of the widths that are tails."""

_TAIL_U = 0.001
"""Standard deviation of the share in the tails of lenses whose blur looks like a Gaussian (seen on drawn pictures)."""
LEFT, LEFT_DIRECTED = 0.05, 0.12
"""Of what a blur that is no Gaussian does to edges, what this form of it does not describe (standard uncertainty, seen
on benchmarks/blur.py): of a round one, and of one that differs by direction."""
TURNED, TURNED_CODED = 0.002, 0.007
"""By how much, in blurs, it turns flanks up or down at their ends beyond that, each kind by itself (standard
uncertainty, seen there); and all alike where a camera has sharpened coded values, which no blur describes (seen on
benchmarks/camera.py)."""
_SMEARS = 0.05  # blurs: more is coma, and not light that falls on the two sides of a part unevenly
_FAR = 0.1  # of the light in the tails: crests seem to shine
_DIRECTIONS = np.pi * np.arange(24) / 24


def opening_of(f_number: float, magnification: float) -> float:
    """Numerical aperture at the part of a lens of this f-number, which stands for infinity, at this magnification.

    The part is f (1 + 1 / m) away from a lens f / N wide: thin lens, derived here.

    >>> round(opening_of(8.0, 0.5), 4)
    0.0208
    """
    return magnification / (2 * f_number * (1 + magnification))


@dataclass(frozen=True)
class LensBlur:
    """The blur beside a thread.

    Attributes:
        weights: a_k of the Gaussians of WIDTHS; they add up to 1, all but the first may be below 0.
        harmonics: (b, c) of each of TERMS; none where it is round.
        is_gaussian: whether one round Gaussian describes it as well as can be seen.
        directed, one_sided: whether it differs by direction, and whether between opposite ones.
        coded: whether the picture is a camera's, in coded values, which it may have sharpened.
        tail_u: standard uncertainty of the share in the tails, from the noise.
        covariance: of all weights but the first, then of the harmonics; of no size for a Gaussian.
    """

    weights: tuple[float, ...]
    harmonics: tuple[tuple[float, float], ...] = ()
    is_gaussian: bool = False
    directed: bool = False
    one_sided: bool = False
    coded: bool = False
    tail_u: float = 0.0
    covariance: Array = field(default_factory=lambda: np.empty((0, 0)), repr=False, compare=False)

    @property
    def is_round(self) -> bool:
        """Whether it is the same in all directions."""
        return not (self.directed or self.one_sided)

    @property
    def tail(self) -> float:
        """Share of the light in the wide Gaussians."""
        return sum(self.weights[TAILS:])

    @property
    def tail_doubt(self) -> float:
        """Its standard uncertainty where it was taken to be none."""
        return _TAIL_U * self.tail_u / math.hypot(self.tail_u, _TAIL_U)

    @cached_property
    def _across_edges(self) -> tuple[Array, Array]:
        """In _DIRECTIONS, the blur across an edge that faces there, by its steepness, and the distance from the half
        level to the mean of the light; both in blurs.
        """
        q = np.linspace(-4.0, 4.0, 401)
        density = np.zeros((_DIRECTIONS.size, q.size))
        for k, a in zip(WIDTHS, self.weights, strict=True):
            density += a * np.exp(-0.5 * (q / k) ** 2) / (k * math.sqrt(2 * math.pi))
        for (i, m), (b, c) in zip(TERMS, self.harmonics, strict=False):
            v = q / WIDTHS[i]
            hermite = np.polynomial.hermite_e.hermeval(v, [0.0] * m + [1.0])
            shape = (
                (-1) ** m * hermite * np.exp(-0.5 * v * v) / (WIDTHS[i] * math.sqrt(2 * math.pi) * math.factorial(m))
            )
            turn = b * np.cos(m * _DIRECTIONS) + c * np.sin(m * _DIRECTIONS)
            density += turn[:, None] * shape
        share = np.cumsum(density, axis=1)
        middle = np.argmin(np.abs(share / share[:, -1:] - 0.5), axis=1)
        steep = np.maximum(density[np.arange(_DIRECTIONS.size), middle], 1e-3)
        return 1 / (math.sqrt(2 * math.pi) * steep), density @ q / density.sum(axis=1) - q[middle]

    def across(self, direction: float) -> float:
        """The blur (in blurs of the flanks) across an edge whose normal lies so far (radians) from the axis."""
        return float(np.interp(direction % np.pi, _DIRECTIONS, self._across_edges[0], period=np.pi))

    @property
    def widest(self) -> float:
        """Largest over smallest blur of all directions."""
        blur = self._across_edges[0]
        return float(blur.max() / blur.min())

    @property
    def has_coma(self) -> bool:
        """Whether one side of it reaches farther than any light that is mirrored makes it seem."""
        return not self.is_gaussian and self.smeared > _SMEARS

    @property
    def reaches_round_crests(self) -> bool:
        """Whether it brings so much light behind crests and into roots that they seem to shine."""
        return self.has_coma or (not self.is_gaussian and self.tail > _FAR)

    @property
    def smeared(self) -> float:
        """How far one side of the blur reaches beyond the other: 0 without coma."""
        return float(np.abs(self._across_edges[1]).max())

    def to_dict(self) -> dict[str, object]:
        """The block ``blur`` of ``measure --json``, in units of the blur across the flanks."""
        return {
            "gaussian": self.is_gaussian,
            "widest_over_narrowest": 1.0 if self.is_gaussian else self.widest,
            "share_in_tails": 0.0 if self.is_gaussian else self.tail,
            "smeared": 0.0 if self.is_gaussian else self.smeared,
        }


def _with_tails(*tails: float) -> LensBlur:
    return LensBlur((1 - sum(tails), *(0.0,) * (TAILS - 1), *tails))


GAUSSIAN = replace(_with_tails(0.0, 0.0), is_gaussian=True)
A_TAIL = _with_tails(0.08, 0.02)
"""A Gaussian of which a tenth of the light is in tails: what a small share does is in proportion."""
