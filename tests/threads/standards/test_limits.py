"""Limits of size: what must hold for every designation, and the JSON form of the contract."""

import json

import pytest

from tests.each import each
from threads.rules.table import FROM_MEMORY, ONE_LOOSE_SOURCE
from threads.standards.designation import designation_of, parse
from threads.standards.limits import candidates, limits_of
from threads.standards.series import UnknownSeriesError, entries, series_names

EXTERNAL = candidates()
INTERNAL = tuple(
    limits_of(designation_of(entry, name, internal=True)) for entry in entries() for name in entry.internal_classes
)
GROUPS = {
    f"{name} {'nuts' if internal else 'screws'}": [
        limits for limits in EXTERNAL + INTERNAL if limits.series == name and limits.internal == internal
    ]
    for name in series_names()
    for internal in (False, True)
}
every = each("group", GROUPS.values())


def bands(limits):
    return limits.major, limits.pitch_diameter, limits.minor


@every
def test_limits_are_in_order(group):
    for limits in group:
        for band in bands(limits):
            assert band.low is not None or band.high is not None
            if band.low is not None and band.high is not None:
                assert 0 < band.low < band.high
        assert limits.basic_major > limits.basic_pitch_diameter > limits.basic_minor > 0
        sizes = [band.high or band.low for band in bands(limits)]
        assert sizes == sorted(sizes, reverse=True)


@every
def test_screws_keep_below_basic_and_nuts_above(group):
    for limits in group:
        rounding = 0.00011 * 25.4  # both ends of a limit are rounded to 0.0001 in
        if limits.internal:
            assert limits.pitch_diameter.low >= limits.basic_pitch_diameter
            assert limits.major.low >= limits.basic_major - rounding
            if limits.form != "American National":  # whose nut has a shallower thread than its basic form
                assert limits.minor.low >= limits.basic_minor - 0.0005 * 25.4  # 2B is printed to 0.001 in
        else:
            assert limits.pitch_diameter.high == pytest.approx(
                limits.basic_pitch_diameter - limits.allowance, abs=rounding
            )
            assert limits.major.high == pytest.approx(limits.basic_major - limits.allowance, abs=rounding)


@every
def test_every_limit_has_a_source_and_says_when_it_is_from_memory(group):
    for limits in group:
        assert limits.source
        assert limits.unverified == (FROM_MEMORY in limits.source)
        assert limits.unverified == limits.source.startswith((FROM_MEMORY, ONE_LOOSE_SOURCE))
        if limits.series in ("NC", "NF", "NEF", "NS", "8N", "12N", "16N", "ASME", "ASME special", "SF", "DIN"):
            assert limits.unverified
        if limits.series in ("UNC", "UNF", "UNEF", "UNS", "UN", "UNM", "BA", "BSW", "BSF", "Lowenherz", "Thury", "VSM"):
            assert not limits.unverified


@every
def test_json_form_has_the_keys_of_the_contract(group):
    for limits in group:
        data = json.loads(json.dumps(limits.to_dict(), allow_nan=False))
        assert list(data) == [
            "schema", "designation", "series", "size", "class", "internal", "unit", "pitch", "basic", "allowance",
            "major_diameter", "pitch_diameter", "minor_diameter", "published", "tap_drill", "standard", "source",
        ]  # fmt: skip
        assert data["schema"] == "flankwise/limits/1"
        assert data["unit"] == "mm"
        assert data["published"]["unit"] == ("mm" if "pitch" in data["published"] else "in")
        scale = 1.0 if data["published"]["unit"] == "mm" else 25.4
        for name in ("major_diameter", "pitch_diameter", "minor_diameter"):
            assert list(data[name]) == ["min", "max"]
            for end in ("min", "max"):
                printed = data["published"][name][end]
                assert data[name][end] == (None if printed is None else printed * scale)
            assert data["basic"][name] == data["published"]["basic"][name] * scale
        assert data["allowance"] == data["published"]["allowance"] * scale


@every
def test_published_values_have_the_decimals_that_the_standard_prints(group):
    for limits in group:
        places = 4 if limits.published["unit"] == "in" else 3
        for name in ("major_diameter", "pitch_diameter", "minor_diameter"):
            for value in limits.published[name].values():
                assert value is None or value == round(value, places)


@every
def test_tap_drill_lies_in_the_middle_of_known_minor_limits(group):
    for limits in group:
        if limits.internal and limits.form != "American National":
            assert limits.tap_drill == pytest.approx((limits.minor.low + limits.minor.high) / 2)
        else:
            assert limits.tap_drill is None


def test_candidates_are_external_and_complete():
    assert not any(limits.internal for limits in EXTERNAL)
    assert {limits.series for limits in EXTERNAL} == set(series_names())
    assert len(EXTERNAL) == sum(len(entry.classes) for entry in entries())
    assert candidates(["NC", "M fine"]) == candidates(["NC"]) + candidates(["m fine"])
    assert candidates() is EXTERNAL
    with pytest.raises(UnknownSeriesError):
        candidates(["NCX"])


def test_what_a_standard_does_not_set_is_left_out():
    screw, nut = limits_of(parse("4-40 UNC-2A")), limits_of(parse("4-40 UNC-2B"))
    assert screw.minor.low is None
    assert nut.major.high is None
    metric_screw, metric_nut = limits_of(parse("M3-6g")), limits_of(parse("M3-6H"))
    assert metric_screw.minor.low is None
    assert metric_nut.major.high is None
    assert limits_of(parse("4-40 NC-2", internal=True)).minor.high is None


def test_a_class_beyond_the_table_says_so():
    assert "does not list class 1A" in limits_of(parse("4-40 UNC-1A")).source
    assert "does not list" not in limits_of(parse("1/4-20 UNC-1A")).source


def test_classes_of_unified_keep_their_ratios():
    # 1A : 2A : 3A = 1.5 : 1 : 0.75, each rounded to 0.0001 in.
    widths = {
        name: limits_of(parse(f"1/4-20 UNC-{name}")).pitch_diameter for name in ("1A", "2A", "3A", "1B", "2B", "3B")
    }
    inch = {name: (band.high - band.low) / 25.4 for name, band in widths.items()}
    for name, factor in (("1A", 1.5), ("3A", 0.75), ("1B", 1.95), ("2B", 1.3), ("3B", 0.975)):
        assert inch[name] == pytest.approx(factor * inch["2A"], abs=0.00012)


def test_the_allowance_that_tells_an_original_from_a_replacement():
    # 4-40: class 2 of American National has no allowance, 2A has 0.0008 in.
    old, new = limits_of(parse("4-40 NC-2")), limits_of(parse("4-40 UNC-2A"))
    assert old.allowance == 0
    assert old.pitch_diameter.high - new.pitch_diameter.high == pytest.approx(0.0008 * 25.4)


def test_the_rounded_root_goes_deeper():
    flat, rounded = limits_of(parse("4-40 UNC-2A")), limits_of(parse("4-40 UNRC-2A"))
    assert (flat.form, rounded.form) == ("UN", "UNR")
    assert rounded.minor.high < flat.minor.high
    assert (flat.major, flat.pitch_diameter) == (rounded.major, rounded.pitch_diameter)
