"""What the other screws of its instrument say of a screw: their posterior over systems in place of commonness.

With P(S) the posterior over systems from the other screws, r the share of screws that are no longer the maker's, and
w(S) what the series of S count together beforehand, every series of S counts

    (1 - r) P(S) / w(S) + r

times as much as by itself. Origin and year are in P(S) already and still part the series within a system. Errors of the
bench that the screw shares with the others are taken as independent here; judging all screws together
(``instrument.judge_together``) does not.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from threads.identify.instrument import LEAST_SCREWS, InstrumentFound
from threads.identify.systems import system_of
from threads.shared.refusal import Reason

SETTLED = 0.9
"""From this probability of a system on, origin and year are not asked for any more."""


@dataclass(frozen=True)
class OfInstrument:
    """Evidence of the other screws of an instrument.

    Attributes:
        name: of the instrument. screws: how many others were measured.
        systems: probability of each system, most probable first. replaced: share of screws no longer the maker's.
    """

    name: str
    screws: int
    systems: Mapping[str, float]
    replaced: float

    @property
    def first(self) -> str:
        """The most probable system."""
        return next(iter(self.systems))

    @property
    def settled(self) -> bool:
        """Whether the other screws tell the system."""
        return self.systems[self.first] >= SETTLED

    @property
    def few(self) -> bool:
        """Whether there are fewer than ``LEAST_SCREWS``."""
        return self.screws < LEAST_SCREWS

    def said(self) -> Reason:
        """What is shown of it, in a sentence."""
        return Reason(
            "as_part_of.one" if self.screws == 1 else "as_part_of",
            instrument=self.name,
            count=self.screws,
            system=self.first,
            probability=self.systems[self.first],
        )

    def log_factors(self, beforehand: Mapping[str, float]) -> dict[str, float]:
        """Log of the factor on each series, by what each counts beforehand in proportion."""
        whole = sum(beforehand.values())
        of_system: dict[str, float] = {}
        for series, share in beforehand.items():
            system = system_of(series)
            of_system[system] = of_system.get(system, 0.0) + share / whole
        return {
            series: math.log(
                (1.0 - self.replaced) * self.systems.get(system, 0.0) / max(of_system[system], 1e-300) + self.replaced
            )
            for series in beforehand
            for system in (system_of(series),)
        }

    def to_dict(self) -> dict[str, object]:
        """The plain form used in JSON."""
        systems = [{"system": name, "probability": p} for name, p in self.systems.items()]
        return {"instrument": self.name, "screws": self.screws, "systems": systems, "replaced": self.replaced}


def of_instrument(name: str, found: InstrumentFound) -> OfInstrument:
    """The evidence of an instrument's other screws, as judged together."""
    systems = {one.system: one.probability for one in found.systems}
    return OfInstrument(name, len(found.placed), systems, found.replaced)
