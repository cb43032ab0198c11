"""What each picture contributed to a measurement that joins several of one part, and how well they agree."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from threads.measured.form_errors import FormErrors
from threads.shared.quantity import Quantity


@dataclass(frozen=True)
class Turn:
    """How far the part was turned about its axis from the first picture, clockwise as seen from the head.

    Attributes:
        angle: degrees. Found from the ridges it is that of a right-hand thread; a left-hand one turned the other way.
        stated: whether a person stated it; else it was found from where the ridges stand against the free end.
    """

    angle: Quantity
    stated: bool


@dataclass(frozen=True)
class PictureShare:
    """One picture of a joined measurement.

    Attributes:
        path, sha256, width_px, height_px: the picture.
        calibration_id: of its bench.
        turn: how the part lay; None if unknown.
        quantities: those of this picture alone.
        departure: by how many of its own standard uncertainties each differs from the joined value.
        form: its errors of form.
    """

    path: str
    sha256: str
    width_px: int
    height_px: int
    calibration_id: str
    turn: Turn | None
    quantities: Mapping[str, Quantity]
    departure: Mapping[str, float]
    form: FormErrors | None

    def to_dict(self) -> dict[str, Any]:
        """Plain data for JSON."""
        turned = None if self.turn is None else {**self.turn.angle.to_dict(), "stated": self.turn.stated}
        return {
            "path": self.path,
            "sha256": self.sha256,
            "width_px": self.width_px,
            "height_px": self.height_px,
            "calibration": self.calibration_id,
            "turned": turned,
            **{name: quantity.to_dict() for name, quantity in self.quantities.items()},
            "departure": dict(self.departure),
            "form": None if self.form is None else self.form.to_dict(),
        }


@dataclass(frozen=True)
class Agreement:
    """How well the pictures agree, by their own uncertainties (what is common to all left out).

    Attributes:
        chi_squared, degrees_of_freedom, probability: of all quantities together; the probability that scatter alone
            gives so much or more.
        scatter: standard deviation from picture to picture beyond what each picture's own uncertainty explains, in the
            unit of the quantity; quantities without it are left out.
    """

    chi_squared: float
    degrees_of_freedom: int
    probability: float
    scatter: Mapping[str, float]

    def to_dict(self) -> dict[str, Any]:
        """Plain data for JSON."""
        return {
            "chi_squared": self.chi_squared,
            "degrees_of_freedom": self.degrees_of_freedom,
            "probability": self.probability,
            "scatter": dict(self.scatter),
        }
