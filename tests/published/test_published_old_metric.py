"""Metric threads before ISO, and Lowenherz threads, against printed tables, mm. Every table names its kind."""

import pytest

from tests.each import each
from threads.rules.rounding import round_to
from threads.standards.designation import parse
from threads.standards.limits import limits_of
from threads.standards.series import entries

# Machinery's Handbook, 27th ed., p. 1824, maximum metal dimensions of French (NF E03-104), German (DIN 13) and Swiss
# (VSM 12003) metric threads: size, pitch; pitch diameter; minor diameter of the bolt French, German, Swiss; major
# diameter of the nut French, Swiss; minor diameter of the nut of all three.
NATIONAL = """
6 1 5.350 4.59 4.700 4.60 6.108 6.100 4.700
7 1 6.350 5.59 5.700 5.60 7.108 7.100 5.700
8 1.25 7.188 6.24 6.376 6.25 8.135 8.124 6.376
9 1.25 8.188 7.24 7.376 7.25 9.135 9.124 7.376
10 1.5 9.026 7.89 8.052 7.90 10.162 10.150 8.052
11 1.5 10.026 8.89 9.052 8.90 11.162 11.150 9.052
12 1.75 10.863 9.54 9.726 9.55 12.189 12.174 9.726
14 2 12.701 11.19 11.402 11.20 14.216 14.200 11.402
16 2 14.701 13.19 13.402 13.20 16.216 16.200 13.402
18 2.5 16.376 14.48 14.752 14.50 18.270 18.250 14.752
20 2.5 18.376 16.48 16.752 16.50 20.270 20.250 16.752
22 2.5 20.376 18.48 18.752 18.50 22.270 22.250 18.752
24 3 22.051 19.78 20.102 19.80 24.324 24.300 20.102
""".strip().splitlines()
NATIONAL_PRINTED_OTHERWISE = {
    (size, "Swiss nut"): "twice 0.05 P cut to three decimals, where the rest of the table rounds: one unit less"
    for size in ("8", "9", "12")
}


@each("row", NATIONAL)
def test_national_forms_have_the_printed_maximum_metal_sizes(row):
    size, pitch, pitch_diameter, french, german, swiss, french_nut, swiss_nut, nut_minor = row.split()
    screws = {name: limits_of(parse(f"{name} {size}x{pitch}")) for name in ("SI", "DIN", "VSM")}
    nuts = {name: limits_of(parse(f"{name} {size}x{pitch} nut")) for name in screws}
    for screw, nut in zip(screws.values(), nuts.values(), strict=True):
        assert screw.pitch_diameter.high == nut.pitch_diameter.low == float(pitch_diameter)
        assert nut.minor.low == float(nut_minor)
        assert screw.major.high == float(size)
    # French and Swiss bolts are printed to two decimals.
    assert round_to(screws["SI"].minor.high, 2) == float(french)
    assert screws["DIN"].minor.high == float(german)
    assert round_to(screws["VSM"].minor.high, 2) == float(swiss)
    assert nuts["SI"].major.low == float(french_nut)
    assert nuts["DIN"].major.low == float(size)
    excess = 0.001 if (size, "Swiss nut") in NATIONAL_PRINTED_OTHERWISE else 0.0
    assert nuts["VSM"].major.low == pytest.approx(float(swiss_nut) + excess, abs=1e-9)


# Machinery's Handbook, 31st ed., p. 2119: diameter, mm, and its own column "approximate number of threads per inch",
# which guards the pitches against slips.
LOWENHERZ = """
1 101.6
1.2 101.6
1.4 84.7
1.7 72.6
2 63.5
2.3 63.5
2.6 56.4
3 50.8
3.5 42.3
4 36.3
4.5 33.9
5 31.7
5.5 28.2
6 25.4
7 23.1
8 21.1
9 19.5
10 18.1
12 15.9
14 14.1
16 12.7
18 11.5
20 10.6
22 9.1
24 9.1
26 7.9
28 7.9
30 7.1
32 7.1
36 6.4
40 5.7
""".strip().splitlines()
LOWENHERZ_PRINTED_OTHERWISE = {
    "8": "21.1 for 25.4 / 1.20 = 21.17: cut, where 21.2 would be the nearest",
    "40": "5.7 for 25.4 / 4.40 = 5.77: cut, where 5.8 would be the nearest",
}


def test_lowenherz_pitches_agree_with_the_threads_per_inch_beside_them():
    assert [row.split()[0] for row in LOWENHERZ] == [entry.size for entry in entries("Lowenherz")]
    wrong = set()
    for row in LOWENHERZ:
        size, threads = row.split()
        limits = limits_of(parse(f"Lowenherz {size}"))
        if abs(25.4 / limits.pitch - float(threads)) > 0.0501:  # a five at the end is cut: 31.75 is printed 31.7
            wrong.add(size)
        # Depth 0.75 P: effective and core diameter follow.
        assert limits.basic_pitch_diameter == pytest.approx(limits.basic_major - 0.75 * limits.pitch, abs=0.00051)
        assert limits.basic_minor == pytest.approx(limits.basic_major - 1.5 * limits.pitch, abs=0.00051)
    assert wrong == set(LOWENHERZ_PRINTED_OTHERWISE)
