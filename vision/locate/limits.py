"""All thresholds of vision/locate/ that are no constants of a single module, in one place.

Where no other reason is given, a value is a workshop assumption, set between what usable and unusable pictures show
(the sample pictures and those that tests/vision draws).
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Limits:
    """Thresholds; lengths in px unless the name says otherwise."""

    least_points: int = 60  # edge points that give a direction
    least_columns: int = 60  # of the outline in which a period is looked for: four of the finest threads
    clear_wave: tuple[float, float] = (4.0, 0.6)  # a wave is clear over so many pitches, keeping step over such a share
    shortest_period: float = 6.0  # what is shorter is the grid of the pixels or noise, and too fine to be measured
    least_run: float = 1.5  # pitches over which a wave must hold
    wave_share: float = 0.6  # of the strongest amplitude: where a wave is weaker it has ended
    most_harmonic: int = 6  # multiples of the pitch that are tried: a coarser period with the same peak
    harmonic_share: float = 0.3  # per pitch: a multiple so strong is the period
    in_step: float = 0.7  # radians, a ninth of a pitch: what strays less from the mean phase keeps step
    least_regular: float = 0.7  # share of the length in step
    least_depth: tuple[float, float] = (0.15, 4.0)  # of the pitch, and px: a thread of 60 degrees is 0.6 pitches deep
    least_core: float = 0.3  # root over crest: the grooves of springs and chains reach deeper
    flank_band: float = 0.3  # of the depth to both sides of the pitch line: flanks, clear of both corners
    least_slope: float = 0.3  # of a flank; that of the widest angle, 75 degrees, is 1.3
    both_edges: float = 0.35  # strength of the weaker edge against the stronger: a saw has one
    axis_points: int = 10  # columns from which the axis is straightened
    edge_quantile: float = 0.02  # of the points beyond which nothing counts for where the two edges are
    same_size: float = 1.15  # of the width: a second stretch that repeats and is so much wider is the part
    same_period: tuple[float, float] = (0.75, 1.33)  # two finds with periods so alike, and near each other, are one
    near_periods: float = 4.0  # two finds within so many periods are near each other
    coarsest: float = 0.75  # of the window: a picture reduced further has too few windows
    lowest_wave: float = 1.5  # cycles a window: below it is the shading of the part
    least_power: float = 1e-3  # of a window's spectrum, per sample: without contrast nothing repeats
    least_period: float = 3.0  # of a reduced picture
    least_repeats: int = 3  # shifts by one pitch, two, ... that must agree
    most_repeats_cut: float = 0.7  # of the stretch's usual width: narrower rows and columns are its frayed ends
    least_pitches: float = 4.0  # that repeat
    both_known: float = 0.05  # of the usual weight: places that hardly count
    least_overlap: float = 0.3  # of the stretch that a shift must leave on itself
    smoothed_from: float = 1.2  # step of resampling from which the picture is smoothed first
    most_summit: float = 1.5  # samples: a summit farther off belongs to another peak
    ground_pixels: int = 50  # of the ground from which its light is told
    known_share: float = 0.9  # of the columns of an edge that must be known for its ridges' widths
    brightest: float = 0.98  # quantile of the light that stands for the pad


LIMITS = Limits()
