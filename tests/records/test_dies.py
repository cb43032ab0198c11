"""Dies on file: what they cut, what they carry away and bring back, what is refused."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from records import filing
from records.connection import value
from records.correction import correct, withdraw
from records.die_label import die_label_drawn, die_label_lines
from records.die_sheet import die_sheet
from records.dies import (
    attempts_of,
    dies_for_part,
    file_die,
    fit_on_file,
    hole_to_fit,
    into_hole,
    known_dies,
    states_on_file,
)
from records.exchange.arrival import checked_document, file_document
from records.exchange.document import document_of
from records.holes import judge_filed_hole
from records.reading import dies, read_part
from records.register import Register, open_register
from records.verification import verify
from tests.records.dies_on_file import OLD, ORIGINAL_MM, SPLIT, dies_register, file_screw
from tests.records.registers import new_register
from threads.cutting.to_fit import HOLE
from threads.shared.refusal import RefusalError
from threads.workshop.drawn_thread import TriedHole


@pytest.fixture
def register(tmp_path: Path) -> Register:
    return dies_register(tmp_path)


def test_what_a_die_cut_is_read_from_the_replacements(register: Register) -> None:
    with register.reading() as connection:
        old, split = known_dies(connection)
        assert (old.name, split.name) == (OLD, SPLIT)
        assert [cut.setting for cut in split.cuts] == ["1/4 turn", "0.3 turn", "0.27 turn"]
        sizes = [cut.thread.pitch_diameter.value for cut in old.cuts]
        assert sizes == [pytest.approx(2.380), pytest.approx(2.383)]
        benches = {cut.common and cut.common.bench for cut in (*old.cuts, *split.cuts)}
        assert len(benches) == 1
        assert None not in benches
        answer = dies_for_part(connection, 1)
        assert [one.state.die.name for one in answer.choices] == [SPLIT, OLD]
        first = answer.choices[0]
        assert first.difference is not None
        assert first.difference.value == pytest.approx(2.405 - ORIGINAL_MM, abs=0.003)
        assert first.enters is not None
        assert first.enters > 0.9
        (attempt, *more) = attempts_of(connection, 1, split.number)
        assert (attempt.setting, len(more)) == ("1/4 turn", 2)
        fit = fit_on_file(connection, 1, split.number)
        assert fit is not None
        assert fit.found.off is not None
        assert fit.found.off.value < 0


def test_what_was_withdrawn_counts_no_longer(register: Register) -> None:
    with register.writing() as writing:
        withdraw(writing, "replacements", 1)
        withdraw(writing, "parts", 3)
        withdraw(writing, "dies", 2)
    with register.reading() as connection:
        (split,) = known_dies(connection)
        assert [cut.setting for cut in split.cuts] == ["0.27 turn"]
        assert len(dies(connection, withdrawn=True)) == 2


def test_a_die_takes_over_the_replacements_that_named_it(tmp_path: Path) -> None:
    register = new_register(tmp_path)
    with register.writing() as writing:
        part, made = file_screw(writing, 2.42, "screw"), file_screw(writing, 2.41, "new screw")
        filing.add_replacement(writing, part, made_part=made, die="Die in the left drawer", setting="open 1/8 turn")
        assert file_die(writing, "die in the left drawer", kind="die", cuts=None, remark=None) == (1, 1)
    with register.reading() as connection:
        assert [len(one.cuts) for one in known_dies(connection)] == [1]
        replacement = read_part(connection, part).replacements[0]
        assert (replacement.die, replacement.cut_by) == ("Die in the left drawer", 1)


def test_names_are_kept_apart(register: Register) -> None:
    with register.writing() as writing:
        for name, code in ((SPLIT.upper(), "die_on_file"), ("4-40 splitt die no. 1", "name_alike")):
            with pytest.raises(RefusalError) as caught:
                file_die(writing, name, kind="die", cuts=None, remark=None)
            assert caught.value.reasons[0].code == code
        file_die(writing, "4-40 split die no. 2", kind="die", cuts=None, remark=None)


def test_dies_go_along_and_two_of_one_name_stay_two(register: Register, tmp_path: Path) -> None:
    with register.writing() as writing:
        file_die(writing, "6-32 tap", kind="tap", cuts="6-32", remark="dull")
        correct(writing, "dies", 1, {"remark": "ground"})
        file_screw(writing, 2.42, "another screw")
    with register.reading() as connection:
        everything = [part for (part,) in connection.execute("SELECT id FROM parts")]
        sent = json.loads(json.dumps(document_of(connection, everything))) | {"identifications": []}
        one_only = document_of(connection, [1])
    assert [row["name"] for row in sent["dies"]] == [SPLIT, OLD, "6-32 tap"]
    assert len(one_only["dies"]) == 2
    assert one_only["parts"]  # the new screws go along with the part they were made for
    (tmp_path / "other").mkdir()
    other = open_register(tmp_path / "other" / "parts.sqlite", create=True)
    with other.writing() as writing:
        file_die(writing, SPLIT, kind="die", cuts=None, remark=None)
    arrived = file_document(other, checked_document(sent, "sent.json"), lambda _sha256, _path: False)
    assert arrived.filed["dies"] == 3
    with other.reading() as connection:
        names = {one.name: len(one.cuts) for one in known_dies(connection)}
        assert names == {SPLIT: 0, f"{SPLIT} (2)": 3, OLD: 2, "6-32 tap": 0}
    assert verify(other).faults == ()
    assert file_document(other, checked_document(sent, "sent.json"), lambda _sha256, _path: False).filed["dies"] == 0


def test_an_export_from_before_there_were_dies_is_read(register: Register, tmp_path: Path) -> None:
    with register.reading() as connection:
        sent = document_of(connection, [1]) | {"identifications": []}  # those of these tests are no whole documents
    del sent["dies"]
    for row in sent["replacements"]:
        del row["cut_by"]
    (tmp_path / "other").mkdir()
    other = open_register(tmp_path / "other" / "parts.sqlite", create=True)
    file_document(other, checked_document(sent, "old.json"), lambda _sha256, _path: False)
    with other.reading() as connection:
        assert read_part(connection, 1).replacements[0].cut_by is None


def test_a_tap_is_known_by_the_holes_that_screws_were_tried_in(register: Register) -> None:
    with register.writing() as writing:
        tap = file_die(writing, "4-40 tap", kind="tap", cuts="4-40", remark=None)[0]
        holes = [filing.add_part(writing, name=name) for name in ("old post", "new post", "not tried")]
        for part in holes:
            filing.add_hole(writing, part, "4-40", engagement=3.0)
        ids = {part: value(writing.connection, "SELECT id FROM holes WHERE part_id = ?", (part,)) for part in holes}
        for part in holes[:2]:  # part 4 is 2.405 mm
            filing.add_trial(writing, ids[part], outcome="went_in", screw=4)
        for part in holes[1:]:
            filing.add_replacement(writing, holes[0], made_part=part, die="4-40 tap", cut_by=tap)
    with register.reading() as connection:
        known = {one.name: one for one in known_dies(connection)}
        (cut,) = known["4-40 tap"].cuts
        assert cut.thread.internal
        assert cut.thread.pitch_diameter.value > 2.405
        (choice,) = dies_for_part(connection, holes[0]).choices
        assert choice.state.die.name == "4-40 tap"
        assert choice.difference is not None
        assert choice.difference.value == pytest.approx(0.0, abs=0.01)
        assert choice.enters is not None
    assert isinstance(into_hole(register, holes[0]), TriedHole)
    with register.reading() as connection:
        split = next(one.number for one in known_dies(connection) if one.name == SPLIT)
        fit = fit_on_file(connection, 1, split, hole_to_fit(register, holes[0]))
    assert fit is not None
    target = fit.found.target
    assert target.kind == HOLE
    with register.reading() as connection:
        judged = judge_filed_hole(connection, holes[0])
        cut = attempts_of(connection, 1, split)[-1]
    assert judged is not None
    make = judged.found.to_make  # what the page of the hole says, less what this die's pitch and angles add
    assert (target.low, target.high) == (
        pytest.approx(make.low - cut.added, abs=5e-4),
        pytest.approx(make.high - cut.added, abs=5e-4),
    )
    with pytest.raises(RefusalError):
        hole_to_fit(register, holes[2])


def test_labels_and_sheet(register: Register) -> None:
    with register.reading() as connection:
        old, split = states_on_file(connection)
    first, cuts, *_ = die_label_lines(split)
    assert first == SPLIT
    assert cuts.startswith("cuts 2.4")
    assert cuts.endswith("mm, 4-40")
    assert die_label_drawn(old, "png").startswith(b"\x89PNG")
    for paper in ("a4", "letter"):
        assert die_sheet((old, split), paper=paper).startswith(b"%PDF")
    assert die_sheet(()).startswith(b"%PDF")
