"""Whether the pins of a bench can be what they are said to be."""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt

from calib.scale import ONE_SIZE, ScaleFit
from threads.shared.refusal import RefusalError

Array = npt.NDArray[np.float64]

_LARGEST_OFFSET_PX = 5.0


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
