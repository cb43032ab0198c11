"""The mark of what rests on tables from memory: in SQL and in Python alike, in lists, on labels and in the table."""

from __future__ import annotations

import csv
import io
from pathlib import Path
from typing import Any

import pytest

from records import filing
from records.exchange.table import table_of
from records.from_memory import FOOTNOTE, MARK, checked_from_memory, identified_from_memory
from records.label import label_lines
from records.labels import labels_of
from records.listing import lines_of
from records.reading import read_part
from records.report.label_page import label_png
from records.report.spoken import Spoken
from tests.records.registers import new_register, screws


def document(*unverified: bool, together: int = 1, status: str = "identified") -> dict[str, Any]:
    """Candidates in their order, the first ``together`` of them one group."""
    candidates = [
        {
            "designation": f"{n}-40 XY",
            "series": "XY",
            "size": f"{n}-40",
            "class": "",
            "probability": 0.5,
            "unverified": one,
        }
        for n, one in enumerate(unverified)
    ]
    members = [one["designation"] for one in candidates[:together]]
    return {"status": status, "candidates": candidates, "groups": [{"members": members}], "says": "0-40 XY"}


@pytest.mark.parametrize(
    ("found", "from_memory"),
    [
        (document(True), True),
        (document(False), False),
        (document(False, True), False),
        (document(False, True, together=2), True),
        (document(True, status="no_match"), False),
        ({**document(True), "groups": []}, True),
        ({"status": "no_match", "candidates": []}, False),
    ],
)
def test_one_rule_in_sql_and_in_python(tmp_path: Path, found: dict[str, Any], from_memory: bool) -> None:
    assert identified_from_memory(found) == from_memory
    register = new_register(tmp_path)
    with register.writing() as writing:
        part = filing.add_part(writing, name="screw")
        filing.add_identification(writing, filing.add_measurement(writing, part, screws(1)[0][1]), found)
    with register.reading() as connection:
        assert lines_of(connection, [part])[part].from_memory == from_memory
        (row,) = csv.DictReader(io.StringIO(table_of(connection, [part]).decode("utf-8")))
        label = [line for line in label_lines(read_part(connection, part)) if line]
    drawn = label_png(labels_of(register, [part], Spoken())[0])
    assert row["from_memory"] == ("yes" if from_memory else "no")
    assert row["says"].endswith(MARK) == from_memory
    assert (label[-1] == FOOTNOTE) == from_memory
    assert any(line.endswith(f" {MARK}") for line in label) == from_memory
    assert drawn.startswith(b"\x89PNG")


def test_limits_from_memory_mark_a_check() -> None:
    assert checked_from_memory({"source": "from memory, unverified: a rule; a handbook"})
    assert not checked_from_memory({"source": "a handbook"})
    assert not checked_from_memory({})  # against a part on file
