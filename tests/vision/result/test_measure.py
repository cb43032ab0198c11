"""From picture to measured thread, on rendered scenes of known truth; and the plain form of the result."""

from __future__ import annotations

import json
import math
from dataclasses import replace
from functools import cache
from typing import Any

import numpy as np
import pytest

from flankwise.reasons import sentence
from sample_images.scene import Camera, Cylinder, Light, Scene, Thread
from tests.vision.scenes import ACROSS, CAMERA, UNIFIED, photograph
from threads.shared.plain_json import plain
from threads.shared.quantity import Quantity
from vision.model.grazing import ASSUMED_CONE_DEG, REFLECTIVITY
from vision.result.measure import measure_picture
from vision.result.measurement import SCHEMA, Measurement
from vision.shared.plane import FixedScale

BRITISH = Thread(3.2, 2.845, 2.49, 0.59, 23.9, 23.6, crest="radius", root="radius")
METRIC = Thread(2.98, 2.66, 2.39, 0.5, 30.1, 29.8, root="radius", crest_corner_radius_mm=0.008)
LEFT = replace(UNIFIED, hand="left")
NEAR = replace(CAMERA, working_distance_mm=80.0)
END: dict[str, Any] = {"view_mm": 2.3, "chamfer_end_mm": 2.0}
"""The free end in view, six and more threads behind it."""

SCENES = {
    "flat root": ACROSS,
    "rounded root": replace(ACROSS, thread=METRIC, rotation_deg=-12.0, phase=0.7, **END),
    "47.5 deg, all round": replace(ACROSS, thread=BRITISH, rotation_deg=4.0, view_mm=2.3, chamfer_end_mm=2.4),
    "free end left": replace(ACROSS, rotation_deg=171.0, **END),
    "tilted": replace(ACROSS, tilt_deg=2.0, rotation_deg=10.0),
    "near camera": replace(ACROSS, camera=NEAR, rotation_deg=3.0, **END),
    "near camera, left hand": replace(ACROSS, thread=LEFT, camera=NEAR, rotation_deg=3.0, **END),
    "near camera, tilted": replace(ACROSS, camera=NEAR, tilt_deg=-1.5),
    "vertical, end down": replace(ACROSS, rotation_deg=90.0, view_mm=2.0, chamfer_end_mm=2.0),
    "vertical, end up": replace(ACROSS, rotation_deg=270.0, view_mm=2.0, chamfer_end_mm=2.0),
    "lit before dark": replace(ACROSS, light=Light(background="dark"), rotation_deg=20.0),
    "dusty": replace(ACROSS, dust=12, hairs=1, rotation_deg=-20.0),
    "shank and shoulder": Scene(
        UNIFIED, 4.2, chamfer_end_mm=1.95, runout_mm=0.4, body=(Cylinder(2.8, 0.4), Cylinder(3.6, 9.0)), view_mm=2.3,
        phase=0.1, rotation_deg=5.0, seed=5, camera=CAMERA,
    ),
    "soft and noisy": replace(ACROSS, rotation_deg=-4.0, camera=replace(CAMERA, blur_sigma_px=2.0, noise=0.02)),
    "uneven light": replace(ACROSS, light=Light(gradient_x=0.06, gradient_y=-0.04, vignette=0.08)),
    "edge offset": replace(ACROSS, edge_offset_px=0.3),
}  # fmt: skip

each_scene = pytest.mark.parametrize("name", SCENES)


@cache
def result(name: str) -> tuple[Measurement, dict[str, Any]]:
    return measured(SCENES[name])


def measured(scene: Scene, **plane: Any) -> tuple[Measurement, dict[str, Any]]:
    """A bench known to 10 ppm and 0.01 px, its light from straight behind; the scene's edge offset is known, too."""
    picture, truth = photograph(scene)
    settings = {"relative_u": 1e-5, "edge_offset_u_px": 0.01, "light_cone_deg": 0.0} | plane
    bench = FixedScale(scene.camera.um_per_px, edge_offset_px=scene.edge_offset_px, **settings)
    return measure_picture(picture, bench), truth


