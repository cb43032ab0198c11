"""Pictures of one part at several rotations, joined: dimensions, what goes round, budget, and what is refused."""

from __future__ import annotations

import json
from dataclasses import replace
from functools import cache
from typing import Any

import numpy as np
import pytest

from sample_images.imperfections import Imperfections
from sample_images.scene import Scene
from tests.refused import refused
from tests.vision.scenes import ACROSS, CAMERA, UNIFIED, photograph
from threads.shared.plain_json import plain
from threads.shared.refusal import RefusalError
from vision.result.measure import measure_picture
from vision.result.measurement import Measurement
from vision.several.joined import join
from vision.several.weighted_mean import REPEATABILITY
from vision.shared.plane import FixedScale

PLANE = FixedScale(6.0, relative_u=1e-4, edge_offset_u_px=0.02, light_cone_deg=0.0)
WITH_END = replace(ACROSS, view_mm=2.2, chamfer_end_mm=1.9)
PART = Imperfections(ovality_um=10.0, oval_at_deg=25.0, drunkenness_um=3.0, drunken_at_deg=70.0)
TURNS = (0.0, 60.0, 120.0, 200.0)
LIES = (4.0, 4.0, 184.0, 6.0)
"""Directions of the free end: the third picture is upside down."""


def shot(number: int, scene: Scene, plane: FixedScale = PLANE, **changes: Any) -> Measurement:
    """Measure a scene; each number is another picture."""
    picture, _ = photograph(replace(scene, seed=number, **changes))
    return measure_picture(replace(picture, sha256=f"{number:064d}", path=f"{number}.png"), plane)


@cache
def all_round() -> tuple[Measurement, ...]:
    """An oval, drunken screw from four sides, its free end in view."""
    return tuple(
        shot(i, WITH_END, rotation_deg=lies, form_errors=replace(PART, turned_deg=turned))
        for i, (turned, lies) in enumerate(zip(TURNS, LIES, strict=True))
    )


@cache
def same_side() -> tuple[Measurement, ...]:
    """A good screw across the picture, three exposures."""
    return tuple(
        shot(i, ACROSS, light=replace(ACROSS.light, exposure=e), camera=replace(CAMERA, noise=0.015))
        for i, e in ((10, 0.6), (11, 0.7), (12, 0.8))
    )


def codes(m: Measurement) -> set[str]:
    return {w.code for w in m.quality.warnings}


@pytest.mark.slow
def test_the_ridges_tell_how_far_the_part_was_turned() -> None:
    joined = join(all_round())
    for picture, truth in zip(joined.pictures, TURNS, strict=True):
        assert picture.turn is not None
        assert not picture.turn.stated
        off = (picture.turn.angle.value - truth + 180) % 360 - 180
        assert abs(off) <= max(picture.turn.angle.u95, 1e-6) < 12
    # the sense of the turn was not stated: the hand stays open
    assert joined.thread.hand == "not determined"


@pytest.mark.slow
def test_stated_turns_tell_the_hand() -> None:
    assert join(all_round(), TURNS).thread.hand == "right"
    assert "hand_not_determined" not in codes(join(all_round(), TURNS))
    # the same pictures with the turns stated the other way round are those of a left-hand thread
    assert join(all_round(), [0.0, 300.0, 240.0, 160.0]).thread.hand == "left"
    assert "turns_disagree" in codes(join(all_round(), [0.0, 10.0, 300.0, 250.0]))


@pytest.mark.parametrize("stated", [None, TURNS])
def test_what_goes_round_is_found(stated: tuple[float, ...] | None) -> None:
    """10 um of ovality on both diameters within 0.8 um, 3 um of drunkenness within 0.1 um."""
    form = join(all_round(), stated).form
    assert form is not None
    assert not form.ovality_at_least
    for found in (form.ovality_major_diameter, form.ovality_pitch_diameter):
        assert found is not None
        assert found.value == pytest.approx(0.010, abs=8e-4)
    assert form.drunkenness is not None
    assert form.drunkenness.value == pytest.approx(0.003, abs=1e-4)
    assert form.axis_bend is not None
    assert form.axis_bend.value <= form.axis_bend.u95 < 0.0006


