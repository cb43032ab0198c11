"""American National limits, which are from memory: tested for consistency with themselves and with what is known."""

import pytest

from tests.each import each
from threads.rules.american_national import CLASSES, special_tolerance, zone
from threads.rules.rounding import round_to
from threads.rules.table import FROM_MEMORY, rows
from threads.standards.designation import parse
from threads.standards.limits import limits_of
from threads.standards.series import entries

TOLERANCES = {
    (float(row["threads_per_inch"]), row["class"]): float(row["pitch_diameter_tolerance_in"])
    for row in rows("american_national_tolerances.csv")
}
PITCHES = sorted({threads for threads, _ in TOLERANCES})
all_sizes = each("entry", entries("NC") + entries("NF"))
UNIT = 0.0001
SINCE = {(entry.series, entry.size) for entry in entries("UNC") + entries("UNF")}
sizes_of_both = each(
    "entry",
    [entry for entry in entries("NC") + entries("NF") if (f"U{entry.series}", entry.size) in SINCE],
)


def test_every_pitch_of_the_series_has_its_three_classes():
    assert {(entry.threads_per_inch, name) for entry in entries("NC") + entries("NF") for name in CLASSES} <= set(
        TOLERANCES
    )


@each("threads", PITCHES)
def test_tolerances_narrow_with_the_class(threads):
    loose, free, medium = (TOLERANCES[threads, name] for name in CLASSES)
    assert 0.68 <= free / loose <= 0.74
    assert 0.67 <= medium / free <= 0.77


@pytest.mark.parametrize("thread_class", CLASSES)
def test_tolerances_grow_with_the_pitch(thread_class):
    by_pitch = [TOLERANCES[threads, thread_class] for threads in reversed(PITCHES)]
    assert by_pitch[::-1] == sorted(by_pitch, reverse=True)


@all_sizes
@pytest.mark.parametrize("thread_class", CLASSES)
def test_screw_and_nut_mirror_each_other(entry, thread_class):
    screw = zone(entry.major_in, entry.threads_per_inch, thread_class, internal=False)
    nut = zone(entry.major_in, entry.threads_per_inch, thread_class, internal=True)
    below = screw.pitch_diameter[1] - screw.pitch_diameter[0]
    above = nut.pitch_diameter[1] - nut.pitch_diameter[0]
    assert below == pytest.approx(above, abs=1e-9)
    assert nut.pitch_diameter[0] == nut.basic_pitch_diameter
    assert screw.pitch_diameter[1] == pytest.approx(screw.basic_pitch_diameter - screw.allowance, abs=1e-9)
    assert (screw.allowance > 0) == (thread_class == "1")


@sizes_of_both
def test_the_root_is_deeper_than_unified_allows_for(entry):
    # Basic root flat p/8, worn tool down to D - 1.2269 p; Unified stops at D - 1.0825 p.
    old = limits_of(parse(f"{entry.size} {entry.series}-2"))
    new = limits_of(parse(f"{entry.size} U{entry.series}-2A"))
    assert old.minor.high < new.minor.high
    assert old.minor.low < old.minor.high


@sizes_of_both
def test_class_3_keeps_close_to_unified_3a(entry):
    # Both have no allowance; Unified 3A, which followed it, is as wide or up to a quarter wider; where the pitch is
    # coarser than 10 threads per inch it may be narrower by a twelfth.
    old = limits_of(parse(f"{entry.size} {entry.series}-3")).published["pitch_diameter"]
    new = limits_of(parse(f"{entry.size} U{entry.series}-3A")).published["pitch_diameter"]
    assert old["max"] == new["max"]
    old_width, new_width = old["max"] - old["min"], new["max"] - new["min"]
    most = 1.08 if entry.threads_per_inch < 10 else 1.0
    assert 0.8 * new_width <= old_width <= most * new_width + 1.01 * UNIT


