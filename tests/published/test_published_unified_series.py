"""More Unified limits against printed tables: constant pitch, extra fine, special, large and miniature sizes. Inches.

As in ``test_published_unified.py``, limits must be equal to the last printed digit, and a row that is printed otherwise
is listed with the reason.
"""

import pytest

from tests.each import each
from threads.rules import unified
from threads.standards.designation import parse
from threads.standards.limits import limits_of


def published(designation: str) -> dict:
    return limits_of(parse(designation)).published


def rows_of(text: str) -> list[str]:
    return text.strip().splitlines()


# A workshop's chart of Unified threads, classes 2A and 2B, online: allowance, major max and min of the screw, minor min
# and max of the nut. Its column "minor diameter" of the screw is left out: it is the design root D - 17/12 H of the
# standard's editions before 1982, which is no limit today.
WORKSHOP_CHART = rows_of("""
0-80 UNF 0.0005 0.0595 0.0563 0.0465 0.0514
1-64 UNC 0.0006 0.0724 0.0686 0.0561 0.0623
1-72 UNF 0.0006 0.0724 0.0689 0.0580 0.0635
2-56 UNC 0.0006 0.0854 0.0813 0.0667 0.0737
2-64 UNF 0.0006 0.0854 0.0816 0.0691 0.0753
3-48 UNC 0.0007 0.0983 0.0938 0.0764 0.0845
3-56 UNF 0.0007 0.0983 0.0942 0.0797 0.0865
4-40 UNC 0.0008 0.1112 0.1061 0.0849 0.0939
4-48 UNF 0.0007 0.1113 0.1068 0.0894 0.0968
5-40 UNC 0.0008 0.1242 0.1191 0.0979 0.1062
5-44 UNF 0.0007 0.1243 0.1195 0.1004 0.1079
6-32 UNC 0.0008 0.1372 0.1312 0.104 0.114
6-40 UNF 0.0008 0.1372 0.1321 0.111 0.119
8-32 UNC 0.0009 0.1631 0.1571 0.130 0.139
8-36 UNF 0.0008 0.1632 0.1577 0.134 0.142
10-24 UNC 0.0010 0.1890 0.1818 0.145 0.156
10-28 UNS 0.0010 0.1890 0.1825 0.151 0.160
10-32 UNF 0.0009 0.1891 0.1831 0.156 0.164
10-36 UNS 0.0009 0.1891 0.1836 0.160 0.166
10-40 UNS 0.0009 0.1891 0.1840 0.163 0.169
10-48 UNS 0.0008 0.1892 0.1847 0.167 0.172
10-56 UNS 0.0007 0.1893 0.1852 0.171 0.175
12-24 UNC 0.0010 0.2150 0.2078 0.171 0.181
12-28 UNF 0.0010 0.2150 0.2085 0.177 0.186
12-32 UNEF 0.0009 0.2151 0.2091 0.182 0.190
12-36 UNS 0.0009 0.2151 0.2096 0.186 0.192
12-40 UNS 0.0009 0.2151 0.2100 0.189 0.195
12-48 UNS 0.0008 0.2152 0.2107 0.193 0.198
""")


@each("row", WORKSHOP_CHART)
def test_classes_2a_and_2b_equal_the_workshop_chart(row):
    size, series, *values = row.split()
    allowance, major_max, major_min, minor_min, minor_max = map(float, values)
    screw, nut = published(f"{size} {series}-2A"), published(f"{size} {series}-2B")
    assert screw["allowance"] == allowance
    assert screw["major_diameter"] == {"min": major_min, "max": major_max}
    assert nut["minor_diameter"] == {"min": minor_min, "max": minor_max}


