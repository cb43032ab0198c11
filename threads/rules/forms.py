"""Thread forms: the basic axial profile of each, in multiples of the pitch."""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True)
class Form:
    """The basic external profile of a symmetric thread form. Lengths are multiples of the pitch p.

    Attributes:
        included_angle_deg: angle between the flanks.
        crest_flat, root_flat: width of the flat at basic crest and root; 0 where the rounding leaves no flat.
        crest_radius, root_radius: basic radius of a rounded crest or root; None for a flat one.
        basic_depth: depth of the external thread from basic major to basic root.
        standard, source: the standard, and where the figures were read.
    """

    name: str
    included_angle_deg: float
    crest_flat: float
    root_flat: float
    basic_depth: float
    standard: str
    source: str
    crest_radius: float | None = None
    root_radius: float | None = None

    @property
    def flank_angle_deg(self) -> float:
        """Of each flank to the normal of the axis."""
        return self.included_angle_deg / 2

    @property
    def rounded_crest(self) -> bool:
        """Whether the standard asks for a rounding."""
        return self.crest_radius is not None

    @property
    def rounded_root(self) -> bool:
        """Whether the standard asks for a rounding."""
        return self.root_radius is not None


_H60 = math.sqrt(3) / 2  # height of the sharp 60 degree triangle over one pitch

# The radius that rounds a 47.5 degree thread of depth 0.6 p fully: 0.1808346 p, as the standard has it.
_BA_RADIUS = (0.25 - 0.3 * math.tan(math.radians(23.75))) / math.tan(math.radians(33.125))

_H55 = 0.5 / math.tan(math.radians(27.5))  # 0.960491 p
# A circle that touches both flanks ends 1 / sin(half angle) - 1 radii below the sharp corner: here H/6.
_WHITWORTH_RADIUS = _H55 / 6 / (1 / math.sin(math.radians(27.5)) - 1)
_WHITWORTH_FLAT = 2 * _WHITWORTH_RADIUS * math.cos(math.radians(27.5))  # between the ends of the crest's rounding
_WHITWORTH_ROUNDING = _WHITWORTH_RADIUS * (1 - math.sin(math.radians(27.5)))  # depth of the rounding, 0.073917 p

_LOWENHERZ_HALF_ANGLE = math.degrees(math.atan(0.5))  # the sharp triangle is one pitch high: 53 deg 7.8 min

# What the rounding of the crest, p/6, and a depth of 3/5 p leave for the root where the angle is 47.5 degrees.
_THURY_DEPTH, _THURY_CREST = 3 / 5, 1 / 6
_THURY_SHARP = 1 / math.sin(math.radians(23.75)) - 1
_THURY_ROOT = (0.5 / math.tan(math.radians(23.75)) - _THURY_DEPTH) / _THURY_SHARP - _THURY_CREST


