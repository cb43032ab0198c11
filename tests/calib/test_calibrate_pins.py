"""From pictures and diameters to a calibration; the pin reader is replaced, its readings are given."""

from __future__ import annotations

import math
import sys
from collections.abc import Callable, Sequence
from types import ModuleType, SimpleNamespace

import numpy as np
import pytest

from calib.bench import calibrate_bench
from calib.calibration import Calibration
from flankwise.reasons import message, sentence
from threads.shared.refusal import RefusalError
from vision.pictures.picture import Picture

Pin = tuple[Picture, float]


def _picture(number: int, width: int = 1600, height: int = 1200) -> Picture:
    return Picture(
        path=f"/home/somebody/gauges/pin{number}.png",
        sha256=f"{number:064x}",
        width_px=width,
        height_px=height,
        light=np.zeros((2, 2), np.float32),
        bit_depth=8,
        clipped_bright=0.0,
        step=1 / 255,
        notes=(),
    )


@pytest.fixture
def reader(monkeypatch: pytest.MonkeyPatch) -> Callable[[dict[int, float]], None]:
    """Sets what the pin reader sees in the picture of each number, px."""

    def install(seen: dict[int, float]) -> None:
        module = ModuleType("vision.gauges.pin")

        def read_pin(picture: Picture) -> SimpleNamespace:
            diameter = seen[int(picture.sha256, 16)]
            u = np.tile(np.arange(-700.0, 700.0), 2)
            side = np.repeat([1.0, -1.0], u.size // 2)
            edges = np.stack([799.5 + u, 599.5 - side * diameter / 2], axis=1)
            return SimpleNamespace(
                diameter_px=diameter,
                standard_uncertainty_px=0.02,
                angle_deg=0.0,
                edges=edges,
                side=side,
                width_px=picture.width_px,
                height_px=picture.height_px,
                blur_px=1.2,
                blur_u_px=0.01,
                sharpness=None,
            )

        module.read_pin = read_pin  # type: ignore[attr-defined]
        # the caller's type hints need the real class
        module.PinReading = SimpleNamespace  # type: ignore[attr-defined]
        monkeypatch.setitem(sys.modules, "vision.gauges.pin", module)

    return install


def _refusal(pins: Sequence[Pin], **options: float) -> str:
    with pytest.raises(RefusalError) as caught:
        calibrate_bench(pins=pins, **options)
    assert "\n" not in message(caught.value)
    return caught.value.reasons[0].code


def _codes(calibration: Calibration) -> list[str]:
    return [warning.code for warning in calibration.warnings]


def test_two_pins(reader: Callable[[dict[int, float]], None]) -> None:
    reader({1: 250.6, 2: 625.6})
    pins = [(_picture(1), 1.0), (_picture(2), 2.5)]
    result = calibrate_bench(pins=pins, pin_u95_mm=0.001, light_cone_deg=2, working_distance_mm=math.inf)
    assert result.um_per_px == pytest.approx(4.0)
    assert result.edge_offset_px == pytest.approx(0.3)
    assert (result.picture_width_px, result.picture_height_px) == (1600, 1200)
    assert result.light_cone_deg == 2.0
    assert result.lens == {"model": "none"}
    assert result.traceable
    assert result.when.endswith("Z")
    assert result.warnings == ()
    assert result.covariance.shape == (2, 2)
    first = result.gauges[0]
    assert (first.what, first.nominal_mm, first.u95_mm, first.picture) == ("pin", 1.0, 0.001, "pin1.png")
    assert first.diameter_px == 250.6
    points = np.array([[1.0, 2.0]])
    assert np.array_equal(result.undistort(points), points)


def test_one_pin_warns(reader: Callable[[dict[int, float]], None]) -> None:
    reader({1: 500.0})
    result = calibrate_bench(pins=[(_picture(1), 2.0)], pin_u95_mm=0.001, working_distance_mm=math.inf)
    assert _codes(result) == ["edge_offset_assumed"]
    assert result.edge_offset_px_u95 == pytest.approx(0.3)


def test_unsaid_pin_uncertainty_is_stated(reader: Callable[[dict[int, float]], None]) -> None:
    reader({1: 250.6, 2: 625.6})
    result = calibrate_bench(pins=[(_picture(1), 1.0), (_picture(2), 2.5)], working_distance_mm=math.inf)
    assert _codes(result) == ["pin_u95_assumed"]
    assert [g.u95_mm for g in result.gauges] == [0.001, 0.001]


def test_each_pin_its_own_uncertainty(reader: Callable[[dict[int, float]], None]) -> None:
    reader({1: 250.6, 2: 625.6})
    pins = [(_picture(1), 1.0), (_picture(2), 2.5)]
    result = calibrate_bench(pins=pins, pin_u95_mm=[0.0005, 0.002])
    assert [g.u95_mm for g in result.gauges] == [0.0005, 0.002]
    assert _refusal(pins, pin_u95_mm=[0.001]) == "bad_gauge"


def test_pins_that_disagree_are_named(reader: Callable[[dict[int, float]], None]) -> None:
    reader({1: 250.0, 2: 501.5, 3: 750.0})
    pins = [(_picture(1), 1.0), (_picture(2), 2.0), (_picture(3), 3.0)]
    result = calibrate_bench(pins=pins, pin_u95_mm=0.001, working_distance_mm=math.inf)
    assert _codes(result) == ["pins_disagree"]
    assert "pin2.png" in sentence(result.warnings[0])
    assert result.gauges[1].residual_um > 2


def test_pins_too_alike_for_the_offset(reader: Callable[[dict[int, float]], None]) -> None:
    reader({1: 250.0, 2: 270.0})
    pins = [(_picture(1), 1.0), (_picture(2), 1.08)]
    result = calibrate_bench(pins=pins, pin_u95_mm=0.002, working_distance_mm=math.inf)
    assert _codes(result) == ["edge_offset_uncertain"]


def test_nonsense_is_refused_before_a_picture_is_measured(monkeypatch: pytest.MonkeyPatch) -> None:
    module = ModuleType("vision.gauges.pin")
    module.read_pin = lambda picture: pytest.fail("measured")  # type: ignore[attr-defined]  # noqa: ARG005
    monkeypatch.setitem(sys.modules, "vision.gauges.pin", module)
    one, two = (_picture(1), 1.0), (_picture(2), 2.5)
    assert _refusal([]) == "no_gauge"
    assert _refusal([one, (_picture(2), 0.0)]) == "bad_gauge"
    assert _refusal([one, (_picture(2), -2.0)]) == "bad_gauge"
    assert _refusal([one, (_picture(2), float("nan"))]) == "bad_gauge"
    assert _refusal([one, two], pin_u95_mm=1.0) == "bad_gauge"
    assert _refusal([one, two], pin_u95_mm=-0.001) == "bad_gauge"
    assert _refusal([one, (_picture(2, 1200, 1600), 2.5)]) == "gauge_picture_sizes"
    assert _refusal([one, (_picture(1), 2.5)]) == "same_picture_twice"
    assert _refusal([one, two], light_cone_deg=90.0) == "bad_light_cone"
    assert _refusal([one, two], light_cone_deg=float("nan")) == "bad_light_cone"


def test_swapped_pictures(reader: Callable[[dict[int, float]], None]) -> None:
    reader({1: 625.6, 2: 250.6})
    assert _refusal([(_picture(1), 1.0), (_picture(2), 2.5)]) == "pins_contradict"
