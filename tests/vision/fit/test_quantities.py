"""The quantities of the axial section from fitted parameters, and how they follow them."""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt
import pytest

from vision.fit.quantities import (
    COVARIANCE_NAMES,
    NAMES,
    UNITS,
    quantities,
    roundness,
    sensitivity,
)
from vision.model.shadow import COUNT, INDEX, ShadowParameters, full_radii

Array = npt.NDArray[np.float64]


def thread(**changes: float) -> Array:
    values = {
        "offset": 0.1, "rotation": 0.01, "phase": 0.03, "pitch": 0.635, "tilt": 0.0, "nearness": 0.0, "taper": 0.0,
        "crest": 1.42, "pitch_radius": 1.22, "root": 1.01, "flank_right": math.radians(30.4),
        "flank_left": math.radians(29.3), "crest_corner": 0.01, "root_corner": 0.02, "blur": 0.005,
    }  # fmt: skip
    return ShadowParameters(**(values | changes)).to_array()


def named(x: Array, middle: float = 0.0, *, free_end_right: bool = True) -> dict[str, float]:
    return dict(zip(NAMES, quantities(x, middle, free_end_right).tolist(), strict=True))


def test_plain_case() -> None:
    q = named(thread())
    assert q["pitch"] == q["lead"] == pytest.approx(0.635)
    assert q["threads_per_inch"] == pytest.approx(40.0)
    assert q["major_diameter"] == pytest.approx(2.84)
    assert q["pitch_diameter"] == pytest.approx(2.44)
    assert q["minor_diameter"] == pytest.approx(2.02)
    assert q["flank_angle_left"] == pytest.approx(29.3)
    assert q["flank_angle_right"] == pytest.approx(30.4)
    assert q["included_angle"] == pytest.approx(59.7)
    assert q["crest_radius"] == 0.01
    assert q["root_radius"] == 0.02
    assert q["lead_angle"] == pytest.approx(math.degrees(math.atan(0.635 / (math.pi * 2.44))))
    assert q["taper"] == 0
    assert q["axis_tilt"] == 0


def test_widths_of_the_basic_american_profile_are_an_eighth_of_the_pitch() -> None:
    a, p, depth = math.radians(30), 0.635, 0.649519 * 0.635
    q = named(thread(flank_left=a, flank_right=a, crest=1.4224, pitch_radius=1.4224 - depth / 2, root=1.4224 - depth))
    assert q["crest_width"] == pytest.approx(p / 8, abs=1e-6)
    assert q["root_width"] == pytest.approx(p / 8, abs=1e-6)


def test_ridge_and_groove_share_the_pitch_at_the_pitch_diameter() -> None:
    """Crest width plus what both flanks spread down to the pitch line is half a pitch; so is the groove."""
    q = named(thread())
    spread = math.tan(math.radians(q["flank_angle_left"])) + math.tan(math.radians(q["flank_angle_right"]))
    down = (q["major_diameter"] - q["pitch_diameter"]) / 2 * spread
    up = (q["pitch_diameter"] - q["minor_diameter"]) / 2 * spread
    assert q["crest_width"] + down == pytest.approx(q["pitch"] / 2)
    assert q["root_width"] + up == pytest.approx(q["pitch"] / 2)


def test_tilt_shortens_what_the_picture_shows_and_is_undone() -> None:
    """Axial lengths in the picture are cos(t) of the true ones; so are the tangents of the flank angles."""
    t = math.radians(5)
    c = math.cos(t)
    seen = thread(
        pitch=0.635 * c, tilt=math.sin(t), flank_left=math.atan(math.tan(0.5) * c),
        flank_right=math.atan(math.tan(0.52) * c), taper=1e-3 * c,
    )  # fmt: skip
    q = named(seen)
    level = named(thread(flank_left=0.5, flank_right=0.52, taper=1e-3))
    assert q["axis_tilt"] == pytest.approx(5.0)
    for name in NAMES:
        if name != "axis_tilt":
            assert q[name] == pytest.approx(level[name], rel=1e-9), name


