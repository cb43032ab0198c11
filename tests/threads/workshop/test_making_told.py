"""What to make a screw with, in words of both languages."""

from __future__ import annotations

from flankwise.reasons import sentence
from threads.standards.designation import parse
from threads.standards.limits import limits_of
from threads.workshop.making import CAUTIONS, making_of
from threads.workshop.making_told import making_told


def test_tools_first_then_wires_then_cautions_of_which_one_always_stands() -> None:
    """4-40 UNC-2A: major diameter 0.1061 in to 0.1112 in (ASME B1.1-2003, table 2A)."""
    making = making_of(limits_of(parse("4-40 UNC-2A")))
    told = making_told(making)
    assert told[-len(CAUTIONS) :] == CAUTIONS
    assert making_told(making, cautions=False)[-1] == CAUTIONS[0]
    first = sentence(told[0], inches=True)
    assert first.startswith("Make it with: die 4-40 UNC, tap 4-40 UNC")
    assert "blank 0.1061 in to 0.1112 in" in first
    assert "Rohling 0.1061 in bis 0.1112 in" in sentence(told[0], inches=True, language="de")
    assert sentence(told[1]).startswith("Gauge it over three wires of ")
