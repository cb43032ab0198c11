"""A tapped hole as JSON, schema ``flankwise/hole/1``, and back as a hole to put screws into.

The document keeps the distribution of the pitch diameter in ``quantiles``: as many sizes, ascending, each as likely to
be nearest. More trials are added in the register; the file is what they have led to.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from threads.hole.found_hole import SCHEMA, FoundHole
from threads.hole.hole_words import next_words, sentences
from threads.hole.movement import MovementFound
from threads.shared.refusal import RefusalError
from threads.standards.designation import UnknownDesignationError, parse
from threads.standards.limits import limits_of
from threads.workshop.drawn_thread import TriedHole

MOVEMENT_SCHEMA = "flankwise/movement/1"
_LEAST, _MOST = 11, 10_001  # quantiles of a file


def document_of(found: FoundHole) -> dict[str, Any]:
    """The JSON form; reasons are worded by whoever writes it. mm."""
    return {
        "schema": SCHEMA,
        "thread": found.thread,
        "pitch_diameter": found.pitch_diameter.to_dict(),
        "classes": [one.to_dict() for one in found.classes],
        "no_class_probability": found.no_class,
        "worn_by": found.worn_by,
        "trials": [one.to_dict() for one in found.trials],
        "screw_to_make": found.to_make.to_dict(),
        "next_trial": next_words(found),
        "next": None if found.next_trial is None else found.next_trial.to_dict(),
        "sentences": sentences(found),
        "engagement": {"value": found.engagement, "unit": "mm"},
        "depth": None if found.depth is None else {"value": found.depth, "unit": "mm"},
        "base": found.base,
        "bench": {"id": found.bench, "correlation": round(found.follows, 3)},
        "quantiles": [round(float(size), 6) for size in found.quantiles()],
    }


def movement_document(found: MovementFound, thread: str, screw: str) -> dict[str, Any]:
    """The JSON form of a movement that was solved for the clearance. mm."""
    return {"schema": MOVEMENT_SCHEMA, "thread": thread, "screw": screw, **found.to_dict()}


def tried_hole(document: Any, name: str) -> TriedHole:
    """The hole of a document; ``name``: of its file.

    Raises RefusalError (not_a_hole_file) for what is no such document.
    """
    if not isinstance(document, Mapping) or document.get("schema") != SCHEMA:
        raise RefusalError("not_a_hole_file", name=name)
    try:
        limits = limits_of(parse(str(document["base"]), internal=True))
        sizes = tuple(float(size) for size in document["quantiles"])
        thread = str(document["thread"])
        bench, follows = str(document["bench"]["id"]), float(document["bench"]["correlation"])
    except (KeyError, TypeError, ValueError, OverflowError, UnknownDesignationError) as error:
        raise RefusalError("not_a_hole_file.damaged", name=name) from error
    low, high = limits.basic_minor, limits.basic_major
    whole = _LEAST <= len(sizes) <= _MOST and all(math.isfinite(size) for size in sizes)
    whole = whole and 0 <= follows < 1
    if not whole or list(sizes) != sorted(sizes) or not low < sizes[0] <= sizes[-1] < high:
        raise RefusalError("not_a_hole_file.damaged", name=name)
    return TriedHole(thread, limits, sizes, bench, follows)


def as_tried(found: FoundHole) -> TriedHole:
    """A hole just found, to put screws into."""
    limits = limits_of(parse(found.base, internal=True))
    sizes = tuple(map(float, found.quantiles()))
    return TriedHole(found.thread, limits, sizes, found.bench, found.follows)
