"""What use and neglect do to a part, as frozen dataclasses: wear, dirt, damage, oil, and flanks that shine."""

from __future__ import annotations

from dataclasses import dataclass
from math import inf


@dataclass(frozen=True)
class Wear:
    """Metal that the thread has lost, the same right round. Lengths in mm.

    Attributes:
        crest_mm: height (of the radius) that the middle of the crests has lost; 0 leaves them as they were cut.
        crest_edge_mm: how much lower the corners of the worn crest lie than its middle: it is domed.
        flank: "left", "right" or "both": the flank of ``Thread`` that has carried the load.
        flank_mm: how much the flank has lost at the crest, along its normal.
        flank_down_to: where the wear of the flank ends, as a fraction of the thread's depth: 0 root, 1 crest.
        flank_form: "wedge" grows evenly from there to the crest; "step" is as deep everywhere above, as a nut with
            less engagement than the thread is deep wears it.
        from_mm: distance from the free end where the wear begins.
        to_mm: where it ends; over half a pitch it comes and goes.
    """

    crest_mm: float = 0.0
    crest_edge_mm: float = 0.0
    flank: str = "right"
    flank_mm: float = 0.0
    flank_down_to: float = 0.4
    flank_form: str = "wedge"
    from_mm: float = -inf
    to_mm: float = inf

    def faults(self) -> list[str]:
        """What makes this wear impossible; empty when nothing does."""
        found = []
        if min(self.crest_mm, self.crest_edge_mm, self.flank_mm) < 0:
            found.append("wear takes metal away: it is not negative")
        if self.flank not in ("left", "right", "both"):
            found.append('the worn flank is "left", "right" or "both"')
        if not 0 <= self.flank_down_to <= 0.9:
            found.append("the wear of a flank ends at 0 to 0.9 of the depth")
        if self.flank_form not in ("wedge", "step"):
            found.append('the wear of a flank is a "wedge" or a "step"')
        if not self.from_mm < self.to_mm:
            found.append("the wear begins before it ends")
        return found


@dataclass(frozen=True)
class Blemishes:
    """What lies on the outline or is broken out of it, besides the dust and hairs that ``Scene`` counts.

    Attributes:
        spoiled: part (0 to 0.5) of the outline in view that specks and nicks cover; as many as it takes are strewn.
        nicks: dents 3 to 15 px long and 1.5 to 6 px deep.
        burrs: lips of metal on the crests, 3 to 10 px high.
        flakes: lifted plates of plating, 6 to 20 px long, and the dent of less than 1.5 px that each leaves.
        oil_roots: roots filled with oil to a sixth to half of their depth; it stands hollow between the flanks.
        oil_films: stretches of 60 to 300 px with a film of 0.5 to 2.5 px.
        glare_flanks: flanks that shine inside their edge, 1.5 to 5 px wide.
        glare: light of the shine, as a fraction of that of the bright side.
    """

    spoiled: float = 0.0
    nicks: int = 0
    burrs: int = 0
    flakes: int = 0
    oil_roots: int = 0
    oil_films: int = 0
    glare_flanks: int = 0
    glare: float = 0.3

    @property
    def counts(self) -> tuple[int, ...]:
        return (self.nicks, self.burrs, self.flakes, self.oil_roots, self.oil_films, self.glare_flanks)

    @property
    def any(self) -> bool:
        """Whether there is anything of it in the picture."""
        return self.spoiled > 0 or max(self.counts) > 0

    def faults(self) -> list[str]:
        """What makes these blemishes impossible; empty when nothing does."""
        found = []
        if min(self.counts) < 0:
            found.append("there cannot be fewer than no nicks, burrs, flakes, drops, films or shining flanks")
        if not 0 <= self.spoiled <= 0.5:
            found.append("0 to 0.5 of the outline may be spoiled")
        if not 0 <= self.glare <= 1:
            found.append("glare lies between 0 and 1")
        return found