def errors(name: str) -> dict[str, tuple[float, Quantity]]:
    """Measured less true, with the quantity. Where no free end is in view the picture's right is taken for it."""
    m, truth = result(name)
    thread = m.thread
    pairs = {
        "pitch": "pitch_mm", "lead": "lead_mm", "major_diameter": "major_mm", "pitch_diameter": "pitch_diameter_mm",
        "minor_diameter": "minor_mm", "flank_angle_left": "half_angle_left_deg",
        "flank_angle_right": "half_angle_right_deg", "included_angle": "included_angle_deg",
        "crest_width": "crest_width_mm", "root_width": "root_width_mm", "crest_radius": "crest_radius_mm",
        "root_radius": "root_radius_mm", "lead_angle": "lead_angle_deg",
    }  # fmt: skip
    found = {}
    for ours, theirs in pairs.items():
        quantity = getattr(thread, ours)
        assert (quantity is None) == (truth[theirs] is None), ours
        if quantity is not None:
            found[ours] = (quantity.value - truth[theirs], quantity)
    found["taper"] = (thread.taper.value, thread.taper)
    found["axis_tilt"] = (abs(thread.axis_tilt.value) - abs(truth["tilt_deg"]), thread.axis_tilt)
    return found


@each_scene
def test_errors_are_within_what_is_asked(name: str) -> None:
    """Pitch diameter 0.15 px; major, minor 0.3 px; pitch 0.02 %; flank angles 0.2 deg; widths 0.6 px; tilt 0.1 deg."""
    px = 1e-3 * SCENES[name].camera.um_per_px
    found = errors(name)
    pitch = found["pitch"][1].value
    tolerance = {
        "pitch": 2e-4 * pitch, "lead": 2e-4 * pitch, "major_diameter": 0.3 * px, "pitch_diameter": 0.15 * px,
        "minor_diameter": 0.3 * px, "flank_angle_left": 0.2, "flank_angle_right": 0.2, "included_angle": 0.4,
        "crest_width": 0.6 * px, "root_width": 0.6 * px, "crest_radius": 0.6 * px, "root_radius": 0.6 * px,
        "lead_angle": 0.01, "taper": 0.5, "axis_tilt": 0.1,
    }  # fmt: skip
    for quantity, (error, _) in found.items():
        assert abs(error) < tolerance[quantity], quantity


@each_scene
def test_errors_are_within_one_and_a_half_u95(name: str) -> None:
    for quantity, (error, q) in errors(name).items():
        assert abs(error) < 1.5 * q.u95, quantity


@each_scene
def test_uncertainties_are_not_wider_than_needed(name: str) -> None:
    """A well-known bench leaves 0.6 px of U95 on the pitch diameter, 1 px before a near camera."""
    m, truth = result(name)
    px = 1e-3 * SCENES[name].camera.um_per_px
    assert m.thread.pitch_diameter.u95 < (0.6 if truth["working_distance_mm"] is None else 1.0) * px
    assert m.thread.flank_angle_left.u95 < 0.5


@each_scene
def test_threads_in_view(name: str) -> None:
    """Within one of those whose both edges are whole; where the part lies aslant one edge shows more."""
    m, truth = result(name)
    assert truth["threads_in_view"] - 1 <= m.thread.threads_in_view <= truth["threads_in_view"] + 2


@each_scene
def test_hand_is_told_only_before_a_near_camera(name: str) -> None:
    m, truth = result(name)
    near = truth["working_distance_mm"] is not None
    assert m.thread.hand == (truth["hand"] if near else "not determined")
    assert ("hand_not_determined" in codes(m)) == (not near)


@each_scene
def test_free_end(name: str) -> None:
    m, truth = result(name)
    assert (m.part.free_end == "not in view") == (not truth["free_end_in_view"])
    assert ("free_end_unseen" in codes(m)) == (not truth["free_end_in_view"])


