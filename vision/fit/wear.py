"""Wear: metal that a crest or one flank has lost, found from the residuals of the fitted thread.

A worn flank repeats: on every ridge of a stretch, on both edges of the shadow, the same flank stands back above some
height while the other flank does not. A worn crest repeats too: along a stretch the crests are lower while the flanks
below them stand where they should. Dirt, nicks and burrs do neither. Where wear is found the thread is fitted once more
to what is not worn, so that its dimensions are those it was cut with.

What a picture cannot show: flanks that are worn evenly down to the root (the thread then has a smaller pitch diameter),
and crests worn evenly along the whole thread by less than the tolerance of a major diameter.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from threads.shared.refusal import Reason
from vision.fit.domed_crest import without_domes
from vision.fit.ridge_coordinates import refitted
from vision.fit.solve import Solution
from vision.fit.worn_crest import CrestWear, crests_along, crests_everywhere, highest
from vision.fit.worn_flank import FlankWear, find_worn_flank
from vision.model.shadow import INDEX

Bool = npt.NDArray[np.bool_]


@dataclass(frozen=True)
class Wear:
    """What is worn: ``flank`` and ``crest``, None where that is sound or where a picture cannot show it.

    Attributes:
        first: the thread fitted to all points.
        sound: the thread fitted without what is worn.
        worn: (n,) which points of ``first`` were left out for it.
    """

    first: Solution
    flank: FlankWear | None
    crest: CrestWear | None
    sound: Solution
    worn: Bool

    def to_dict(self, free_end_right: bool) -> dict[str, Any] | None:
        """Plain data for JSON: lengths of what was lost in um, places in mm from the -u end of the threaded length."""
        if self.flank is None and self.crest is None:
            return None
        start = self.sound.start
        flank, crest = self.flank, self.crest
        return {
            "crest": crest
            and {
                "lost": crest.lost.to_dict(),
                "against": "the full form" if crest.everywhere else "the crests that are not worn",
                "begin": crest.begin - start,
                "end": crest.end - start,
            },
            "flank": flank
            and {
                "flank": side_of(flank, free_end_right),
                "lost": flank.lost.to_dict(),
                "form": "even" if flank.even else "growing toward the crest",
                "down_to": flank.down_to,
                "begin": flank.begin - start,
                "end": flank.end - start,
            },
        }


def side_of(flank: FlankWear, free_end_right: bool) -> str:
    """The flank's name, "left" or "right": what it is with the free end to the right."""
    return "right" if (flank.toward > 0) == free_end_right else "left"


def unworn(solution: Solution) -> Wear:
    """No wear, or none was looked for."""
    return Wear(solution, None, None, solution, np.zeros(solution.seen.u.size, np.bool_))


def find_wear(solution: Solution) -> Wear:
    """Look for a worn flank and worn crests, and fit the thread without them."""
    flank, sound, worn = find_worn_flank(solution) or (None, solution, unworn(solution).worn)
    crest = crests_along(sound)
    if crest is not None:
        found, low = crest
        start = sound.fit.x.copy()
        start[INDEX["crest"]] = highest(sound, low)
        without = refitted(sound, ~low, start)
        if without is not None:
            worn = worn.copy()
            worn[np.flatnonzero(~worn)[low]] = True
            return Wear(solution, flank, found, without, worn)
    everywhere = crests_everywhere(sound)
    domed = None if everywhere is None else without_domes(sound)
    if domed is not None:
        without, left_out = domed
        worn = worn.copy()
        worn[np.flatnonzero(~worn)[left_out]] = True
        return Wear(solution, flank, crests_everywhere(without, domed=True), without, worn)
    return Wear(solution, flank, everywhere, sound, worn)


def wear_doubts(wear: Wear, free_end_right: bool) -> tuple[Reason, ...]:
    """Warnings for what is worn."""
    out = []
    if wear.flank is not None:
        how = "evenly" if wear.flank.even else "growing toward the crest"
        out.append(Reason("flank_worn", flank=side_of(wear.flank, free_end_right), how=how, lost=wear.flank.lost))
    if wear.crest is not None and wear.crest.everywhere:
        out.append(Reason("crests_worn.all", lost=wear.crest.lost))
    elif wear.crest is not None:
        out.append(Reason("crests_worn.some", lost=wear.crest.lost))
    return tuple(out)
