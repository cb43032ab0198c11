"""What two measurements have to do with each other."""

from __future__ import annotations

from threads.compare import Common
from vision.measurement import Measurement


def common_part(one: Measurement, two: Measurement) -> Common | None:
    """What two pictures of one bench have in common; None where their scales were found apart."""
    if one.plane.id != two.plane.id or one.plane.um_per_px != two.plane.um_per_px:
        return None
    return one.common_covariance, two.common_covariance


def ends_known(*measurements: Measurement) -> bool:
    """Whether the free end is in view in all of them: without it nobody knows which flank is left."""
    return all(m.part.free_end != "not in view" for m in measurements)
