"""What a person should know about a calibration: its warnings."""

from __future__ import annotations

import math
from collections.abc import Sequence

from calib.calibration import Calibration, Gauge
from calib.scale import OFFSET_U_PX, ScaleFit
from threads.shared.refusal import Reason
from vision.pictures.camera_note import CameraNote, camera_note
from vision.shared.plane import PlaneMap

_MOST_TILT_DEG = 1.0
_MOST_SCATTER_PX = 0.15


def remarks(
    fit: ScaleFit,
    gauges: Sequence[Gauge],
    *,
    assumed_u95_mm: float | None = None,
    assumed_for: Sequence[str] = (),
    customary: bool = False,
    tilt_deg: float = 0.0,
    scatter_px: float = 0.0,
    cameras: Sequence[CameraNote] = (),
    cone_sought: bool = False,
) -> list[Reason]:
    """The warnings of a calibration.

    Args:
        fit: of the readings of all gauges.
        gauges: the same, with their residuals.
        assumed_u95_mm: the uncertainty that was assumed.
        assumed_for: the kinds of gauge for which it was.
        customary: rulings too fine to be counted were counted by custom.
        tilt_deg: by how much a grid leans.
        scatter_px: of the points of flat gauges.
        cameras: what the pictures say of the camera.
        cone_sought: there are round and flat gauges, and the cone was not given.
    """
    found = [*_of_the_offset(fit, gauges), *_of_agreement(fit, gauges)]
    if assumed_u95_mm is not None:
        found += [_assumed(what, assumed_u95_mm) for what in assumed_for]
    if customary:
        found.append(
            Reason(
                "rulings_not_resolved",
                "The finest rulings cannot be told apart: every tenth was taken to be a long one and every fifth to be "
                "of middle length, as is usual. Check that the scale is what you expect.",
            )
        )
    if tilt_deg > _MOST_TILT_DEG:
        found.append(
            Reason(
                "grid_tilted",
                f"The grid leans by about {tilt_deg:.1f} deg: square the camera to it and calibrate again.",
            )
        )
    if scatter_px > _MOST_SCATTER_PX:
        found.append(
            Reason(
                "gauge_uneven",
                f"The points of a flat gauge scatter by {scatter_px:.2f} px: dirt, poor focus, or a lens whose "
                "distortion is not taken out fully.",
            )
        )
    if cone_sought and fit.cone_deg is None and not fit.disagree:
        found.append(
            Reason(
                "light_cone_not_told",
                "Pins and flat gauge do not tell the cone of the light: it shows only where both are known to 0.2 um "
                "or so (--pin-u95, --division-u95). Give it with --light-cone if you know it.",
            )
        )
    different = _different(cameras)
    if different:
        found.append(Reason("cameras_differ", f"The gauges were taken with different settings: {different}."))
    return found


def _of_the_offset(fit: ScaleFit, gauges: Sequence[Gauge]) -> list[Reason]:
    pins = [g for g in gauges if g.what == "pin"]
    if fit.offset_assumed:
        what = "All pins are of one size" if pins else "No pin was given"
        more = " and the scale is less certain" if fit.round_only else ""
        return [
            Reason(
                "edge_offset_assumed",
                f"{what}, so the edge offset was assumed to be 0 px with a standard uncertainty of "
                f"{OFFSET_U_PX} px{more}. Add {'a pin' if pins else 'pins'} of clearly different diameter.",
            )
        ]
    u = math.sqrt(fit.covariance[1, 1])
    if not fit.disagree and u > 2 * OFFSET_U_PX:
        return [
            Reason(
                "edge_offset_uncertain",
                f"These pins tell the edge offset to {2 * u:.2f} px (U95) only. Add a pin of clearly different "
                "diameter, or pins that are better known.",
            )
        ]
    return []


def _of_agreement(fit: ScaleFit, gauges: Sequence[Gauge]) -> list[Reason]:
    if not fit.disagree:
        return []
    worst = max(gauges, key=lambda gauge: abs(gauge.residual_um))
    if all(g.what == "pin" for g in gauges):
        return [
            Reason(
                "pins_disagree",
                f"The pins disagree by more than their uncertainty; the farthest is {worst.picture} "
                f"({worst.nominal_mm:.4f} mm) with {worst.residual_um:+.2f} um. The uncertainties were widened. Clean "
                "the pins, check their sizes and that all lie in one plane.",
            )
        ]
    return [
        Reason(
            "gauges_disagree",
            f"The gauges disagree by more than their uncertainty; the farthest is {worst.picture} ({worst.what}) "
            f"with {worst.residual_um:+.2f} um. The uncertainties were widened. Check their sizes, and that rulings "
            "and axes of pins lie in one plane of focus.",
        )
    ]


def _assumed(what: str, u95_mm: float) -> Reason:
    code, names, option = {
        "pin": ("pin_u95_assumed", "pins are", "--pin-u95"),
        "stage micrometer": ("division_u95_assumed", "rulings are", "--division-u95"),
        "grid": ("grid_u95_assumed", "points of the grid are", "--grid-u95"),
    }[what]
    return Reason(
        code,
        f"Nobody said how well the {names} known; {1000 * u95_mm:g} um (U95) was assumed. Give the figure of their "
        f"certificate with {option}.",
    )


def _different(cameras: Sequence[CameraNote]) -> str | None:
    known = [c for c in cameras if c]
    for other in known[1:]:
        difference = known[0].difference(other)
        if difference is not None:
            return difference
    return None


def camera_remarks(plane: PlaneMap | None, picture_path: str) -> tuple[Reason, ...]:
    """A warning where the picture's file says that camera, lens or zoom are not those of the calibration.

    Nothing where ``plane`` is no calibration: a scale given by hand knows of no camera.
    """
    if not isinstance(plane, Calibration):
        return ()
    difference = plane.camera.difference(camera_note(picture_path))
    if difference is None:
        return ()
    return (
        Reason(
            "camera_differs",
            f"The calibration was made with another setting of the camera than this picture: {difference}. The scale "
            "may be wrong: calibrate in the setting in which you measure.",
        ),
    )
