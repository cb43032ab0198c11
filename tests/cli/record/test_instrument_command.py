"""``flankwise record instrument``: one answer for all screws of an instrument."""

from __future__ import annotations

import csv
import json
from pathlib import Path

import pytest

from cli.main import main
from records import filing
from records.instrument import others_on_file
from records.reading import notes_on
from records.register import Register
from tests.records.registers import document, file_picture, picture_file, sextant_register
from tests.records.workshop import SCREW
from threads.standards.designation import parse
from threads.standards.limits import limits_of


@pytest.fixture
def register(tmp_path: Path) -> Register:
    return sextant_register(tmp_path)


def run(register: Register, *words: str, expect: int = 0) -> None:
    assert main(["record", "instrument", *words, "--register", str(register.path)]) == expect


def test_the_system_the_odd_one_and_the_tools_are_named(register: Register, capsys: pytest.CaptureFixture[str]) -> None:
    run(register, "marine sextant", "--json")
    found = json.loads(capsys.readouterr().out)
    assert found["schema"] == "flankwise/instrument/1"
    assert found["parts"] == 8
    first = found["systems"][0]
    assert (first["system"], sorted(first["series"])) == ("American National", ["NC", "NF"])
    assert first["probability"] > 0.9
    assert {"probability", "probability_measurement_only"} <= set(first)
    (odd,) = found["odd_ones_out"]
    assert odd["part"] == 8
    assert "ISO metric" in odd["why"]
    sizes = {one["thread"]: one for one in found["sizes"]}
    assert sizes["4-40"]["parts"] == [3, 7]
    assert set(sizes["4-40"]["pitch_diameter"]["mean"]) >= {"value", "u95", "unit"}
    assert sizes["4-40"]["classes"][0]["designation"] in ("4-40 NC-2", "4-40 NC-3")
    assert {one["kind"] for one in found["tools"]} == {"die", "tap", "wires", "drill", "pins"}
    assert all(set(one) >= {"kind", "name", "for", "note"} for one in found["tools"])


def test_what_is_missing_is_listed_in_print(register: Register, capsys: pytest.CaptureFixture[str]) -> None:
    run(register, "marine sextant")
    printed = capsys.readouterr().out
    assert printed.startswith("marine sextant: American National (")
    assert "odd one out: part 8 (screw 8)" in printed
    assert "on file without a measurement: lost screw" in printed
    assert "positions without a part: screw 9" in printed
    assert "Ask for " in printed
    assert "one die may have cut all of 4-40" in printed


def test_only_the_screws_of_a_job_are_judged_where_one_is_named(
    register: Register, capsys: pytest.CaptureFixture[str]
) -> None:
    with register.writing("Ada") as writing:
        job = filing.add_job(writing, "overhaul", instrument=1)
        for designation in ("4-40 NC-2", "8-32 NC-2", "10-32 NF-2"):
            part = filing.add_part(writing, instrument=1, job=job)
            filing.add_measurement(writing, part, document(limits_of(parse(designation)), 0.8))
    run(register, "marine sextant", "--job", "overhaul", "--json")
    found = json.loads(capsys.readouterr().out)
    assert found["parts"] == 3
    assert {one["name"] for one in found["tools"] if one["kind"] == "die"} == {"4-40 UNC", "8-32 UNC", "10-32 UNF"}
    run(register, "marine sextant", "--job", "nothing such", expect=3)


