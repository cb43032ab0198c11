"""What trials say of a tapped hole (``from_trials`` makes it)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np
import numpy.typing as npt

from threads.hole.trial import Trial
from threads.shared.refusal import Reason
from threads.workshop.predicted_play import Spread

Array = npt.NDArray[np.float64]

SCHEMA = "flankwise/hole/1"
CAN_BE_TOLD = 0.95
"""From this probability on the class of a hole is told."""


@dataclass(frozen=True)
class ClassShare:
    """A class of hole and its probability; ``low``, ``high``: its zone of pitch diameter, mm."""

    designation: str
    probability: float
    low: float
    high: float

    def to_dict(self) -> dict[str, Any]:
        """The plain form used in JSON."""
        zone = {"pitch_diameter": {"min": self.low, "max": self.high}}
        return {"designation": self.designation, "probability": self.probability, **zone}


@dataclass(frozen=True)
class JudgedTrial:
    """A trial against all others.

    ``expected``: probability of its outcome by the others; of a movement, that of one at least as far from what they
    say. ``wrong``: probability that something else was the matter. ``size``: virtual pitch diameter of the screw, mm.
    ``cause``: what is most likely the matter with one that contradicts the others, None where it does not.
    """

    trial: Trial
    expected: float
    wrong: float
    size: float
    u95: float
    cause: Reason | None = None

    def to_dict(self) -> dict[str, Any]:
        """The plain form used in JSON; mm."""
        one = self.trial
        more: dict[str, Any] = {"virtual_pitch_diameter": {"value": self.size, "u95": self.u95, "unit": "mm"}}
        if one.turns is not None:
            more["turns"] = one.turns
        if one.movement is not None:
            more |= {"movement": one.movement.to_dict(), "overhang": one.overhang}
        if self.cause is not None:
            more["contradicts"] = self.cause.to_dict()
        return {
            "screw": one.screw.name,
            "outcome": one.outcome,
            "expected": self.expected,
            "something_else_probability": self.wrong,
            **more,
        }


@dataclass(frozen=True)
class ToMake:
    """The screw to make: least and greatest virtual pitch diameter (mm), how it will feel, the die.

    ``movement``: whole travel from side to side of one in the middle of the range at ``overhang``, mm. ``clearance``:
    of the pitch diameters, mm.
    """

    low: float
    high: float
    clearance: Spread
    movement: Spread
    overhang: float
    die: str
    sold: bool
    mate: str
    why: Reason

    def to_dict(self) -> dict[str, Any]:
        """The plain form used in JSON; mm."""
        return {
            "pitch_diameter": {"min": self.low, "max": self.high},
            "why": self.why,
            "die": self.die,
            "die_sold_by_this_name": self.sold,
            "class_it_goes_with": self.mate,
            "clearance": self.clearance.to_dict(),
            "movement": {**self.movement.to_dict(), "overhang": self.overhang},
        }


@dataclass(frozen=True)
class NextTrial:
    """The trial that would tell most.

    ``move``: the movement of ``screw`` at ``overhang``; else a screw of ``pitch_diameter`` is to be tried, ``screw``
    being one at hand that comes near. ``half_width``: of the 95 % range now, and what is to be expected after it, mm.
    """

    move: bool
    screw: str | None
    pitch_diameter: float
    overhang: float
    half_width: tuple[float, float]

    def to_dict(self) -> dict[str, Any]:
        """The plain form used in JSON; mm."""
        now, then = self.half_width
        return {
            "kind": "movement" if self.move else "screw",
            "screw": self.screw,
            "pitch_diameter": self.pitch_diameter,
            "overhang": self.overhang if self.move else None,
            "half_width_now": now,
            "half_width_expected": then,
        }


@dataclass(frozen=True)
class FoundHole:
    """A tapped hole by its trials; lengths in mm.

    Attributes:
        thread: as people say it; base: a designation of that thread as a nut.
        engagement: over which screws engage. depth: of the hole, None: not known.
        pitch_diameter: of the largest perfect screw that enters.
        classes: most probable first. no_class: probability that none describes it.
        worn_by: by how much it is likely larger than any of its classes, if it is of none; 0: it is not.
        open_class: why the class cannot be told; None where it can.
        trials: in the order in which they were given.
        to_make, next_trial: what to make, what to try.
        bench, follows: see ``TriedHole``; "" where nothing is known of the bench.
        sizes, density: (m,) pitch diameters and the probability of each.
    """

    thread: str
    base: str
    engagement: float
    depth: float | None
    pitch_diameter: Spread
    classes: tuple[ClassShare, ...]
    no_class: float
    worn_by: float
    open_class: Reason | None
    trials: tuple[JudgedTrial, ...]
    to_make: ToMake
    next_trial: NextTrial | None
    bench: str
    follows: float
    sizes: Array = field(repr=False, compare=False)
    density: Array = field(repr=False, compare=False)

    @property
    def half_width(self) -> float:
        """Half of the 95 % range, mm."""
        return (self.pitch_diameter.high95 - self.pitch_diameter.low95) / 2

    def quantiles(self, count: int = 201) -> Array:
        """(count,) pitch diameters, each as likely to be nearest, mm: the distribution in a few numbers."""
        return quantiles(self.sizes, self.density, (np.arange(count) + 0.5) / count)


def quantiles(sizes: Array, density: Array, shares: float | Sequence[float] | Array) -> Array:
    """Sizes below which the hole lies with these probabilities; ``density`` (m,) need not sum to 1."""
    step = sizes[1] - sizes[0]
    whole = np.concatenate([[0.0], np.cumsum(density)])
    edges = np.concatenate([[sizes[0] - step / 2], sizes + step / 2])
    return np.interp(np.asarray(shares, np.float64), whole / whole[-1], edges)