# A one-page table of internal UNC threads, class 2B, online (2016): major min, pitch diameter max and min, minor max
# and min. From 0.138 in up it gives the minor diameter to three decimals with a nought behind.
UNC_NUTS_2016 = rows_of("""
1-64 0.0730 0.0655 0.0629 0.0623 0.0561
2-56 0.0860 0.0772 0.0744 0.0737 0.667
3-48 0.0990 0.0855 0.0855 0.0845 0.0764
4-40 0.1120 0.0991 0.0958 0.0939 0.0849
5-40 0.1250 0.1121 0.1088 0.1062 0.0979
6-32 0.1380 0.1214 0.1177 0.1140 0.1040
8-32 0.1640 0.1475 0.1437 0.1390 0.1300
10-24 0.1900 0.1672 0.1629 0.1560 0.1450
12-24 0.2160 0.1933 0.1889 0.1810 0.1710
1/4-20 0.2500 0.2224 0.2175 0.2070 0.1960
5/16-18 0.3125 0.2817 0.2764 0.2650 0.2520
3/8-16 0.3750 0.3401 0.3344 0.3210 0.3070
7/16-14 0.4375 0.3972 0.3911 0.3760 0.3600
1/2-13 0.5000 0.4565 0.4500 0.4340 0.4700
9/16-12 0.5625 0.5125 0.5084 0.4900 0.4720
5/8-11 0.6250 0.5732 0.5660 0.5460 0.5270
3/4-10 0.7500 0.6927 0.6850 0.6630 0.6420
7/8-9 0.8750 0.8110 0.8028 0.7780 0.7550
1-8 1.0000 0.9276 0.9188 0.8900 0.8650
1.125-7 1.1250 1.0416 1.0322 0.9980 0.9700
1.25-7 1.2500 1.1668 1.1572 1.1230 1.0950
""")

UNC_NUTS_MISPRINTED = {
    ("2-56", "minor_diameter", "min"): "0.667 for 0.0667: the decimal point",
    ("3-48", "pitch_diameter", "max"): "the minimum stands in both columns; the tap catalogue of 2020 has 0.0885",
    ("1/2-13", "minor_diameter", "min"): "0.4700 is above the maximum; the parts library has 0.417",
    ("9/16-12", "pitch_diameter", "max"): "0.5125; the tap catalogue of 2020 has 0.5127",
}


@each("row", UNC_NUTS_2016)
def test_nuts_equal_the_table_of_unc_nuts(row):
    size, *values = row.split()
    major, pd_max, pd_min, minor_max, minor_min = map(float, values)
    nut = published(f"{size} UNC-2B")
    printed = {
        ("major_diameter", "min"): major,
        ("pitch_diameter", "max"): pd_max,
        ("pitch_diameter", "min"): pd_min,
        ("minor_diameter", "max"): minor_max,
        ("minor_diameter", "min"): minor_min,
    }
    differing = {key for key, value in printed.items() if nut[key[0]][key[1]] != value}
    assert differing == {(what, end) for listed, what, end in UNC_NUTS_MISPRINTED if listed == size}


# A gauge maker's list of ring gauges, online: GO and NOT GO pitch diameter of 2A, the same of 3A, 0.0001 in.
RING_GAUGES = rows_of("""
9/16-24 UNEF 5342 5303 5354 5325
5/8-11 UNC 5644 5589 5660 5619
5/8-18 UNF 5875 5828 5889 5854
""")


@pytest.mark.parametrize("row", RING_GAUGES)
def test_pitch_diameters_equal_the_ring_gauges(row):
    size, series, *gauges = row.split()
    go_2a, not_go_2a, go_3a, not_go_3a = (int(gauge) / 10000 for gauge in gauges)
    assert published(f"{size} {series}-2A")["pitch_diameter"] == {"min": not_go_2a, "max": go_2a}
    assert published(f"{size} {series}-3A")["pitch_diameter"] == {"min": not_go_3a, "max": go_3a}


