"""One measured quantity: a value, its standard uncertainty and its unit."""

from __future__ import annotations

from dataclasses import dataclass

COVERAGE_FACTOR = 2.0
"""k for U95 (JCGM 100:2008, G.6.6: k = 2 for a level of confidence of about 95 %)."""


@dataclass(frozen=True, slots=True)
class Quantity:
    """A measured value with its uncertainty.

    Attributes:
        value: best estimate, in ``unit``.
        standard_uncertainty: combined standard uncertainty u_c, in ``unit``.
        unit: ``"mm"``, ``"deg"``, ``"1/in"``, ``"um/mm"``, ``"px"`` or ``"um"``.
        one_sided: bound of an effect that is known in direction but not corrected: the true value may differ from
            ``value`` by up to this much, in ``unit``. It is added to U95 linearly (JCGM 100:2008, F.2.4.5).
    """

    value: float
    standard_uncertainty: float
    unit: str
    one_sided: float = 0.0

    @property
    def u95(self) -> float:
        """Expanded uncertainty for a level of confidence of about 95 %, in ``unit``."""
        return COVERAGE_FACTOR * self.standard_uncertainty + abs(self.one_sided)

    def to_dict(self) -> dict[str, float | str]:
        """The plain form used in JSON: value, u95, unit; ``one_sided``, which is in u95 already, where there is one."""
        plain: dict[str, float | str] = {"value": float(self.value), "u95": float(self.u95), "unit": self.unit}
        return plain | ({"one_sided": float(self.one_sided)} if self.one_sided else {})
