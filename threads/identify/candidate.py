"""A thread that the measured one may be: its limits, its probability, and what speaks for and against it."""

from __future__ import annotations

from dataclasses import dataclass

from threads.identify.evidence import ABOVE, BELOW, CANNOT_TELL, DECIDES, INSIDE, NOT_JUDGED, TOO_LARGE_ONLY, Evidence
from threads.identify.provenance import Provenance
from threads.identify.zone_prior import greatest_minor
from threads.standards.limits import Limits

HELD = "held"
DOES_NOT_FIT = "does not fit"
CONDITION_WORDS = {"worn": "worn, or cut small", "plated": "plated, or cut large"}
"""The conditions of a part that say two things at once, for a person."""
SPEAKS = (*DECIDES, TOO_LARGE_ONLY)
"""Quantities that can speak against a candidate."""


@dataclass(frozen=True)
class Candidate:
    """One series, size and class.

    Attributes:
        limits: its limits of size, with their source.
        probability: with origin and year where these were given; ``probability_measurement_only``: without, by the
            measurement and by how common the series is.
        condition: what the part would have to be if it is this thread: ``as made``, ``worn`` or ``plated``;
            ``does not fit`` for one that is shown only because it is among the nearest.
        evidence: the measured quantities against the limits. ``provenance``: what origin and year say.
        commonness: how common the series is among all screws on a bench (``commonness.Commonness.on_bench``).
    """

    limits: Limits
    probability: float
    probability_measurement_only: float
    condition: str
    evidence: tuple[Evidence, ...]
    provenance: Provenance
    commonness: float

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
        """Of each quantity of ``SPEAKS`` ``held``, ``above`` or ``below``: candidates that hold alike fit alike."""
        verdicts = [self.verdict(quantity) for quantity in SPEAKS]
        held = [INSIDE, CANNOT_TELL, NOT_JUDGED]
        silent = [BELOW] if greatest_minor(self.limits) is not None else [BELOW, ABOVE]
        return tuple(
            HELD if v in held or (q == TOO_LARGE_ONLY and v in silent) else v
            for q, v in zip(SPEAKS, verdicts, strict=True)
        )

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
            "commonness": self.commonness,
            "origin_and_year": self.provenance.to_dict(),
            "source": self.limits.source,
            "unverified": self.limits.unverified,
        }