def test_an_oval_part_has_its_scatter_in_the_budget() -> None:
    joined = join(all_round())
    alone = all_round()[0].thread.pitch_diameter
    found = joined.thread.pitch_diameter
    # the sides pictured do not lie evenly round: their mean is up to 2 um off
    assert abs(found.value - 2.42) <= 2 * found.standard_uncertainty
    assert found.standard_uncertainty > 2 * alone.standard_uncertainty
    assert REPEATABILITY in {t.source for t in joined.budget["pitch_diameter"]}
    assert "pictures_scatter" in codes(joined)
    assert joined.agreement is not None
    assert joined.agreement.probability < 1e-3


def test_exposures_of_one_side_average_the_noise_only() -> None:
    """The gauges' share stays; the weights of the noise, one over its variance, add up."""
    parts = same_side()
    joined = join(parts)
    assert joined.agreement is not None
    assert joined.agreement.probability > 0.001
    name = "pitch_diameter"
    common = {t.source: t.u for t in parts[0].budget[name]}
    now = {t.source: t.u for t in joined.budget[name]}
    assert now["gauges: scale and edge offset"] == pytest.approx(common["gauges: scale and edge offset"], rel=0.02)
    noise = [t.u for m in parts for t in m.budget[name] if t.source == "edge noise and form"]
    assert now["edge noise and form"] == pytest.approx(1 / np.sqrt(np.sum(1 / np.square(noise))), rel=0.15)
    assert abs(joined.thread.pitch_diameter.value - 2.42) < 2.5e-4
    assert {p.turn for p in joined.pictures} == {None}
    assert joined.form is not None
    assert joined.form.ovality_major_diameter is None
    assert "turn_not_known" in codes(joined)


def test_budget_and_covariance_belong_together() -> None:
    joined = join(all_round())
    for name in ("pitch", "major_diameter", "pitch_diameter", "flank_angle_left", "taper"):
        quantity = getattr(joined.thread, name)
        two_sided = [t.u for t in joined.budget[name] if not t.one_sided]
        assert [t.u for t in joined.budget[name] if t.one_sided] == [quantity.one_sided] * (quantity.one_sided > 0)
        assert float(np.sqrt(np.sum(np.square(two_sided)))) == pytest.approx(quantity.standard_uncertainty, rel=1e-6)
        j = joined.thread.covariance.order.index(name)
        assert joined.thread.covariance.matrix[j, j] == pytest.approx(quantity.standard_uncertainty**2, rel=1e-6)
    assert joined.thread.lead.value == joined.thread.pitch.value
    assert joined.thread.threads_per_inch.value * joined.thread.pitch.value == pytest.approx(25.4)


def test_two_sides_give_the_least_ovality() -> None:
    joined = join(all_round()[:2])
    assert joined.form is not None
    assert joined.form.ovality_at_least
    assert joined.form.ovality_major_diameter is not None
    assert 0.006 < joined.form.ovality_major_diameter.value < 0.0101
    assert "few_sides" in codes(joined)


def test_plain_form_tells_of_every_picture() -> None:
    document = plain(join(all_round()).to_dict())
    assert json.loads(json.dumps(document, allow_nan=False)) == document
    assert document["schema"] == "flankwise/measurement/1"
    assert [p["path"] for p in document["pictures"]] == ["0.png", "1.png", "2.png", "3.png"]
    assert document["pictures"][1]["turned"]["stated"] is False
    assert set(document["agreement"]) == {"chi_squared", "degrees_of_freedom", "probability", "scatter"}
    assert set(document["form"]["ovality_pitch_diameter"]) == {"value", "u95", "unit"}
    assert "pictures" not in all_round()[0].to_dict()


def test_one_picture_is_given_back_as_it_is() -> None:
    assert join(all_round()[:1]) is all_round()[0]


def test_other_parts_and_the_same_picture_are_refused() -> None:
    first = all_round()[0]
    with refused(RefusalError, match="the same picture"):
        join([first, first])
    # the next coarser pitch, and a pitch diameter 60 um larger
    coarser = shot(20, replace(ACROSS, thread=replace(UNIFIED, pitch_mm=0.640)))
    thicker = shot(21, replace(ACROSS, thread=replace(UNIFIED, pitch_diameter_mm=2.48)))
    for other, word in ((coarser, "pitch is"), (thicker, "pitch diameter")):
        with refused(RefusalError, match=word) as caught:
            join([same_side()[0], other])
        assert caught.value.reasons[0].code == "not_the_same_part"
    with pytest.raises(ValueError, match="as many turns"):
        join(all_round(), [0.0])
