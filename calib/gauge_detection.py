"""One gauge by itself: the reading of its picture, before all are combined to a calibration."""

from __future__ import annotations

import os
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from calib.bench import GRID, PIN, RULINGS
from vision.pictures.picture import Picture, read_picture

_MOST_MARKS = 200  # an edge, for the screen


@dataclass(frozen=True)
class DetectedGauge:
    """A gauge as read.

    Attributes:
        what: as in ``calib.bench``.
        path: of the picture. width_px, height_px: its size.
        step_px, u_px: diameter of a pin, or distance of neighbouring lines or points, and its standard uncertainty.
        steps: between the outermost lines or points; 1 for a pin.
        blur_px: of a pin's edges; None for the others.
        marks: where it was read, for the screen: (n, 2) px each; the two edges of a pin, or all points of the others.
    """

    what: str
    path: str
    width_px: int
    height_px: int
    step_px: float
    u_px: float
    steps: int = 1
    blur_px: float | None = None
    marks: tuple[npt.NDArray[np.float64], ...] = field(default=(), compare=False, repr=False)

    @property
    def in_lines(self) -> bool:
        """Whether ``marks`` follow each other along edges."""
        return self.what == PIN


def detect_gauge(what: str, picture: Picture | str | os.PathLike[str]) -> DetectedGauge:
    """Read the gauge in ``picture`` as ``calib.bench.calibrate_bench`` will, lens distortion still in it.

    Raises RefusalError: what ``read_picture`` and the reader of that kind of gauge refuse.
    """
    picture = picture if isinstance(picture, Picture) else read_picture(picture)
    where = (what, picture.path, picture.width_px, picture.height_px)
    if what == PIN:
        from vision.gauges.pin import read_pin

        pin = read_pin(picture)
        along = np.array([np.cos(np.radians(pin.angle_deg)), np.sin(np.radians(pin.angle_deg))])
        marks = tuple(_along(pin.edges[pin.side == side], along) for side in (1, -1))
        return DetectedGauge(*where, pin.diameter_px, pin.standard_uncertainty_px, blur_px=pin.blur_px, marks=marks)
    from calib.flat_gauges import fit_grid, fit_rulings
    from vision.gauges.grid import read_grid
    from vision.gauges.rulings import read_rulings

    if what == RULINGS:
        rulings = read_rulings(picture)
        flat, points = fit_rulings(rulings), rulings.points
    elif what == GRID:
        grid = read_grid(picture)
        flat, points = fit_grid(grid), grid.points
    else:
        raise ValueError(f"no gauge: {what}")
    return DetectedGauge(*where, flat.step_px, flat.step_px * flat.relative_u, steps=flat.steps, marks=(points,))


def _along(edge: npt.NDArray[np.float64], along: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
    """Points of one edge in their order, no more than the screen can show."""
    ordered = edge[np.argsort(edge @ along)]
    return ordered[:: max(1, len(ordered) // _MOST_MARKS)]
