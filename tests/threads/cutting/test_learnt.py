"""What is learned of a die against closed forms, against plain least squares, and with the errors of a bench."""

from __future__ import annotations

import math

import numpy as np
import pytest

from threads.cutting.learnt import SCATTER_MM, Cut, LearntDie, Observed, learn
from threads.cutting.setting import MARK, TURN, Setting
from threads.identify.screw_evidence import CommonErrors
from threads.shared.quantity import Quantity

OWN = 0.0005
BENCH = CommonErrors("bench", 4e-4, 0.004)


def observed(value: float, own: float = OWN, common: CommonErrors | None = None) -> Observed:
    shared = 0.0 if common is None else math.hypot(common.scale * value, common.offset)
    return Observed(Quantity(value, math.hypot(own, shared), "mm"), common)


def die(*cuts: tuple[float, float | None], unit: str = TURN, common: CommonErrors | None = None) -> LearntDie:
    made = [Cut(observed(e, common=common), None if s is None else Setting(s, unit)) for e, s in cuts]
    return learn({"die": made})["die"]


def test_one_cut_foretells_the_next_within_the_usual_scatter_of_two() -> None:
    found = die((2.414, None))
    assert found.next_cut().mean == pytest.approx(2.414, abs=1e-6)
    # both cuts scatter: sqrt(2) times some 5 um, and more, as nobody knows whether this die is a usual one
    assert math.sqrt(2) * SCATTER_MM < found.next_cut().u < 2 * SCATTER_MM


def test_many_cuts_agree_with_least_squares_and_their_own_scatter() -> None:
    rng = np.random.default_rng(5)
    settings = rng.uniform(0.0, 0.5, 60)
    cuts = 2.40 + 0.21 * settings + rng.normal(0.0, 0.003, 60)
    found = die(*zip(cuts, settings, strict=True))  # type: ignore[arg-type]
    slope, level = np.polyfit(settings, cuts, 1)
    assert found.per_setting.mean == pytest.approx(slope, abs=2.5 * found.per_setting.u)
    assert found.next_cut(0.25).mean == pytest.approx(level + slope * 0.25, abs=0.001)
    assert found.scatter.mean == pytest.approx(np.std(cuts - level - slope * settings, ddof=2), rel=0.15)
    assert found.next_cut(0.25).u == pytest.approx(0.003, rel=0.2)


@pytest.mark.parametrize("sign", [1, -1])
@pytest.mark.parametrize(("unit", "scale"), [(TURN, 1.0), (MARK, 40.0)])
def test_the_way_of_a_turn_is_found_whichever_way_it_is_counted(sign: int, unit: str, scale: float) -> None:
    found = die(*((2.38 + 0.2 * turn, sign * scale * turn) for turn in (0.0, 0.15, 0.3, 0.2)), unit=unit)
    assert found.per_setting.mean == pytest.approx(sign * 0.2 / scale, rel=0.1)
    assert abs(found.per_setting.mean) > 2 * found.per_setting.u
    assert found.next_cut(sign * scale * 0.1).mean == pytest.approx(2.40, abs=0.003)


def test_a_difference_on_one_bench_leaves_out_what_the_bench_does() -> None:
    found = die(*((2.41, None) for _ in range(8)), common=BENCH)
    same, other = observed(2.40, common=BENCH), observed(2.40, common=CommonErrors("another", 4e-4, 0.004))
    against_same, against_other = found.next_cut(None, same), found.next_cut(None, other)
    assert against_same.mean == pytest.approx(0.01, abs=1e-4)
    of_bench = math.hypot(4e-4 * 2.4, 0.004)
    assert found.next_cut().u ** 2 - against_same.u**2 == pytest.approx(of_bench**2, rel=0.1)
    assert against_other.u**2 - against_same.u**2 == pytest.approx(2 * of_bench**2, rel=0.1)


def test_what_the_surface_does_to_all_cuts_of_a_die_is_not_averaged_away() -> None:
    def die_of(surface: float) -> LearntDie:
        u = math.hypot(OWN, surface)
        cuts = [Cut(Observed(Quantity(2.41, u, "mm"), CommonErrors("bench"), surface)) for _ in range(40)]
        return learn({"die": cuts})["die"]

    original = Observed(Quantity(2.40, math.hypot(OWN, 0.004), "mm"), CommonErrors("bench"), 0.004)
    bright, even = (die_of(surface).next_cut(None, original).u for surface in (0.004, 0.0))
    assert bright**2 - even**2 == pytest.approx(0.004**2, rel=0.1)


def test_wear_shows_in_many_cuts_only() -> None:
    rng = np.random.default_rng(2)
    worn = [2.40 + 0.0012 * k + float(rng.normal(0, 0.002)) for k in range(40)]
    assert die(*((e, None) for e in worn)).wear.mean == pytest.approx(0.0012, rel=0.2)
    few = die(*((e, None) for e in worn[:3])).wear
    assert abs(few.mean) < 2 * few.u


def test_dies_teach_each_other_how_far_cuts_scatter() -> None:
    rng = np.random.default_rng(3)
    rough = {k: [Cut(observed(2.4 + float(rng.normal(0, 0.012)))) for _ in range(6)] for k in range(8)}
    fine = {k: [Cut(observed(2.4 + float(rng.normal(0, 0.001)))) for _ in range(6)] for k in range(8)}
    new = [Cut(observed(2.42))]
    among = [learn({**others, "new": new})["new"].next_cut().u for others in (rough, fine)]
    assert among[0] > 2 * among[1]
    assert learn({"new": new, "unused": []}).keys() == {"new"}


def test_a_probability_between_limits_is_that_of_draws() -> None:
    found = die((2.41, 0.0), (2.43, 0.1)).next_cut(0.05)
    rng = np.random.default_rng(1)
    which = rng.choice(found.shares.size, 200_000, p=found.shares)
    drawn = rng.normal(found.means[which], found.sds[which])
    assert found.between(2.415, 2.43) == pytest.approx(np.mean((drawn > 2.415) & (drawn < 2.43)), abs=0.005)
    assert (found.mean, found.u) == (pytest.approx(drawn.mean(), abs=1e-4), pytest.approx(drawn.std(), rel=0.02))
