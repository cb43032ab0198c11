"""What is predicted of a screw in a hole: play, and how it compares with others (``play`` makes it)."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

import numpy as np
import numpy.typing as npt

from threads.judge.pairing import Pair
from threads.shared.refusal import Reason

Array = npt.NDArray[np.float64]

FLANKS, CRESTS, ROOTS = "flanks", "crests", "roots"
"""What touches first: flanks, the screw's crests in the hole's roots, the hole's crests in the screw's roots."""

METHOD, ZONE = Reason("play_method"), Reason("play_zone")
LIMITS = (Reason("play_limits.geometry"), Reason("play_limits.not_in_it"), Reason("play_limits.one_side"))
"""How it is predicted, what is assumed of a hole that is given by its class, and what is not in it."""


@dataclass(frozen=True)
class Spread:
    """A distribution: its median and the range that holds 95 % of it, 2.5 % being left out on either side."""

    median: float
    low95: float
    high95: float
    unit: str

    def to_dict(self) -> dict[str, float | str]:
        """The plain form used in JSON."""
        return {"median": self.median, "low95": self.low95, "high95": self.high95, "unit": self.unit}


@dataclass(frozen=True)
class Feel:
    """One screw in the hole.

    Attributes:
        radial_clearance: how far its axis can move off the hole's, to one side, mm; negative where it does not enter.
        axial_backlash: its way along the axis from stop to stop, mm.
        tilt: greatest angle between the axes, to one side, degrees.
        end_movement: how far the end at the overhang moves to one side, mm. Like backlash and tilt, 0 where it does not
            enter.
        enters: probability that it does.
        touches_first: probability by what touches first: flanks, crests, roots.
        pitch_loss, angle_loss: what errors of pitch and of flank angles take off the diameters' difference, mm.
        pair: whether it and the hole are a pair at all. If not, ``enters`` is 0 and the play means nothing.
        clearance: (n,) the drawn radial clearances, mm.
    """

    pair: Pair
    radial_clearance: Spread
    axial_backlash: Spread
    tilt: Spread
    end_movement: Spread
    enters: float
    touches_first: Mapping[str, float]
    pitch_loss: Spread
    angle_loss: Spread
    clearance: Array = field(repr=False, compare=False)

    def to_dict(self) -> dict[str, Any]:
        """The plain form used in JSON; the play is null where screw and hole are no pair."""
        numbers = {
            "radial_clearance": self.radial_clearance.to_dict(),
            "axial_backlash": self.axial_backlash.to_dict(),
            "tilt": self.tilt.to_dict(),
            "end_movement": self.end_movement.to_dict(),
            "enters": self.enters,
            "touches_first": dict(self.touches_first),
            "lost_to_pitch_errors": self.pitch_loss.to_dict(),
            "lost_to_flank_angle_errors": self.angle_loss.to_dict(),
        }
        if not self.pair.meshes:
            numbers = {name: self.enters if name == "enters" else None for name in numbers}
        return {"pair": self.pair.to_dict(), **numbers}


@dataclass(frozen=True)
class Beside:
    """Another screw in the same holes, and the screw against it.

    Attributes:
        what: its name.
        feel: how it is in the hole.
        looser_by: radial clearance of the screw less that of the other, mm.
        times: the one over the other, where both enter; None where that is less than half of the cases.
        looser: probability that the screw is the looser one.
        comparable: whether both are a pair with the hole; if not, ``times`` is None, and the others mean nothing.
    """

    what: Reason
    feel: Feel
    looser_by: Spread
    times: Spread | None
    looser: float
    comparable: bool

    def to_dict(self) -> dict[str, Any]:
        """The plain form used in JSON."""
        return {
            "what": self.what,
            **self.feel.to_dict(),
            "looser_by": self.looser_by.to_dict() if self.comparable else None,
            "times_as_loose": None if self.times is None else self.times.to_dict(),
            "probability_looser": self.looser if self.comparable else None,
        }


@dataclass(frozen=True)
class Play:
    """A screw in a hole, and others beside it: ``original``, ``original_class`` (when new), ``yardstick``.

    ``by_class``: the hole is known by its class only. ``tried``: by screws tried in it. Lengths are mm.
    """

    hole: str
    by_class: bool
    engagement: float
    overhang: float
    screw: Feel
    original: Beside | None
    original_class: Beside | None
    yardstick: Beside | None
    draws: int
    seed: int
    tried: bool = False

    @property
    def beside(self) -> tuple[Beside, ...]:
        """Those that there are."""
        return tuple(one for one in (self.original, self.original_class, self.yardstick) if one is not None)

    @property
    def method(self) -> tuple[Reason, ...]:
        """How it was predicted, for a person and for JSON."""
        return (METHOD, ZONE) if self.by_class else (METHOD,)

    def to_dict(self, caution: str) -> dict[str, Any]:
        """The JSON form, schema ``flankwise/play/1``; mm and degrees."""
        return {
            "schema": "flankwise/play/1",
            "hole": self.hole,
            "engagement": {"value": self.engagement, "u95": 0.0, "unit": "mm"},
            "overhang": {"value": self.overhang, "u95": 0.0, "unit": "mm"},
            **self.screw.to_dict(),
            "original": None if self.original is None else self.original.to_dict(),
            "original_class": None if self.original_class is None else self.original_class.to_dict(),
            "yardstick": None if self.yardstick is None else self.yardstick.to_dict(),
            "draws": self.draws,
            "seed": self.seed,
            "method": Reason("paragraph", each=self.method),
            "limits_of_the_method": list(LIMITS),
            "caution": caution,
        }
