"""One part under two lights: what the light takes is extrapolated to none, and a part that moved is refused."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from tests.vision.scenes import ACROSS, photograph
from threads.shared.refusal import RefusalError
from vision.model.grazing import REFLECTIVITY
from vision.model.shadow import INDEX
from vision.result.measure import measure_picture
from vision.result.measurement import Measurement
from vision.several.two_lights import Unlit, check_cones, without_light
from vision.shared.plane import FixedScale

PLANE = FixedScale(6.0, relative_u=1e-4, edge_offset_u_px=0.02)
LIGHTS = (3.0, 5.0)


@pytest.fixture(scope="module")
def dark() -> Measurement:
    return measure_picture(photograph(ACROSS)[0], Unlit(PLANE))


def lit(dark: Measurement, cone_deg: float, rough_deg: float = 0.0) -> Measurement:
    """The pitch diameter less by what metal of this roughness takes, the flanks leaning by their share of it."""
    cone, rough = math.radians(cone_deg), math.radians(rough_deg)
    part = REFLECTIVITY * cone**4 / (cone**2 + rough**2) / 8
    thread = dark.thread
    flank = math.radians(thread.included_angle.value / 2)
    taken = thread.pitch_diameter.value * part / math.sin(flank) ** 2
    lean = math.degrees(part / math.tan(flank))
    less = {"pitch_diameter": taken, "flank_angle_left": lean, "flank_angle_right": lean, "included_angle": 2 * lean}
    changed = {n: replace(q, value=q.value - by) for n, by in less.items() if (q := getattr(thread, n))}
    return replace(dark, thread=replace(thread, **changed))  # type: ignore[arg-type]


@pytest.mark.parametrize("rough_deg", [0.0, 4.0, 12.0])
@pytest.mark.parametrize("cones", [LIGHTS, (5.0, 3.0), (2.0, 3.5, 5.0)])
def test_what_light_takes_is_put_back_whatever_the_surface(
    dark: Measurement, rough_deg: float, cones: tuple[float, ...]
) -> None:
    found = without_light([lit(dark, cone, rough_deg) for cone in cones], cones, PLANE)
    for name in ("pitch_diameter", "flank_angle_left", "included_angle", "major_diameter", "pitch"):
        now, true = getattr(found.thread, name), getattr(dark.thread, name)
        assert now.value == pytest.approx(true.value, abs=0.5 * true.u95), name
    taken = dark.thread.pitch_diameter.value - lit(dark, max(cones)).thread.pitch_diameter.value
    assert found.thread.pitch_diameter.u95 < dark.thread.pitch_diameter.u95 + taken
    assert [light.cone_deg for light in found.lights] == pytest.approx(sorted(cones))
    c = found.thread.covariance
    at = c.order.index("pitch_diameter")
    assert math.sqrt(c.matrix[at, at]) == pytest.approx(found.thread.pitch_diameter.standard_uncertainty)
    assert np.linalg.eigvalsh(c.matrix).min() > -1e-12
    assert "lights_disagree" not in [w.code for w in found.quality.warnings]


def test_a_change_that_is_not_light_is_said(dark: Measurement) -> None:
    grown = replace(dark.thread.pitch_diameter, value=dark.thread.pitch_diameter.value + 0.02)
    found = without_light([dark, replace(dark, thread=replace(dark.thread, pitch_diameter=grown))], LIGHTS, PLANE)
    assert "lights_disagree" in [w.code for w in found.quality.warnings]


@pytest.mark.parametrize(("what", "by"), [("offset", 0.05), ("phase", 0.05), ("rotation", 0.01)])
def test_a_part_that_moved_is_refused(dark: Measurement, what: str, by: float) -> None:
    x = dark.solution.fit.x.copy()
    x[INDEX[what]] += by
    moved = replace(dark, solution=replace(dark.solution, fit=replace(dark.solution.fit, x=x)))
    with pytest.raises(RefusalError) as refused:
        without_light([dark, moved], LIGHTS, PLANE)
    assert refused.value.reasons[0].code == "part_moved"


@pytest.mark.parametrize(("cones", "code"), [((3.0, 3.5), "lights_alike"), ((3.0, 60.0), "bad_light_cone")])
def test_lights_that_tell_nothing_are_refused(cones: tuple[float, float], code: str) -> None:
    with pytest.raises(RefusalError) as refused:
        check_cones(cones)
    assert refused.value.reasons[0].code == code


def test_pins_keep_what_their_own_light_took(dark: Measurement) -> None:
    pins = replace(PLANE, light_cone_deg=4.0, round_gauges=True)
    found, flat = (without_light([dark, dark], LIGHTS, plane) for plane in (pins, PLANE))
    shrunk = found.thread.major_diameter.value / flat.thread.major_diameter.value - 1
    assert shrunk == pytest.approx(-found.mirror.scale_excess)
    assert found.mirror.scale_excess > 0
    assert found.thread.major_diameter.u95 > flat.thread.major_diameter.u95


def test_gauges_in_the_same_lights_need_no_cone(dark: Measurement) -> None:
    """Pins that lose as part of a larger scale: all lengths are extrapolated with them, and nothing is left to pins."""
    plane = replace(PLANE, round_gauges=True)
    found = without_light([dark, dark], LIGHTS, plane, gauges_too=True)
    assert found.thread.major_diameter.value == pytest.approx(dark.thread.major_diameter.value)
    assert found.mirror.scale_excess == 0
    gauges = "gauges: scale and edge offset"
    grown, before = (next(t.u for t in m.budget["pitch"] if t.source == gauges) for m in (found, dark))
    # weights of two pictures in 3 and 5 deg: about 25 / 16 and -9 / 16
    assert before < grown < 1.7 * before
