"""Why a candidate is out, in words, against the published limits of 4-40 UNC-2A.

ASME B1.1-2003, table 2A: pitch diameter 0.0925 in to 0.0950 in, major diameter 0.1061 in to 0.1112 in.
"""

from __future__ import annotations

from flankwise.reasons import sentence
from tests.threads.measured_factory import measured_thread
from threads.identify.identification import identify
from threads.identify.why_out import why_out

LARGEST_2A = 0.0950 * 25.4
SMALLEST_2A = 0.0925 * 25.4


def said_of_2a(pitch_diameter: float, language: str = "en") -> str:
    """What speaks against 4-40 UNC-2A; nothing: an empty line."""
    found = identify(measured_thread(2.80, pitch_diameter, 0.635), series=("UNC",))
    out = why_out(next(c for c in found.candidates if c.designation == "4-40 UNC-2A"))
    return "" if out is None else sentence(out, language=language)


def test_how_far_it_is_beyond_the_limit() -> None:
    assert said_of_2a(LARGEST_2A + 0.012) == "Out: its pitch diameter is 12 µm above the largest 4-40 UNC-2A."
    assert said_of_2a(SMALLEST_2A - 0.014) == "Out: its pitch diameter is 14 µm below the smallest 4-40 UNC-2A."
    assert "Flankendurchmesser 12 µm über dem größten" in said_of_2a(LARGEST_2A + 0.012, "de")


def test_nothing_speaks_against_what_fits_or_is_out_by_less_than_its_u95() -> None:
    assert said_of_2a((LARGEST_2A + SMALLEST_2A) / 2) == ""
    assert said_of_2a(LARGEST_2A + 0.001) == ""