# An online transcription of the standard's table, sizes 5/8-11 UNC to 11/16-12 UN. Screw: major max and min, pitch
# diameter min, UNR minor max. Nut: minor min and max, pitch diameter min. "-": figures lost in the transcription.
TRANSCRIPTION = rows_of("""
5/8-11 UNC 1A 0.6234 0.6052 0.5561 0.5152 0.527 0.546 0.566
5/8-11 UNC 2A 0.6234 0.6113 - 0.5152 0.527 0.546 0.566
5/8-11 UNC 3A 0.6250 0.6129 0.5619 0.5168 0.5270 0.5391 0.566
5/8-12 UN 2A 0.6234 0.6120 0.5639 0.5242 0.535 0.553 0.5709
5/8-12 UN 3A 0.6250 0.6136 0.5668 0.5258 0.5350 0.5463 0.5709
5/8-14 UNS 2A 0.6235 0.6132 0.5720 0.5385 0.548 - 0.5786
5/8-16 UN 2A 0.6236 0.6142 0.5782 0.5491 0.557 0.571 0.5844
5/8-16 UN 3A 0.6250 0.6156 0.5808 0.5505 0.5570 0.5662 0.5844
5/8-18 UNF 1A 0.6236 0.6105 0.5805 0.5575 0.565 0.578 -
5/8-18 UNF 2A 0.6236 0.6149 0.5828 0.5575 0.565 0.578 -
5/8-18 UNF 3A 0.6250 0.6163 0.5854 - 0.5650 0.5730 -
5/8-20 UN 2A 0.6237 0.6156 0.5869 - 0.571 0.582 0.5925
5/8-20 UN 3A 0.6250 0.6169 - 0.5655 0.5710 0.5787 -
5/8-24 UNEF 2A 0.6238 0.6166 0.5927 0.5742 0.580 0.590 0.5979
5/8-24 UNEF 3A 0.6250 0.6178 0.5949 0.5754 0.5800 0.5869 0.5979
5/8-27 UNS 2A 0.6239 0.6172 0.5960 0.5798 0.585 0.594 0.6009
5/8-28 UN 2A 0.6239 0.6174 0.5969 0.5813 0.586 0.595 0.6018
5/8-28 UN 3A 0.6250 0.6185 0.5990 0.5824 0.5860 0.5926 0.6018
5/8-32 UN 2A 0.6239 0.6179 - 0.5867 0.591 0.599 0.6047
5/8-32 UN 3A 0.6250 0.6190 0.6020 0.5878 0.5910 0.5969 0.6047
11/16-12 UN 2A 0.6859 0.6745 - - 0.597 0.615 0.6334
""")


@each("row", TRANSCRIPTION)
def test_limits_equal_the_transcription(row):
    size, series, name, *values = row.split()
    screw, nut = published(f"{size} {series}-{name}"), published(f"{size} {series}-{name[0]}B")
    rounded = published(f"{size} {series.replace('UN', 'UNR')}-{name}")
    computed = (
        screw["major_diameter"]["max"],
        screw["major_diameter"]["min"],
        screw["pitch_diameter"]["min"],
        rounded["minor_diameter"]["max"],
        nut["minor_diameter"]["min"],
        nut["minor_diameter"]["max"],
        nut["pitch_diameter"]["min"],
    )
    assert [(c, float(v)) for c, v in zip(computed, values, strict=True) if v != "-" and c != float(v)] == []


