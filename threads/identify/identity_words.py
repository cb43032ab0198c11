"""An identification in a few words: series and size, and what is still open."""

from __future__ import annotations

from threads.identify.identification import Identification
from threads.identify.thread_share import open_series
from threads.rules.forms import FORMS
from threads.shared.refusal import Reason


def short_words(found: Identification) -> Reason:
    """The answer as it stands in a list or on a label; a question mark where it is open.

    The first size and series with the classes that are left, or the series that have the size, or "no series".
    """
    if found.status == "no_match":
        return Reason("identity.no_series")
    if found.status == "ambiguous":
        return Reason("identity.open", size=_one_size(found) or found.candidates[0].designation)
    return status_words(found)


def status_words(found: Identification) -> Reason:
    """The answer in a few words: series and size, and the classes that are still open."""
    if found.status == "no_match":
        return Reason("identity.fits_none")
    if found.status == "ambiguous":
        size = _one_size(found)
        return Reason("identity.several") if size is None else Reason("identity.ambiguous", size=size)
    best = found.candidates[0]
    several = open_series(found.threads[0]) if found.threads else ()
    if len(several) > 1:
        return Reason("identity.by_series", size=found.threads[0].name, series=several)
    size_series = best.limits.size if best.limits.size.startswith("M") else f"{best.limits.size} {best.limits.series}"
    members = found.groups[0].members if found.groups else (best,)
    classes = dict.fromkeys(one.limits.thread_class for one in members if one.nominal == best.nominal)
    return Reason("identity.found", size=size_series, classes=tuple(classes) or (best.limits.thread_class,))


def _one_size(found: Identification) -> Reason | None:
    """The size and the series that have it, if all threads of the first group are of one diameter and pitch."""
    members = found.groups[0].members if found.groups else ()
    angles = [FORMS[one.limits.form].included_angle_deg for one in members]
    sizes = {
        (round(one.limits.basic_major, 3), round(one.limits.pitch, 4), angle)
        for one, angle in zip(members, angles, strict=True)
    }
    series = tuple(dict.fromkeys(one.limits.series for one in members))
    if len(sizes) != 1 or len(series) < 2:
        return None
    return Reason("identity.by_series", size=members[0].limits.size, series=series)
