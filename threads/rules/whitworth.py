"""Limits of size of Whitworth threads (BSW, BSF), close, medium and free, by BS 84.

Tolerances follow the formulas of BS 84:1956 as Machinery's Handbook and others give them; inches, four decimals. The
greatest screw is basic in all classes. That is so for all threads made before 1956; later editions lower medium and
free screws up to 3/4 in. by an allowance for plating, whose amount could not be read: it is left out here.
"""

from __future__ import annotations

from threads.rules.rounding import round_to
from threads.rules.zone import Edge, Zone

CLASSES = ("medium", "close", "free")
INTERNAL_CLASSES = ("medium", "normal", "close")

SOURCE = (
    "tolerances by the formulas of BS 84:1956 (as given in later texts), length of engagement = "
    "diameter; the allowance that editions since 1956 give medium and free screws up to 3/4 in. is left out: not read"
)

_FACTOR = {"close": 2 / 3, "medium": 1.0, "free": 1.5, "normal": 1.5}


def effective_tolerance(major: float, pitch: float, engagement: float) -> float:
    """T in inches, medium class: 0.002 D^(1/3) + 0.003 L^(1/2) + 0.005 p^(1/2), all lengths in inches.

    >>> round(effective_tolerance(0.25, 0.05, 0.25), 6)
    0.003878
    """
    return float(0.002 * major ** (1 / 3) + 0.003 * engagement**0.5 + 0.005 * pitch**0.5)


def zone(major: float, threads_per_inch: float, thread_class: str, *, internal: bool) -> Zone:
    """Limits of a BSW or BSF screw or nut, inches, four decimals.

    With the tolerance T of the effective (pitch) diameter, 2/3 and 3/2 of it for close and for free and normal class:
    screw: major diameter T + 0.01 p^(1/2), minor diameter T + 0.02 p^(1/2) (close: + 0.013 p^(1/2)), all below basic.
    nut: effective diameter T above basic, minor diameter 0.2 p + 0.004 in. above it (24 and 22 threads per inch 0.005,
    20 and coarser 0.007); its greatest major diameter is not limited.
    Raises KeyError for another class.
    """
    pitch = 1 / threads_per_inch
    root = pitch**0.5
    tolerance = _FACTOR[thread_class] * effective_tolerance(major, pitch, major)
    effective = round_to(major - 0.640327 * pitch, 4)
    minor = round_to(major - 1.280654 * pitch, 4)
    top = round_to(major, 4)
    if internal:
        extra = 0.004 if threads_per_inch >= 26 else 0.005 if threads_per_inch >= 22 else 0.007
        edges: tuple[Edge, Edge, Edge] = (
            (top, None),
            (effective, round_to(effective + tolerance, 4)),
            (minor, round_to(minor + 0.2 * pitch + extra, 4)),
        )
    else:
        edges = (
            (round_to(major - tolerance - 0.01 * root, 4), top),
            (round_to(effective - tolerance, 4), effective),
            (round_to(minor - tolerance - (0.013 if thread_class == "close" else 0.02) * root, 4), minor),
        )
    return Zone(
        unit="in",
        basic_major=major,
        basic_pitch_diameter=effective,
        basic_minor=minor,
        allowance=0.0,
        major=edges[0],
        pitch_diameter=edges[1],
        minor=edges[2],
        source=SOURCE,
    )
