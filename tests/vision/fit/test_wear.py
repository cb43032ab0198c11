"""Worn crests and flanks in drawn pictures: found, measured, taken out of the dimensions, and never invented."""

from __future__ import annotations

import json
from dataclasses import replace
from functools import cache

import pytest

from sample_images.condition import Blemishes, Wear
from sample_images.scene import Scene, Thread
from tests.vision.scenes import ACROSS, UNIFIED, photograph
from vision.result.measure import measure_picture
from vision.result.measurement import Measurement
from vision.shared.plane import FixedScale

PX_UM = 6.0
KNOWN = FixedScale(PX_UM, relative_u=1e-6, edge_offset_u_px=1e-4, light_cone_deg=0.0)
# the free end to the left, so that left and right are not those of the picture
TURNED = replace(ACROSS, rotation_deg=176.0)
HALF = 20.0  # of ACROSS: the middle of what is seen

WORN: dict[str, Scene] = {
    "flank, growing": replace(ACROSS, wear=Wear(flank="right", flank_mm=0.015, flank_down_to=0.4)),
    "flank, even, left": replace(ACROSS, wear=Wear(flank="left", flank_mm=0.02, flank_down_to=0.45, flank_form="step")),
    "flank of a part that points left": replace(TURNED, wear=Wear(flank="right", flank_mm=0.02, flank_down_to=0.4)),
    "flank on half of the length, dirty": replace(
        ACROSS,
        wear=Wear(flank="right", flank_mm=0.025, flank_down_to=0.4, to_mm=HALF),
        blemishes=Blemishes(spoiled=0.04),
    ),
    "crests on half of the length": replace(ACROSS, wear=Wear(crest_mm=0.04, from_mm=HALF)),
    "crests, domed, dirty": replace(
        ACROSS, wear=Wear(crest_mm=0.03, crest_edge_mm=0.008, to_mm=HALF), blemishes=Blemishes(spoiled=0.04)
    ),
    "crests everywhere": replace(ACROSS, wear=Wear(crest_mm=0.15)),
    "crests everywhere, domed": replace(ACROSS, wear=Wear(crest_mm=0.15, crest_edge_mm=0.03)),
}

SOUND: dict[str, Scene] = {
    "sharp": ACROSS,
    "dirty": replace(ACROSS, blemishes=Blemishes(spoiled=0.10)),
    "burrs and oil": replace(ACROSS, blemishes=Blemishes(burrs=8, oil_roots=5, oil_films=3)),
    "uneven focus": replace(ACROSS, defocus_px_per_mm=0.8, focus_at_mm=21.0),
    "rounded, 55 deg": replace(ACROSS, thread=Thread(2.79, 2.40, 2.01, 0.6, 27.5, 27.5, root="radius", crest="radius")),
    "skew flanks": replace(ACROSS, thread=replace(UNIFIED, half_angle_left_deg=31.5, half_angle_right_deg=28.5)),
    "tapered": replace(ACROSS, thread=replace(UNIFIED, taper_um_per_mm=8.0)),
}


@cache
def measured(scene: Scene) -> Measurement:
    return measure_picture(photograph(scene)[0], KNOWN)


@pytest.mark.slow
@pytest.mark.parametrize("name", [n for n in WORN if n.startswith("flank")])
def test_a_worn_flank_is_found_and_what_it_lost_is_known(name: str) -> None:
    scene = WORN[name]
    m = measured(scene)
    assert scene.wear is not None
    assert m.wear is not None
    assert m.wear.flank is not None
    block = m.to_dict()["wear"]["flank"]
    # without a free end in view left and right are as in the picture
    named = scene.wear.flank if scene is not WORN["flank of a part that points left"] else "left"
    assert block["flank"] == named
    assert block["form"] == ("even" if scene.wear.flank_form == "step" else "growing toward the crest")
    lost = block["lost"]
    assert lost["unit"] == "um"
    assert abs(lost["value"] - 1e3 * scene.wear.flank_mm) < min(0.3 * PX_UM, lost["u95"])
    assert lost["u95"] < 0.6 * PX_UM
    assert abs(block["down_to"] - scene.wear.flank_down_to) < 0.15
    assert "flank_worn" in {w.code for w in m.quality.warnings}
    assert any(run.reason == "worn" for run in m.rejected)


