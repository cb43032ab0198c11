"""How common the series are: the table, the workshop's own weights, the register, and what they decide."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.threads.measured_factory import measured_thread
from threads.identify.commonness import (
    CommonnessError,
    commonness_of,
    forget_weight,
    own_file,
    set_weight,
    shares,
)
from threads.identify.identification import identify
from threads.rules.series_tables import builtin_series
from threads.rules.table import rows
from threads.standards.series import UnknownSeriesError, series_names


@pytest.fixture(autouse=True)
def data_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("FLANKWISE_DATA", str(tmp_path / "data"))
    return tmp_path / "data"


def test_every_built_in_series_has_a_weight_and_a_reason() -> None:
    table = {row["series"]: row for row in rows("commonness.csv")}
    assert set(table) == set(builtin_series())
    assert all(row["reason"] and float(row["on_bench"]) > 0 < float(row["in_use"]) <= 1 for row in table.values())


def test_the_order_is_the_one_that_the_trade_expects() -> None:
    def weight(*names: str) -> list[float]:
        return [commonness_of(name).on_bench for name in names]

    # common practice, no source: Unified and American National, ISO metric, then BA and Whitworth, older metric, rare
    assert min(weight("UNC", "UNF", "NC", "NF", "M", "M fine")) > max(weight("BA", "BSW", "BSF"))
    assert min(weight("BA", "BSW", "BSF")) >= max(weight("DIN", "SI", "VSM"))
    assert min(weight("DIN", "SI")) > max(weight("SF", "Thury", "Lowenherz", "ASME special"))


def test_shares_sum_to_one_and_the_register_sharpens_them() -> None:
    names = series_names()
    plain = shares(names, known_origin=False)
    sharpened = shares(names, known_origin=False, on_file={"BA": 300, "UNC": 10})
    assert sum(plain.values()) == pytest.approx(1.0)
    assert sum(sharpened.values()) == pytest.approx(1.0)
    # 300 of 310 parts, with the table counting as 100 screws
    assert sharpened["BA"] == pytest.approx((100 * plain["BA"] + 300) / 410)
    assert shares(names, known_origin=True, on_file={"BA": 300}) == shares(names, known_origin=True)


def test_a_workshop_sets_a_weight_and_takes_it_back() -> None:
    before = commonness_of("thury")
    kept = set_weight("Thury", 200.0, "watches are our trade")
    assert commonness_of("Thury") == kept
    assert (kept.on_bench, kept.own, kept.in_use) == (200.0, True, before.in_use)
    assert forget_weight("Thury")
    assert commonness_of("Thury") == before
    assert not forget_weight("Thury")


@pytest.mark.parametrize("weight", [0.0, -1.0, float("nan"), 1e9])
def test_an_impossible_weight_is_refused(weight: float) -> None:
    with pytest.raises(CommonnessError):
        set_weight("BA", weight, "")
    assert not own_file().exists()


def test_unknown_series_and_damaged_files_are_said_in_a_line() -> None:
    with pytest.raises(UnknownSeriesError):
        set_weight("nothing", 1.0, "")
    own_file().parent.mkdir(parents=True)
    for damaged in ("series,on_bench\nBA,x\n", "series,on_bench,in_use,reason\nBA,-3,1,why\n", "\x00"):
        own_file().write_text(damaged, encoding="utf-8")
        if damaged != "\x00":
            with pytest.raises(CommonnessError, match=r"damaged|not possible"):
                commonness_of("BA")


def test_a_common_series_comes_before_the_rare_one_of_1907() -> None:
    # 4-40 in the middle of what the tables of 1907, 1924 and 1949 hold alike
    found = identify(measured_thread(2.80, 2.412, 0.635))
    assert found.status == "identified"
    assert found.threads[0].name == "4-40"
    assert set(found.threads[0].series[:2]) == {"NC", "UNC"}
    assert found.candidates[0].commonness >= 60
    order = [one.limits.series for one in found.threads[0].members]
    assert order == sorted(order, key=order.index)  # every series in one piece
    alike = identify(measured_thread(2.80, 2.412, 0.635), series_alike=True)
    assert alike.candidates[0].limits.series == "ASME special"


def test_a_minor_diameter_that_is_too_shallow_speaks_against_a_candidate() -> None:
    # 4-40 UNC-2A: minor diameter at most 2.0025 mm for a pitch diameter of 2.40 (ASME B1.1: UNR root by basic form)
    deep = identify(measured_thread(2.80, 2.405, 0.635, minor=1.99))
    shallow = identify(measured_thread(2.80, 2.405, 0.635, minor=2.16))
    unified = [c for c in shallow.candidates if c.limits.designation == "4-40 UNC-2A"]
    assert deep.groups[0].holds
    assert not unified[0].holds
    assert unified[0].verdict("minor_diameter") == "above"
    assert shallow.no_standard_probability > deep.no_standard_probability
