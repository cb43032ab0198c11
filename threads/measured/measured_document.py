"""From the JSON of ``measure --json`` back to the measured thread: the way back of ``vision.result.measurement``."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

import numpy as np

from threads.measured.possible import impossible
from threads.measured.thread import Covariance, MeasuredThread, RidgeError
from threads.shared.quantity import COVERAGE_FACTOR, Quantity
from threads.shared.refusal import ReasonedError

SCHEMA = "flankwise/measurement/1"

_ALWAYS = (
    "pitch", "lead", "threads_per_inch", "major_diameter", "pitch_diameter", "minor_diameter", "virtual_pitch_diameter",
    "included_angle", "flank_angle_left", "flank_angle_right", "taper", "axis_tilt", "lead_angle",
)  # fmt: skip
_SOMETIMES = ("crest_width", "root_width", "crest_radius", "root_radius")
_FLAT = {"flat": True, "rounded": False, "not resolved": None}
_EDGE = {"upper": 1, "lower": -1, None: 0}


class MeasurementDocumentError(ReasonedError, ValueError):
    """The document is not the object of ``measure --json``; the reason names the place."""


def thread_from_dict(document: Mapping[str, Any]) -> MeasuredThread:
    """The measured thread of which ``document`` is the JSON form, equal to it but for the last digit of uncertainties.

    Raises:
        MeasurementDocumentError: something is missing, of the wrong kind, not finite, or no covariance.
    """
    if not isinstance(document, Mapping) or document.get("schema") != SCHEMA:
        raise MeasurementDocumentError("document.schema", schema=SCHEMA)
    try:
        return _thread(document["thread"], _covariance(document["covariance"]))
    except KeyError as error:
        raise MeasurementDocumentError("document.missing", entry=str(error)) from error
    except (TypeError, ValueError, AttributeError, OverflowError) as error:
        raise MeasurementDocumentError("document.entry", why=str(error)) from error


def possible_thread(document: Mapping[str, Any]) -> MeasuredThread:
    """As ``thread_from_dict``, refused, too, where no screw and no hole can be so."""
    thread = thread_from_dict(document)
    reason = impossible(thread)
    if reason is not None:
        raise MeasurementDocumentError(reason)
    return thread


def _thread(thread: Mapping[str, Any], covariance: Covariance) -> MeasuredThread:
    quantities: dict[str, Any] = {name: quantity_from_dict(thread[name]) for name in _ALWAYS}
    for name in _SOMETIMES:
        quantities[name] = None if thread[name] is None else quantity_from_dict(thread[name])
    common_u95 = quantities["pitch_diameter"].u95
    return MeasuredThread(
        hand=str(thread["hand"]),
        starts=int(thread["starts"]),
        threads_in_view=int(thread["threads_in_view"]),
        covariance=covariance,
        flat_crest=_FLAT[thread.get("crest_form", "not resolved")],
        flat_root=_FLAT[thread.get("root_form", "not resolved")],
        per_thread=tuple(_ridge(one, common_u95) for one in thread.get("per_thread", ())),
        internal=thread.get("internal", False) is True,
        **quantities,
    )


def quantity_from_dict(data: Mapping[str, Any]) -> Quantity:
    """The inverse of ``Quantity.to_dict``. Raises KeyError, TypeError, ValueError."""
    value, u95, one_sided = _number(data["value"]), _number(data["u95"]), _number(data.get("one_sided", 0.0))
    if u95 < 0:
        raise ValueError("an uncertainty below 0")
    return Quantity(value, max(u95 - abs(one_sided), 0.0) / COVERAGE_FACTOR, str(data["unit"]), one_sided)


def _covariance(data: Mapping[str, Any]) -> Covariance:
    order = tuple(str(name) for name in data["order"])
    matrix = np.array([[_number(value) for value in row] for row in data["matrix"]], dtype=np.float64)
    if matrix.shape != (len(order), len(order)) or len(set(order)) != len(order) or not np.allclose(matrix, matrix.T):
        raise ValueError("no covariance")
    return Covariance(order, matrix)


def _ridge(data: Mapping[str, Any], common_u95: float) -> RidgeError:
    total_u95 = _number(data.get("pitch_diameter_u95", 0.0))
    own_u95 = math.sqrt(max(total_u95**2 - common_u95**2, 0.0)) if total_u95 else 0.0
    return RidgeError(
        position=_number(data["position"]),
        pitch_error=_number(data["pitch_error"]),
        pitch_diameter=_number(data["pitch_diameter"]),
        pitch_error_u=_number(data.get("pitch_error_u95", 0.0)) / COVERAGE_FACTOR,
        pitch_diameter_u=own_u95 / COVERAGE_FACTOR,
        edge=_EDGE[data.get("edge")],
    )


def _number(value: object) -> float:
    if isinstance(value, bool) or not isinstance(value, (int, float)) or not math.isfinite(value):
        raise TypeError(f"{value!r} is no number")
    return float(value)