def test_left_and_right_follow_the_free_end() -> None:
    right, left = named(thread()), named(thread(), free_end_right=False)
    assert left["flank_angle_left"] == right["flank_angle_right"]
    assert left["flank_angle_right"] == right["flank_angle_left"]
    for name in set(NAMES) - {"flank_angle_left", "flank_angle_right"}:
        assert left[name] == pytest.approx(right[name])


def test_taper_is_on_the_diameter_and_diameters_hold_in_the_middle() -> None:
    q = named(thread(taper=2e-3), middle=1.5)
    assert q["taper"] == pytest.approx(-4.0)  # um a mm on the diameter, thicker toward the free end
    for name, level in (("major_diameter", 2.84), ("pitch_diameter", 2.44), ("minor_diameter", 2.02)):
        assert q[name] == pytest.approx(level + 1.5 * 4e-3)


@pytest.mark.parametrize("free_end_right", [True, False])
def test_sensitivity(free_end_right: bool) -> None:
    """Those that can be written down at a glance, and the rest by one-sided differences."""
    x = thread(tilt=0.03, taper=1e-3)
    s = sensitivity(x, 1.2, free_end_right)
    assert s.shape == (len(NAMES), COUNT)
    row = {name: s[i] for i, name in enumerate(NAMES)}
    assert row["major_diameter"][INDEX["crest"]] == pytest.approx(2)
    assert row["major_diameter"][INDEX["taper"]] == pytest.approx(2 * 1.2)
    assert row["pitch_diameter"][INDEX["pitch_radius"]] == pytest.approx(2)
    assert row["minor_diameter"][INDEX["root"]] == pytest.approx(2)
    assert row["pitch"][INDEX["pitch"]] == pytest.approx(1 / math.sqrt(1 - 0.03**2))
    assert row["root_radius"][INDEX["root_corner"]] == pytest.approx(1)
    toward = 1 if free_end_right else -1
    assert row["axis_tilt"][INDEX["tilt"]] == pytest.approx(toward * math.degrees(1) / math.sqrt(1 - 0.03**2))
    own = "flank_right" if free_end_right else "flank_left"
    other = "flank_left" if free_end_right else "flank_right"
    assert row["flank_angle_right"][INDEX[own]] == pytest.approx(math.degrees(1), rel=1e-3)
    assert row["flank_angle_right"][INDEX[other]] == pytest.approx(0, abs=1e-9)
    for name in ("offset", "rotation", "phase", "blur", "nearness"):
        assert not s[:, INDEX[name]].any()
    base = quantities(x, 1.2, free_end_right)
    for j in range(COUNT):
        moved = x.copy()
        moved[j] += 1e-7
        assert (quantities(moved, 1.2, free_end_right) - base) / 1e-7 == pytest.approx(s[:, j], rel=2e-3, abs=2e-4)


@pytest.mark.parametrize(
    ("share", "blur", "expected"),
    [(0.05, 0.004, True), (0.95, 0.004, False), (0.6, 0.004, None), (0.95, 0.2, None), (0.05, 0.2, None)],
    ids=["flat", "round", "in between", "blurred round", "blurred flat"],
)
def test_roundness(share: float, blur: float, expected: bool | None) -> None:
    x = thread(crest_corner=0.0)
    crest, root = full_radii(x)
    x[INDEX["crest_corner"]], x[INDEX["root_corner"]] = share * crest, share * root
    assert roundness(x, blur) == (expected, expected)


def test_every_quantity_has_a_unit_and_the_covariance_a_place() -> None:
    assert tuple(UNITS) == NAMES
    assert set(UNITS.values()) <= {"mm", "deg", "1/in", "um/mm"}
    assert set(COVARIANCE_NAMES) <= set(NAMES)
    # what identification needs
    assert COVARIANCE_NAMES[:4] == ("major_diameter", "pitch_diameter", "minor_diameter", "pitch")
