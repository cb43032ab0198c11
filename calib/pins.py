"""Scale and edge offset from pictures of gauge pins."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from calib.scale import ONE_SIZE, GaugeReading, ScaleFit, fit_scale
from threads.shared.refusal import RefusalError

Array = npt.NDArray[np.float64]

_LARGEST_OFFSET_PX = 5.0


def fit_pins(
    diameters_px: Sequence[float], u_px: Sequence[float], nominal_mm: Sequence[float], u_nominal_mm: Sequence[float]
) -> ScaleFit:
    """Fit diameter_px = 1000 nominal_mm / um_per_px + 2 edge_offset_px.

    Generalised least squares on the readings with the covariance u_px^2 + (u_nominal / um_per_px)^2, iterated because
    the second part depends on the scale (effective variance). Pins of exactly the same nominal size are taken as one
    pin photographed again: their errors of size are the same error, so that more pictures of a pin do not make it
    better known. Two or more sizes separate scale and offset; with one size the offset enters as a reading of
    0 +- OFFSET_U_PX. If the residuals are too large for their uncertainties, the covariance is widened by the Birge
    ratio squared, chi^2 / degrees of freedom (Birge, Phys. Rev. 40, 1932, 207).

    Args:
        diameters_px: (n,) readings, px.
        u_px: (n,) their standard uncertainties, px.
        nominal_mm: (n,) sizes of the pins, mm.
        u_nominal_mm: (n,) their standard uncertainties, mm.

    Returns:
        The fit. Not to be believed for two pins that differ by little more than 5 %: the offset is then known to no
        better than its stated U95, which is large.

    Raises:
        RefusalError: no_gauge, bad_gauge, pins_contradict, implausible_scale.

    >>> fit = fit_pins([250.6, 625.6], [0.02, 0.02], [1.0, 2.5], [0.0005, 0.0005])
    >>> round(fit.um_per_px, 6), round(fit.edge_offset_px, 6)
    (4.0, 0.3)
    """
    seen, u_seen, size, u_size = _checked(diameters_px, u_px, nominal_mm, u_nominal_mm)
    check_order(seen, u_seen, size, u_size)
    columns = zip(size, u_size, seen, u_seen, strict=True)
    fit = fit_scale([GaugeReading("pin", True, *(float(v) for v in row)) for row in columns])
    check_fit(fit, size)
    return fit


def _checked(
    diameters_px: Sequence[float], u_px: Sequence[float], nominal_mm: Sequence[float], u_nominal_mm: Sequence[float]
) -> tuple[Array, Array, Array, Array]:
    """The columns as arrays, sizes in um, readings at least _FINEST_READING_PX uncertain; refused if impossible."""
    seen, u_seen, size, u_size = (np.array(v, np.float64) for v in (diameters_px, u_px, nominal_mm, u_nominal_mm))
    if not len(seen) == len(u_seen) == len(size) == len(u_size):
        raise ValueError("one reading, uncertainty and size for each pin")
    if not len(seen):
        raise RefusalError("no_gauge.pin")
    possible = (seen >= 1) & (seen < 1e6) & (size >= 1e-4) & (size < 1e6)
    possible &= (u_seen >= 0) & (u_seen <= seen) & (u_size >= 0) & (u_size < 0.1 * size)
    if not np.all(possible):
        raise RefusalError("bad_gauge.pin")
    return seen, u_seen, 1000 * size, 1000 * u_size


def check_order(seen: Array, u_seen: Array, size: Array, u_size: Array) -> None:
    """A larger pin must look larger, within three standard uncertainties."""
    slope = float(np.mean(seen / size))
    for i in range(len(seen)):
        for j in range(len(seen)):
            if size[i] <= size[j]:
                continue
            sigma = math.sqrt(u_seen[i] ** 2 + u_seen[j] ** 2 + slope**2 * (u_size[i] ** 2 + u_size[j] ** 2))
            clearly_larger = size[i] > ONE_SIZE * size[j]
            if seen[i] - seen[j] < -3 * sigma or (clearly_larger and seen[i] <= seen[j]):
                raise RefusalError(
                    "pins_contradict.order",
                    first_mm=size[i] / 1000,
                    first_px=seen[i],
                    second_mm=size[j] / 1000,
                    second_px=seen[j],
                )


def check_fit(fit: ScaleFit, size_um: Array) -> None:
    """A pin that is off by pixels is a wrong diameter or a moved camera, not a matter for a wider uncertainty.

    Raises RefusalError pins_contradict.
    """
    if abs(fit.edge_offset_px) > _LARGEST_OFFSET_PX + 3 * math.sqrt(fit.covariance[1, 1]):
        raise RefusalError("pins_contradict.offset", offset_px=fit.edge_offset_px)
    off_px = fit.residuals_um / fit.um_per_px
    worst = int(np.argmax(np.abs(off_px)))
    if fit.degrees_of_freedom > 0 and abs(off_px[worst]) > 3 and fit.chi_squared > 100 * fit.degrees_of_freedom:
        raise RefusalError("pins_contradict.scale", size_mm=size_um[worst] / 1000, off_px=off_px[worst])
