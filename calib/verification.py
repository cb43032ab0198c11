"""Whether the bench is still as it was calibrated: a pin measured with the calibration against its known diameter."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any

from calib.calibration import Calibration
from calib.file import check_picture_size
from threads.shared.file_name import plain_name
from threads.shared.refusal import Reason, RefusalError
from vision.pictures.picture import Picture

OLD_DAYS = 30
"""A calibration older than this is worth a warning: a figure of the workshop."""

_NOTHING_MOVED_U_PX = 0.02  # what laying the same pin down again changes: a figure of the workshop


@dataclass(frozen=True)
class Verification:
    """A pin measured with a calibration.

    Attributes:
        calibration_id: of the calibration.
        when: UTC, ISO 8601.
        picture: name of the pin's picture.
        nominal_mm, measured_mm: diameter of the pin, as given and as measured.
        difference_um, difference_u95_um: measured minus given, with the U95 of that difference.
        normalised_error: |difference| / U95 (E_n of ISO/IEC 17043); the bench holds up to 1.
        age_days: of the calibration.
        warnings: worth knowing all the same.
    """

    calibration_id: str
    when: str
    picture: str
    nominal_mm: float
    measured_mm: float
    difference_um: float
    difference_u95_um: float
    age_days: float
    warnings: tuple[Reason, ...]

    @property
    def normalised_error(self) -> float:
        return abs(self.difference_um) / self.difference_u95_um

    @property
    def holds(self) -> bool:
        return self.normalised_error <= 1

    def to_dict(self) -> dict[str, Any]:
        return {
            "schema": "flankwise/verification/1",
            "status": "holds" if self.holds else "changed",
            "calibration": self.calibration_id,
            "when": self.when,
            "picture": self.picture,
            "nominal": {"value": self.nominal_mm, "unit": "mm"},
            "measured": {"value": self.measured_mm, "unit": "mm"},
            "difference": {"value": self.difference_um, "u95": self.difference_u95_um, "unit": "um"},
            "normalised_error": self.normalised_error,
            "age_days": self.age_days,
            "warnings": [warning.to_dict() for warning in self.warnings],
        }


def verify_bench(
    calibration: Calibration,
    picture: Picture,
    diameter_mm: float,
    *,
    pin_u95_mm: float,
    now: datetime | None = None,
) -> Verification:
    """Measure the pin in ``picture`` with ``calibration`` and compare it with ``diameter_mm``.

    The uncertainties of calibration and pin are taken as independent also where the pin is one that the bench was
    calibrated with: what is asked is whether the stated U95 still hold, not whether anything moved at all.

    Raises:
        RefusalError: what ``vision.gauges.pin.read_pin`` refuses; bad_gauge; calibration_picture_size.
    """
    from vision.gauges.pin import read_pin

    if not (0 < diameter_mm < 1000 and 0 <= pin_u95_mm < 0.1 * diameter_mm):
        raise RefusalError("bad_gauge.check", size_mm=diameter_mm, u95_mm=pin_u95_mm)
    check_picture_size(calibration, picture, f"calibration {calibration.id}")
    pin = read_pin(picture, undistort=calibration.undistort)
    scale = calibration.um_per_px
    seen = pin.diameter_px - 2 * calibration.edge_offset_px
    lost, u_lost = calibration.lost_by_round
    measured_um = seen * scale * (1 + lost)
    slope = (seen, -2 * scale)
    c = calibration.covariance
    variance = slope[0] ** 2 * c[0, 0] + 2 * slope[0] * slope[1] * c[0, 1] + slope[1] ** 2 * c[1, 1]
    variance += (scale * math.hypot(pin.standard_uncertainty_px, _NOTHING_MOVED_U_PX)) ** 2
    variance += (1000 * pin_u95_mm / 2) ** 2 + measured_um**2 * (u_lost**2 + calibration.refocus_u**2)
    moment = (now or datetime.now(UTC)).astimezone(UTC)
    age = age_days(calibration, moment)
    return Verification(
        calibration_id=calibration.id,
        when=moment.isoformat(timespec="seconds").replace("+00:00", "Z"),
        picture=plain_name(picture.path),
        nominal_mm=diameter_mm,
        measured_mm=measured_um / 1000,
        difference_um=measured_um - 1000 * diameter_mm,
        difference_u95_um=2 * math.sqrt(variance),
        age_days=age,
        warnings=_old(age),
    )


def age_days(calibration: Calibration, now: datetime) -> float:
    """Days since the calibration was made; 0.0 if its date cannot be read or lies ahead."""
    try:
        made = datetime.fromisoformat(calibration.when)
    except ValueError:
        return 0.0
    if made.tzinfo is None:
        made = made.replace(tzinfo=UTC)
    return max((now - made).total_seconds() / 86400, 0.0)


def _old(age: float) -> tuple[Reason, ...]:
    if age <= OLD_DAYS:
        return ()
    return (Reason("calibration_old", days=age),)
