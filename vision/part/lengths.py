"""Lengths and diameters of plain sections as quantities: from pixels, with everything that makes them uncertain.

Counted are the scatter of the edge points, the edge finder, scale and edge offset with their covariance, a lens that
was refocused, the height of the part against the gauges, temperature, and the light that round edges mirror (see
vision/model/grazing.py): it makes a diameter look small by the part f A^2 / 8, and a scale from pins too large by as
much, so that diameters keep right while lengths along the axis do not.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from threads.shared.quantity import Quantity
from vision.fit.budget import EXPANSION, HEIGHT_U_MM, LEVEL_U_PX, TEMPERATURE_U_K
from vision.model.grazing import Mirror
from vision.shared.plane import PlaneMap

ONE_EDGE_U_PX = 0.01
"""What the edge finder may be off by on one whole straight edge (as for gauge pins, measured on rendered pins)."""


@dataclass(frozen=True)
class Ruler:
    """What turns pixels of a picture into millimetres.

    Attributes:
        plane: the calibrated bench.
        px_mm: size of a pixel, light mirrored by the gauges taken out.
        nearness: 1 / distance of the camera, 1/mm.
        mirror: light that part and gauges mirror.
    """

    plane: PlaneMap
    px_mm: float
    nearness: float
    mirror: Mirror

    @property
    def cone(self) -> float:
        """Half cone of the backlight, radians: as stated, or as wide as it may be."""
        return float(np.radians(self.mirror.cone_deg))

    def diameter(self, px: float, noise_px: float, flare: float = 1.0) -> Quantity:
        """A diameter of ``px`` pixels whose two edges scatter so that it is uncertain by ``noise_px``.

        ``flare`` is 1 / cos of the angle between edge and axis.
        """
        value = px * self.px_mm * (1 + self.mirror.recession)
        edges = float(np.hypot(np.sqrt(2) * ONE_EDGE_U_PX, 2 * LEVEL_U_PX)) * flare
        u = self._total(value, float(np.hypot(noise_px, edges)), -2 * flare, value * self.mirror.round_u)
        return Quantity(value, u, "mm")

    def length(self, px: float, noise_px: float, sides: float) -> Quantity:
        """A length along the axis of ``px`` pixels between two marks, uncertain by ``noise_px``.

        ``sides`` is by how many edge offsets it shrinks when edges are found one offset farther out: 2 between two
        faces that face away from each other, 0 where both face the same way.
        """
        value = px * self.px_mm
        mirrored = value * self.mirror.scale_u
        edges = float(np.hypot(np.sqrt(2) * ONE_EDGE_U_PX, abs(sides) * LEVEL_U_PX))
        return Quantity(value, self._total(value, float(np.hypot(noise_px, edges)), -sides, mirrored), "mm")

    def _total(self, value: float, noise_px: float, per_offset: float, mirrored: float) -> float:
        c = self.plane.covariance
        by = np.array([value / self.plane.um_per_px, per_offset * self.px_mm])
        gauges = max(float(by @ c @ by), 0.0)
        height = value * self.nearness * HEIGHT_U_MM
        warm = value * EXPANSION * TEMPERATURE_U_K
        refocused = value * self.plane.refocus_u
        one = (noise_px * self.px_mm) ** 2
        return float(np.sqrt(one + gauges + refocused**2 + height**2 + warm**2 + mirrored**2))
