"""Limits of size of the machine screws of the A.S.M.E. standard of 1907, inches, by its formulas.

The formulas are those of Machinery's Handbook, 5th ed. (1919), p. 1015. The form is the U.S. Standard's, with flats of
p/8. The standard limits the screw and the tap; the tapped hole it leaves to the tap (``tap_pitch_diameter``).
"""

from __future__ import annotations

from threads.rules.rounding import round_to
from threads.rules.zone import Zone

CLASS = "single"
"""The one class of the screw."""

SOURCE = (
    "formulas of the A.S.M.E. machine screw standard of 1907 (Machinery's Handbook, 5th ed., 1919, p. 1015, as given "
    "in a public source file)"
)


def zone(major: float, threads_per_inch: float) -> Zone:
    """Limits of a screw, inches; basic sizes and tolerances are rounded to four decimals each before the sum.

    With A = threads per inch + 40 and the basic sizes D, E = D - 0.64952 p, K = D - 1.29904 p, which are the greatest:
    major diameter 0.336/A less, pitch diameter 0.168/A less, minor diameter 0.10825 p + 0.168/A less.

    >>> zone(0.112, 36).pitch_diameter
    (0.0918, 0.094)
    """
    pitch, step = 1 / threads_per_inch, 0.168 / (threads_per_inch + 40)
    top, basic_pd, basic_minor = (round_to(major - depth * pitch, 4) for depth in (0.0, 0.64952, 1.29904))
    less = (2 * step, step, 0.10825 * pitch + step)
    least = (round_to(basic - round_to(by, 4), 4) for basic, by in zip((top, basic_pd, basic_minor), less, strict=True))
    major_min, pd_min, minor_min = least
    return Zone(
        unit="in",
        basic_major=major,
        basic_pitch_diameter=basic_pd,
        basic_minor=basic_minor,
        allowance=0.0,
        major=(major_min, top),
        pitch_diameter=(pd_min, basic_pd),
        minor=(minor_min, basic_minor),
        source=SOURCE,
    )


def tap_pitch_diameter(major: float, threads_per_inch: float) -> tuple[float, float]:
    """Least and greatest pitch diameter of the standard's tap, inches, four decimals: E + 0.112/A and E + 0.224/A.

    A limit of the tool, not of the hole: a tap cuts a little larger than it is.
    """
    basic, step = major - 0.64952 / threads_per_inch, 0.112 / (threads_per_inch + 40)
    return round_to(basic + step, 4), round_to(basic + 2 * step, 4)
