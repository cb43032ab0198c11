"""All thresholds of vision/result/ that are no constants of a single module, in one place.

Where no other reason is given, a value is a workshop assumption, set between what usable and unusable pictures show
(the sample pictures and those that tests/vision draws).
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Limits:
    """Thresholds; lengths in px unless the name says otherwise."""

    blurred: float = 0.09  # blur over pitch: crest, flank and root melt into a wave
    turned: float = 0.38  # 0.5 where the edges alternate or face each other exactly; on pictures of threads over 0.46
    turned_few: tuple[float, float] = (4.0, 0.26)  # of fewer threads, of which chamfer and runout are much, the same
    scatter: tuple[float, float] = (0.8, 0.02)  # px, and of the depth: what misses a thread by more is none
    rejected: float = 0.4  # of the outline that fits nowhere
    rejected_worn: float = 0.55  # the same before wear is looked for: most of one flank may be gone
    least_height: float = 0.05  # pitches between root and pitch line, and half of that between root and crest
    pitch_agrees: tuple[float, float] = (0.8, 1.25)  # fitted over found: else the fit has slipped
    included_angle: tuple[float, float] = (28.0, 76.0)  # deg: from 29 (Acme) to 75 with room for what is worn
    flank_angle: tuple[float, float] = (14.0, 20.0)  # deg: the least of either, and the most that they may differ
    deepest: float = 0.3  # root over crest: springs and chains are deeper
    shallowest: float = 0.2  # pitches: knurls and worn rings
    longest_lead: float = 2.6  # pitch radii: a lead angle of 22 degrees (2 pi tan 22 deg = 2.54)
    coarsest: float = 0.5  # pitch over pitch diameter: 0.33 on the smallest watch screws
    least_whole: float = 1.9  # threads that are whole, two: they are counted by halves
    few_threads: int = 6  # fewer tell pitch and taper badly
    large_scatter: float = 0.25  # px, root mean square: dirt, burrs or a rough cut
    much_rejected: float = 0.08  # of the edge points: dirt or damage
    soft: float = 2.2  # px, standard deviation of the blur
    astigmatic: float = 1.15  # blur of the worst direction over that of the best
    smeared: float = 0.06  # blurs by which coma displaces a part of the light
    halo: float = 0.04  # of the light in the tails of the blur
    faint: float = 0.25  # contrast between pad and part
    burnt: float = 0.02  # of the background at full scale
    tilted_deg: float = 3.0  # toward or away from the camera
    refocused: float = 0.003  # of the scale: what a camera that focuses by itself changes from picture to picture
    hidden_root: float = 0.02  # of what the outline feels of the crest: the flanks' shadow covers the root
    draws_per_row: int = 3  # trials for each direction in which their second moments are set right


LIMITS = Limits()
