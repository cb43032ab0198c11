"""Several parts in one view, as on a tray or a strip: each one found, numbered and measured by itself."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from threads.shared.quantity import Quantity
from threads.shared.refusal import Reason, RefusalError
from vision.gauges.pin import PinReading, read_pin
from vision.model.grazing import mirror_of
from vision.outline.silhouette import find_parts
from vision.part.lengths import Ruler
from vision.pictures.picture import Picture
from vision.result.measure import measure_picture
from vision.result.measurement import Measurement
from vision.shared.plane import PlaneMap

SCHEMA = "flankwise/measurements/1"


@dataclass(frozen=True)
class PlainPin:
    """A part without a thread whose edges are straight and parallel: a gauge pin, a dowel, a blank."""

    diameter: Quantity
    reading: PinReading

    def to_dict(self) -> dict[str, Any]:
        """Plain data for JSON."""
        return {
            "schema": "flankwise/plain_pin/1",
            "status": "plain_pin",
            "diameter": self.diameter.to_dict(),
            "straightness_px": self.reading.straightness_px,
        }


@dataclass(frozen=True, eq=False)
class SeenPart:
    """One part of several.

    Attributes:
        number: from 1, in the order of ``vision.outline.silhouette.find_parts``.
        box_px: left, top, width, height in the picture.
        found: what it is: a measured thread, a plain pin, or the reasons why it was refused.
    """

    number: int
    box_px: tuple[int, int, int, int]
    found: Measurement | PlainPin | tuple[Reason, ...]

    @property
    def is_refused(self) -> bool:
        return isinstance(self.found, tuple)

    def to_dict(self) -> dict[str, Any]:
        """A measurement, a plain pin or a refusal, with the part's number and place."""
        if isinstance(self.found, tuple):
            reasons = [reason.to_dict() for reason in self.found]
            what: dict[str, Any] = {"schema": "flankwise/refusal/1", "status": "refused", "reasons": reasons}
        else:
            what = self.found.to_dict()
        return {"number": self.number, "box_px": list(self.box_px), **what}


def measure_parts(picture: Picture, plane: PlaneMap) -> tuple[SeenPart, ...]:
    """Measure every part in ``picture``.

    Raises RefusalError when there is no part at all, or when every one of them is refused: then with all reasons.
    """
    boxes = find_parts(picture)
    parts = tuple(SeenPart(n, box, _measured(picture, plane, n)) for n, box in enumerate(boxes, start=1))
    refused = [(p.number, r) for p in parts if isinstance(p.found, tuple) for r in p.found]
    if all(p.is_refused for p in parts):
        raise RefusalError(*(reason.at(number) if len(parts) > 1 else reason for number, reason in refused))
    return parts


def parts_to_dict(picture: Picture, parts: tuple[SeenPart, ...]) -> dict[str, Any]:
    """The JSON object of ``measure --all-parts --json``."""
    return {
        "schema": SCHEMA,
        "status": "measured",
        "picture": {
            "path": picture.path,
            "sha256": picture.sha256,
            "width_px": picture.width_px,
            "height_px": picture.height_px,
        },
        "parts": [part.to_dict() for part in parts],
    }


def _measured(picture: Picture, plane: PlaneMap, number: int) -> Measurement | PlainPin | tuple[Reason, ...]:
    try:
        return measure_picture(picture, plane, part=number)
    except RefusalError as refusal:
        if refusal.reasons[0].code not in ("no_thread", "not_a_thread"):
            return refusal.reasons
        try:
            reading = read_pin(picture, plane.undistort, part=number)
        except RefusalError:
            return refusal.reasons
        return PlainPin(pin_diameter(reading, plane), reading)


def pin_diameter(reading: PinReading, plane: PlaneMap) -> Quantity:
    """The diameter of a pin on a calibrated bench."""
    mirror = mirror_of(plane, "bright")
    ruler = Ruler(plane, plane.um_per_px / 1000 * (1 - mirror.scale_excess), 0.0, mirror)
    return ruler.diameter(reading.diameter_px - 2 * plane.edge_offset_px, reading.standard_uncertainty_px)
