"""Holes on file: a screw more makes the size better known, one that is withdrawn does not count, the sheet says so."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from pypdf import PdfReader

from records import filing
from records.correction import withdraw
from records.holes import add_hole, add_trial, filed_screw, filed_tried_hole, judge_filed_hole, screws_at_hand
from records.reading import read_part
from records.report.printed import print_job
from tests.records.registers import mould, new_register
from threads.hole.classes import hole_thread
from threads.hole.trial import MOVED, STOPPED, WENT_IN, HoleError, Trial
from threads.shared.quantity import Quantity
from threads.shared.refusal import RefusalError


def test_a_hole_grows_with_its_trials_and_prints_its_sheet(tmp_path: Path) -> None:
    register = new_register(tmp_path)
    with register.writing("Ada") as writing:
        screw = filing.add_part(writing, name="index arm screw")
        filing.add_measurement(writing, screw, mould())
        part = filing.add_part(writing, name="index arm post")
        add_hole(writing, part, "4-40", engagement=3.0, depth=4.0)
        with pytest.raises(RefusalError) as twice:
            add_hole(writing, part, "4-40", engagement=3.0)
        assert twice.value.reasons[0].code == "hole_on_file_already"
        with pytest.raises(RefusalError) as wrong:
            add_hole(writing, screw, "4-40", engagement=3.0)
        assert wrong.value.reasons[0].code == "part_is_a_screw"
        tried = filed_screw(writing.connection, screw)
        assert tried.common is not None  # its bench's errors come with it
        add_trial(writing, part, Trial(tried, STOPPED), screw=screw)
        with pytest.raises(HoleError):
            add_trial(writing, part, Trial(tried, STOPPED, turns=40.0), screw=screw)
    with register.reading() as connection:
        assert [one.name for one in screws_at_hand(connection, hole_thread("4-40"))] == [tried.name]
    with pytest.raises(RefusalError) as empty:
        filed_tried_hole(register, part)
    assert empty.value.reasons[0].code == "hole_without_trials"

    def found(*, depends: int = 0) -> float:
        with register.reading() as connection:
            answer = judge_filed_hole(connection, part)
        assert answer is not None
        assert len(answer.found.trials) == depends
        return answer.found.half_width

    with register.writing("Ada") as writing:
        withdraw(writing, "trials", 1, why="a burr")
        add_trial(writing, part, Trial(tried, WENT_IN), screw=screw)
    wide = found(depends=1)
    movement = Quantity(0.30, 0.015, "mm")
    with register.writing("Bo") as writing:
        row = add_trial(
            writing,
            part,
            Trial(tried, MOVED, movement=movement, overhang=20.0),
            document=mould(),
            remark="by indicator",
        )
    assert found(depends=2) < 0.6 * wide
    hole = filed_tried_hole(register, part)
    assert hole.name == f"part {part} (index arm post)"
    assert hole.limits.designation == "4-40 UNC-2B"
    text = "".join(page.extract_text() for page in PdfReader(io.BytesIO(_sheet(register, part))).pages)
    for words in ("tapped hole, 4-40", "4.000 mm deep", "Screws tried in it", "moved 300 µm at 20.000 mm"):
        assert words in text
    with register.writing("Bo") as writing:
        withdraw(writing, "trials", row)
    assert found(depends=1) == pytest.approx(wide)
    with register.reading() as connection:
        trials = read_part(connection, part).hole
    assert trials is not None
    assert [one.withdrawn for one in trials.trials] == [True, False, True]


def _sheet(register: object, part: int) -> bytes:
    return print_job(register, 0, part=part).content  # type: ignore[arg-type]