def codes(m: Measurement) -> list[str]:
    return [warning.code for warning in m.quality.warnings]


# The plain form.

THREAD_KEYS = {
    "hand", "starts", "pitch", "lead", "threads_per_inch", "major_diameter", "pitch_diameter", "minor_diameter",
    "virtual_pitch_diameter", "included_angle", "flank_angle_left", "flank_angle_right", "crest_width", "root_width",
    "crest_radius", "root_radius", "taper", "axis_tilt", "lead_angle", "threads_in_view", "per_thread",
}  # fmt: skip
NOT_QUANTITIES = {"hand", "starts", "internal", "threads_in_view", "per_thread", "crest_form", "root_form"}
MAY_BE_NULL = {"crest_width", "root_width", "crest_radius", "root_radius"}


@pytest.mark.parametrize("name", ["flat root", "47.5 deg, all round", "near camera, left hand", "dusty"])
def test_plain_form_keeps_to_the_contract(name: str) -> None:
    m, _ = result(name)
    document = plain(m.to_dict())
    assert json.loads(json.dumps(document, allow_nan=False)) == document
    assert document["schema"] == SCHEMA == "flankwise/measurement/1"
    assert document["status"] == "measured"
    assert set(document) == {
        "schema", "status", "picture", "calibration", "light", "thread", "shadow", "uncertainty_budget", "covariance",
        "part", "quality", "form", "wear",
    }  # fmt: skip
    assert document["picture"] == {"path": "scene.png", "sha256": "0" * 64, "width_px": 900, "height_px": 700}
    assert set(document["calibration"]) >= {"id", "um_per_px", "edge_offset_px", "traceable"}
    assert document["calibration"]["traceable"] is False
    assert document["calibration"]["um_per_px"]["value"] == 6.0
    assert set(document["quality"]) >= {"focus", "contrast", "residual_rms_px", "rejected_edge_fraction", "warnings"}
    assert all({"code", "message"} <= set(w) for w in document["quality"]["warnings"])


@pytest.mark.parametrize("name", ["flat root", "47.5 deg, all round", "rounded root"])
def test_every_quantity_of_the_plain_form_has_value_u95_and_unit(name: str) -> None:
    m, _ = result(name)
    thread = m.to_dict()["thread"]
    assert set(thread) - {"crest_form", "root_form", "internal"} == THREAD_KEYS
    assert thread["starts"] == 1
    for key in set(thread) - NOT_QUANTITIES:
        if thread[key] is None:
            assert key in MAY_BE_NULL
            continue
        assert set(thread[key]) == {"value", "u95", "unit"}
        assert thread[key]["unit"] in ("mm", "deg", "1/in", "um/mm")
        assert thread[key]["u95"] > 0
    for row in thread["per_thread"]:
        assert set(row) >= {"position", "pitch_error", "pitch_diameter", "pitch_error_u95", "pitch_diameter_u95"}
        assert 0 < row["pitch_error_u95"] < row["pitch_diameter_u95"]
    assert thread["threads_per_inch"]["value"] * thread["pitch"]["value"] == pytest.approx(25.4)
    both = thread["flank_angle_left"]["value"] + thread["flank_angle_right"]["value"]
    assert thread["included_angle"]["value"] == pytest.approx(both)


def test_a_width_that_is_null_has_a_warning_that_says_why() -> None:
    m, _ = result("47.5 deg, all round")
    assert m.thread.crest_width is None
    assert m.thread.root_width is None
    assert {"crest_rounded", "root_rounded"} <= set(codes(m))
    flat, _ = result("flat root")
    assert flat.thread.crest_radius is None
    assert flat.thread.root_radius is None
    assert not {"crest_rounded", "root_rounded"} & set(codes(flat))


