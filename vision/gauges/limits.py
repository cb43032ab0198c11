"""All thresholds of vision/gauges/ that are no constants of a single module, in one place.

Where no other reason is given, a value is a workshop assumption, set between what usable and unusable pictures show
(the sample pictures and those that tests/vision draws).
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Limits:
    """Thresholds; lengths in px unless the name says otherwise."""

    least_points: int = 200  # edge points of a pin
    along_edge: float = 0.97  # of the normal across the axis: within 14 degrees of it
    least_used: tuple[int, int] = (150, 60)  # points of both long edges together, and of either
    settled: float = 1e-6  # radians: 0.001 px over a picture
    thinnest_pin: float = 20.0  # diameter: what is thinner tells the scale to a per cent at best
    blurriest_pin: float = 4.0  # standard deviation of the blur
    roughest_pin: tuple[float, float] = (2.5, 0.01)  # scatter of its edges: px, and of its diameter
    least_clean: float = 0.6  # of the points of a pin that must fit
    grid_filled: float = 0.4  # of a lattice's box that must hold points
    saddle_share: float = 0.1  # of the strongest saddle: weaker ones are noise or dirt
    most_saddles: int = 20_000  # more are texture
    quarters: float = 0.7  # of a ring's power that must be in two bright and two dark quarters
    most_blots: int = 100_000  # more are texture
    blot_fill: tuple[float, float] = (0.62, 0.92)  # of its box that a dot fills; a disc fills pi / 4 = 0.785
    blot_aspect: float = 1.5  # longer side over shorter: a disc seen at 48 degrees
    blot_area: int = 12  # px: the smallest dot with an inside
    usual_pitch: float = 0.15  # of the pitch by which neighbours' distances may differ from the median
    lattice_step: float = 0.2  # of a step by which the next point may lie off where the last step leads
    curved: tuple[float, float] = (8.0, 0.004)  # a ruling's curve: times the median of all, and light per px squared
    same_ruling: float = 0.8  # px between neighbouring rows' centres of one ruling, within a strip
    straight_ruling: float = 2.5  # px by which a strip's centres of one ruling may spread
    least_rows: int = 4  # rows that a parabola through a ruling's centres needs
    spacing_share: float = 0.75  # of the distances, the nearest to their median, whose mean is the spacing
    even_spacing: tuple[float, float] = (0.15, 0.6)  # of the spacing by which steps may differ, in such a share
    finest: float = 1.15  # of the finest spacing: strips as fine as the finest
    whole_steps: tuple[float, float, float] = (0.25, 0.12, 0.03)  # of a division: at most, for none, more for each
    recent_steps: int = 4  # over which the spacing is followed
    on_number: tuple[float, float] = (0.2, 0.7)  # of a division from its number, in such a share of the centres
    coarse: float = 1.5  # times the spacing: longer rulings beyond the fine ones
    twice: float = 0.1  # by which their ratio may differ from two
    grey_band: tuple[float, float] = (0.2, 0.02)  # darker than the ground: of a ruling's darkness, and of the light
    least_grey: int = 4  # rows of a grey band


LIMITS = Limits()
