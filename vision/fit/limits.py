"""All thresholds of vision/fit/ that are no constants of a single module, in one place.

Where no other reason is given, a value is a workshop assumption, set between what usable and unusable pictures show
(the sample pictures and those that tests/vision draws).
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Limits:
    """Thresholds; lengths in px unless the name says otherwise."""

    near_camera: float = 2.5  # standard uncertainties of 1 / distance from which a height counts
    settled_scale: float = 0.01  # relative change of the scatter from one step to the next, at the last one
    thread_band: float = 0.6  # of the depth beyond crest and root: points so near may be the thread's
    flank_band: float = 0.25  # of the depth to both sides of the pitch line: flanks, clear of both corners
    flank_points: int = 40  # from which a fit is tried
    facing: float = 0.25  # pitches: nearer to facing each other than to alternating
    few_threads: float = 0.7  # of all points: a trial on so many or more saves nothing
    good_fit: float = 1.2  # times the expected scatter of edge points
    follows: float = 0.15  # px within which the outline follows the thread, where its scatter is less
    short: float = 4.0  # pitches: of fewer the half ones at the ends count
    whole_half: tuple[float, float] = (0.25, 0.75)  # of a half pitch: points seen, and of them those that follow
    round_blur: float = 1.5  # blurs: a full round of a smaller radius cannot be told from a flat
    round_share: float = 0.75  # of the full round's radius: a corner so large is one
    blur_band: float = 0.25  # of the depth to both sides of the middle: flanks, where blur is read
    blur_points: int = 10  # a stretch of the axis: fewer tell no blur
    soft_flank: float = 0.2  # of the depth to both sides of the pitch line, where the flanks' blur is read
    soft_crest: tuple[float, float] = (0.5, 0.995)  # px from the crest, and of the normal across the axis
    soft_points: tuple[int, int] = (50, 30)  # of flanks and of crests: else nothing is said of their blurs
    one_stretch: float = 8.0  # scatters: a point so far off is part of what lies on the edge, however short
    rough: float = 10.0  # times the noise: a scatter of form, not of light
    near_noise: tuple[float, float] = (6.0, 0.01)  # noises, and of the pitch: points that lie near the thread
    hidden_band: float = 0.35  # of the depth to both sides of the middle: flanks
    wear_scatter: float = 1.05  # times that with all points: taking worn ones out may not make a fit worse
    same_pitch: float = 0.01  # relative: the thread without its worn points is the same thread
    deep_root: float = 0.05  # pitches that the root must lie below the pitch line, and the crest above it
    least_worn: int = 4  # flanks or crests
    ridge_flank: float = 0.35  # of the depth to both sides of the pitch line
    ridge_near: float = 0.1  # pitches: what lies farther from a flank is none of it
    ridge_points: int = 5  # on a flank from which its place is read
    ridge_straight: float = 0.85  # of a displaced flank's points that must lie near their median
    crest_near: float = 0.2  # pitches: what lies farther from the thread is none of it
    crest_middle: tuple[float, float] = (0.35, 2.0)  # half width of a crest's middle: of its flat, and px at least
    crest_above: tuple[float, float] = (0.5, 1.5)  # of the depth: points of a crest
    crest_flank: tuple[float, float] = (0.2, 0.7)  # of the depth: flanks below a crest that may be worn
    crest_points: int = 3  # on a crest and on each of its flanks
    crests_judged: int = 8  # of which the highest stand for the sound ones
    crest_contrast: float = 3.0  # scatters of the sound crests: worn ones stand lower
    crest_margin: float = 0.06  # of the depth below a worn crest: its corners, left out with it
    crest_line: float = 0.05  # pitches to both sides of a crest's middle
    whitworth_from: tuple[float, float] = (57.5, 51.0)  # included angle: 60 above, 47.5 (BA) below, 55 between
    flank_rows: int = 3  # flanks of which a median is taken
    flank_top: tuple[float, float] = (0.62, 0.93)  # of the depth: where wear of a flank shows most
    flank_below: float = 0.95  # of the depth: above it the crest's corner begins
    flank_bins: int = 6  # of the depth that must be known
    flank_crest: tuple[float, float] = (0.9, 0.08)  # of the depth, to both sides: where what is lost is stated
    flank_margin: tuple[float, float] = (0.06, 0.12)  # of the depth: below the wear, and never lower than
    wear_shape: float = 0.2  # of the loss at the crest: bins that show the shape of a wear
    likely_shape: tuple[float, float] = (1.3, 0.02)  # times the best shape's miss, and of the loss: as likely


LIMITS = Limits()