def test_covariance_is_that_of_the_quantities() -> None:
    m, _ = result("flat root")
    plain = m.to_dict()["covariance"]
    matrix = np.array(plain["matrix"])
    for i, name in enumerate(plain["order"]):
        assert math.sqrt(matrix[i, i]) == pytest.approx(getattr(m.thread, name).standard_uncertainty, rel=1e-6), name
    scaled = matrix / np.sqrt(np.outer(np.diag(matrix), np.diag(matrix)))
    assert scaled == pytest.approx(scaled.T)
    assert np.linalg.eigvalsh(scaled).min() > -1e-9


def test_budget_adds_up_to_the_uncertainty() -> None:
    m, _ = result("near camera")
    budget = m.to_dict()["uncertainty_budget"]
    for name in ("pitch", "pitch_diameter", "major_diameter", "flank_angle_left"):
        total = math.sqrt(sum(line["u"] ** 2 for line in budget[name]))
        assert total == pytest.approx(getattr(m.thread, name).standard_uncertainty, rel=1e-6)
        assert all(set(line) == {"source", "u", "unit", "share", "one_sided"} for line in budget[name])


def test_shadow_reads_larger_by_the_second_order_formula() -> None:
    m, truth = result("flat root")
    p, e = truth["pitch_mm"], truth["pitch_diameter_mm"]
    formula = p**2 / (2 * math.pi**2 * e * math.tan(math.radians(30)) ** 2)
    excess = m.shadow["pitch_diameter"].value - m.thread.pitch_diameter.value
    assert excess == pytest.approx(formula, rel=0.04)
    shadow = m.to_dict()["shadow"]
    assert set(shadow["pitch_diameter"]) == {"value", "u95", "unit"}
    assert {"pitch_diameter", "major_diameter", "minor_diameter", "flank_angle_left", "flank_angle_right"} <= set(
        shadow
    )


# What the list of ridges says.


@pytest.mark.parametrize("name", ["flat root", "near camera", "dusty", "shank and shoulder"])
def test_per_thread_list(name: str) -> None:
    """Both edges' ridges in order, half a pitch apart, none off by more than 0.15 px on a perfect thread."""
    m, truth = result(name)
    rows = m.thread.per_thread
    px = 1e-3 * CAMERA.um_per_px
    assert len(rows) >= 2 * m.thread.threads_in_view - 3
    steps = np.diff([r.position for r in rows]) / (truth["pitch_mm"] / 2)
    assert np.abs(steps - np.round(steps)).max() < 0.02
    assert steps.min() > 0.9
    assert 0 < rows[0].position < rows[-1].position < m.part.threaded_length
    assert max(abs(r.pitch_error) for r in rows) < 0.15 * px
    assert max(abs(r.pitch_diameter - truth["pitch_diameter_mm"]) for r in rows) < 0.5 * px


def test_virtual_pitch_diameter_is_larger_by_what_the_flank_angles_cost() -> None:
    """he / sin 2a (|d1| + |d2|), he = 0.5413 p: flanks at 30.3 and 29.6 deg."""
    m, truth = result("flat root")
    reach = 0.5413 * truth["pitch_mm"] / math.sin(math.radians(60))
    expected = reach * math.radians(0.3 + 0.4)
    excess = m.thread.virtual_pitch_diameter.value - m.thread.pitch_diameter.value
    assert excess == pytest.approx(expected, abs=1.5e-3)
    assert m.thread.virtual_pitch_diameter.u95 >= m.thread.pitch_diameter.u95


def test_taper_is_measured_on_the_diameter() -> None:
    """Diameters hold in the middle of the threaded length."""
    m, truth = measured(replace(ACROSS, thread=replace(UNIFIED, taper_um_per_mm=6.0)))
    assert abs(m.thread.taper.value) == pytest.approx(6.0, abs=0.3)
    assert m.thread.pitch_diameter.value == pytest.approx(truth["pitch_diameter_mm"], abs=0.15e-3 * CAMERA.um_per_px)


# Warnings.


