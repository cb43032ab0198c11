"""The plain reading of the shadow: equal to the section where there is no helix to speak of, named like the section."""

from __future__ import annotations

import math

import pytest

from threads.shared.quantity import Quantity
from vision.fit.plain_reading import plain_reading
from vision.fit.quantities import NAMES, UNITS, quantities
from vision.model.shadow import INDEX, ShadowParameters

LIKE = {name: Quantity(1.0, 0.001 * (i + 1), UNITS[name]) for i, name in enumerate(NAMES)}

# 0.1 mm of pitch on a radius of 20 mm: the helix adds 0.02 um
FINE = ShadowParameters(
    offset=0.0, rotation=0.0, phase=0.02, pitch=0.1, tilt=0.0, nearness=0.0, taper=0.0, crest=20.03, pitch_radius=20.0,
    root=19.97, flank_right=math.radians(31), flank_left=math.radians(28), crest_corner=0.0, root_corner=0.0,
    blur=0.001,
).to_array()  # fmt: skip


@pytest.mark.parametrize("free_end_right", [True, False])
def test_without_helix_it_is_the_section(free_end_right: bool) -> None:
    read = plain_reading(FINE, 0.0, (0.0, 0.0), LIKE, free_end_right=free_end_right)
    section = dict(zip(NAMES, quantities(FINE, 0.0, free_end_right), strict=True))
    for name, quantity in read.items():
        tolerance = 0.01 if quantity.unit == "deg" else 2e-4
        assert quantity.value == pytest.approx(section[name], abs=tolerance), name


def test_names_units_and_uncertainties_are_those_of_the_section() -> None:
    read = plain_reading(FINE, 0.0, (0.0, 0.0), LIKE, free_end_right=True)
    assert {"pitch_diameter", "major_diameter", "minor_diameter", "pitch", "included_angle"} <= set(read)
    assert {"flank_angle_left", "flank_angle_right", "crest_width", "root_width"} <= set(read)
    for name, quantity in read.items():
        assert quantity.unit == UNITS[name]
        assert quantity.standard_uncertainty == LIKE[name].standard_uncertainty


def test_what_the_section_lacks_the_shadow_lacks_too() -> None:
    rounded = {name: q for name, q in LIKE.items() if name != "crest_width"}
    assert "crest_width" not in plain_reading(FINE, 0.0, (0.0, 0.0), rounded, free_end_right=True)


def test_both_edges_count_equally_in_a_tilted_view() -> None:
    """Tilted by the lead angle one edge is true and the other four times as wrong: together twice."""
    x = FINE.copy()
    x[INDEX["pitch"]], x[INDEX["crest"]], x[INDEX["pitch_radius"]], x[INDEX["root"]] = 0.635, 1.4224, 1.2162, 1.01
    x[INDEX["flank_left"]] = x[INDEX["flank_right"]] = math.radians(30)
    level = plain_reading(x, 0.0, (0.0, 0.0), LIKE, free_end_right=True)["pitch_diameter"].value - 2 * 1.2162
    x[INDEX["tilt"]] = 0.635 / (2 * math.pi * 1.2162)
    tilted = plain_reading(x, 0.0, (0.0, 0.0), LIKE, free_end_right=True)["pitch_diameter"].value - 2 * 1.2162
    assert tilted == pytest.approx(2 * level, rel=0.06)
