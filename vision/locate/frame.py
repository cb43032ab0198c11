"""The frame of the part in the picture: u along its axis, w across (up for an axis that points right)."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]


@dataclass(frozen=True)
class Frame:
    """An origin in the picture and the direction of u.

    Attributes:
        origin: (2,) position, same unit as the points that are mapped.
        angle: direction of u, radians, from picture x toward picture y (clockwise on screen).
    """

    origin: tuple[float, float]
    angle: float

    def to_frame(self, points: Array) -> Array:
        """(n, 2) picture points to (n, 2) (u, w)."""
        c, s = np.cos(self.angle), np.sin(self.angle)
        d = points - np.asarray(self.origin)
        return np.stack([c * d[:, 0] + s * d[:, 1], s * d[:, 0] - c * d[:, 1]], axis=1)

    def to_picture(self, points: Array) -> Array:
        """(n, 2) (u, w) to picture points."""
        c, s = np.cos(self.angle), np.sin(self.angle)
        u, w = points[:, 0], points[:, 1]
        return np.stack([self.origin[0] + c * u + s * w, self.origin[1] + s * u - c * w], axis=1)
