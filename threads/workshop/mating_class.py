"""Which class of screw a class of hole is meant for, and the other way round."""

from __future__ import annotations

from threads.standards.designation import Designation, designation_of, usual_class

_ISO_PAIRS = {"4H": "3h", "5H": "4h", "6H": "6g", "7H": "8g"}
"""Fine, medium and coarse fits of ISO 965-1; from memory, unverified."""
_ISO_HOLES = {screw: hole for hole, screw in _ISO_PAIRS.items()}


def mating_screw(hole: Designation) -> Designation | None:
    """The screw that a hole of this class is meant for; None for a screw.

    The usual class of holes goes with the usual class of screws; else 1B with 1A and 3B with 3A, a class of one name
    for both with its own, ISO classes as in the fits of ISO 965-1, and any other with the usual one.

    >>> from threads.standards.designation import parse
    >>> [mating_screw(parse(name, internal=True)).text for name in ("4-40 UNC-3B", "4-40 NC-3", "M3-6H", "4 BA")]
    ['4-40 UNC-3A', '4-40 NC-3', 'M3x0.5-6g', '4 BA normal']
    """
    return _mate(hole, "B", "A", _ISO_PAIRS) if hole.internal else None


def mating_hole(screw: Designation) -> Designation | None:
    """The hole that a screw of this class is meant for, by the same rule; None for a hole.

    >>> from threads.standards.designation import parse
    >>> [mating_hole(parse(name, internal=False)).text for name in ("4-40 UNC-3A", "4-40 NC-3", "M3-6g", "4 BA")]
    ['4-40 UNC-3B', '4-40 NC-3', 'M3x0.5-6H', '4 BA nut']
    """
    return None if screw.internal else _mate(screw, "A", "B", _ISO_HOLES)


def _mate(of: Designation, letter: str, other: str, pairs: dict[str, str]) -> Designation:
    entry, name, internal = of.entry, of.thread_class, not of.internal
    chosen = usual = usual_class(entry, internal=internal)
    if name != usual_class(entry, internal=of.internal):
        wanted = (name.replace(letter, other), name, pairs.get(name, ""))
        known = entry.internal_classes if internal else entry.classes
        chosen = next((one for one in wanted if one in known), usual)
    return designation_of(entry, chosen, internal=internal)
