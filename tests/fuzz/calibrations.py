"""Calibration files: entries changed with a check sum that fits, and bytes changed without."""

from __future__ import annotations

import hashlib
import json
import math
from functools import cache
from pathlib import Path
from typing import Any

from calib.bench import calibrate_bench
from calib.calibration import Calibration, canonical
from calib.file import calibration_document, load_calibration
from tests.fuzz.folder import folder
from tests.fuzz.recipe import Recipe, spoilt, spoilt_document
from tests.fuzz.refused import assert_plain
from threads.shared.refusal import RefusalError
from vision.pictures.picture import read_picture


@cache
def seed() -> dict[str, Any]:
    """The document of a calibration by two pins."""
    samples = Path(__file__).resolve().parents[2] / "sample_images"
    pins = [(read_picture(samples / f"pin_{n}_bench_a.png"), n / 1000) for n in (1000, 2500)]
    return calibration_document(calibrate_bench(pins=pins, pin_u95_mm=0.001))


def file_of(recipe: Recipe) -> bytes:
    if recipe.number(4) == 0:
        return spoilt(json.dumps(seed()).encode(), recipe)
    content = spoilt_document({k: v for k, v in seed().items() if k != "checksum"}, recipe)
    if not isinstance(content, dict):
        return json.dumps(content).encode()
    try:
        content["checksum"] = "sha256:" + hashlib.sha256(canonical(content)).hexdigest()
    except ValueError:  # what our own writer would not write has no check sum
        content["checksum"] = "sha256:" + "0" * 64
    return json.dumps(content).encode("utf-8", "surrogatepass")


def one(data: bytes) -> None:
    path = folder() / "bench.json"
    path.write_bytes(file_of(Recipe(data)))
    try:
        found = load_calibration(path)
    except RefusalError as refusal:
        assert_plain(refusal)
        return
    assert isinstance(found, Calibration)
    assert math.isfinite(found.um_per_px)
    assert found.um_per_px > 0
