"""Limits for threads whose standard sets none, or whose limits could not be read: the workshop's own band.

The rule is ours, no standard's; ``OURS`` and ``SOURCE`` say so wherever limits of this band are shown. It takes what
British Association threads of normal class are allowed (BS 93: 0.20 p, 0.10 p + 0.025 mm; nuts 0.12 p + 0.03 mm,
0.375 p) and adds about a fifth for screws, because they were cut with plates and dies of many makes. With the pitch p:

* screw: major diameter from D - (0.25 p + 0.02) to D; pitch diameter from E - (0.12 p + 0.03) to E; minor diameter at
  most that of the basic form.
* nut: pitch diameter from E to E + 0.12 p + 0.03; minor diameter from that of the basic form to 0.375 p above it; major
  diameter at least D.

E is the diameter at which ridge and groove of the basic form are equally wide.
"""

from __future__ import annotations

from threads.rules.forms import FORMS, addendum
from threads.rules.rounding import round_to
from threads.rules.table import join_sources
from threads.rules.zone import Edge, Zone

CLASS = "workshop"
"""The class of a screw or nut that has no class."""

OURS = "limits: our own workshop band, no standard's"
"""Added to the name of the standard wherever limits of this band are shown."""

SOURCE = (
    f"{OURS} (screw: major diameter - 0.25 p - 0.02 mm, pitch diameter - 0.12 p - "
    "0.03 mm, nut: pitch diameter + 0.12 p + 0.03 mm, minor diameter + 0.375 p)"
)

_MM = {"mm": 1.0, "in": 1 / 25.4}
_PLACES = {"mm": 3, "in": 4}

# Forms whose screw and nut keep clear of each other at crest and root, by national standards of maximum metal sizes
# (Machinery's Handbook, 27th ed., p. 1824), in pitches: minor diameter of the largest screw below D, least major
# diameter of the nut above D. The nut's least minor diameter is D - 1.299 p in all three.
_CLEARANCE = {"SI": (1.40729, 0.108), "DIN 13, old": (1.299038, 0.0), "VSM": (1.4, 0.1)}
_NUT_MINOR = 1.299038


def zone(major: float, pitch: float, form: str, unit: str, *, internal: bool) -> Zone:
    """The workshop band of a screw or nut, in ``unit``: to 1 um in mm, to 0.0001 in inches.

    Args:
        major: basic major diameter, in ``unit``.
        pitch: in ``unit``.
        form: key of ``forms.FORMS``.
        unit: ``"mm"`` or ``"in"``.
        internal: True for a nut.

    >>> zone(2.6, 0.45, "Lowenherz", "mm", internal=False).pitch_diameter
    (2.178, 2.262)
    """
    shape, mm, places = FORMS[form], _MM[unit], _PLACES[unit]
    # As the old tables round: the depth first, then the diameters.
    pd = round_to(major - round_to(2 * addendum(shape) * pitch, places), places)
    minor = round_to(major - 2 * shape.basic_depth * pitch, places)
    pd_tolerance = 0.12 * pitch + 0.03 * mm
    screw_minor, nut_major, nut_minor = minor, round_to(major, places), minor
    if form in _CLEARANCE:
        screw, nut = _CLEARANCE[form]
        screw_minor, nut_major = _below(major, screw * pitch, places), round_to(major + nut * pitch, places)
        nut_minor = _below(major, _NUT_MINOR * pitch, places)
    if internal:
        edges: tuple[Edge, Edge, Edge] = (
            (nut_major, None),
            (pd, round_to(pd + pd_tolerance, places)),
            (nut_minor, round_to(nut_minor + 0.375 * pitch, places)),
        )
    else:
        edges = (
            (round_to(major - 0.25 * pitch - 0.02 * mm, places), round_to(major, places)),
            (round_to(pd - pd_tolerance, places), pd),
            (None, screw_minor),
        )
    return Zone(
        unit=unit,
        basic_major=major,
        basic_pitch_diameter=pd,
        basic_minor=minor,
        allowance=0.0,
        major=edges[0],
        pitch_diameter=edges[1],
        minor=edges[2],
        source=join_sources(shape.source, SOURCE),
    )


def _below(major: float, twice_the_depth: float, places: int) -> float:
    """The diameter that a depth leaves, the depth of one side rounded first as the old metric tables do."""
    return round_to(major - 2 * round_to(twice_the_depth / 2, places), places)