# Machinery's Handbook, 27th ed., Table 3, pp. 1755 and 1762: sizes above 2 in, which check the formulas, if not the
# series here. Screw: allowance, major max and min, pitch diameter max and min, UNR minor max; nut: minor min and max,
# pitch diameter min and max.
HANDBOOK_LARGE = rows_of("""
2.375-20 UN 2 0.0015 2.3735 2.3654 2.3410 2.3359 2.3140 2.321 2.332 2.3425 2.3491
2.375-20 UN 3 0.0000 2.3750 2.3669 2.3425 2.3387 2.3155 2.3210 2.3287 2.3425 2.3475
2.4375-16 UNS 2 0.0017 2.4358 2.4264 2.3952 2.3897 2.3613 2.370 2.384 2.3969 2.4041
2.4375-16 UNS 3 0.0000 2.4375 2.4281 2.3969 2.3928 2.3630 2.3700 2.3783 2.3969 2.4023
2.5-4 UNC 1 0.0031 2.4969 2.4612 2.3345 2.3190 2.1992 2.229 2.267 2.3376 2.3578
2.5-4 UNC 2 0.0031 2.4969 2.4731 2.3345 2.3241 2.1992 2.229 2.267 2.3376 2.3511
2.5-4 UNC 3 0.0000 2.5000 2.4762 2.3376 2.3298 2.2023 2.2290 2.2594 2.3376 2.3477
2.5-6 UN 2 0.0027 2.4973 2.4791 2.3890 2.3800 2.2989 2.320 2.350 2.3917 2.4033
2.5-6 UN 3 0.0000 2.5000 2.4818 2.3917 2.3850 2.3016 2.3200 2.3396 2.3917 2.4004
2.5-8 UN 2 0.0024 2.4976 2.4826 2.4164 2.4082 2.3488 2.365 2.390 2.4188 2.4294
2.5-8 UN 3 0.0000 2.5000 2.4850 2.4188 2.4127 2.3512 2.3650 2.3797 2.4188 2.4268
2.5-10 UNS 2 0.0020 2.4980 2.4851 2.4330 2.4263 2.3790 2.392 2.413 2.4350 2.4437
2.5-12 UN 2 0.0019 2.4981 2.4867 2.4440 2.4378 2.3989 2.410 2.428 2.4459 2.4540
2.5-12 UN 3 0.0000 2.5000 2.4886 2.4459 2.4413 2.4008 2.4100 2.4198 2.4459 2.4519
2.5-14 UNS 2 0.0017 2.4983 2.4880 2.4519 2.4461 2.4133 2.423 2.438 2.4536 2.4612
2.5-16 UN 2 0.0017 2.4983 2.4889 2.4577 2.4522 2.4238 2.432 2.446 2.4594 2.4666
2.5-16 UN 3 0.0000 2.5000 2.4906 2.4594 2.4553 2.4255 2.4320 2.4408 2.4594 2.4648
2.5-18 UNS 2 0.0016 2.4984 2.4897 2.4623 2.4570 2.4323 2.440 2.453 2.4639 2.4708
5.75-10 UNS 2 0.0022 5.7478 5.7349 5.6828 5.6754 5.6288 5.642 5.663 5.6850 5.6946
5.75-14 UNS 2 0.0020 5.7480 5.7377 5.7016 5.6951 5.6630 5.673 5.688 5.7036 5.7121
5.75-12 UN 2 0.0021 5.7479 5.7365 5.6938 5.6869 5.6487 5.660 5.678 5.6959 5.7049
5.75-12 UN 3 0.0000 5.7500 5.7386 5.6959 5.6907 5.6508 5.6600 5.6698 5.6959 5.7026
5.75-16 UN 2 0.0019 5.7481 5.7387 5.7075 5.7013 5.6736 5.682 5.696 5.7094 5.7175
5.75-16 UN 3 0.0000 5.7500 5.7406 5.7094 5.7047 5.6755 5.6820 5.6908 5.7094 5.7155
6-10 UNS 2 0.0022 5.9978 5.9849 5.9328 5.9254 5.8788 5.892 5.913 5.9350 5.9446
6-14 UNS 2 0.0020 5.9980 5.9877 5.9516 5.9451 5.9130 5.923 5.938 5.9536 5.9621
6-12 UN 2 0.0021 5.9979 5.9865 5.9438 5.9369 5.8987 5.910 5.928 5.9459 5.9549
6-12 UN 3 0.0000 6.0000 5.9886 5.9459 5.9407 5.9008 5.9100 5.9198 5.9459 5.9526
6-16 UN 2 0.0019 5.9981 5.9887 5.9575 5.9513 5.9236 5.932 5.946 5.9594 5.9675
6-16 UN 3 0.0000 6.0000 5.9906 5.9594 5.9547 5.9255 5.9320 5.9408 5.9594 5.9655
""")

