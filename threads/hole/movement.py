"""The movement of a screw from side to side as a measurement: ``play``'s contact geometry solved for the clearance.

A screw whose pitch diameter is c below the hole's moves off the axis by c/2 and tilts (``contact``), so that a point of
it at the overhang H travels

    y = 2 (c/2 + H tan t)

from side to side. y grows with c, so c follows from y. Three things blur it besides the reading. Where the outermost
ridges bear depends on how the screw is turned, and the length of engagement is what somebody counted: it is taken to be
within half a pitch of what is stated, every length alike. The overhang is known to ``OVERHANG_U``. And parts give a
little, and are not pushed quite square: ``GIVE``, of the movement. Both figures are workshop assumptions without a
published source.

Not to be believed where the head or a shoulder touches before the thread does, and where the screw is clamped: a
movement then comes out too small.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from threads.hole.classes import HoleThread
from threads.hole.trial import MOVED, HoleError, Trial, TriedScrew, check_hole, check_trial
from threads.measured.virtual_pitch_diameter import virtual_pitch_diameter
from threads.rules.forms import FORMS
from threads.shared.quantity import COVERAGE_FACTOR, Quantity
from threads.workshop.contact import MatedThreads, end_movement
from threads.workshop.predicted_play import Spread

Array = npt.NDArray[np.float64]

OVERHANG_U = 0.25
"""Standard uncertainty of the overhang, mm: read from a ruler to half a millimetre."""
GIVE = 0.03
"""Relative standard uncertainty of a movement that is perfectly read."""

_SHARES = (np.arange(6) + 0.5) / 6 - 0.5  # of a pitch by which the engagement that counts is longer
_STEP = 0.0005  # mm of clearance


@dataclass(frozen=True)
class MovementFound:
    """What a movement says.

    Attributes:
        movement: as read, mm. overhang, engagement: mm.
        clearance: by how much the screw's virtual pitch diameter is below the hole's, mm.
        range95: its 95 % range, mm.
        hole: pitch diameter of the hole, mm.
    """

    movement: Quantity
    overhang: float
    engagement: float
    clearance: Quantity
    range95: Spread
    hole: Quantity

    def to_dict(self) -> dict[str, Any]:
        """The plain form used in JSON; mm."""
        return {
            "movement": self.movement.to_dict(),
            "overhang": {"value": self.overhang, "unit": "mm"},
            "engagement": {"value": self.engagement, "unit": "mm"},
            "clearance_of_pitch_diameters": {**self.clearance.to_dict(), "range95": self.range95.to_dict()},
            "radial_clearance": Quantity(
                self.clearance.value / 2, self.clearance.standard_uncertainty / 2, "mm"
            ).to_dict(),
            "hole_pitch_diameter": self.hole.to_dict(),
        }


def travel(
    thread: HoleThread, major: float, pitch_diameter: float, clearance: Array, engagement: float, overhang: float
) -> Array:
    """(6, n) travel from side to side, mm, of a screw with these clearances (n,) of the pitch diameters, mm.

    ``major``, ``pitch_diameter``: of the screw, mm.

    One row for each of six lengths that the engagement may count as. Where the screw does not go in: 0.
    """
    rows = []
    form = FORMS[thread.form]
    rounding = (form.crest_radius or 0.0) * thread.pitch * (1 - math.sin(math.radians(form.flank_angle_deg)))
    size = np.full(clearance.size, pitch_diameter)
    for share in _SHARES:
        fit = MatedThreads(
            screw_major=np.full(clearance.size, major),
            screw_pitch_diameter=size,
            screw_minor=None,
            hole_major=None,
            hole_pitch_diameter=size + clearance,
            hole_minor=None,
            half_angle_deg=form.flank_angle_deg,
            engagement=max(engagement + share * thread.pitch, thread.pitch / 2),
            rounding=rounding,
        )
        rows.append(2 * end_movement(fit, overhang))
    return np.array(rows)


def travel_of(thread: HoleThread, screw: TriedScrew, clearance: Array, engagement: float, overhang: float) -> Array:
    """As ``travel``, of a measured screw."""
    of = screw.thread
    return travel(thread, of.major_diameter.value, of.pitch_diameter.value, clearance, engagement, overhang)


def spread_of_travel(expected: Array, reading_u: float, overhang: float) -> Array:
    """Standard uncertainty of a movement (mm), read with ``reading_u``, where ``expected`` is due."""
    given = expected * math.hypot(GIVE, OVERHANG_U / max(overhang, 1.0) if overhang > 0 else 0.0)
    return np.asarray(np.hypot(reading_u, given))


def clearance_of(
    thread: HoleThread, screw: TriedScrew, movement: Quantity, overhang: float, engagement: float
) -> MovementFound:
    """The clearance and the hole's pitch diameter from one movement.

    Args:
        thread: of the hole.
        screw: as measured.
        movement: whole travel from side to side, mm.
        overhang: from the mouth of the hole to where it was read, mm.
        engagement: over which full threads engage, mm.

    Raises HoleError: what cannot be, see ``check_trial``; a movement beyond the height of the thread.
    """
    check_hole(thread, engagement)
    check_trial(thread, Trial(screw, MOVED, movement=movement, overhang=overhang), engagement)
    clearances = np.arange(0.0, 2 * thread.height, _STEP)
    travels = travel_of(thread, screw, clearances, engagement, overhang)
    check_reach(thread, screw, movement, travels)
    centre = float(np.interp(movement.value, travels.mean(axis=0), clearances))
    u = float(spread_of_travel(np.array([movement.value]), movement.standard_uncertainty, overhang)[0])
    quantiles = _normal_quantiles(200)
    drawn = np.concatenate([np.interp(movement.value + u * quantiles, row, clearances) for row in travels])
    low, high = np.quantile(drawn, (0.025, 0.975))
    spread = Quantity(centre, float(np.std(drawn)), "mm")
    size = virtual_pitch_diameter(screw.thread, form=thread.form, pitch_mm=thread.pitch, engagement_mm=engagement)
    own = size.quantity
    hole = Quantity(
        own.value + centre, math.hypot(own.standard_uncertainty, spread.standard_uncertainty), "mm", own.one_sided
    )
    return MovementFound(movement, overhang, engagement, spread, Spread(centre, float(low), float(high), "mm"), hole)


def check_reach(thread: HoleThread, screw: TriedScrew, movement: Quantity, travels: Array) -> None:
    """Refuse a movement that no screw makes which still holds. ``travels``: up to the height of the thread.

    Raises HoleError.
    """
    least = movement.value - COVERAGE_FACTOR * movement.standard_uncertainty
    most = float(travels[:, -1].max())
    if least > most:
        raise HoleError(
            "hole_movement_large", name=screw.name, movement=movement.value, height=thread.height, most=most
        )


def _normal_quantiles(count: int) -> Array:
    from statistics import NormalDist

    return np.array([NormalDist().inv_cdf((k + 0.5) / count) for k in range(count)])
