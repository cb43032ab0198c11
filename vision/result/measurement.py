"""One measurement as plain data, and its JSON form."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np
import numpy.typing as npt

from threads.measured.form_errors import FormErrors
from threads.measured.thread import Covariance, MeasuredThread
from threads.shared.quantity import COVERAGE_FACTOR, Quantity
from threads.shared.refusal import Reason
from vision.fit.budget import COMMON_REFOCUS, COMMON_SOURCES, REFOCUS, BudgetTerm, shares
from vision.fit.form_fit import FormFit
from vision.fit.rejected import RejectedRun
from vision.fit.solve import Solution
from vision.fit.wear import Wear
from vision.model.grazing import NO_MIRROR, Mirror
from vision.part.part_outline import PartOutline
from vision.pictures.picture import Picture
from vision.result.picture_share import Agreement, PictureShare
from vision.shared.plane import PlaneMap

SCHEMA = "flankwise/measurement/1"

_THREAD_QUANTITIES = (
    "pitch", "lead", "threads_per_inch", "major_diameter", "pitch_diameter", "minor_diameter", "virtual_pitch_diameter",
    "included_angle", "flank_angle_left", "flank_angle_right", "crest_width", "root_width", "crest_radius",
    "root_radius", "taper", "axis_tilt", "lead_angle",
)  # fmt: skip


@dataclass(frozen=True)
class Quality:
    """How good the picture was.

    Attributes:
        focus: standard deviation of the blur across the flanks' edges, px.
        contrast: light of background minus part, in parts of full scale.
        residual_rms_px: distance of the edge points from the fitted shadow.
        rejected_edge_fraction: of the edge points inside the threaded length, what was not the thread's.
        noise: standard deviation of a background pixel, in parts of full scale.
        warnings: what could make a number doubtful.
    """

    focus: float
    contrast: float
    residual_rms_px: float
    rejected_edge_fraction: float
    noise: float
    warnings: tuple[Reason, ...]


@dataclass(frozen=True)
class Light:
    """One of several lights under which a part was measured: its picture, half cone, and pitch diameter as seen."""

    path: str
    sha256: str
    cone_deg: float
    pitch_diameter: Quantity

    def to_dict(self) -> dict[str, Any]:
        """Plain form for JSON."""
        seen = self.pitch_diameter.to_dict()
        return {"path": self.path, "sha256": self.sha256, "cone_deg": self.cone_deg, "pitch_diameter": seen}


@dataclass(frozen=True, eq=False)
class Measurement:
    """A measured thread with the picture, the calibration and the budget behind it.

    ``wear`` is what crests and flanks have lost, ``rejected`` what of the outline was set aside.
    ``by_source`` splits ``thread.covariance`` by the lines of the budget; ``mirror`` is how mirrored light was put
    right, for the ``surface`` that was stated; ``lights`` are those from which it was extrapolated to none.
    """

    picture: Picture
    plane: PlaneMap
    thread: MeasuredThread
    shadow: Mapping[str, Quantity]
    budget: Mapping[str, tuple[BudgetTerm, ...]]
    part: PartOutline
    quality: Quality
    solution: Solution = field(repr=False)
    by_source: Mapping[str, Covariance] = field(default_factory=dict, repr=False)
    mirror: Mirror = field(default=NO_MIRROR, repr=False)
    surface: str | None = None
    form: FormErrors | None = None
    form_fit: FormFit | None = field(default=None, repr=False)
    wear: Wear | None = field(default=None, repr=False)
    rejected: tuple[RejectedRun, ...] = field(default=(), repr=False)
    pictures: tuple[PictureShare, ...] = ()
    lights: tuple[Light, ...] = ()
    agreement: Agreement | None = None

    def with_warnings(self, more: Sequence[Reason]) -> Measurement:
        """The same with ``more`` warnings."""
        return replace(self, quality=replace(self.quality, warnings=(*self.quality.warnings, *more))) if more else self

    @property
    def common_covariance(self) -> Covariance:
        """The part of ``thread.covariance`` that other pictures taken on this bench share: gauges, temperature, light.

        It shifts all their values alike and cancels in differences. Of refocusing the gauges' share does.
        """
        like = self.thread.covariance
        shared = [c.matrix for name, c in self.by_source.items() if name in COMMON_SOURCES]
        if REFOCUS in self.by_source:
            shared.append(COMMON_REFOCUS * self.by_source[REFOCUS].matrix)
        return Covariance(like.order, np.sum(shared, axis=0) if shared else np.zeros_like(like.matrix))

    def to_dict(self) -> dict[str, Any]:
        """The JSON object of ``measure --json``; every length in mm, every angle in degrees."""
        return {
            "schema": SCHEMA,
            "status": "measured",
            "picture": {
                "path": self.picture.path,
                "sha256": self.picture.sha256,
                "width_px": self.picture.width_px,
                "height_px": self.picture.height_px,
            },
            "calibration": _calibration(self.plane),
            "light": {
                "surface": self.surface,
                "cone_deg": self.mirror.cone_deg,
                "cone_stated": self.mirror.stated,
                "corrected_um_per_mm": 1000 * self.mirror.recession,
                **({"extrapolated_from": [light.to_dict() for light in self.lights]} if self.lights else {}),
            },
            "thread": _thread(self.thread),
            "form": None if self.form is None else self.form.to_dict(),
            **self._joined(),
            "wear": None if self.wear is None else self.wear.to_dict(self.part.free_end_right),
            "shadow": {name: q.to_dict() for name, q in self.shadow.items()},
            "uncertainty_budget": {
                name: [
                    {"source": t.source, "u": t.u, "unit": t.unit, "share": share, "one_sided": t.one_sided}
                    for t, share in zip(terms, shares(terms), strict=True)
                ]
                for name, terms in self.budget.items()
            },
            "covariance": {
                "order": list(self.thread.covariance.order),
                "matrix": [[float(v) for v in row] for row in self.thread.covariance.matrix],
            },
            "part": self.part.to_dict(),
            "quality": {
                "focus": self.quality.focus,
                "contrast": self.quality.contrast,
                "residual_rms_px": self.quality.residual_rms_px,
                "rejected_edge_fraction": self.quality.rejected_edge_fraction,
                "rejected": [run.to_dict() for run in self.rejected],
                "noise": self.quality.noise,
                "blur": self.solution.lens.to_dict(),
                "warnings": [warning.to_dict() for warning in self.quality.warnings],
            },
        }

    def _joined(self) -> dict[str, Any]:
        """What only a measurement from several pictures has."""
        if self.agreement is None:
            return {}
        return {"pictures": [p.to_dict() for p in self.pictures], "agreement": self.agreement.to_dict()}


def _calibration(plane: PlaneMap) -> dict[str, Any]:
    covariance: npt.NDArray[np.float64] = plane.covariance
    return {
        "id": plane.id,
        "um_per_px": {
            "value": plane.um_per_px,
            "u95": COVERAGE_FACTOR * float(np.sqrt(covariance[0, 0])),
            "unit": "um/px",
        },
        "edge_offset_px": {
            "value": plane.edge_offset_px,
            "u95": COVERAGE_FACTOR * float(np.sqrt(covariance[1, 1])),
            "unit": "px",
        },
        "light_cone_deg": plane.light_cone_deg,
        "traceable": plane.traceable,
    }


def _thread(thread: MeasuredThread) -> dict[str, Any]:
    out: dict[str, Any] = {"hand": thread.hand, "starts": thread.starts, "internal": thread.internal}
    for name in _THREAD_QUANTITIES:
        q: Quantity | None = getattr(thread, name)
        out[name] = None if q is None else q.to_dict()
    out["crest_form"] = _form(thread.flat_crest)
    out["root_form"] = _form(thread.flat_root)
    out["threads_in_view"] = thread.threads_in_view
    out["per_thread"] = [
        {
            "position": r.position,
            "pitch_error": r.pitch_error,
            "pitch_error_u95": COVERAGE_FACTOR * r.pitch_error_u,
            "pitch_diameter": r.pitch_diameter,
            "pitch_diameter_u95": float(np.hypot(COVERAGE_FACTOR * r.pitch_diameter_u, thread.pitch_diameter.u95)),
            "edge": {1: "upper", -1: "lower"}.get(r.edge),
        }
        for r in thread.per_thread
    ]
    return out


def _form(flat: bool | None) -> str:
    return "not resolved" if flat is None else "flat" if flat else "rounded"