FORMS: dict[str, Form] = {
    "American National": Form(
        name="American National",
        included_angle_deg=60.0,
        crest_flat=1 / 8,
        root_flat=1 / 8,
        basic_depth=3 / 4 * _H60,
        standard="American National (ASA B1.1-1935; NBS Handbook H28)",
        source="Machinery's Reference Series No. 31 (1909): flats p/8, kept from the U.S. Standard form",
    ),
    "U.S. Standard": Form(
        name="U.S. Standard",
        included_angle_deg=60.0,
        crest_flat=1 / 8,
        root_flat=1 / 8,
        basic_depth=3 / 4 * _H60,
        standard="U.S. Standard (Franklin Institute, 1864)",
        source="Machinery's Reference Series No. 31 (1909): flats p/8 at crest and root",
    ),
    "Sharp V": Form(
        name="Sharp V",
        included_angle_deg=60.0,
        crest_flat=0.0,
        root_flat=0.0,
        basic_depth=_H60,
        standard="none (custom of the trade before the U.S. Standard)",
        source="Machinery's Handbook, 31st ed., p. 2129: pitch diameter D - 0.86603 p (worn tools leave small flats)",
    ),
    "UN": Form(
        name="UN",
        included_angle_deg=60.0,
        crest_flat=1 / 8,
        root_flat=1 / 4,
        basic_depth=5 / 8 * _H60,
        standard="ASME B1.1",
        source="Machinery's Handbook, 31st ed.",
    ),
    "UNR": Form(
        name="UNR",
        included_angle_deg=60.0,
        crest_flat=1 / 8,
        root_flat=1 / 48,  # what a radius of H/6 leaves of the width 3/16 p at a depth of 11/16 H
        root_radius=_H60 / 6,
        basic_depth=11 / 16 * _H60,
        standard="ASME B1.1",
        source="Machinery's Handbook, 31st ed.: root 11/16 H below the crest, radius 0.108 p to 0.144 p",
    ),
    "UNM": Form(
        name="UNM",
        included_angle_deg=60.0,
        crest_flat=1 / 8,
        root_flat=0.0,
        root_radius=7 / 8 * _H60 - 0.64,
        basic_depth=0.64,
        standard="ASME B1.10M",
        source="Machinery's Handbook, 31st ed., Unified miniature, Table 5: root at D - 1.28 p (the root fully rounded "
        "between the flanks is an assumption)",
    ),
    "S": Form(
        name="S",
        included_angle_deg=60.0,
        crest_flat=1 / 8,
        root_flat=7 / 8 - 0.96 / math.sqrt(3),
        basic_depth=0.48,
        standard="ISO 1501",
        source="a trade journal's article on miniature threads, 2024: height 0.48 p (that the screw's root is that of "
        "the nut's crest is an assumption)",
    ),
    "ISO metric": Form(
        name="ISO metric",
        included_angle_deg=60.0,
        crest_flat=1 / 8,
        root_flat=0.0,
        root_radius=_H60 / 6,
        basic_depth=17 / 24 * _H60,
        standard="ISO 68-1",
        source="Machinery's Handbook, 27th ed., Table 3; UNI 4535: design root d - 1.22687 p with radius H/6",
    ),
    "BA": Form(
        name="BA",
        included_angle_deg=47.5,
        crest_flat=0.0,
        root_flat=0.0,
        crest_radius=_BA_RADIUS,
        root_radius=_BA_RADIUS,
        basic_depth=0.6,
        standard="BS 93",
        source="Machinery's Handbook, 31st ed., p. 2115: depth 0.6 p, crest and root radius 0.18083 p",
    ),
    "Whitworth": Form(
        name="Whitworth",
        included_angle_deg=55.0,
        crest_flat=0.0,
        root_flat=0.0,
        crest_radius=_WHITWORTH_RADIUS,
        root_radius=_WHITWORTH_RADIUS,
        basic_depth=2 / 3 * _H55,
        standard="BS 84",
        source="Machinery's Handbook, 31st ed., p. 2087: depth 2/3 H = 0.640327 p, crest and root radius 0.137329 p",
    ),
    "Whitworth, truncated": Form(
        name="Whitworth, truncated",
        included_angle_deg=55.0,
        crest_flat=_WHITWORTH_FLAT,
        root_flat=0.0,
        root_radius=_WHITWORTH_RADIUS,
        basic_depth=2 / 3 * _H55 - _WHITWORTH_ROUNDING,
        standard="BS 84, Annex A",
        source="from memory, unverified: the crest cut off flat where its rounding begins, 0.073917 p down",
    ),
    "Cycle": Form(
        name="Cycle",
        included_angle_deg=60.0,
        crest_flat=0.0,
        root_flat=0.0,
        crest_radius=1 / 6,
        root_radius=1 / 6,
        basic_depth=_H60 - 1 / 3,
        standard="BS 811 (before: Cycle Engineers' Institute, 1902)",
        source="several online tables: crest and root radius p/6, depth 0.5327 p",
    ),
    "Lowenherz": Form(
        name="Lowenherz",
        included_angle_deg=2 * _LOWENHERZ_HALF_ANGLE,
        crest_flat=1 / 8,
        root_flat=1 / 8,
        basic_depth=3 / 4,
        standard="Lowenherz (Munich, 1892)",
        source="Machinery's Handbook, 31st ed., p. 2119: 53 deg 8 min, flats p/8, depth 0.75 p",
    ),
    "Thury": Form(
        name="Thury",
        included_angle_deg=47.5,
        crest_flat=0.0,
        root_flat=0.0,
        crest_radius=_THURY_CREST,
        root_radius=_THURY_ROOT,
        basic_depth=_THURY_DEPTH,
        standard="Thury (filiere suisse, 1878)",
        source="articles in online encyclopedias: 47.5 deg, depth 3/5 p, crest radius p/6 (root radius p/5 there, "
        "which with the other three cannot be: 0.195 p here)",
    ),
    "SI": Form(
        name="SI",
        included_angle_deg=60.0,
        crest_flat=1 / 8,
        root_flat=0.0,
        root_radius=_H60 / 16,
        basic_depth=13 / 16 * _H60,
        standard="Systeme International (Zurich, 1898); NF E03-104",
        source="Machinery's Handbook, 27th ed., p. 1824 (French bolts): root 13/16 H below the crest; an online table "
        "of metric series: crest as the U.S. Standard, root rounded",
    ),
    "SF": Form(
        name="SF",
        included_angle_deg=60.0,
        crest_flat=1 / 8,
        root_flat=1 / 8,
        basic_depth=3 / 4 * _H60,
        standard="Systeme Francais (1894)",
        source="from memory, unverified: flats p/8 at crest and root",
    ),
    "DIN 13, old": Form(
        name="DIN 13, old",
        included_angle_deg=60.0,
        crest_flat=1 / 8,
        root_flat=0.0,
        root_radius=0.0633,
        basic_depth=7 / 8 * _H60 - 0.0633,
        standard="DIN 13 (before ISO)",
        source="from memory, unverified: root radius 0.0633 p, depth 0.6945 p",
    ),
    "VSM": Form(
        name="VSM",
        included_angle_deg=60.0,
        crest_flat=1 / 8,
        root_flat=0.0,
        root_radius=7 / 8 * _H60 - 0.7,
        basic_depth=0.7,
        standard="VSM 12003",
        source="Machinery's Handbook, 27th ed., p. 1824 (Swiss bolts): depth 0.7 p (the root rounded between the "
        "flanks is an assumption)",
    ),
}


def addendum(form: Form) -> float:
    """Depth of the pitch line, where ridge and groove are equally wide, below the crest, in multiples of the pitch."""
    sharp_width = form.crest_flat + 2 * (form.crest_radius or 0.0) * _fillet(form)
    return (0.25 - sharp_width / 2) / math.tan(math.radians(form.flank_angle_deg))


def _fillet(form: Form) -> float:
    """Length that a rounding takes off the flat, per unit of its radius: tan((90 deg - flank angle) / 2)."""
    return math.tan(math.radians(90 - form.flank_angle_deg) / 2)
