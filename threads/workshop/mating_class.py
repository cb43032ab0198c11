"""Which class of screw a class of hole is meant for."""

from __future__ import annotations

from threads.standards.designation import Designation, designation_of, usual_class

_ISO_PAIRS = {"4H": "3h", "5H": "4h", "6H": "6g", "7H": "8g"}
"""Fine, medium and coarse fits of ISO 965-1; from memory, unverified."""


def mating_screw(hole: Designation) -> Designation | None:
    """The screw that a hole of this class is meant for; None for a screw.

    The usual class of holes goes with the usual class of screws; else 1B with 1A and 3B with 3A, a class of one name
    for both with its own, ISO classes as in the fits of ISO 965-1, and any other with the usual one.

    >>> from threads.standards.designation import parse
    >>> [mating_screw(parse(name, internal=True)).text for name in ("4-40 UNC-3B", "4-40 NC-3", "M3-6H", "4 BA")]
    ['4-40 UNC-3A', '4-40 NC-3', 'M3x0.5-6g', '4 BA normal']
    """
    if not hole.internal:
        return None
    entry, name = hole.entry, hole.thread_class
    chosen = usual = usual_class(entry, internal=False)
    if name != usual_class(entry, internal=True):
        wanted = (name.replace("B", "A"), name, _ISO_PAIRS.get(name, ""))
        chosen = next((one for one in wanted if one in entry.classes), usual)
    return designation_of(entry, chosen, internal=False)
