"""A job in a few plain sentences: for the owner of the instrument, and for whoever takes the job up again."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import Any

from records.entries import Part
from threads.shared.refusal import Reason

_MOST_NAMED = 8
"""So many places or threads are named in a sentence; of more than that, how many there are."""


def summary_of(parts: Sequence[Part], verdicts: Sequence[Reason] = ()) -> list[Reason]:
    """The sentences. ``verdicts``: which thread system the maker of each instrument used, where it was judged."""
    holes = [one for one in parts if one.hole is not None]
    measured = [one for one in parts if one.measurement is not None]
    bare = [one for one in parts if one.measurement is None and one.hole is None]
    known, none, unsure = Counter[str](), [], []
    for one in measured:
        found = one.measurement.identification if one.measurement is not None else None
        if found is not None and found.status == "no_match":
            none.append(one)
        elif found is not None and found.status == "identified":
            known[_thread(found.document, found.says)] += 1
        else:
            unsure.append(one)
    count, tried = len(measured), len(holes)
    told = [Reason("job_summary.measured_one") if count == 1 else Reason("job_summary.measured", count=count)]
    if tried:
        told.append(Reason("job_summary.holes_one") if tried == 1 else Reason("job_summary.holes", count=tried))
    told += verdicts
    if known:
        told.append(Reason("job_summary.known", names=_named([f"{n} × {name}" for name, n in known.most_common()])))
    told += [Reason("job_summary.unsure", places=_named(_places(unsure)))] if unsure else []
    told += [Reason("job_summary.none", places=_named(_places(none)))] if none else []
    off = [one for one in measured if one.measurement is not None and _fails(one)]
    told += [Reason("job_summary.off", places=_named(_places(off)))] if off else []
    made = [one for one in parts if any(not new.withdrawn for new in one.replacements)]
    told += [Reason("job_summary.made", places=_named(_places(made)))] if made else []
    told += [Reason("job_summary.bare", places=_named(_places(bare)))] if bare else []
    return told


def _thread(document: dict[str, Any], says: str) -> str:
    """Size and series of the first candidate, without the class: "4-40 NC", "M3x0.5"."""
    if not document.get("candidates"):
        return says
    size, series = (str(document["candidates"][0].get(name, "")) for name in ("size", "series"))
    return size if size.startswith(series) else f"{size} {series}"


def _fails(part: Part) -> bool:
    """Whether its latest check says that it does not conform."""
    checks = part.measurement.checks if part.measurement is not None else ()
    return bool(checks) and checks[-1].verdict == "does_not_conform"


def _places(parts: Sequence[Part]) -> list[str]:
    return [one.position.name if one.position is not None else one.name or f"{one.id}" for one in parts]


def _named(names: list[str]) -> tuple[str, ...]:
    more = len(names) - _MOST_NAMED
    return (*names[:_MOST_NAMED], f"+ {more}") if more > 0 else tuple(names)
