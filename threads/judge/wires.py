"""Three-wire measurement of the pitch diameter: measurement over wires from it, and it from a measurement over wires.

A wire lies in the groove and is pressed against it by a flat anvil, square to the line of measurement. It touches each
flank in one point. With the axis of the thread along z, the line of measurement along x, k = lead / 2 pi and the flank
of half angle a on the side of positive z

    S(r, phi) = (r cos phi, r sin phi, Z),    Z = p/4 + (r - E/2) tan a + k phi,

a wire whose axis crosses x at the height h touches it in (r, phi) if the vector v from there to the wire's axis is
square to the surface and w/2 long. The wire settles where h is least, that is where it lies along the helix of radius
h (its axis inclined by atan(k/h)); both contacts then lie in the plane square to the wire, and the conditions become

    h cos phi = r + Z tan a,    h r sin phi + k Z = 0,    r^2 - 2 r h cos phi + h^2 + Z^2 = (w/2)^2.

``over_wires`` solves these for r, phi and h, to within rounding: M = 2 h + w. That is the exact measurement, and the
one that is printed. ``over_wires_by_series`` is the classical formula, which counts the lead angle L to second order:

    M = E - (p/2) cot a + w (1 + 1/sin a + (1/2) tan^2 L cos a cot a),    tan L = lead / (pi E).

On the single-start sizes of the tables it is up to 0.7 um larger than the exact measurement (4-40: 0.14 um), and
without the term of L up to 6.3 um smaller (4-40: 1.8 um). All of it is derived here; the tests compare it with a
numerical search for the wire's place and with printed tables.

Wires and flanks flatten each other under the measuring force (NBS Handbook H28 and ASME B1.2 therefore measure a wire
with the force with which it is used); that is not corrected here.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from threads.rules.forms import FORMS, Form
from threads.rules.table import join_sources
from threads.shared.quantity import Quantity
from threads.shared.refusal import ReasonedError
from threads.standards.limits import Limits

FORMULA = (
    "M = 2 h + w: a wire of diameter w touches both flanks of the helicoid in points of the plane square to the wire, "
    "and lies along the helix through its own axis, h from that of the thread; solved numerically"
)
SERIES_FORMULA = "M = E - (p/2) cot a + w (1 + 1/sin a + tan^2(lead angle) cos a cot a / 2)"
SOURCE = "measurement over wires: derived here from the geometry of the helicoid"

_STEPS = 60


class WireError(ReasonedError, ValueError):
    """A wire or a measurement with which the pitch diameter cannot be measured. The message is one line."""


@dataclass(frozen=True)
class WireSizes:
    """Three-wire sizes of one screw. Lengths are mm.

    Attributes:
        designation: of the screw. form, flank_angle_deg, pitch: its geometry.
        best_wire: the wire that touches the flanks on the pitch line of a thread without lead angle.
        least_wire, greatest_wire: between them a wire stands out above the crests and touches straight flanks.
        wire: the wire for which the measurements hold.
        least, greatest, basic: measurement over the wires at the limits of the pitch diameter and at the basic one;
            None where there is no limit.
        basic_by_series, basic_without_lead_angle: the classical formula at the basic pitch diameter, with and without
            its term of the lead angle.
        lead_angle_deg: at the basic pitch diameter.
        source: where limits and formula come from.
    """

    designation: str
    form: str
    flank_angle_deg: float
    pitch: float
    best_wire: float
    least_wire: float
    greatest_wire: float
    wire: float
    least: float | None
    greatest: float | None
    basic: float
    basic_by_series: float
    basic_without_lead_angle: float
    lead_angle_deg: float
    source: str

    def over_wires_dict(self) -> dict[str, float | None]:
        """Measurements at the limits and at the basic pitch diameter, under the keys of the JSON form."""
        return {"min": self.least, "max": self.greatest, "basic": self.basic}

    def to_dict(self) -> dict[str, Any]:
        """The JSON form, schema ``flankwise/wires/1``; mm and degrees."""
        return {
            "schema": "flankwise/wires/1",
            "designation": self.designation,
            "form": self.form,
            "flank_angle": self.flank_angle_deg,
            "pitch": self.pitch,
            "lead_angle": self.lead_angle_deg,
            "best_wire": self.best_wire,
            "usable_wires": {"min": self.least_wire, "max": self.greatest_wire},
            "wire": self.wire,
            "over_wires": self.over_wires_dict(),
            "formula": FORMULA,
            "by_series": {
                "formula": SERIES_FORMULA,
                "basic": self.basic_by_series,
                "basic_without_lead_angle": self.basic_without_lead_angle,
            },
            "source": self.source,
        }


def best_wire(pitch: float, flank_angle_deg: float) -> float:
    """Diameter of the wire that touches the flanks on the pitch line, (p/2) / cos a, mm for a pitch in mm.

    An error of the flank angle then has no effect of first order on the measurement.

    >>> round(best_wire(1.0, 30.0), 5), round(best_wire(1.0, 27.5), 5), round(best_wire(1.0, 23.75), 5)
    (0.57735, 0.56369, 0.54626)
    """
    return pitch / 2 / math.cos(math.radians(flank_angle_deg))


def usable_wires(form: Form, pitch: float) -> tuple[float, float]:
    """Least and greatest wire for a basic thread of ``form``, mm.

    The least one is flush with the crests and clear of the root; the greatest touches the flanks where the crest's flat
    or rounding begins. Lead angle left out: it changes neither by 1 %.
    """
    half = math.radians(form.flank_angle_deg)
    cosec, cot = 1 / math.sin(half), 1 / math.tan(half)
    flank_end = form.crest_flat / 2 + (form.crest_radius or 0.0) * math.cos(half)
    crest = (0.25 - form.crest_flat / 2) * cot - (form.crest_radius or 0.0) * (cosec - 1)  # above the pitch line
    root = form.basic_depth - crest  # below it
    flush = (2 * crest + cot / 2) / (1 + cosec)
    clear = (cot / 2 - 2 * root) / (cosec - 1)
    return max(flush, clear) * pitch, (1 - 2 * flank_end) / math.cos(half) * pitch


def over_wires(pitch_diameter: float, wire: float, pitch: float, flank_angle_deg: float, starts: int = 1) -> float:
    """The exact measurement over three wires of a symmetric thread; all lengths in one unit.

    Args:
        pitch_diameter: of the axial section, where ridge and groove are equally wide.
        wire: diameter of the wires.
        pitch: distance of neighbouring ridges along the axis.
        flank_angle_deg: half angle.
        starts: the lead is as many pitches.

    Raises:
        WireError: no wire of that diameter touches both flanks of such a thread.

    >>> round(over_wires(2.4333, 0.3666, 0.635, 30.0), 4)
    2.9849
    """
    tan, k = math.tan(math.radians(flank_angle_deg)), starts * pitch / (2 * math.pi)
    flat = over_wires_by_series(pitch_diameter, wire, pitch, flank_angle_deg, starts=0)
    h = (flat - wire) / 2
    r, phi = h - wire / 2 * math.sin(math.radians(flank_angle_deg)), 0.0
    for _ in range(_STEPS):
        if not (r > 0 and h > 0 and abs(phi) < math.pi / 2):
            break
        sin, cos = math.sin(phi), math.cos(phi)
        z = pitch / 4 + (r - pitch_diameter / 2) * tan + k * phi
        h = (r + z * tan) / cos
        h_r, h_phi = (1 + tan * tan) / cos, k * tan / cos + h * sin / cos
        lies = r * h * sin + k * z
        lies_r, lies_phi = h * sin + r * h_r * sin + k * tan, r * h_phi * sin + r * h * cos + k * k
        touches = r * r - 2 * r * h * cos + h * h + z * z - wire * wire / 4
        touches_r = 2 * (r - h * cos - r * h_r * cos + h * h_r + z * tan)
        touches_phi = 2 * (r * h * sin - r * h_phi * cos + h * h_phi + z * k)
        determinant = lies_r * touches_phi - lies_phi * touches_r
        if determinant == 0:
            break
        step_r = (lies * touches_phi - lies_phi * touches) / determinant
        step_phi = (lies_r * touches - lies * touches_r) / determinant
        r, phi = r - step_r, phi - step_phi
        if abs(step_r) < 1e-9 * wire and abs(step_phi) < 1e-9:  # the next step would be its square
            z = pitch / 4 + (r - pitch_diameter / 2) * tan + k * phi
            return 2 * (r + z * tan) / math.cos(phi) + wire
    raise WireError("wire_not_on_flanks", wire_mm=wire)


def over_wires_by_series(
    pitch_diameter: float, wire: float, pitch: float, flank_angle_deg: float, starts: int = 1
) -> float:
    """The classical formula (``SERIES_FORMULA``), arguments as for ``over_wires``; ``starts=0`` leaves out the lead.

    >>> round(over_wires_by_series(0.2175, 0.0289, 0.05, 30.0, starts=0), 4)
    0.2609
    """
    half = math.radians(flank_angle_deg)
    cot = 1 / math.tan(half)
    lead = starts * pitch / (math.pi * pitch_diameter)
    return pitch_diameter - pitch / 2 * cot + wire * (1 + 1 / math.sin(half) + lead * lead / 2 * math.cos(half) * cot)


def pitch_diameter_from_wires(
    measured: float, wire: float, pitch: float, flank_angle_deg: float, starts: int = 1
) -> float:
    """The pitch diameter whose exact measurement over wires is ``measured``; arguments as for ``over_wires``.

    Raises WireError where no thread gives that measurement with that wire.
    """
    found = measured - over_wires_by_series(1.0, wire, pitch, flank_angle_deg, starts=0) + 1.0
    for _ in range(_STEPS):
        if found <= 0:
            break
        off = measured - over_wires(found, wire, pitch, flank_angle_deg, starts)
        found += off
        if abs(off) < 1e-12 * measured:
            return found
    raise WireError("wire_no_thread", pitch_mm=pitch, reading_mm=measured, wire_mm=wire)


def pitch_diameter_over_wires(
    measured_over_wires: Quantity, wire: Quantity, *, pitch: Quantity, flank_angle: Quantity, starts: int = 1
) -> Quantity:
    """The pitch diameter from a measurement over wires, with its uncertainty.

    Args:
        measured_over_wires: reading of the micrometer, mm.
        wire: mean diameter of the three wires, mm.
        pitch: of the part, mm.
        flank_angle: half angle of the part (the mean of both flanks), degrees.
        starts: number of starts.

    Returns:
        mm. The inputs count as independent (JCGM 100:2008, 5.1); each one's effect is the larger of those of +u and -u,
        because with the best wire the flank angle has none of first order. Flanks d above and below their mean are
        taken as equal ones: with the best wire that is off by about 0.6 p d^2 (d in radians), 0.04 um a millimetre of
        pitch at half a degree. Not in it: the flattening of wires and flanks under the measuring force, and an oval or
        tapered part.

    Raises:
        WireError: no thread gives that measurement with that wire.

    >>> exact = Quantity(0.635, 0.0, "mm"), Quantity(30.0, 0.0, "deg")
    >>> read, wire = Quantity(2.985, 0.001, "mm"), Quantity(0.3666, 0.0002, "mm")
    >>> found = pitch_diameter_over_wires(read, wire, pitch=exact[0], flank_angle=exact[1])
    >>> round(found.value, 4), round(found.u95, 4)
    (2.4334, 0.0023)
    """
    inputs = (measured_over_wires, wire, pitch, flank_angle)

    def solved(shift: Callable[[int], float]) -> float:
        m, w, p, a = (quantity.value + shift(i) for i, quantity in enumerate(inputs))
        return pitch_diameter_from_wires(m, w, p, a, starts)

    def effect(index: int, size: float) -> float:
        """The larger change when input ``index`` goes up or down by ``size``."""
        if size == 0:
            return 0.0
        return max(
            abs(solved(lambda i: sign * size if i == index else 0.0) - value)  # noqa: B023 - called at once
            for sign in (1.0, -1.0)
        )

    value = solved(lambda _: 0.0)
    u = math.hypot(*(effect(i, quantity.standard_uncertainty) for i, quantity in enumerate(inputs)))
    one_sided = sum(effect(i, abs(quantity.one_sided)) for i, quantity in enumerate(inputs))
    return Quantity(value, u, "mm", one_sided=one_sided)


_STANDS_OUT = 1.05
"""A wire that is larger than the flush one by so much stands out above the crests clear of burrs (our own choice)."""


def wire_sizes(limits: Limits, wire: float | None = None) -> WireSizes:
    """Three-wire sizes of a screw, with the best wire (of a sharp V, a larger one) or with ``wire``, mm.

    Raises:
        WireError: an internal thread, or a wire that cannot be used for this one.
    """
    if limits.internal:
        raise WireError("wires_only_screws.designation", designation=limits.designation)
    form = FORMS[limits.form]
    half, pitch, basic = form.flank_angle_deg, limits.pitch, limits.basic_pitch_diameter
    best = best_wire(pitch, half)
    least, greatest = usable_wires(form, pitch)
    usual = max(_STANDS_OUT * least, best)  # of a sharp V the best wire is flush
    used = usual if wire is None else wire
    if not least <= used <= greatest:
        raise WireError(
            "wire_size", wire_mm=used, designation=limits.designation, least_mm=least, most_mm=greatest, best_mm=best
        )

    def measurement(pitch_diameter: float | None) -> float | None:
        return None if pitch_diameter is None else over_wires(pitch_diameter, used, pitch, half)

    return WireSizes(
        designation=limits.designation,
        form=limits.form,
        flank_angle_deg=half,
        pitch=pitch,
        best_wire=best,
        least_wire=least,
        greatest_wire=greatest,
        wire=used,
        least=measurement(limits.pitch_diameter.low),
        greatest=measurement(limits.pitch_diameter.high),
        basic=over_wires(basic, used, pitch, half),
        basic_by_series=over_wires_by_series(basic, used, pitch, half),
        basic_without_lead_angle=over_wires_by_series(basic, used, pitch, half, starts=0),
        lead_angle_deg=math.degrees(math.atan(pitch / (math.pi * basic))),
        source=join_sources(*limits.source.split("; "), SOURCE),
    )