@pytest.mark.slow
@pytest.mark.parametrize(
    ("scene", "code"),
    [
        (replace(ACROSS, view_mm=0.6, rotation_deg=0.0), "few_threads"),
        (replace(ACROSS, tilt_deg=4.5), "tilted"),
        (replace(ACROSS, camera=replace(CAMERA, blur_sigma_px=2.8)), "soft_focus"),
        (replace(ACROSS, light=Light(exposure=0.3, flare=0.3)), "low_contrast"),
        (replace(ACROSS, dust=40, hairs=2), "dirty_outline"),
        (
            replace(ACROSS, thread=replace(UNIFIED, minor_mm=1.91), camera=Camera(900, 700, um_per_px=12.0)),
            "root_not_resolved",
        ),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_what_makes_a_number_doubtful_is_said(scene: Scene, code: str) -> None:
    m, _ = measured(scene)
    assert code in codes(m)
    message = next(sentence(w) for w in m.quality.warnings if w.code == code)
    assert "\n" not in message
    assert message.endswith(".")


def test_a_good_picture_has_no_warning_of_its_quality() -> None:
    m, _ = result("near camera")
    assert set(codes(m)) <= {"scale_by_hand"}


def test_an_unknown_light_is_said_and_allowed_for() -> None:
    picture, _ = photograph(ACROSS)
    dark = measure_picture(picture, FixedScale(6.0, 1e-5, 0.01, light_cone_deg=0.0))
    unknown = measure_picture(picture, FixedScale(6.0, 1e-5, 0.01))
    assert "light_cone_unknown" in codes(unknown)
    assert "light_cone_unknown" not in codes(dark)
    # f D A^2 / 8 / sin(a)^2: half of what a middling surface takes in the widest cone is put back
    most = REFLECTIVITY * 2.42 * math.radians(ASSUMED_CONE_DEG) ** 2 / 8 * 4
    before, after = dark.thread.pitch_diameter, unknown.thread.pitch_diameter
    assert after.value - before.value == pytest.approx(0.4 * most / REFLECTIVITY / 2, rel=0.05)
    assert after.value - after.u95 < before.value
    assert after.u95 > 0.4 * most
    assert unknown.to_dict()["light"] == {
        "surface": None, "cone_deg": ASSUMED_CONE_DEG, "cone_stated": False,
        "corrected_um_per_mm": pytest.approx(1e3 * 0.2 * math.radians(ASSUMED_CONE_DEG) ** 2 / 8, rel=0.02),
    }  # fmt: skip
    assert any("mirrored" in line.source for line in unknown.budget["pitch_diameter"])


@pytest.mark.slow
def test_quality_figures() -> None:
    soft, _ = result("soft and noisy")
    sharp, _ = result("flat root")
    # the pixel's own square and the tone of the flanks' curvature are in it
    assert soft.quality.focus == pytest.approx(2.0, rel=0.1)
    assert sharp.quality.focus == pytest.approx(1.04, rel=0.1)
    assert soft.quality.noise == pytest.approx(0.02, rel=0.25)
    assert sharp.quality.contrast == pytest.approx(0.735, abs=0.03)
    assert sharp.quality.residual_rms_px < soft.quality.residual_rms_px < 0.15
    dusty, _ = result("dusty")
    assert dusty.quality.rejected_edge_fraction > sharp.quality.rejected_edge_fraction


def test_same_picture_same_answer() -> None:
    picture, _ = photograph(ACROSS)
    bench = FixedScale(6.0)
    assert measure_picture(picture, bench).to_dict() == measure_picture(picture, bench).to_dict()


@pytest.mark.slow
def test_taper_is_the_same_whichever_way_the_part_lies() -> None:
    cone = replace(ACROSS, thread=replace(UNIFIED, taper_um_per_mm=6.0), **END)
    right, left = (measured(replace(cone, rotation_deg=angle))[0] for angle in (0.0, 180.0))
    assert (right.part.free_end, left.part.free_end) == ("right", "left")
    assert right.thread.taper.value == pytest.approx(left.thread.taper.value, abs=0.5)
