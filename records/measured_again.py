"""A measurement on file made once more from the picture that is kept with it: all that the file does not hold."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING, Any

from threads.shared.refusal import RefusalError

if TYPE_CHECKING:
    from vision.result.measurement import Measurement
    from vision.shared.plane import PlaneMap

_SAME = 0.1
"""Of the U95 on file: by more it is another measurement, of another part in view or with places left out."""


def filed_plane(document: dict[str, Any], calibration: str | None) -> PlaneMap:
    """The calibration, or the scale given by hand, that a measurement was made with.

    Args:
        document: the measurement, ``flankwise/measurement/1``.
        calibration: the text of the calibration that it refers to; None for a scale by hand.

    Raises ValueError where gauges stood behind the scale and their calibration is not on file.
    """
    from calib.calibration import calibration_from_dict
    from threads.shared.quantity import COVERAGE_FACTOR
    from vision.shared.plane import FixedScale

    if calibration is not None:
        return calibration_from_dict(json.loads(calibration))
    told = document["calibration"]
    if told["traceable"]:
        raise ValueError("its calibration is not on file")
    scale = float(told["um_per_px"]["value"])
    relative_u = float(told["um_per_px"]["u95"]) / COVERAGE_FACTOR / scale
    return FixedScale(scale, relative_u, float(told["edge_offset_px"]["u95"]) / COVERAGE_FACTOR)


def measured_again(picture: Path, document: dict[str, Any], calibration: str | None) -> Measurement | None:
    """Measure ``picture`` once more; None where the pitch diameter does not come out as ``document`` says.

    ``document`` and ``calibration`` as for ``filed_plane``. Of a hole and of several pictures joined nothing is
    measured: one picture does not give them.
    """
    from vision.locate.detection import detect
    from vision.pictures.picture import read_picture
    from vision.result.measure import measure_detected

    thread = document["thread"]
    if thread.get("internal") or "agreement" in document:
        return None
    try:
        seen = detect(read_picture(picture))
        hand = thread["hand"] if thread["hand"] in ("right", "left") else None
        found = measure_detected(
            seen,
            filed_plane(document, calibration),
            hand=hand,
            starts=thread["starts"],
            surface=document.get("light", {}).get("surface"),
        )
        before = thread["pitch_diameter"]
        same = abs(found.thread.pitch_diameter.value - before["value"]) <= _SAME * before["u95"]
    except (RefusalError, KeyError, TypeError, ValueError):
        return None
    return found if same else None
