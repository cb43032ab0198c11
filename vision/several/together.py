"""What two measurements have to do with each other."""

from __future__ import annotations

from threads.judge.compare import Common
from threads.workshop.play import Reading
from vision.result.measurement import Measurement


def common_part(one: Measurement, two: Measurement) -> Common | None:
    """What two pictures of one bench have in common; None where their scales were found apart."""
    if one.plane.id != two.plane.id or one.plane.um_per_px != two.plane.um_per_px:
        return None
    return one.common_covariance, two.common_covariance


def ends_known(*measurements: Measurement) -> bool:
    """Whether the free end is in view in all of them: without it left and right flank are not determined."""
    return all(m.part.free_end != "not in view" for m in measurements)


def readings(screw: Measurement, *others: Measurement | None) -> tuple[Reading, ...]:
    """The screw and ``others`` that there are, in their order: those from its bench with what they share with it."""
    of_screw, found = Reading(screw.thread), []
    for other in others:
        if other is None:
            continue
        common = common_part(screw, other)
        found.append(Reading(other.thread, None if common is None else common[1]))
        if common is not None:
            of_screw = Reading(screw.thread, common[0])
    return of_screw, *found
