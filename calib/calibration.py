"""A calibrated bench: the size of a pixel in the plane of the part, and the gauges behind it."""

from __future__ import annotations

import hashlib
import json
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from typing import Any

import numpy as np
import numpy.typing as npt

from calib.lens import check_lens, undistort
from calib.picture_kind import NO_KIND, PictureKind, kind_from_dict
from threads.shared.plain_json import plain
from threads.shared.refusal import Reason
from vision.model.grazing import mirror_of
from vision.pictures.camera_note import NO_NOTE, CameraNote, note_from_dict

SCHEMA = "flankwise/calibration/1"
FLAT = frozenset({"stage micrometer", "grid"})
"""Kinds of gauge whose edges do not mirror the light."""

REFOCUS_U = 5e-4
"""Relative standard uncertainty of the scale of a picture whose lens may have been refocused since the gauges: a lens
that focuses by itself changes its size by 0.1 to 0.3 % (workshop assumption); 0.1 % is allowed for at U95."""

_ORDER = ["um_per_px", "edge_offset_px"]


@dataclass(frozen=True, slots=True)
class Gauge:
    """One reference gauge as it was read.

    Attributes:
        what: ``"pin"``, ``"stage micrometer"``, ``"grid"``, or what of the part was measured by hand.
        nominal_mm, u95_mm: its size, division or pitch, and the expanded uncertainty (k = 2), as given by the person:
            of the diameter, or of the distance between any two lines or points.
        picture: name of the picture file, without folders.
        picture_sha256: of the file's bytes.
        diameter_px, u_px: reading of ``nominal_mm`` and its standard uncertainty.
        residual_um: by how much the reading is larger than the calibration predicts; over all ``steps``.
        steps: divisions or squares between the outermost lines or points that were read; 1 for a pin.
        scatter_px: root mean square distance of lines or points from even spacing; None for a pin.
    """

    what: str
    nominal_mm: float
    u95_mm: float
    picture: str
    picture_sha256: str
    diameter_px: float
    u_px: float
    residual_um: float
    steps: int = 1
    scatter_px: float | None = None


