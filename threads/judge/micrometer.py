"""A micrometer's reading over three wires combined with a picture's measurement of the same screw.

The reading is one more observation of the thread's dimensions: over wires of diameter w it should be M(E, w, p, a), the
exact measurement over wires (``wires.over_wires``) of pitch diameter E, pitch p and half angle a. With the picture's
values x, their covariance C and the derivatives h of M by x, the joint estimate of least variance is

    x + k d,    C - k k^T s,    d = reading - M(x),    s = h C h^T + u_reading^2 + (dM/dw)^2 u_wire^2,    k = C h / s

(weighted least squares with one observation added; derived here). Pitch and flank angles of the picture are thereby
used once, and what the picture's errors have in common moves the other dimensions too.

An effect that is known in direction only, ``one_sided`` of the pitch diameter, enters as anything between nothing and
its bound, evenly distributed (JCGM 100:2008, F.2.4.3): half of it is added, and bound / sqrt(12) to u. The reading then
says how much of it there is.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import numpy.typing as npt

from threads.judge.wires import WireError, over_wires, pitch_diameter_over_wires
from threads.measured.thread import Covariance, MeasuredThread
from threads.measured.virtual_pitch_diameter import virtual_pitch_diameter
from threads.shared.formatting import MM_PER_INCH
from threads.shared.quantity import Quantity

Array = npt.NDArray[np.float64]

FAR = 0.25
"""A reading off by more than this part of the pitch is not one of this screw over these wires."""
DISAGREE = 1.0
"""From this normalised difference on picture and micrometer disagree (ISO/IEC 17043 calls it E_n: difference over the
two U95 in quadrature)."""

_STEP_MM, _STEP_DEG = 1e-5, 1e-3


@dataclass(frozen=True)
class Joined:
    """Picture and micrometer together.

    Attributes:
        thread: the joint estimate, with its covariance.
        by_picture: pitch diameter of the picture alone. by_wires: of the reading, with the picture's pitch and angles.
        over_wires, wire: the reading and the wire. share: weight of the reading in the joint pitch diameter, 0 to 1.
        normalised_difference: difference of reading and picture over the U95 of that difference.
    """

    thread: MeasuredThread
    by_picture: Quantity
    by_wires: Quantity
    over_wires: Quantity
    wire: Quantity
    share: float
    normalised_difference: float

    @property
    def agree(self) -> bool:
        return self.normalised_difference <= DISAGREE

    def to_dict(self) -> dict[str, Any]:
        """Plain data for JSON."""
        return {
            "over_wires": self.over_wires.to_dict(),
            "wire": self.wire.to_dict(),
            "pitch_diameter_of_picture": self.by_picture.to_dict(),
            "pitch_diameter_over_wires": self.by_wires.to_dict(),
            "pitch_diameter": self.thread.pitch_diameter.to_dict(),
            "share_of_micrometer": self.share,
            "normalised_difference": self.normalised_difference,
            "agree": self.agree,
        }


def join_over_wires(thread: MeasuredThread, reading: Quantity, wire: Quantity) -> Joined:
    """Join the measurement over wires ``reading`` with ``thread``; both and ``wire`` in mm.

    Where they disagree (normalised difference above 1) one of them is wrong, and nobody knows which: the uncertainty of
    the joint pitch diameter is then enlarged until it covers their difference, by the root of chi squared (Birge, Phys.
    Rev. 40, 207-227, 1932).

    Raises:
        WireError: a hole; a wire that does not lie on the flanks; a reading that cannot be of this screw.
    """
    if thread.internal:
        raise WireError("wires_only_screws")
    half = (thread.flank_angle_left.value + thread.flank_angle_right.value) / 2
    u_half = math.sqrt(max(float(np.sum(thread.covariance.of(("flank_angle_left", "flank_angle_right")))), 0.0)) / 2
    by_wires = pitch_diameter_over_wires(
        reading, wire, pitch=thread.pitch, flank_angle=Quantity(half, u_half, "deg"), starts=thread.starts
    )
    expected = over_wires(thread.pitch_diameter.value, wire.value, thread.pitch.value, half, thread.starts)
    if abs(by_wires.value - thread.pitch_diameter.value) > FAR * thread.pitch.value:
        raise WireError("wire_reading", reading_mm=reading.value, expected_mm=expected, wire_mm=wire.value)
    slopes = _slopes(thread, wire.value, half)
    bound = thread.pitch_diameter.one_sided
    order = thread.covariance.order
    row = order.index("pitch_diameter")
    c = thread.covariance.matrix.astype(np.float64)
    c[row, row] += bound**2 / 12
    h = np.zeros(len(order))
    h[row], h[order.index("pitch")] = slopes["pitch_diameter"], slopes["pitch"]
    h[[order.index("flank_angle_left"), order.index("flank_angle_right")]] = slopes["flank_angle"] / 2
    off = reading.value - expected - slopes["pitch_diameter"] * bound / 2
    u_wires = math.hypot(reading.standard_uncertainty, slopes["wire"] * wire.standard_uncertainty)
    s = float(h @ c @ h) + u_wires**2
    k = c @ h / s
    normalised = abs(off) / (2 * math.sqrt(s))
    c = c - np.outer(k, k) * s
    if normalised > DISAGREE:
        grown = np.ones(len(order))
        grown[row] = 2 * normalised
        c = c * np.outer(grown, grown)
    change = k * off
    change[row] += bound / 2
    return Joined(
        thread=_moved(thread, change, (c + c.T) / 2),
        by_picture=thread.pitch_diameter,
        by_wires=by_wires,
        over_wires=reading,
        wire=wire,
        share=min(max(float(k[row]) * slopes["pitch_diameter"], 0.0), 1.0),
        normalised_difference=normalised,
    )


def _slopes(thread: MeasuredThread, wire: float, half: float) -> dict[str, float]:
    """Derivatives of the measurement over wires, mm a mm or a degree, by central differences."""
    at = {"pitch_diameter": thread.pitch_diameter.value, "wire": wire, "pitch": thread.pitch.value, "flank_angle": half}

    def measured(values: dict[str, float]) -> float:
        e, w, p, a = values["pitch_diameter"], values["wire"], values["pitch"], values["flank_angle"]
        return over_wires(e, w, p, a, thread.starts)

    out = {}
    for name, value in at.items():
        step = _STEP_DEG if name == "flank_angle" else _STEP_MM
        up, down = (measured({**at, name: value + sign * step}) for sign in (1, -1))
        out[name] = (up - down) / (2 * step)
    return out


def _moved(thread: MeasuredThread, change: Array, covariance: Array) -> MeasuredThread:
    """``thread`` with the quantities of its covariance moved by ``change``, and what follows from them."""
    names = thread.covariance.order
    u = np.sqrt(np.maximum(np.diag(covariance), 0.0))
    moved: dict[str, Quantity] = {}
    for name, step, sigma in zip(names, change, u, strict=True):
        old = getattr(thread, name, None)
        if isinstance(old, Quantity):
            left = 0.0 if name == "pitch_diameter" else old.one_sided
            moved[name] = Quantity(old.value + float(step), float(sigma), old.unit, left)
    joint = replace(thread, **moved, covariance=Covariance(names, covariance))  # type: ignore[arg-type]
    angles = joint.covariance.of(("flank_angle_left", "flank_angle_right"))
    pitch = joint.pitch
    per_inch = MM_PER_INCH / pitch.value
    joint = replace(
        joint,
        lead=Quantity(thread.starts * pitch.value, thread.starts * pitch.standard_uncertainty, "mm"),
        threads_per_inch=Quantity(per_inch, per_inch * pitch.standard_uncertainty / pitch.value, "1/in"),
        included_angle=Quantity(
            joint.flank_angle_left.value + joint.flank_angle_right.value,
            math.sqrt(max(float(np.sum(angles)), 0.0)),
            "deg",
        ),
        lead_angle=replace(
            thread.lead_angle,
            value=math.degrees(math.atan(thread.starts * pitch.value / (math.pi * joint.pitch_diameter.value))),
        ),
    )
    return replace(joint, virtual_pitch_diameter=virtual_pitch_diameter(joint).quantity)
