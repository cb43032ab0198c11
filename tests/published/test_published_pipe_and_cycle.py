"""Parallel pipe threads and cycle threads against tables that their sizes were not taken from."""

import pytest

from tests.each import each
from threads.rules.rounding import round_to
from threads.standards.designation import parse
from threads.standards.limits import limits_of

# GOST 6357-52 as a web page on pipe threads gives it, mm: threads to the inch, major, pitch and minor diameter. That
# standard rounded the inch sizes afresh: each is 0.001 mm above those of ISO 228-1.
GOST = """
1/8 28 9.729 9.148 8.567
1/4 19 13.158 12.302 11.446
""".strip().splitlines()


@pytest.mark.parametrize("row", GOST)
def test_pipe_threads_equal_the_older_standard_within_its_rounding(row):
    size, threads, *printed = row.split()
    basic = limits_of(parse(f"G {size}")).published["basic"]
    assert parse(f"G {size}").entry.pitch_mm == pytest.approx(25.4 / float(threads), abs=1e-6)
    ours = (basic["major_diameter"], basic["pitch_diameter"], basic["minor_diameter"])
    assert ours == pytest.approx([float(value) for value in printed], abs=0.0011)


# Two shop lists of cycle threads, online: diameter, threads to the inch, tapping (core) diameter, inches.
CYCLE_SHOP_LISTS = """
1/8-40 .098
5/32-32 .123
3/16-32 .154
7/32-26 .178
1/4-26 .209
9/32-26 .240
5/16-26 .272
3/8-26 .334
7/16-26 .397
1/2-26 .459
9/16-26 .522
5/8-26 .584
11/16-26 .647
3/4-26 .709
7/16-20 .384
1/2-20 .447
9/16-20 .509
5/8-20 .572
11/16-20 .634
3/4-20 .697
""".strip().splitlines()


@each("row", CYCLE_SHOP_LISTS)
def test_cycle_core_diameters_equal_the_shop_lists(row):
    size, core = row.split()
    minor = limits_of(parse(f"{size} BSC")).published["basic"]["minor_diameter"]
    assert minor == pytest.approx(float(core), abs=0.00101)  # some are rounded up, some cut


# A web page on optical threads: limits of the major diameter of microscope objectives, inches; pitch diameter of the
# Whitworth form worked out from its formula (0.8 in less 0.640327 p).
def test_microscope_objectives_have_the_printed_limits():
    limits = limits_of(parse("RMS"))
    assert limits.published["major_diameter"] == {"min": 0.7952, "max": 0.7982}
    assert limits.published["basic"]["pitch_diameter"] == round_to(0.8 - 0.640327 / 36, 4)
    assert limits.published["allowance"] == 0.0018
