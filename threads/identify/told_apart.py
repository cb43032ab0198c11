"""Which classes are worth drawing beside a measured thread: those that it has to be told apart from."""

from __future__ import annotations

from threads.identify.identification import Identification
from threads.standards.limits import Limits


def limits_told_apart(found: Identification) -> list[Limits]:
    """The classes whose zones are drawn: the most probable, one of another series that fits as well, then what it is
    told apart from.
    """
    groups = [group.members for group in found.groups]
    order = list(groups[0][:1]) if groups else []
    order += [one for one in (groups[0] if groups else ()) if one.limits.series != order[0].limits.series][:1]
    order += [members[0] for members in groups[1:2]]
    seen: dict[tuple[object, ...], Limits] = {}
    for one in (*order, *found.candidates):
        limits = one.limits
        seen.setdefault((limits.major, limits.pitch_diameter, limits.minor, limits.form), limits)
    return list(seen.values())
