"""What is known of the blur of a lens: how its light is spread, as a sum of Gaussians."""

from __future__ import annotations

import math
from dataclasses import dataclass

AIRY_MM = 0.217 * 0.55e-3
"""Standard deviation of a diffraction disc times the numerical aperture, mm: full width at half height 0.51 lambda /
NA, green light."""
WIDTHS = (1.0, 2.0, 4.0, 8.0)
"""Standard deviations of the Gaussians, in units of the narrowest."""

SMEARED = (1, 2)
"""Which of them coma displaces."""

_TAIL_U = 0.003
"""Standard uncertainty of the share in the tails that no noise explains (seen on drawn pictures with a Gaussian)."""
_FORM_U = 0.012
"""The same of a blur that is no Gaussian, whose tails may have another form (seen on benchmarks/blur.py)."""
_TURNED = 0.003
"""By how much, in blurs, it turns flanks up or down at their ends beyond that (standard uncertainty, seen there)."""
_LEFT, _LEFT_DIRECTED = 0.2, 0.25
"""Of what such a blur does to the edges, what these Gaussians do not describe (standard uncertainty, seen on
benchmarks/blur.py): of a round one, and of one that differs by direction."""
_LEAST_TAIL, _LEAST_SHAPE, _LEAST_SMEAR = 0.01, 0.06, 0.03
"""Share of the light, and blurs: less is left in."""
_SMEARS = 0.1  # blurs: more is coma, and not light that falls on the two sides of a part unevenly
_CERTAIN_TAILS = 6.0  # the same of three widths together
_CERTAIN = 4.0  # standard uncertainties from which the blur is taken to be no Gaussian


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
        weights: of the Gaussians of WIDTHS; they add up to 1, the wide ones may be below 0.
        along, across, lean: standard deviation of the narrowest along the axis, across it at a given place along, and
            how far it leans, all in units of the blur that the edges' steepness shows on the flanks.
        smear: weight times displacement, along and across, of the Gaussians of SMEARED, in units of that blur: coma.
        certainty: how many standard uncertainties, all widths together, the wider ones are from having no weight.
        tail_u, shape_u, smear_u: standard uncertainties of the tails' weight, the shape and the smear, from the noise.
    """

    weights: tuple[float, ...]
    along: float
    across: float
    lean: float
    smear: tuple[tuple[float, float], ...] = ((0.0, 0.0), (0.0, 0.0))
    certainty: float = 0.0
    tail_u: float = 0.0
    shape_u: float = 0.0
    smear_u: float = 0.0

    @property
    def tail(self) -> float:
        """Share of the light that goes four times as far as the narrowest and farther."""
        return sum(self.weights[2:])

    @property
    def tail_doubt(self) -> float:
        """Its standard uncertainty."""
        left = 0.0 if self.is_gaussian else _FORM_U + self.left * abs(self.tail)
        return math.hypot(self.tail_u, _TAIL_U, left)

    @property
    def left(self) -> float:
        """Part of the blur's effect that is uncertain: 0 where nothing was corrected."""
        if self.is_gaussian:
            return 0.0
        return _LEFT if self.is_round else _LEFT_DIRECTED

    @property
    def turned(self) -> float:
        """How far, in blurs, the ends of a flank may lie higher and lower than these Gaussians say."""
        return 0.0 if self.is_gaussian else _TURNED

    @property
    def is_round(self) -> bool:
        """Whether it is the same in all directions."""
        shaped = self.directed > max(_LEAST_SHAPE, _CERTAIN * self.shape_u)
        return not shaped and self.smeared < max(_LEAST_SMEAR, _CERTAIN * self.smear_u)

    @property
    def directed(self) -> float:
        """By how much the blur differs by direction: 0 for a round one."""
        return max(abs(self.along / self.across - 1), abs(self.lean) / self.across)

    @property
    def widest(self) -> float:
        """Largest over smallest standard deviation of all directions."""
        high, low = self.along**2, self.lean**2 + self.across**2
        spread = math.hypot(high - low, 2 * self.along * self.lean)
        return math.sqrt((high + low + spread) / max(high + low - spread, 1e-9))

    @property
    def has_coma(self) -> bool:
        """Whether one side of it reaches farther than any light that is mirrored makes it seem."""
        return not self.is_gaussian and self.smeared > max(_SMEARS, _CERTAIN * self.smear_u)

    @property
    def smeared(self) -> float:
        """How far one side of the blur reaches beyond the other: 0 without coma."""
        return max(abs(each) for pair in self.smear for each in pair)

    @property
    def is_gaussian(self) -> bool:
        """Whether one round Gaussian describes it as well as it can be seen."""
        least = max(abs(a) for a in self.weights[1:]) < _LEAST_TAIL
        return self.is_round and (least or self.certainty < _CERTAIN_TAILS)

    def to_dict(self) -> dict[str, object]:
        """The block ``blur`` of ``measure --json``, in units of the blur across the flanks."""
        return {
            "gaussian": self.is_gaussian,
            "widest_over_narrowest": 1.0 if self.is_gaussian else self.widest,
            "share_in_tails": 0.0 if self.is_gaussian else self.tail,
            "smeared": 0.0 if self.is_gaussian else self.smeared,
        }


GAUSSIAN = LensBlur((1.0, 0.0, 0.0, 0.0), 1.0, 1.0, 0.0)
A_TAIL = LensBlur((0.9, 0.0, 0.08, 0.02), 1.0, 1.0, 0.0)
"""A Gaussian of which a tenth of the light is in tails: what a small share does is in proportion."""