@pytest.mark.slow
@pytest.mark.parametrize("name", [n for n in WORN if not n.startswith("crests everywhere")])
def test_the_dimensions_are_those_it_was_cut_with(name: str) -> None:
    m = measured(WORN[name])
    assert abs(m.thread.pitch_diameter.value - UNIFIED.pitch_diameter_mm) < 0.15e-3 * PX_UM
    assert abs(m.thread.pitch_diameter.value - UNIFIED.pitch_diameter_mm) < m.thread.pitch_diameter.u95
    assert abs(m.thread.major_diameter.value - UNIFIED.major_mm) < 0.3e-3 * PX_UM
    flanks = m.thread.flank_angle_left.value, m.thread.flank_angle_right.value
    turned = -1 if WORN[name].rotation_deg == 176.0 else 1
    assert flanks[::turned] == pytest.approx((30.3, 29.6), abs=0.3)


@pytest.mark.slow
@pytest.mark.parametrize("name", ["crests on half of the length", "crests, domed, dirty"])
def test_crests_worn_over_a_stretch_are_measured_against_the_others(name: str) -> None:
    scene = WORN[name]
    m = measured(scene)
    assert scene.wear is not None
    block = m.to_dict()["wear"]["crest"]
    assert block["against"] == "the crests that are not worn"
    assert abs(block["lost"]["value"] - 1e3 * scene.wear.crest_mm) < min(0.3 * PX_UM, block["lost"]["u95"])
    length = m.solution.end - m.solution.start
    assert block["end"] - block["begin"] == pytest.approx(length / 2, abs=0.8 * UNIFIED.pitch_mm)
    assert "crests_worn" in {w.code for w in m.quality.warnings}


def test_crests_worn_everywhere_are_measured_against_the_full_form() -> None:
    """An eighth of a pitch wide at the crest, flanks as they are: 0.325 pitches above the pitch line."""
    m = measured(WORN["crests everywhere"])
    block = m.to_dict()["wear"]["crest"]
    assert block["against"] == "the full form"
    full = UNIFIED.pitch_diameter_mm / 2 + 0.3248 * UNIFIED.pitch_mm
    assert abs(block["lost"]["value"] - 1e3 * (full - (UNIFIED.major_mm / 2 - 0.15))) < block["lost"]["u95"]
    assert m.thread.major_diameter.value == pytest.approx(UNIFIED.major_mm - 0.30, abs=0.3e-3 * PX_UM)
    assert m.thread.pitch_diameter.value == pytest.approx(UNIFIED.pitch_diameter_mm, abs=0.15e-3 * PX_UM)


@pytest.mark.slow
def test_domes_do_not_pull_at_the_flanks() -> None:
    """Taken for round crests they would lean the flanks by degrees and move the pitch diameter by pixels."""
    scene = WORN["crests everywhere, domed"]
    assert scene.thread is not None
    assert scene.wear is not None
    m = measured(scene)
    assert m.wear is not None
    assert m.wear.crest is not None
    assert m.wear.crest.everywhere
    assert m.thread.pitch_diameter.value == pytest.approx(scene.thread.pitch_diameter_mm, abs=0.1e-3 * PX_UM)
    assert m.thread.included_angle.value == pytest.approx(60.0, abs=0.1)
    # what is left is that up to the middle of the domes
    left = scene.thread.major_mm - 2 * scene.wear.crest_mm
    assert m.thread.major_diameter.value == pytest.approx(left, abs=0.2e-3 * PX_UM)


@pytest.mark.slow
@pytest.mark.parametrize("name", SOUND)
def test_no_wear_is_invented(name: str) -> None:
    m = measured(SOUND[name])
    assert m.to_dict()["wear"] is None
    assert not {"flank_worn", "crests_worn"} & {w.code for w in m.quality.warnings}


@pytest.mark.slow
def test_the_block_is_plain_json() -> None:
    plain = measured(WORN["flank, growing"]).to_dict()
    assert json.loads(json.dumps(plain["wear"], allow_nan=False)) == plain["wear"]
    assert plain["wear"]["crest"] is None
