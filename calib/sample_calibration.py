"""A calibration of sample pictures: it is good for those pictures alone, and says so wherever it goes."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace

from calib.calibration import Calibration, with_id
from threads.shared.refusal import Reason, RefusalError
from vision.pictures.picture import Picture
from vision.shared.plane import PlaneMap

CODE = "sample_calibration"
MARK = Reason("sample_calibration")


def as_sample(calibration: Calibration) -> Calibration:
    """``calibration`` with the mark that it is good for sample pictures alone; the mark is one of its warnings."""
    return with_id(replace(calibration, warnings=(MARK, *calibration.warnings)))


def is_sample(plane: PlaneMap | None) -> bool:
    """Whether ``plane`` carries the mark."""
    return isinstance(plane, Calibration) and any(warning.code == CODE for warning in plane.warnings)


def check_sample(plane: PlaneMap, picture: Picture, sha256s: Collection[str]) -> None:
    """Refuse a picture that is none of those, by the hash of its file, where ``plane`` is good for these alone.

    Raises RefusalError: sample_calibration.
    """
    if is_sample(plane) and picture.sha256 not in sha256s:
        raise RefusalError("sample_calibration.refused")