# The table gives these the tolerance of the pitch diameter of a neighbouring size: they agree when that is taken.
HANDBOOK_NEIGHBOURS = {"2.375-20": 2.5, "5.75-10": 6.0, "5.75-14": 6.0, "5.75-12": 6.0, "5.75-16": 6.0}

# The UNR minor diameter is a reference column; that of 10 threads per inch is printed 0.0001 in more here, while Table
# 4a of the 31st ed. has it (3/4-10) as computed.
HANDBOOK_PRINTED_OTHERWISE = {"2.5-10 2": {"UNR minor"}, "5.75-10 2": {"UNR minor"}, "6-10 2": {"UNR minor"}}


@pytest.mark.parametrize("row", HANDBOOK_LARGE)
def test_formulas_equal_the_handbook_for_large_sizes(row, monkeypatch):
    size, series, name, *values = row.split()
    if size in HANDBOOK_NEIGHBOURS:
        monkeypatch.setitem(unified.TABULATED_AS, size, HANDBOOK_NEIGHBOURS[size])
    major, _, threads = size.partition("-")
    args = size, float(major), float(threads)
    by_diameter = unified.tabulated_for_diameter(series, float(threads))
    screw = unified.zone(*args, f"{name}A", long_engagement=by_diameter, form="UNR")
    nut = unified.zone(*args, f"{name}B", long_engagement=by_diameter)
    assert screw.major[0] is not None
    computed = {
        "allowance": screw.allowance,
        "major max": screw.major[1],
        "major min": screw.major[0],
        "pitch diameter max": screw.pitch_diameter[1],
        "pitch diameter min": screw.pitch_diameter[0],
        "UNR minor": screw.minor[1],
        "nut minor min": nut.minor[0],
        "nut minor max": nut.minor[1],
        "nut pitch diameter min": nut.pitch_diameter[0],
        "nut pitch diameter max": nut.pitch_diameter[1],
    }
    printed = dict(zip(computed, map(float, values), strict=True))
    differing = {key for key in computed if computed[key] != printed[key]}
    assert differing == HANDBOOK_PRINTED_OTHERWISE.get(f"{size} {name}", set())


