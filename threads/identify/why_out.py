"""Why a part is not a candidate: by how much which quantity is beyond its limits."""

from __future__ import annotations

from threads.identify.candidate import HELD, SPEAKS, Candidate
from threads.identify.evidence import ABOVE, Evidence
from threads.shared.refusal import Reason

LIMITED = ("major_diameter", "pitch_diameter", "minor_diameter")
"""What the standards limit; pitch and flank angles are held to what tools keep to (``zone_prior``)."""


def why_out(candidate: Candidate) -> Reason | None:
    """What speaks against ``candidate`` by more than U95, the clearest first; None where nothing does."""
    spoken = {q for q, said in zip(SPEAKS, candidate.signature, strict=True) if said != HELD}
    against = sorted((e for e in candidate.evidence if e.quantity in spoken), key=_clearness, reverse=True)
    return Reason("out", why=tuple(_beyond(e, candidate.designation) for e in against)) if against else None


def _beyond(evidence: Evidence, name: str) -> Reason:
    quantity, by = evidence.quantity.replace("_", " "), _excess(evidence)
    above = evidence.verdict == ABOVE
    if evidence.quantity in LIMITED:
        key = "out.above_the_largest" if above else "out.below_the_smallest"
        return Reason(key, quantity=quantity, by=by, name=name)
    if evidence.measured.unit == "mm":
        return Reason("out.pitch_larger" if above else "out.pitch_smaller", by=by, name=name)
    return Reason("out.angle_larger" if above else "out.angle_smaller", quantity=quantity, by=by, name=name)


def _excess(evidence: Evidence) -> float:
    """How far the measured value is beyond the limit, mm or degrees."""
    limit = evidence.high if evidence.verdict == ABOVE else evidence.low
    assert limit is not None
    return abs(evidence.measured.value - limit)


def _clearness(evidence: Evidence) -> float:
    return _excess(evidence) / max(evidence.measured.u95, 1e-12)
