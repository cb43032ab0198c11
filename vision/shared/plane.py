"""The mapping from pixels to the plane of the part's axis, as vision needs it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

import numpy as np
import numpy.typing as npt

Points = npt.NDArray[np.float64]


class PlaneMap(Protocol):
    """What a bench calibration must answer. ``calib.calibration.Calibration`` is one; ``FixedScale`` another.

    Pixel centres are integers, x right, y down. The edge offset is how far an edge found in the picture lies outside
    the true edge of the dark part, in pixels (negative: inside).
    """

    @property
    def id(self) -> str: ...
    @property
    def um_per_px(self) -> float: ...
    @property
    def edge_offset_px(self) -> float: ...
    @property
    def covariance(self) -> npt.NDArray[np.float64]:
        """(2, 2) covariance of (um_per_px, edge_offset_px), in those units."""
        ...

    @property
    def light_cone_deg(self) -> float | None:
        """Half cone of the backlight as seen from the part, degrees; None if not stated."""
        ...

    @property
    def light_cone_u_deg(self) -> float:
        """Standard uncertainty of ``light_cone_deg``, degrees; 0 when it was stated without one."""
        ...

    @property
    def light_cone_most_deg(self) -> float | None:
        """Half cone above which the gauges would be softer than they are; None if they do not tell."""
        ...

    @property
    def light_patch_mm(self) -> float | None:
        """Diameter of the patch of light behind the part, its middle on the optical axis; None if not stated."""
        ...

    @property
    def light_distance_mm(self) -> float | None:
        """How far behind the part that patch is; None if not stated."""
        ...

    @property
    def lens_opening(self) -> float | None:
        """Sine of the half angle of the cone that the lens takes in, at the part; None if not stated."""
        ...

    @property
    def working_distance_mm(self) -> float | None:
        """Distance of the camera from the part's axis as far as the picture is concerned; None if not stated."""
        ...

    @property
    def refocus_u(self) -> float:
        """Relative standard uncertainty of the scale of one picture whose lens may have been refocused; 0: locked."""
        ...

    @property
    def traceable(self) -> bool: ...
    @property
    def round_gauges(self) -> bool:
        """Whether the scale comes from round gauges, whose edges mirror the backlight as the part's do."""
        ...

    def undistort(self, points: Points) -> Points:
        """(n, 2) pixel positions with the lens distortion taken out, still in pixels."""
        ...


@dataclass(frozen=True)
class FixedScale:
    """A scale given by hand: no gauge stands behind it.

    ``um_per_px`` micrometres a pixel. Its relative standard uncertainty is set to 0.1 % and the edge offset to 0 with
    0.15 px: figures of the workshop, stated in the budget, because nothing was measured.
    """

    um_per_px: float
    relative_u: float = 1e-3
    edge_offset_u_px: float = 0.15
    id: str = "scale given by hand"
    edge_offset_px: float = 0.0
    light_cone_deg: float | None = None
    light_cone_u_deg: float = 0.0
    light_cone_most_deg: float | None = None
    lens_opening: float | None = None
    light_patch_mm: float | None = None
    light_distance_mm: float | None = None
    working_distance_mm: float | None = None
    refocus_u: float = 0.0
    traceable: bool = False
    round_gauges: bool = False

    @property
    def covariance(self) -> npt.NDArray[np.float64]:
        return np.diag([(self.um_per_px * self.relative_u) ** 2, self.edge_offset_u_px**2])

    def undistort(self, points: Points) -> Points:
        return points
