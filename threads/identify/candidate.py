"""A thread that the measured one may be: its limits, its probability, and what speaks for and against it."""

from __future__ import annotations

from dataclasses import dataclass

from threads.identify.evidence import CANNOT_TELL, DECIDES, INSIDE, NOT_JUDGED, Evidence
from threads.identify.provenance import Provenance
from threads.standards.limits import Limits

HELD = "held"
DOES_NOT_FIT = "does not fit"


@dataclass(frozen=True)
class Candidate:
    """One series, size and class.

    Attributes:
        limits: its limits of size, with their source.
        probability: with origin and year where these were given; ``probability_measurement_only``: without.
        condition: what the part would have to be if it is this thread: ``as made``, ``worn`` or ``plated``;
            ``does not fit`` for one that is shown only because it is among the nearest.
        evidence: the measured quantities against the limits. ``provenance``: what origin and year say.
    """

    limits: Limits
    probability: float
    probability_measurement_only: float
    condition: str
    evidence: tuple[Evidence, ...]
    provenance: Provenance

    @property
    def designation(self) -> str:
        return self.limits.designation

    @property
    def nominal(self) -> tuple[str, str]:
        """Series and size: what a class belongs to."""
        return self.limits.series, self.limits.size

    def verdict(self, quantity: str) -> str:
        """The verdict on one quantity."""
        return next((e.verdict for e in self.evidence if e.quantity == quantity), NOT_JUDGED)

    @property
    def signature(self) -> tuple[str, ...]:
        """Per deciding quantity ``held``, ``above`` or ``below``: candidates that hold alike fit alike."""
        verdicts = [self.verdict(quantity) for quantity in DECIDES]
        return tuple(HELD if v in (INSIDE, CANNOT_TELL, NOT_JUDGED) else v for v in verdicts)

    @property
    def holds(self) -> bool:
        """True if no deciding quantity is outside this candidate's limits by more than U95."""
        return set(self.signature) == {HELD}

    def to_dict(self) -> dict[str, object]:
        """The plain form used in JSON."""
        return {
            "designation": self.limits.designation,
            "series": self.limits.series,
            "size": self.limits.size,
            "class": self.limits.thread_class,
            "form": self.limits.form,
            "standard": self.limits.standard,
            "probability": self.probability,
            "probability_measurement_only": self.probability_measurement_only,
            "condition": self.condition,
            "evidence": [e.to_dict() for e in self.evidence],
            "origin_and_year": self.provenance.to_dict(),
            "source": self.limits.source,
            "unverified": self.limits.unverified,
        }