@pytest.mark.parametrize(
    ("size", "major_min", "minor_max", "minor_min_of_nut"),
    # Rows that are remembered as printed in NBS Handbook H28 (from memory, unverified), class 2, inches.
    [("1/4-20 NC", 0.2428, 0.1887, 0.1959), ("10-24 NC", 0.1834, 0.1389, 0.1449)],
)
def test_the_rules_reproduce_the_remembered_rows(size, major_min, minor_max, minor_min_of_nut):
    screw = limits_of(parse(f"{size}-2")).published
    nut = limits_of(parse(f"{size}-2", internal=True)).published
    assert screw["major_diameter"]["min"] == major_min
    assert screw["minor_diameter"]["max"] == minor_max
    assert nut["minor_diameter"]["min"] == minor_min_of_nut


@pytest.mark.parametrize(
    ("designation", "unlike"),
    # The formula for special threads, and by how much the tolerances by threads per inch are known to differ from it.
    [("1/4-20 NC-3", 0), ("1/4-20 NC-2", 1), ("4-36 NS-2", 1), ("4-36 NS-3", 1), ("10-24 NC-3", 1), ("10-24 NC-2", 2)],
)
def test_the_formula_for_special_threads_comes_near_the_tolerances_by_threads_per_inch(designation, unlike):
    found = parse(designation)
    entry = found.entry
    by_formula = special_tolerance(entry.major_in, 1 / entry.threads_per_inch, found.thread_class)
    by_threads = TOLERANCES[entry.threads_per_inch, found.thread_class]
    assert abs(round_to(by_formula, 4) - by_threads) <= (unlike + 0.01) * UNIT


def test_a_pitch_that_nc_and_nf_do_not_have_takes_the_formula():
    # 7-30: D = 0.151, p = 1/30: 0.002 sqrt(D) + 0.002 D + 0.005 sqrt(p) = 0.00199; E = 0.1510 - 0.02165
    screw = limits_of(parse("7-30 NS-3")).published["pitch_diameter"]
    assert screw == {"min": 0.1273, "max": 0.1293}
    assert limits_of(parse("7-30 NS-3")).source.count("the formula for special threads") == 1
    assert parse("7-30 NS").entry.classes == ("2", "3")
    with pytest.raises(KeyError):
        special_tolerance(0.151, 1 / 30, "1")


@pytest.mark.parametrize(
    ("written", "series"), [("1/2-12 N-2", "12N"), ("13/16-16n3", "16N"), ("1-1/8 - 8 N-2", "8N"), ("1.25-8N", "8N")]
)
def test_the_pitch_says_which_series_of_one_pitch_is_meant(written, series):
    found = parse(written)
    assert found.series == series
    assert " N-" in found.text


@all_sizes
def test_every_limit_says_that_it_is_from_memory(entry):
    for internal in (False, True):
        limits = limits_of(parse(f"{entry.size} {entry.series}-2", internal=internal))
        assert limits.unverified
        assert limits.source.startswith(FROM_MEMORY)


# The tolerances of these were read back from the same pages: this says that they come out as they were read.
# A tap maker's catalogue, 2019, pp. 530-531, "American National class of thread": basic pitch diameter, its maximum for
# class 2 and class 3. The catalogue prints .8890 for 3-56 class 3, a misprint of .0889.
TAP_CATALOGUE_2019 = """
0-80 NF .0519 .0536 .0532
1-64 NC .0629 .0648 .0643
1-72 NF .0640 .0658 .0653
2-56 NC .0744 .0764 .0759
2-64 NF .0759 .0778 .0773
3-48 NC .0855 .0877 .0871
3-56 NF .0874 .0894 .0889
""".strip().splitlines()

# Another tap maker's catalogue, 2017: the same for 1/4-20.
TAP_CATALOGUE_2017 = ["1/4-20 NC .2175 .2211 .2201"]


@pytest.mark.parametrize("row", TAP_CATALOGUE_2019 + TAP_CATALOGUE_2017)
def test_greatest_pitch_diameter_of_the_nut_is_as_printed(row):
    size, series, basic, class_2, class_3 = row.split()
    for thread_class, greatest in (("2", class_2), ("3", class_3)):
        limits = limits_of(parse(f"{size} {series}-{thread_class}", internal=True))
        assert limits.published["pitch_diameter"] == {"min": float(basic), "max": float(greatest)}
        assert "tap maker's catalogue" in limits.source