def test_charts_and_the_list_of_tools_are_written(
    register: Register, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    chart, table = tmp_path / "chart.svg", tmp_path / "tools.csv"
    run(register, "marine sextant", "--figure", str(chart), "--tools", str(table))
    assert b"<svg" in chart.read_bytes()
    lines = list(csv.DictReader(table.read_text("utf-8").splitlines()))
    assert {"die", "tap", "wires", "drill", "pins"} == {line["kind"] for line in lines}
    assert any(line["name"] == "4-40 UNC" and line["screws"] == "2" for line in lines)
    capsys.readouterr()


def test_what_is_stated_is_kept_counts_and_is_said_where_measurements_contradict_it(
    register: Register, capsys: pytest.CaptureFixture[str]
) -> None:
    run(register, "marine sextant", "--stated", "BA", "--by", "catalogue", "--source", "page 3")
    printed = capsys.readouterr().out
    assert "stated: BA, by catalogue: counts 20 times" in printed
    assert "The measurements contradict what is stated of it (BA, by catalogue)" in printed
    assert "kept as a note on marine sextant: stated: BA, by catalogue, weight 20; source: page 3" in printed
    run(register, "marine sextant")  # it counts until its note is withdrawn
    printed = capsys.readouterr().out
    assert "stated: BA, by catalogue: counts 20 times" in printed
    assert "'flankwise record correct note 1 withdrawn=yes' takes it back" in printed
    with register.reading() as connection:
        assert len(notes_on(connection, instrument=1)) == 1
    assert main(["record", "correct", "note", "1", "withdrawn=yes", "--register", str(register.path)]) == 0
    capsys.readouterr()
    run(register, "marine sextant")
    assert "stated" not in capsys.readouterr().out
    run(register, "marine sextant", "--weight", "3", expect=2)
    assert "--stated" in capsys.readouterr().err


def test_the_others_of_an_instrument_leave_out_the_part_that_the_picture_shows(
    register: Register, tmp_path: Path
) -> None:
    path, sha256 = picture_file(tmp_path)
    with register.writing("Ada") as writing:
        filing.show_part(writing, 8, file_picture(writing, path, sha256))
    everything = others_on_file(str(register.path), "marine sextant")
    others = others_on_file(str(register.path), "marine sextant", sha256=sha256)
    assert everything is not None
    assert others is not None
    assert len(everything.sheet.screws) == 8
    assert [one.part for one in others.sheet.screws] == [1, 2, 3, 4, 5, 6, 7]
    assert others_on_file(str(register.path), "field theodolite") is None


@pytest.mark.slow
def test_a_new_screw_is_identified_as_part_of_its_instrument_or_by_itself(
    register: Register, capsys: pytest.CaptureFixture[str]
) -> None:
    """The sample is a 4-40 between American National and Unified; the other screws of the sextant tell which."""
    screw = [str(SCREW), "--scale", "4um", "--register", str(register.path)]
    assert main(["identify", *screw, "--instrument", "marine sextant"]) == 0
    printed = capsys.readouterr().out
    assert printed.startswith("Identified: 4-40 NC (American National)")
    assert "As part of marine sextant: 8 other screws say American National (" in printed
    assert "By itself: 4-40 NC-2" in printed
    assert len(printed.splitlines()) <= 15
    place = ["--instrument", "marine sextant", "--position", "screw 9", "--json"]
    told = {}
    for words in ([], ["--by-itself", "--another"]):
        assert main(["record", "add", *screw, *place, *words]) == 0
        told[bool(words)] = json.loads(capsys.readouterr().out)["identification"]
    assert told[True]["as_part_of"] is None
    assert told[False]["as_part_of"]["screws"] == 8
    series = {
        kind: {one["series"] for one in of["candidates"] if one["probability"] > 0.05} for kind, of in told.items()
    }
    assert "UNC" not in series[False]
    assert main(["identify", *screw, "--instrument", "field theodolite"]) == 3
    assert "no measured screw" in capsys.readouterr().err


def test_an_origin_that_the_screws_contradict_and_a_few_screws_are_said(
    register: Register, capsys: pytest.CaptureFixture[str]
) -> None:
    run(register, "marine sextant", "--origin", "JP", "--made", "1955")
    printed = capsys.readouterr().out
    assert "Country and year speak against American National (" in printed
    run(register, "marine sextant")  # the United States in 1938, on file
    assert "speak against" not in capsys.readouterr().out
    with register.writing("Ada") as writing:
        for number, designation in enumerate(("M3x0.5-6g", "M2.5x0.45-6g")):
            part = filing.add_part(writing, name=f"stud {number}", instrument=2)
            filing.add_measurement(writing, part, document(limits_of(parse(designation)), 0.5))
    run(register, "field theodolite")
    assert "Only 2 measured screws: with 3 or more the answer means something." in capsys.readouterr().out


def test_a_theodolite_with_inch_tripod_screws_is_told_from_one_with_replacements(
    register: Register, capsys: pytest.CaptureFixture[str]
) -> None:
    """One screw of another system may be anything; two of one system may be the maker's choice, and that is said."""
    with register.writing("Ada") as writing:
        for number, designation in enumerate(
            [f"M{d}-6g" for d in ("2", "2.5", "3", "4", "5", "3")] + ["1/4-20 UNC-2A"] * 2
        ):
            part = filing.add_part(writing, name=f"screw {number}", instrument=2)
            filing.add_measurement(writing, part, document(limits_of(parse(designation)), 0.5))
    run(register, "field theodolite")
    printed = " ".join(capsys.readouterr().out.split())
    assert printed.startswith("field theodolite: ISO metric (")
    assert printed.count("odd one out") == 2
    assert "a later replacement, in a wrong hole, or its maker's choice" in printed
    assert "if the maker used both, this is meant so and no replacement" in printed


def test_a_screw_filed_twice_by_one_picture_counts_once(
    register: Register, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path, sha256 = picture_file(tmp_path)
    with register.writing("Ada") as writing:
        picture = file_picture(writing, path, sha256)
        of = document(limits_of(parse("M3x0.5-6g")), 0.5)
        beside = {**of, "part": {**of["part"], "middle_px": [of["part"]["middle_px"][0] + 400.0, 300.0]}}
        for name, measured in (("stud", of), ("stud again", of), ("the other in view", beside)):
            part = filing.add_part(writing, name=name, instrument=2)
            filing.add_measurement(writing, part, measured, picture=picture)
    run(register, "field theodolite")
    printed = capsys.readouterr().out
    assert "from 2 measured screws" in printed
    assert "counted once: stud again was filed by the same picture as stud" in printed


@pytest.mark.parametrize(
    ("words", "expect"),
    [
        (["field theodolite"], 3),
        (["no such thing"], 3),
        (["marine sextant", "--origin", "nowhere"], 2),
        (["marine sextant", "--replaced", "2"], 2),
        (["marine sextant", "--figure", "chart.gif"], 2),
    ],
)
def test_bad_input_is_one_line(
    register: Register, words: list[str], expect: int, capsys: pytest.CaptureFixture[str]
) -> None:
    run(register, *words, expect=expect)
    assert len(capsys.readouterr().err.strip().splitlines()) == 1
