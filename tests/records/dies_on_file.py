"""A register with two dies that cut replacements for an old 4-40 screw; invented, in the Quayside Workshop."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from records import filing
from records.dies import file_die
from records.register import Register, Writing
from tests.records.registers import document, identification, new_register
from threads.standards.designation import parse
from threads.standards.limits import limits_of

LIMITS = limits_of(parse("4-40 NC-2"))
ORIGINAL_MM = 2.420
SPLIT, OLD = "4-40 split die no. 1", "4-40 old round die"
CUTS = ((SPLIT, 2.400, "1/4 turn"), (SPLIT, 2.411, "0.3 turn"), (SPLIT, 2.405, "0.27 turn"), (OLD, 2.380, None),
        (OLD, 2.383, None))  # fmt: skip


def measured(size: float) -> dict[str, Any]:
    """The measurement of a 4-40 screw of this pitch diameter, mm, on the bench of all the others."""
    low, high = LIMITS.pitch_diameter.low, LIMITS.pitch_diameter.high
    assert low is not None
    assert high is not None
    return document(LIMITS, (size - low) / (high - low))


def file_screw(writing: Writing, size: float, name: str) -> int:
    part = filing.add_part(writing, name=name)
    filing.add_measurement(writing, part, measured(size))
    return part


def dies_register(folder: Path) -> Register:
    """Part 1 is the original; each die has cut a few replacements for it."""
    found = new_register(folder)
    with found.writing("Ada") as writing:
        original = filing.add_part(writing, name="index arm screw")
        measurement = filing.add_measurement(writing, original, measured(ORIGINAL_MM))
        filing.add_identification(writing, measurement, identification(LIMITS))
        ids = {
            name: file_die(writing, name, kind="die", cuts="4-40", remark=None, create=True)[0] for name in (SPLIT, OLD)
        }
        for number, (name, size, setting) in enumerate(CUTS, 1):
            made = file_screw(writing, size, f"replacement {number}")
            filing.add_replacement(writing, original, made_part=made, die=name, cut_by=ids[name], setting=setting)
    return found
