"""One gauge by itself: the reading of its picture, before all are combined to a calibration."""

from __future__ import annotations

import os
from dataclasses import dataclass

from calib.bench import GRID, PIN, RULINGS
from vision.pictures.picture import read_picture


@dataclass(frozen=True)
class DetectedGauge:
    """A gauge as read.

    Attributes:
        what: as in ``calib.bench``.
        path: of the picture. width_px, height_px: its size.
        step_px, u_px: diameter of a pin, or distance of neighbouring lines or points, and its standard uncertainty.
        steps: between the outermost lines or points; 1 for a pin.
        blur_px: of a pin's edges; None for the others.
    """

    what: str
    path: str
    width_px: int
    height_px: int
    step_px: float
    u_px: float
    steps: int = 1
    blur_px: float | None = None


def detect_gauge(what: str, path: str | os.PathLike[str]) -> DetectedGauge:
    """Read the gauge in the picture ``path`` as ``calib.bench.calibrate_bench`` will, lens distortion still in it.

    Raises RefusalError: what ``read_picture`` and the reader of that kind of gauge refuse.
    """
    picture = read_picture(path)
    where = (what, str(path), picture.width_px, picture.height_px)
    if what == PIN:
        from vision.gauges.pin import read_pin

        pin = read_pin(picture)
        return DetectedGauge(*where, pin.diameter_px, pin.standard_uncertainty_px, blur_px=pin.blur_px)
    from calib.flat_gauges import fit_grid, fit_rulings
    from vision.gauges.grid import read_grid
    from vision.gauges.rulings import read_rulings

    if what == RULINGS:
        flat = fit_rulings(read_rulings(picture))
    elif what == GRID:
        flat = fit_grid(read_grid(picture))
    else:
        raise ValueError(f"no gauge: {what}")
    return DetectedGauge(*where, flat.step_px, flat.step_px * flat.relative_u, steps=flat.steps)
