"""What of the outline is set aside: where it lies, what it is taken for, when it is warned of, when refused."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from math import hypot

import numpy as np
import pytest

from flankwise.reasons import message
from sample_images.condition import Blemishes
from sample_images.scene import Light, Scene
from tests.vision.scenes import ACROSS, photograph
from tests.vision.solutions import NOISE, TRUE, edge_points, places, solution
from threads.shared.refusal import RefusalError
from vision.fit.rejected import LIES_ON, MISSING, check_what_is_left, dirt_doubt, pull_of_dirt
from vision.model.shadow import INDEX
from vision.result.measure import measure_picture
from vision.result.measurement import Measurement
from vision.shared.plane import FixedScale

KNOWN = FixedScale(6.0, relative_u=1e-6, edge_offset_u_px=1e-4, light_cone_deg=0.0)


@cache
def measured(scene: Scene) -> Measurement:
    return measure_picture(photograph(scene)[0], KNOWN)


@pytest.mark.parametrize(
    ("blemishes", "reason", "sign"), [(Blemishes(burrs=4), LIES_ON, 1), (Blemishes(nicks=4), MISSING, -1)]
)
def test_the_map_says_where_and_what(blemishes: Blemishes, reason: str, sign: int) -> None:
    m = measured(replace(ACROSS, blemishes=blemishes))
    clean = measured(ACROSS)
    runs = [run for run in m.rejected if run.reason == reason]
    assert 1 <= len(runs) <= 8
    assert len(clean.rejected) == 0
    for run in runs:
        assert sign * run.height_px > 0.2
        assert run.length_px < 45
        assert hypot(run.end_px[0] - run.begin_px[0], run.end_px[1] - run.begin_px[1]) < 45
        assert run.side in ("upper", "lower")
        # inside the picture, the upper edge above the lower one
        assert 0 < run.begin_px[0] < 900
        assert (run.begin_px[1] < 350) == (run.side == "upper")
    plain = m.to_dict()["quality"]["rejected"]
    assert len(plain) == len(m.rejected)
    assert set(plain[0]) == {"side", "reason", "from_px", "to_px", "length_px", "height_px"}


def test_the_map_covers_what_the_fraction_says() -> None:
    m = measured(replace(ACROSS, blemishes=Blemishes(spoiled=0.10)))
    length = sum(run.length_px for run in m.rejected)
    outline = 2 * (m.solution.end - m.solution.start) / 6e-3 * 1.45  # a thread's outline is so much longer
    assert length / outline == pytest.approx(m.quality.rejected_edge_fraction, abs=0.03)
    assert abs(m.thread.pitch_diameter.value - 2.42) < min(0.1 * 6e-3, m.thread.pitch_diameter.u95)


def test_a_part_that_is_nearly_all_dirt_is_refused() -> None:
    with pytest.raises(RefusalError) as caught:
        measured(replace(ACROSS, blemishes=Blemishes(spoiled=0.45)))
    assert caught.value.reasons[0].code in ("too_dirty", "not_a_thread")
    assert "clean the part" in message(caught.value).lower()


def test_shining_flanks_are_warned_of_and_measured_by_the_others() -> None:
    m = measured(replace(ACROSS, blemishes=Blemishes(glare_flanks=12, glare=0.6)))
    assert "glare" in {w.code for w in m.quality.warnings}
    assert any(run.reason == "shines inside the edge" for run in m.rejected)
    assert abs(m.thread.pitch_diameter.value - 2.42) < min(0.15 * 6e-3, m.thread.pitch_diameter.u95)


@pytest.mark.slow
@pytest.mark.parametrize("glare", [0.35, 0.7])
def test_a_part_that_shines_all_over_is_refused(glare: float) -> None:
    with pytest.raises(RefusalError) as caught:
        measured(replace(ACROSS, blemishes=Blemishes(glare_flanks=90, glare=glare)))
    assert caught.value.reasons[0].code in ("glare", "not_a_thread")


def test_edges_before_burnt_light_are_left_out() -> None:
    """The right-hand end of the field is at full white, the rest is not."""
    light = Light(exposure=0.80, gradient_x=0.36)
    m = measured(replace(ACROSS, light=light, camera=replace(ACROSS.camera, noise=0.01)))
    burnt = [run for run in m.rejected if run.reason == "burnt light"]
    assert burnt
    assert min(run.begin_px[0] for run in burnt) > 550
    assert "burnt_edges" in {w.code for w in m.quality.warnings}
    assert abs(m.thread.pitch_diameter.value - 2.42) < min(0.1 * 6e-3, m.thread.pitch_diameter.u95)


def test_a_pad_that_is_burnt_out_is_refused() -> None:
    with pytest.raises(RefusalError) as caught:
        measured(replace(ACROSS, light=Light(exposure=1.1)))
    assert caught.value.reasons[0].code == "saturated"


@pytest.mark.slow
def test_a_part_partly_out_of_focus_is_measured_and_told() -> None:
    m = measured(replace(ACROSS, defocus_px_per_mm=1.0, focus_at_mm=21.0))
    assert "uneven_focus" in {w.code for w in m.quality.warnings}
    assert "uneven_focus" not in {w.code for w in measured(ACROSS).quality.warnings}
    # what softens some flanks more than others may be light, of which half is taken off: a quarter of a pixel here
    assert abs(m.thread.pitch_diameter.value - 2.42) < min(0.25 * 6e-3, m.thread.pitch_diameter.u95)
    assert m.thread.pitch.value == pytest.approx(0.635, rel=2e-4)


def spoiled(outward: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    u, side = places()
    noise = np.random.default_rng(5).normal(0, NOISE, u.size)
    return u, side, noise + outward


def test_one_kind_of_flank_that_is_nearly_gone_is_refused() -> None:
    u, side, noise = spoiled(np.zeros(3000))
    pitch = TRUE[INDEX["pitch"]]
    place = ((u - TRUE[INDEX["phase"]]) / pitch + 0.5) % 1 - 0.5
    here = (side > 0) & (place > 0.12) & (place < 0.40)
    rough = np.random.default_rng(1).uniform(-0.12, 0.12, u.size)
    with pytest.raises(RefusalError) as caught:
        check_what_is_left(solution(edge_points(TRUE, u, side, noise + here * rough)), 0.0)
    assert caught.value.reasons[0].code == "too_dirty"
    some = here & (u < 0.7)
    assert [r.code for r in check_what_is_left(solution(edge_points(TRUE, u, side, noise + some * rough)), 0.0)] == [
        "flank_mostly_hidden"
    ]
    assert check_what_is_left(solution(edge_points(TRUE, u, side, noise)), 0.0) == ()


def test_the_pull_of_what_leans_next_to_dirt_is_that_of_a_fit_without_it() -> None:
    u, side, noise = spoiled(np.zeros(3000))
    dirty = np.arange(u.size) % 300 < 12
    skirt = np.convolve(dirty, np.ones(11), mode="same") > 0.5
    found = solution(edge_points(TRUE, u, side, noise + np.where(dirty, 0.05, np.where(skirt, 2.5 * NOISE, 0.0))))
    clean = solution(edge_points(TRUE, u, side, noise))
    change = pull_of_dirt(found)
    j = INDEX["pitch_radius"]
    assert found.fit.x[j] - clean.fit.x[j] > 0.05 * NOISE
    assert abs(found.fit.x[j] + change[j] - clean.fit.x[j]) < 0.01 * NOISE
    assert not pull_of_dirt(clean).any()
    lever = np.zeros(TRUE.size)
    lever[j] = 2.0
    assert [r.code for r in dirt_doubt(found, lever, abs(change[j]))] == ["dirt_may_bias"]
    assert dirt_doubt(found, lever, 100 * abs(change[j])) == ()
