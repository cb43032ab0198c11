"""One measured quantity against its limits, with guard bands: conforms, does not conform, cannot tell.

After ISO 14253-1 a limit is kept only if the measured value clears it by the guard band, and broken only if it lies
beyond it by the guard band; in between nobody can tell. The standard's default is 95 % on the one side that matters,
1.65 u (from memory, unverified). The guards here are wider, so that the answer about a part as a whole is wrong at most
one time in forty, whichever way:

* kept: 2 u. A dimension at its limit clears it by luck in 2.3 % of cases. Every limit must be cleared, so that a part
  with one bad dimension does not pass more often.
* broken: 2.6 u. One limit broken condemns the part. Five judgements may do so by bad luck (``JUDGEMENTS``), each in
  0.46 % of cases, together in 2.3 %.

What is known in direction only (``Quantity.one_sided``) is added in full on the side where the truth may lie.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from threads.shared.quantity import COVERAGE_FACTOR, Quantity
from threads.shared.refusal import Reason

CONFORMS, DOES_NOT_CONFORM, CANNOT_TELL = "conforms", "does_not_conform", "cannot_tell"
NOT_LIMITED = "not_limited"
"""The verdict on a quantity for which the standard sets no limit; it says nothing about the part."""

JUDGEMENTS = 5
"""Major, pitch, minor, virtual pitch diameter and root. Pitch and flank angles do not condemn by luck: what would
condemn them by themselves is many times their U95."""

ACCEPTED_FROM = COVERAGE_FACTOR
"""By so many u a limit must be cleared: normal distribution, 2.3 %."""

REJECTED_FROM = 2.6
"""By so many u a limit must be passed: normal distribution, 2.3 % / ``JUDGEMENTS``."""


@dataclass(frozen=True)
class Reach:
    """How far the truth may lie from the measured value: k u either way, and ``below`` or ``above`` besides."""

    u: float
    below: float = 0.0
    above: float = 0.0

    def down(self, k: float) -> float:
        """How far below the measured value the truth may be."""
        return k * self.u + self.below

    def up(self, k: float) -> float:
        """How far above it."""
        return k * self.u + self.above


def reach_of(measured: Quantity) -> Reach:
    """The reach of one quantity."""
    return Reach(measured.standard_uncertainty, max(-measured.one_sided, 0.0), max(measured.one_sided, 0.0))


@dataclass(frozen=True)
class Judgement:
    """The verdict on one quantity.

    Attributes:
        quantity: its name. measured: its value; None where the picture does not give it.
        low, high: limits in the unit of ``measured``, None where there is none.
        verdict: ``conforms``, ``does_not_conform``, ``cannot_tell``, or ``not_limited``.
        margin: how far inside the nearer limit the value lies (negative: outside), in its unit; None without limits.
        guard: by how much that limit would have to be cleared to be kept for certain.
        reason: why, where ``verdict``, limits and margin do not say it all.
        reach: how far the truth may lie from the value, as far as the limits are concerned.
    """

    quantity: str
    measured: Quantity | None
    low: float | None
    high: float | None
    verdict: str
    margin: float | None = None
    guard: float | None = None
    reason: Reason | None = None
    reach: Reach = Reach(0.0)

    @property
    def why(self) -> Reason:
        """Why the verdict is what it is."""
        return self.reason or _reason(self)

    def to_dict(self) -> dict[str, Any]:
        """The plain form used in JSON."""
        return {
            "quantity": self.quantity,
            "measured": None if self.measured is None else self.measured.to_dict(),
            "min": self.low,
            "max": self.high,
            "verdict": self.verdict,
            "margin": self.margin,
            "guard": self.guard,
            "reason": self.why,
        }


def judged(
    quantity: str,
    measured: Quantity,
    low: float | None,
    high: float | None,
    *,
    reach: Reach | None = None,
    reason: Reason | None = None,
) -> Judgement:
    """The verdict on ``measured`` between ``low`` and ``high`` (its unit; None: no limit on that side).

    ``reach`` is how far the truth may lie from it, that of the quantity itself if None; where the limits themselves
    are uncertain it is that of the difference.
    """
    known = reach_of(measured) if reach is None else reach
    value = measured.value
    sides: list[tuple[float, float, float]] = []  # distance inside the limit, guard to be kept, guard to be broken
    if low is not None:
        sides.append((value - low, known.down(ACCEPTED_FROM), known.up(REJECTED_FROM)))
    if high is not None:
        sides.append((high - value, known.up(ACCEPTED_FROM), known.down(REJECTED_FROM)))
    if not sides:
        return Judgement(quantity, measured, low, high, NOT_LIMITED, reason=reason, reach=known)
    if any(inside < -broken for inside, _, broken in sides):
        verdict = DOES_NOT_CONFORM
    elif all(inside >= kept for inside, kept, _ in sides):
        verdict = CONFORMS
    else:
        verdict = CANNOT_TELL
    nearest = min(sides, key=lambda side: side[0] - side[1])
    return Judgement(quantity, measured, low, high, verdict, nearest[0], nearest[1], reason, known)


def overall(judgements: tuple[Judgement, ...]) -> str:
    """The verdict on the part: one limit broken condemns it, one left open leaves it open."""
    verdicts = {one.verdict for one in judgements}
    return next((verdict for verdict in (DOES_NOT_CONFORM, CANNOT_TELL) if verdict in verdicts), CONFORMS)


def _reason(one: Judgement) -> Reason:
    if one.measured is None:
        return Reason("judged.not_given")
    if one.margin is None or one.guard is None:
        return Reason("judged.no_limit")
    margin, guard = (Quantity(abs(x), 0.0, one.measured.unit) for x in (one.margin, one.guard))
    if one.verdict == CONFORMS:
        return Reason("judged.inside", margin=margin, guard=guard)
    inside = one.margin >= 0
    if one.verdict == CANNOT_TELL:
        return Reason("judged.near_inside" if inside else "judged.near_outside", margin=margin, guard=guard)
    return Reason("judged.outside", margin=margin)
