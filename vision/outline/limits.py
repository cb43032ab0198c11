"""All thresholds of vision/outline/ that are no constants of a single module, in one place.

Where no other reason is given, a value is a workshop assumption, set between what usable and unusable pictures show
(the sample pictures and those that tests/vision draws).
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Limits:
    """Thresholds; lengths in px unless the name says otherwise."""

    full_scale: float = 0.997  # of full scale: as good as white: of eight bits only the top step lies above
    burnt_pad: float = 0.25  # share of the pad at full scale from which its level cannot be told
    all_white: float = 0.2  # share of the picture at full scale: white all over, and no part in it
    stray_burnt: float = 0.01  # share of edge points with burnt or mirrored light near by that is worth a warning
    clipped_noise: float = 0.002  # share of background pixels at full scale: under it only noise touches the top
    censored: tuple[float, float] = (0.002, 0.95)  # share of cut-off pixels between which their distribution is known
    least_plateau: int = 200  # pixels that tell a distribution: its cut share is then known to a few per cent
    between_shades: tuple[float, float] = (0.25, 0.75)  # of the way from dark to bright: neither shade
    most_between: float = 0.15  # share of such pixels: a shadow has two shades and little between them
    most_grain: float = 0.16  # scatter of a bright pad, in parts of the contrast
    most_grain_part: float = 0.25  # the same of a bright part before a dark ground, which has a surface of its own
    pad_size: float = 0.35  # of the picture: what is bright and smaller is a part
    dark_middle: float = 0.3  # bright share in the middle of a pad with a part on it, at most
    fills_picture: float = 0.92  # of the picture: a part so large leaves no pad
    part_size: float = 0.15  # of the largest region's area: what is smaller is dust
    most_parts: int = 12  # in one picture; more are texture
    most_specks: int = 1500  # regions of the reduced picture; more are texture
    most_gaps: float = 0.35  # bright share of a picture whose bright regions are gaps beside a part
    on_region: float = 0.6  # of the outline that must run along the chosen region
    least_unburnt: float = 0.2  # of the pad that must be left when its burnt blocks are taken out
    least_blocks: int = 20  # from which a field of light is taken; with fewer from all blocks of that shade
    least_steepness: float = 0.02  # light per px across an edge, of the contrast: what is flatter is shading


LIMITS = Limits()
