"""Gauges laid down one by one, each with its own picture file, size and uncertainty, made a calibration."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from calib.bench import DEFAULT_U95_MM, GRID, PIN, RULINGS, calibrate_bench
from calib.calibration import Calibration
from vision.pictures.picture import read_picture


@dataclass(frozen=True)
class LaidGauge:
    """One gauge: its kind as in ``calib.bench``, its picture file, its size and U95, mm; None: not stated."""

    what: str
    path: str
    size_mm: float
    u95_mm: float | None = None


def calibrate_laid(
    gauges: Sequence[LaidGauge],
    *,
    light_cone_deg: float | None = None,
    light_cone_u_deg: float = 0.0,
    working_distance_mm: float | None = None,
    focus_locked: bool = False,
    lens_opening: float | None = None,
    light_patch_mm: float | None = None,
    light_distance_mm: float | None = None,
) -> Calibration:
    """The calibration from ``gauges``; the rest as in ``calib.bench.calibrate_bench``, which is what it calls.

    Raises RefusalError as that and ``read_picture`` do.
    """
    given = {
        what: [(read_picture(gauge.path), gauge.size_mm) for gauge in gauges if gauge.what == what]
        for what in (PIN, RULINGS, GRID)
    }
    return calibrate_bench(
        pins=given[PIN],
        stage_micrometers=given[RULINGS],
        grids=given[GRID],
        pin_u95_mm=_u95(gauges, PIN),
        division_u95_mm=_u95(gauges, RULINGS),
        grid_u95_mm=_u95(gauges, GRID),
        light_cone_deg=light_cone_deg,
        light_cone_u_deg=light_cone_u_deg,
        working_distance_mm=working_distance_mm,
        focus_locked=focus_locked,
        lens_opening=lens_opening,
        light_patch_mm=light_patch_mm,
        light_distance_mm=light_distance_mm,
    )


def _u95(gauges: Sequence[LaidGauge], what: str) -> list[float] | None:
    """One for each of that kind; None if none is stated: then the calibration warns that it was assumed."""
    stated = [gauge.u95_mm for gauge in gauges if gauge.what == what]
    if all(u is None for u in stated):
        return None
    return [DEFAULT_U95_MM if u is None else u for u in stated]
