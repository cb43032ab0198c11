"""An identification in a few words: series and size, and what is still open."""

from __future__ import annotations

from threads.identify.identification import Identification
from threads.rules.forms import FORMS


def short_words(found: Identification) -> str:
    """The answer as it stands in a list or on a label; a question mark where it is open.

    The first size and series with the classes that are left, or the series that have the size, or "no series".
    """
    if found.status == "no_match":
        return "no series"
    if found.status == "ambiguous":
        return f"{_one_size(found) or found.candidates[0].designation} (?)"
    return status_words(found)


def status_words(found: Identification) -> str:
    """The answer in a few words: series and size, and the classes that are still open."""
    if found.status == "no_match":
        return "fits no series in the tables"
    if found.status == "ambiguous":
        return f"ambiguous: {_one_size(found) or 'more than one thread fits'}, see what tells them apart"
    best = found.candidates[0]
    size = best.limits.size if best.limits.size.startswith("M") else f"{best.limits.size} {best.limits.series}"
    members = found.groups[0].members if found.groups else (best,)
    classes = list(dict.fromkeys(one.limits.thread_class for one in members if one.nominal == best.nominal))
    return f"{size}, class {' or '.join(classes or [best.limits.thread_class])}"


def _one_size(found: Identification) -> str | None:
    """The size and the series that have it, if all threads of the first group are of one diameter and pitch."""
    members = found.groups[0].members if found.groups else ()
    angles = [FORMS[one.limits.form].included_angle_deg for one in members]
    sizes = {
        (round(one.limits.basic_major, 3), round(one.limits.pitch, 4), angle)
        for one, angle in zip(members, angles, strict=True)
    }
    series = list(dict.fromkeys(one.limits.series for one in members))
    if len(sizes) != 1 or len(series) < 2:
        return None
    return f"{members[0].limits.size} by {', '.join(series[:-1])} or {series[-1]}"
