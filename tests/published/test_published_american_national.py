"""American National basic sizes against printed ones, inches.

The limits are from memory, but for a few pitch diameters of nuts on one catalogue's page, whose tolerances were read
back from it: ``tests/threads/rules/test_american_national.py`` tests them for consistency alone.
"""

import pytest

from tests.each import each
from threads.standards.designation import parse
from threads.standards.limits import limits_of

# Machinery's Handbook, 31st ed., Tables 22 and 23 (cut taps, ANSI/ASME B94.9-2008): major diameter and basic pitch
# diameter. 1-14, which it has under NS, was NF until 1949.
HANDBOOK_TABLE_22 = """
0-80 NF 0.0600 0.0519
1-64 NC 0.0730 0.0629
1-72 NF 0.0730 0.0640
2-56 NC 0.0860 0.0744
2-64 NF 0.0860 0.0759
3-48 NC 0.0990 0.0855
3-56 NF 0.0990 0.0874
4-36 NS 0.1120 0.0940
4-40 NC 0.1120 0.0958
4-48 NF 0.1120 0.0985
5-40 NC 0.1250 0.1088
6-32 NC 0.1380 0.1177
6-36 NS 0.1380 0.1200
6-40 NF 0.1380 0.1218
8-32 NC 0.1640 0.1437
8-36 NF 0.1640 0.1460
8-40 NS 0.1640 0.1478
10-24 NC 0.1900 0.1629
10-32 NF 0.1900 0.1697
12-24 NC 0.2160 0.1889
12-28 NF 0.2160 0.1928
14-24 NS 0.2420 0.2149
""".strip().splitlines()

HANDBOOK_TABLE_23 = """
1/4-20 NC 0.2500 0.2175
1/4-28 NF 0.2500 0.2268
5/16-18 NC 0.3125 0.2764
5/16-24 NF 0.3125 0.2854
3/8-16 NC 0.3750 0.3344
3/8-24 NF 0.3750 0.3479
7/16-14 NC 0.4375 0.3911
7/16-20 NF 0.4375 0.4050
1/2-13 NC 0.5000 0.4500
1/2-20 NF 0.5000 0.4675
3/16-24 NS 0.1875 0.1604
3/16-32 NS 0.1875 0.1672
9/16-12 NC 0.5625 0.5084
9/16-18 NF 0.5625 0.5264
5/8-11 NC 0.6250 0.5660
5/8-18 NF 0.6250 0.5889
3/4-10 NC 0.7500 0.6850
3/4-16 NF 0.7500 0.7094
7/8-9 NC 0.8750 0.8028
7/8-14 NF 0.8750 0.8286
1-8 NC 1.0000 0.9188
1-14 NF 1.0000 0.9536
1.125-7 NC 1.1250 1.0322
1.125-12 NF 1.1250 1.0709
1.25-7 NC 1.2500 1.1572
1.25-12 NF 1.2500 1.1959
""".strip().splitlines()


@each("row", HANDBOOK_TABLE_22 + HANDBOOK_TABLE_23)
def test_basic_sizes_equal_the_handbook(row):
    size, series, major, pitch_diameter = row.split()
    basic = limits_of(parse(f"{size} {series}-2")).published["basic"]
    assert basic["major_diameter"] == float(major)
    assert basic["pitch_diameter"] == float(pitch_diameter)


def test_a_diameter_that_the_handbook_prints_with_five_decimals():
    # Table 23: 5/32-32 NS, major diameter 0.1563, pitch diameter 0.13595
    limits = limits_of(parse("5/32-32 NS-2")).published
    assert limits["major_diameter"]["max"] == 0.1563
    assert limits["basic"]["pitch_diameter"] == pytest.approx(0.13595, abs=0.00006)


# The same tables have, for sizes that are Unified as well, the same basic pitch diameters.
@pytest.mark.parametrize(
    "row", [row for row in HANDBOOK_TABLE_22 + HANDBOOK_TABLE_23 if " NS " in row or "1-14" in row]
)
def test_unified_special_has_the_same_basic_sizes(row):
    size, _, major, pitch_diameter = row.split()
    basic = limits_of(parse(f"{size} UNS-2A")).published["basic"]
    assert (basic["major_diameter"], basic["pitch_diameter"]) == (float(major), float(pitch_diameter))
