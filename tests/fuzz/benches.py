"""Bench files with all that a bench may state: cone and patch of the light, lens, distance, tone and camera.

A file is read or refused; of what is read, the doubts about a picture can be told, and its size and edges are numbers.
"""

from __future__ import annotations

import hashlib
import json
import math
from functools import cache
from pathlib import Path
from typing import Any

from calib.calibration import canonical
from calib.last_check import last_check
from calib.remarks import source_remarks
from flankwise.bench import Bench, load_bench
from flankwise.reasons import sentence
from tests.fuzz import calibrations
from tests.fuzz.folder import folder
from tests.fuzz.recipe import Recipe, spoilt_document
from tests.fuzz.refused import assert_plain
from threads.shared.refusal import RefusalError
from vision.pictures.picture import Picture, read_picture

_STATED: dict[str, Any] = {
    "light_cone_deg": 4.0, "light_cone_u_deg": 0.5, "light_cone_found": True, "working_distance_mm": 120.0,
    "focus_locked": True, "lens_opening": 0.02, "light_patch_mm": 40.0, "light_distance_mm": 90.0,
}  # fmt: skip


@cache
def seed() -> dict[str, Any]:
    """A document in which nothing is left out."""
    document = {k: v for k, v in calibrations.seed().items() if k != "checksum"}
    assert set(_STATED) <= set(document), "a field has another name now"
    camera = {"camera": "bench camera", "lens": "bench lens", "focal_length_mm": 50.0}
    return {**document, **_STATED, "camera": {**document["camera"], **camera}}


@cache
def picture() -> Picture:
    return read_picture(Path(__file__).resolve().parents[2] / "sample_images" / "pin_1000_bench_a.png")


def one(data: bytes) -> None:
    recipe = Recipe(data)
    content = seed()
    if recipe.number(3):  # what is stated, more often than gauges and numbers
        name = recipe.choice((*_STATED, "camera", "tone", "file_kind", "bit_depth", "sharpness", "lens", "warnings"))
        content = {**content, name: spoilt_document(content.get(name), recipe)}
    else:
        content = spoilt_document(content, recipe)
    if not isinstance(content, dict):
        return
    try:
        content["checksum"] = "sha256:" + hashlib.sha256(canonical(content)).hexdigest()
    except ValueError:
        return
    path = folder() / "bench.json"
    path.write_bytes(json.dumps(content).encode("utf-8", "surrogatepass"))
    try:
        bench = load_bench(path)
        _looked_at(bench)
    except RefusalError as refusal:
        assert_plain(refusal)


def _looked_at(bench: Bench) -> None:
    for reason in (*bench.remarks(picture()), *source_remarks(bench.plane, "another camera", (1280, 960))):
        assert sentence(reason)
    assert str(bench)
    plane: Any = bench.plane
    assert all(map(math.isfinite, (plane.um_per_px, plane.edge_offset_px, *plane.lost_by_round, plane.refocus_u)))
    assert last_check(plane, []).age_days is None or math.isfinite(last_check(plane, []).age_days)
