"""``flankwise record die``, ``dies`` and ``replacement``: dies by what they cut, and the loop of cutting to fit."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

import flankwise.measuring
from cli.main import main
from flankwise.part import Part
from records.register import Register
from tests.records.dies_on_file import OLD, SPLIT, dies_register
from tests.records.workshop import SCREW, measured


@pytest.fixture
def register(tmp_path: Path) -> Register:
    return dies_register(tmp_path)


def run(register: Register, *words: str, expect: int = 0) -> None:
    assert main(["record", *words, "--register", str(register.path)]) == expect


def answer(register: Register, capsys: pytest.CaptureFixture[str], *words: str) -> dict[str, Any]:
    capsys.readouterr()
    run(register, *words, "--json")
    found: dict[str, Any] = json.loads(capsys.readouterr().out)
    return found


def test_the_nearest_die_is_named_first(register: Register, capsys: pytest.CaptureFixture[str]) -> None:
    found = answer(register, capsys, "dies", "--for", "1")
    assert (found["schema"], found["part"]) == ("flankwise/dies/1", 1)
    assert [one["die"] for one in found["dies"]] == [SPLIT, OLD]
    first = found["dies"][0]
    assert first["cut"] == 3
    assert first["pitch_diameter"]["value"] + 0.015 == pytest.approx(2.420, abs=0.003)
    assert {"value", "u95", "unit"} <= first["difference"].keys()
    assert 0.9 < first["enters"] <= 1
    assert first["note"].startswith("open it by ")
    run(register, "dies", "--for", "1", "--hole", "4-40 NC-3", "--engagement", "3mm")
    printed = capsys.readouterr().out
    assert printed.startswith("for part 1, the nearest first;")
    assert printed.count("open it by") == 2
    listed = answer(register, capsys, "dies")
    assert (listed["schema"], listed["part"], len(listed["dies"])) == ("flankwise/dies/1", None, 2)


def test_a_die_is_filed_shown_and_corrected(
    register: Register, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    run(register, "die", "2.5 mm split die", "--cuts", "M2.5", "--remark", "from the blue box")
    assert capsys.readouterr().out.startswith("filed: die 2.5 mm split die\n  no measured cut yet")
    label, sheet = tmp_path / "label.pdf", tmp_path / "dies.pdf"
    run(register, "die", SPLIT, "-o", str(label))
    assert "3 measured cuts" in capsys.readouterr().out
    run(register, "dies", "--sheet", str(sheet), "--paper", "letter")
    assert label.read_bytes().startswith(b"%PDF")
    assert sheet.read_bytes().startswith(b"%PDF")
    run(register, "correct", "die", "2.5 mm split die", "cuts=M2", "name=2 mm split die")
    run(register, "correct", "replacement", "4", f"cut-by={SPLIT}")
    assert [one["cut"] for one in answer(register, capsys, "dies")["dies"]] == [0, 1, 4]
    run(register, "correct", "die", OLD, "withdrawn=yes")
    assert len(answer(register, capsys, "dies")["dies"]) == 2


def test_a_replacement_by_its_picture_is_measured_filed_and_judged(
    register: Register, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(flankwise.measuring, "measure", lambda _picture, _bench: Part(measured()))
    found = answer(
        register, capsys, "replacement", "1", str(SCREW), "--die", SPLIT, "--setting", "open 0.45 turn",
        "--scale", "4.00um",
    )  # fmt: skip
    assert (found["schema"], found["status"], found["die_on_file"]) == ("flankwise/replacement/1", "filed", True)
    assert found["measurement"]["schema"] == "flankwise/measurement/1"
    fitting = found["fitting"]
    assert len(fitting["attempts"]) == 4
    assert fitting["attempts"][-1]["setting"] == 0.45
    assert fitting["advice"]
    shown = answer(register, capsys, "show", "1")
    assert shown["replacements"][-1]["made_part"] == found["made_part"]
    run(register, "replacement", "1", "--made-part", "3", "--die", SPLIT, "--target", "4-40 NC-2")
    printed = capsys.readouterr().out
    assert "5 attempts by this die" in printed
    run(register, "replacement", "1", "--die", "somebody's die", "--made-part", "3")
    assert "no die on file is called" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("words", "exit_code", "says"),
    [
        (["die", " "], 2, "has no name"),
        (["die", "x", "--cuts", "nonsense"], 2, "--cuts: 'nonsense'"),
        (["die", "x", "-o", "label.doc"], 2, "must end in .png or .pdf"),
        (["die", SPLIT, "--tap"], 3, "is called"),
        (["dies", "--for", "99"], 3, "No part 99"),
        (["dies", "--for", "screw"], 2, "is not the number of a part"),
        (["dies", "--hole", "4-40 NC-2"], 2, "go with --for"),
        (["dies", "--for", "1", "--hole", "nonsense"], 2, "nonsense"),
        (["dies", "--for", "1", "--engagement", "3"], 2, "unit"),
        (["dies", "--sheet", "dies.txt"], 2, "must end in .pdf"),
        (["dies", "--sheet", "dies.pdf", "--paper", "a5"], 2, "a4, letter"),
        (["replacement", "1", "a.png", "--made-part", "2"], 2, "twice"),
        (["replacement", "1", "a.png", "--die", SPLIT, "--target", "nonsense"], 2, "nonsense"),
        (["replacement", "1", "--made-part", "2", "--target", "4-40 NC-2"], 2, "go with --die"),
        (["replacement", "1", "--die", SPLIT, "--scale", "4um"], 2, "go with a PICTURE"),
        (["replacement", "1", "--made-part", "2", "--die", SPLIT, "--hole-part", "3"], 3, "hole"),
        (["dies", "--for", "1", "--hole", "4-40 NC-2", "--hole-part", "3"], 2, "twice"),
        (["dies", "--for", "1", "--hole-part", "3"], 3, "hole"),
        (["replacement", "99", "a.png", "--die", SPLIT], 3, "No part 99"),
        (["correct", "replacement", "1", "cut-by=no such die"], 3, "no such die"),
    ],
)
def test_bad_input_is_one_clear_line(
    register: Register, capsys: pytest.CaptureFixture[str], words: list[str], exit_code: int, says: str
) -> None:
    run(register, *words, expect=exit_code)
    errors = capsys.readouterr().err
    assert says in errors
    assert errors.count("\n") == 1
