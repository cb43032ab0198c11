"""Commands and window measure the same samples on the same bench in many tests: here each is measured once.

What ``measure_detected`` says of a picture is asked for in ``tests/vision``, where nothing is kept.
"""

from __future__ import annotations

import hashlib
import pickle
from collections import OrderedDict
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import pytest

from vision.result import measure
from vision.result.measurement import Measurement

if TYPE_CHECKING:
    from vision.locate.detection import DetectedPart
    from vision.shared.plane import PlaneMap

KEPT = 12
"""Measurements, which hold their pictures."""


_kept: OrderedDict[bytes, Measurement] = OrderedDict()


@pytest.fixture(autouse=True)
def measured_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """In place of ``measure_detected``: the same part, bench and statements give the measurement made before."""
    anew = measure.measure_detected

    def once(detected: DetectedPart, plane: PlaneMap, **stated: Any) -> Measurement:
        given = (detected.picture.sha256, detected.silhouette, detected.edges, plane, sorted(stated.items()))
        key = hashlib.sha256(pickle.dumps(given)).digest()
        found = _kept.pop(key, None) or anew(detected, plane, **stated)
        _kept[key] = found
        while len(_kept) > KEPT:
            _kept.popitem(last=False)
        return replace(found, picture=detected.picture)

    monkeypatch.setattr(measure, "measure_detected", once)