# Machinery's Handbook, 31st ed., Tables 4a, 4b, 4c (pp. 1978 to 1980), and 27th ed., Table 5g (p. 1772): basic pitch
# diameter, which is the least of the nut; minor diameter of UNR screws, which is the greatest of 3A; basic minor
# diameter of nuts, whose least value the tables of limits print so up to 0.125 in, and rounded to three decimals above.
HANDBOOK_BASIC = rows_of("""
1-64 UNC 0.0629 0.0544 0.0561
2-56 UNC 0.0744 0.0648 0.0667
3-48 UNC 0.0855 0.0741 0.0764
4-40 UNC 0.0958 0.0822 0.0849
5-40 UNC 0.1088 0.0952 0.0979
6-32 UNC 0.1177 0.1008 0.1042
8-32 UNC 0.1437 0.1268 0.1302
10-24 UNC 0.1629 0.1404 0.1449
12-24 UNC 0.1889 0.1664 0.1709
1/4-20 UNC 0.2175 0.1905 0.1959
5/16-18 UNC 0.2764 0.2464 0.2524
3/8-16 UNC 0.3344 0.3005 0.3073
7/16-14 UNC 0.3911 0.3525 0.3602
1/2-13 UNC 0.4500 0.4084 0.4167
9/16-12 UNC 0.5084 0.4633 0.4723
5/8-11 UNC 0.5660 0.5168 0.5266
3/4-10 UNC 0.6850 0.6309 0.6417
7/8-9 UNC 0.8028 0.7427 0.7547
1-8 UNC 0.9188 0.8512 0.8647
1.125-7 UNC 1.0322 0.9549 0.9704
1.25-7 UNC 1.1572 1.0799 1.0954
0-80 UNF 0.0519 0.0451 0.0465
1-72 UNF 0.0640 0.0565 0.0580
2-64 UNF 0.0759 0.0674 0.0691
3-56 UNF 0.0874 0.0778 0.0797
4-48 UNF 0.0985 0.0871 0.0894
5-44 UNF 0.1102 0.0979 0.1004
6-40 UNF 0.1218 0.1082 0.1109
8-36 UNF 0.1460 0.1309 0.1339
10-32 UNF 0.1697 0.1528 0.1562
12-28 UNF 0.1928 0.1734 0.1773
1/4-28 UNF 0.2268 0.2074 0.2113
5/16-24 UNF 0.2854 0.2629 0.2674
3/8-24 UNF 0.3479 0.3254 0.3299
7/16-20 UNF 0.4050 0.3780 0.3834
1/2-20 UNF 0.4675 0.4405 0.4459
9/16-18 UNF 0.5264 0.4964 0.5024
5/8-18 UNF 0.5889 0.5589 0.5649
3/4-16 UNF 0.7094 0.6763 0.6823
7/8-14 UNF 0.8286 0.7900 0.7977
1-12 UNF 0.9459 0.9001 0.9098
1.125-12 UNF 1.0709 1.0258 1.0348
1.25-12 UNF 1.1959 1.1508 1.1598
12-32 UNEF 0.1957 0.1788 0.1822
1/4-32 UNEF 0.2297 0.2128 0.2162
5/16-32 UNEF 0.2922 0.2753 0.2787
3/8-32 UNEF 0.3547 0.3378 0.3412
7/16-28 UNEF 0.4143 0.3949 0.3988
1/2-28 UNEF 0.4768 0.4574 0.4613
9/16-24 UNEF 0.5354 0.5129 0.5174
5/8-24 UNEF 0.5979 0.5754 0.5799
11/16-24 UNEF 0.6604 0.6379 0.6424
3/4-20 UNEF 0.7175 0.6905 0.6959
13/16-20 UNEF 0.7800 0.7530 0.7584
7/8-20 UNEF 0.8425 0.8155 0.8209
15/16-20 UNEF 0.9050 0.8780 0.8834
1-20 UNEF 0.9675 0.9405 0.9459
1.0625-18 UNEF 1.0264 0.9964 1.0024
1.125-18 UNEF 1.0889 1.0589 1.0649
5/16-28 UN 0.2893 0.2699 0.2738
3/8-28 UN 0.3518 0.3324 0.3363
9/16-28 UN 0.5393 0.5199 0.5238
5/8-28 UN 0.6018 0.5824 0.5863
11/16-28 UN 0.6643 0.6449 0.6488
3/4-28 UN 0.7268 0.7074 0.7113
13/16-28 UN 0.7893 0.7699 0.7738
7/8-28 UN 0.8518 0.8324 0.8363
""")

# Misprints: the rounded root would lie 0.0060 in and 0.0097 in below the nut's minor diameter, where every other row of
# 16 and of 12 threads per inch has 0.0068 in and 0.0090 in.
HANDBOOK_BASIC_PRINTED_OTHERWISE = {"3/4-16 UNF": 0.0008, "1-12 UNF": -0.0007}


@each("row", HANDBOOK_BASIC)
def test_basic_sizes_equal_the_handbook(row):
    size, series, pitch_diameter, unr_minor, minor = row.split()
    nut = published(f"{size} {series}-3B")
    rounded = published(f"{size} {series.replace('UN', 'UNR')}-3A")
    assert nut["pitch_diameter"]["min"] == nut["basic"]["pitch_diameter"] == float(pitch_diameter)
    assert rounded["pitch_diameter"]["max"] == float(pitch_diameter)
    assert nut["basic"]["minor_diameter"] == float(minor)
    assert abs(nut["minor_diameter"]["min"] - float(minor)) < 0.00051
    otherwise = HANDBOOK_BASIC_PRINTED_OTHERWISE.get(f"{size} {series}", 0.0)
    assert rounded["minor_diameter"]["max"] + otherwise == pytest.approx(float(unr_minor), abs=1e-9)
