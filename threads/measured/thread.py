"""A measured thread: every quantity of the axial section, with the covariance that joins them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from threads.shared.quantity import Quantity


@dataclass(frozen=True)
class Covariance:
    """Covariance of measured quantities.

    Attributes:
        order: quantity names, the rows and columns of ``matrix``.
        matrix: (n, n) array; entry units are the product of the two quantities' units (mm, deg, um/mm).
    """

    order: tuple[str, ...]
    matrix: npt.NDArray[np.float64]

    def of(self, names: Sequence[str]) -> npt.NDArray[np.float64]:
        """The block of ``matrix`` for ``names``, in that order.

        Raises ValueError for a name that is not in ``order``.
        """
        rows = [self.order.index(name) for name in names]
        return self.matrix[np.ix_(rows, rows)]


@dataclass(frozen=True)
class RidgeError:
    """One thread ridge on one edge: where it is along the axis and by how much it departs from the fitted thread (mm).

    ``pitch_error_u`` and ``pitch_diameter_u`` are standard uncertainties against the other ridges of the same picture;
    what is common to all of them (scale, edge offset) is not in them. ``edge``: +1 upper, -1 lower edge, 0 not said.
    """

    position: float
    pitch_error: float
    pitch_diameter: float
    pitch_error_u: float = 0.0
    pitch_diameter_u: float = 0.0
    edge: int = 0


@dataclass(frozen=True)
class MeasuredThread:
    """The thread as measured, in its axial section (mm and degrees). ``None`` means: cannot be had from this picture.

    ``flank_angle_left`` is the flank on the left of a ridge when the thread's free end points right.
    ``covariance`` has at least the rows major_diameter, pitch_diameter, minor_diameter, pitch, flank_angle_left,
    flank_angle_right, crest_width, root_width (those that are not None).
    A quantity's ``one_sided`` > 0 says that the true value may be larger by up to that much.
    ``flat_crest`` / ``flat_root``: True when the picture shows a flat, False when it shows a rounding, None when it
    does not resolve the difference.
    ``internal``: the thread of a hole, from an impression of it. Its ridges are the metal between the grooves: crests
    at the minor, roots at the major diameter; "left" is then the flank on the left of the hole's ridge when the inner
    end of the hole points right, the side on which a screw in it has its free end.
    """

    hand: str
    starts: int
    pitch: Quantity
    lead: Quantity
    threads_per_inch: Quantity
    major_diameter: Quantity
    pitch_diameter: Quantity
    minor_diameter: Quantity
    virtual_pitch_diameter: Quantity
    included_angle: Quantity
    flank_angle_left: Quantity
    flank_angle_right: Quantity
    crest_width: Quantity | None
    root_width: Quantity | None
    crest_radius: Quantity | None
    root_radius: Quantity | None
    taper: Quantity
    axis_tilt: Quantity
    lead_angle: Quantity
    threads_in_view: int
    covariance: Covariance
    flat_crest: bool | None = None
    flat_root: bool | None = None
    per_thread: tuple[RidgeError, ...] = field(default=())
    internal: bool = False
