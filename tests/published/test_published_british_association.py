"""British Association sizes against another book's table, mm."""

import pytest

from tests.each import each
from threads.standards.series import entries

# The system behind the table ("Tables of Physical and Chemical Constants", 9th ed., 1941, p. 25): pitch 0.9^n and
# diameter 6 P^1.2, both in mm and rounded to two significant figures.
SYSTEM = [(number, 0.9**number, 6 * (0.9**number) ** 1.2) for number in range(17)]


@each(("number", "pitch", "diameter"), SYSTEM)
def test_sizes_follow_the_system_within_its_rounding(number, pitch, diameter):
    entry = next(entry for entry in entries("BA") if entry.size == str(number))
    assert entry.pitch_mm == pytest.approx(pitch, abs=0.0051)
    assert entry.major_mm == pytest.approx(diameter, abs=0.051)


# The same book prints sizes 17 to 25 beyond the standard: diameter and pitch, mm.
BEYOND = """
17 .70 .17
18 .62 .15
19 .54 .14
20 .48 .12
21 .42 .11
22 .37 .10
23 .33 .09
24 .29 .08
25 .25 .07
""".strip().splitlines()


@pytest.mark.parametrize("row", BEYOND)
def test_sizes_beyond_the_standard_follow_the_system_within_its_rounding(row):
    number, diameter, pitch = row.split()
    assert round(0.9 ** int(number), 2) == float(pitch)
    assert round(6 * (0.9 ** int(number)) ** 1.2, 2) == pytest.approx(float(diameter), abs=0.0101)