@dataclass(frozen=True, eq=False)
class Calibration:
    """The mapping from pixels to the plane of the gauges; it is a ``vision.shared.plane.PlaneMap``.

    It holds for pictures of the same size taken with nothing moved, of parts in the plane of the gauges. Not in its
    covariance: a part out of that plane, and the recession of polished edges in a wide backlight, which depends on the
    part as well as on the gauges; both are terms of the measurement's budget.

    Attributes:
        id: short hash of everything below.
        when: UTC, ISO 8601.
        um_per_px: micrometres a pixel.
        edge_offset_px: how far an edge found in a picture lies outside the true edge of the dark part.
        covariance: (2, 2) of (um_per_px, edge_offset_px), in those units.
        lens: a model of ``calib.lens``.
        light_cone_deg, light_cone_u_deg: half cone of the backlight seen from the part and its standard uncertainty;
            None if not stated and not found from the gauges.
        light_cone_found: it was found from round against flat gauges.
        light_cone_most_deg: it is no wider, by the softness of pins (``calib.pin_softness``); None if they do not tell.
        working_distance_mm: of the camera from the gauges; None for a telecentric lens or if not stated.
        focus_locked: the focus was set before the first gauge and stays as it is, as a person said.
        lens_opening: numerical aperture of the lens at the part; None if not stated.
        light_patch_mm, light_distance_mm: diameter of the patch of light and how far behind the part; None if the cone
            was stated otherwise or not at all.
        camera: what the pictures say of camera, lens and focal length; see ``vision.pictures.camera_note``.
        pictures: tone, kind and sharpness of the gauges' pictures.
        picture_width_px, picture_height_px: after EXIF orientation; pictures of this size only.
    """

    id: str
    when: str
    gauges: tuple[Gauge, ...]
    um_per_px: float
    edge_offset_px: float
    covariance: npt.NDArray[np.float64]
    lens: Mapping[str, Any]
    light_cone_deg: float | None
    picture_width_px: int
    picture_height_px: int
    warnings: tuple[Reason, ...] = ()
    light_cone_u_deg: float = 0.0
    light_cone_found: bool = False
    light_cone_most_deg: float | None = None
    working_distance_mm: float | None = None
    focus_locked: bool = False
    lens_opening: float | None = None
    light_patch_mm: float | None = None
    light_distance_mm: float | None = None
    camera: CameraNote = NO_NOTE
    pictures: PictureKind = NO_KIND

    @property
    def refocus_u(self) -> float:
        """Relative standard uncertainty of the scale of one picture, where the lens may have been refocused."""
        return 0.0 if self.focus_locked else REFOCUS_U

    @property
    def round_gauges(self) -> bool:
        """Whether the scale comes from round gauges alone, and holds what mirrored light takes from their edges."""
        return bool(self.gauges) and not any(gauge.what in FLAT for gauge in self.gauges)

    @property
    def traceable(self) -> bool:
        """Whether gauges stand behind the scale."""
        return bool(self.gauges)

    @property
    def um_per_px_u95(self) -> float:
        return 2 * math.sqrt(self.covariance[0, 0])

    @property
    def edge_offset_px_u95(self) -> float:
        return 2 * math.sqrt(self.covariance[1, 1])

    @property
    def lost_by_round(self) -> tuple[float, float]:
        """Part of a round gauge's diameter that mirrored light takes beyond what is in the scale, and its standard u.

        Nothing where the scale comes from round gauges, which lose as much; of an unknown cone the middle of what is
        possible.
        """
        if self.round_gauges:
            return 0.0, 0.0
        mirror = mirror_of(self, "bright")
        return mirror.recession, mirror.round_u

    def undistort(self, points: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
        """(n, 2) pixel positions with the lens distortion taken out, still in pixels."""
        return undistort(points, self.lens)

    def to_dict(self) -> dict[str, Any]:
        """The plain form, as it stands in the calibration file but for the checksum."""
        return {
            "schema": SCHEMA,
            "id": self.id,
            "when": self.when,
            "gauges": [
                {
                    "what": g.what,
                    "nominal_mm": g.nominal_mm,
                    "u95_mm": g.u95_mm,
                    "picture": g.picture,
                    "picture_sha256": g.picture_sha256,
                    "diameter_px": g.diameter_px,
                    "u_px": g.u_px,
                    "residual_um": g.residual_um,
                    "steps": g.steps,
                    "scatter_px": g.scatter_px,
                }
                for g in self.gauges
            ],
            "um_per_px": {"value": self.um_per_px, "u95": short(self.um_per_px_u95), "unit": "um/px"},
            "edge_offset_px": {"value": self.edge_offset_px, "u95": short(self.edge_offset_px_u95), "unit": "px"},
            "covariance": {"order": _ORDER, "matrix": [[float(v) for v in row] for row in self.covariance]},
            "lens": dict(self.lens),
            "light_cone_deg": self.light_cone_deg,
            "light_cone_u_deg": self.light_cone_u_deg,
            "light_cone_found": self.light_cone_found,
            "light_cone_most_deg": self.light_cone_most_deg,
            "working_distance_mm": self.working_distance_mm,
            "focus_locked": self.focus_locked,
            "lens_opening": self.lens_opening,
            "light_patch_mm": self.light_patch_mm,
            "light_distance_mm": self.light_distance_mm,
            "camera": self.camera.to_dict(),
            **self.pictures.to_dict(),
            "picture_width_px": self.picture_width_px,
            "picture_height_px": self.picture_height_px,
            "warnings": [warning.to_dict() for warning in self.warnings],
        }


def new_calibration(
    *,
    gauges: Sequence[Gauge],
    um_per_px: float,
    edge_offset_px: float,
    covariance: npt.NDArray[np.float64],
    lens: Mapping[str, Any],
    light_cone_deg: float | None,
    picture_width_px: int,
    picture_height_px: int,
    warnings: Sequence[Reason] = (),
    when: datetime | None = None,
    light_cone_u_deg: float = 0.0,
    light_cone_found: bool = False,
    light_cone_most_deg: float | None = None,
    working_distance_mm: float | None = None,
    focus_locked: bool = False,
    lens_opening: float | None = None,
    light_patch_mm: float | None = None,
    light_distance_mm: float | None = None,
    camera: CameraNote = NO_NOTE,
    pictures: PictureKind = NO_KIND,
) -> Calibration:
    """A calibration made now (or at ``when``), with its id.

    Numbers are kept to 10 significant digits, so that what is in memory is what the file says. Raises ValueError for a
    lens that cannot be, see ``calib.lens.check_lens``.
    """
    check_lens(lens, picture_width_px, picture_height_px)
    stamp = (when or datetime.now(UTC)).astimezone(UTC).isoformat(timespec="seconds").replace("+00:00", "Z")
    covariance = (covariance + covariance.T) / 2
    unnamed = Calibration(
        id="",
        when=stamp,
        gauges=tuple(
            replace(
                g,
                nominal_mm=short(g.nominal_mm),
                u95_mm=short(g.u95_mm),
                diameter_px=short(g.diameter_px),
                u_px=short(g.u_px),
                residual_um=short(g.residual_um),
                scatter_px=None if g.scatter_px is None else short(g.scatter_px),
            )
            for g in gauges
        ),
        um_per_px=short(um_per_px),
        edge_offset_px=short(edge_offset_px),
        covariance=np.array([[short(v) for v in row] for row in covariance]),
        lens={key: _short_tree(value) for key, value in lens.items()},
        light_cone_deg=None if light_cone_deg is None else short(light_cone_deg),
        light_cone_u_deg=short(light_cone_u_deg),
        light_cone_found=light_cone_found,
        light_cone_most_deg=None if light_cone_most_deg is None else short(light_cone_most_deg),
        working_distance_mm=None if working_distance_mm is None else short(working_distance_mm),
        focus_locked=focus_locked,
        lens_opening=None if lens_opening is None else short(lens_opening),
        light_patch_mm=None if light_patch_mm is None else short(light_patch_mm),
        light_distance_mm=None if light_distance_mm is None else short(light_distance_mm),
        camera=camera,
        pictures=pictures,
        picture_width_px=int(picture_width_px),
        picture_height_px=int(picture_height_px),
        warnings=tuple(warnings),
    )
    return with_id(unnamed)


def with_id(calibration: Calibration) -> Calibration:
    """``calibration`` with the id that belongs to its contents."""
    unnamed = replace(calibration, id="")
    return replace(unnamed, id=hashlib.sha256(canonical(plain(unnamed.to_dict()))).hexdigest()[:10])


def calibration_from_dict(data: Mapping[str, Any]) -> Calibration:
    """The inverse of ``Calibration.to_dict``.

    Raises KeyError, TypeError or ValueError when ``data`` is not the plain form of a calibration that can be.
    """
    covariance = np.array([[_number(v) for v in row] for row in data["covariance"]["matrix"]])
    cone, distance, opening = data["light_cone_deg"], data.get("working_distance_mm"), data.get("lens_opening")
    patch, behind, most = (data.get(key) for key in ("light_patch_mm", "light_distance_mm", "light_cone_most_deg"))
    result = Calibration(
        id=_text(data["id"]),
        when=_text(data["when"]),
        gauges=tuple(
            Gauge(
                what=_text(g["what"]),
                nominal_mm=_number(g["nominal_mm"]),
                u95_mm=_number(g["u95_mm"]),
                picture=_text(g["picture"]),
                picture_sha256=_text(g["picture_sha256"]),
                diameter_px=_number(g["diameter_px"]),
                u_px=_number(g["u_px"]),
                residual_um=_number(g["residual_um"]),
                steps=_count(g.get("steps", 1)),
                scatter_px=None if g.get("scatter_px") is None else _number(g["scatter_px"]),
            )
            for g in data["gauges"]
        ),
        um_per_px=_number(data["um_per_px"]["value"]),
        edge_offset_px=_number(data["edge_offset_px"]["value"]),
        covariance=covariance,
        lens=dict(data["lens"]),
        light_cone_deg=None if cone is None else _number(cone),
        light_cone_u_deg=_number(data.get("light_cone_u_deg", 0.0)),
        light_cone_found=data.get("light_cone_found") is True,
        light_cone_most_deg=None if most is None else _number(most),
        working_distance_mm=None if distance is None else _number(distance),
        focus_locked=data.get("focus_locked") is True,
        lens_opening=None if opening is None else _number(opening),
        light_patch_mm=None if patch is None else _number(patch),
        light_distance_mm=None if behind is None else _number(behind),
        camera=note_from_dict(data.get("camera")),
        pictures=kind_from_dict(data),
        picture_width_px=_count(data["picture_width_px"]),
        picture_height_px=_count(data["picture_height_px"]),
        warnings=tuple(map(Reason.from_dict, data["warnings"])),
    )
    check_lens(result.lens, result.picture_width_px, result.picture_height_px)
    if result.um_per_px <= 0 or covariance.shape != (2, 2) or data["covariance"]["order"] != _ORDER:
        raise ValueError("scale or covariance cannot be")
    # Rounded to 10 digits, two fully correlated numbers may look a little more than fully correlated.
    smallest = float(np.linalg.det(covariance)) + 1e-8 * covariance[0, 0] * covariance[1, 1]
    if not np.array_equal(covariance, covariance.T) or covariance[0, 0] <= 0 or covariance[1, 1] <= 0 or smallest < 0:
        raise ValueError("not a covariance")
    return result


def canonical(content: Mapping[str, Any]) -> bytes:
    """The bytes over which id and checksum are taken: JSON with sorted keys and no spaces, UTF-8."""
    return json.dumps(content, sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False).encode()


def short(value: float) -> float:
    """``value`` to 10 significant digits: every digit that stands in the file then counts."""
    return float(f"{float(value):.10g}")


def _short_tree(value: object) -> object:
    if isinstance(value, (list, tuple)):
        return [_short_tree(v) for v in value]
    return short(value) if isinstance(value, float) else value


def _number(value: object) -> float:
    if isinstance(value, bool) or not isinstance(value, (int, float)) or not math.isfinite(value):
        raise TypeError(f"{value!r} is no number")
    return float(value)


def _count(value: object) -> int:
    if isinstance(value, bool) or not isinstance(value, int) or value <= 0:
        raise TypeError(f"{value!r} is no number of pixels")
    return value


def _text(value: object) -> str:
    if not isinstance(value, str):
        raise TypeError(f"{value!r} is no text")
    return value
