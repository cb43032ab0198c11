"""American National limits against the few figures that were found in print, inches.

Only maximum pitch diameters of nuts, classes 2 and 3, could be read; all other limits are from memory and
``tests/threads/test_american_national.py`` tests them for consistency alone.
"""

import pytest

from threads.designation import parse
from threads.limits import limits_of

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


# Machinery's Handbook, 31st ed., Table 23 (cut taps, ANSI/ASME B94.9-2008), sizes of NC and NF: major diameter and
# basic pitch diameter.
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
""".strip().splitlines()


@pytest.mark.parametrize("row", HANDBOOK_TABLE_23)
def test_basic_sizes_equal_the_handbook(row):
    size, series, major, pitch_diameter = row.split()
    basic = limits_of(parse(f"{size} {series}-2")).published["basic"]
    assert basic["major_diameter"] == float(major)
    assert basic["pitch_diameter"] == float(pitch_diameter)
