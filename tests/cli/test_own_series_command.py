"""``flankwise series add`` and ``remove``: whole commands, and a damaged file that any command may come upon."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from cli.main import main
from threads.own.own_table import COLUMNS, EXAMPLE
from threads.rules.series_tables import builtin_names


@pytest.fixture(autouse=True)
def data(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    folder = tmp_path / "data"
    monkeypatch.setenv("FLANKWISE_DATA", str(folder))
    return folder


@pytest.fixture
def example(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Path:
    """What ``series add --example`` prints, as a file."""
    assert main(["series", "add", "--example"]) == 0
    path = tmp_path / "own.csv"
    path.write_text(capsys.readouterr().out, encoding="utf-8")
    return path


def printed_json(capsys: pytest.CaptureFixture[str], *arguments: str, expect: int = 0) -> dict[str, Any]:
    capsys.readouterr()
    assert main([*arguments, "--json"]) == expect
    found = json.loads(capsys.readouterr().out)
    assert isinstance(found, dict)
    return found


def test_add_show_use_and_remove(example: Path, data: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["series", "add", str(example)]) == 0
    kept = data / "series" / "qw.csv"
    assert f"added QW: 2 sizes, ISO metric form, kept in {kept}" in capsys.readouterr().out
    assert kept.read_bytes() == example.read_bytes()
    assert main(["series"]) == 0
    listed = " ".join(capsys.readouterr().out.split())
    assert "QW Quayside Workshop arm screws" in listed
    assert f"own: of this workshop, kept in {data / 'series'}" in listed
    assert main(["series", "qw"]) == 0
    assert "1.8x0.35         1.800 mm   0.350 mm" in capsys.readouterr().out
    assert main(["limits", "1.8x0.35 QW"]) == 0
    assert "1.8x0.35 QW, external thread: own series" in capsys.readouterr().out
    assert main(["wires", "2.2x0.40 QW"]) == 0
    assert main(["limits", "1.8x0.35 QW nut", "--unit", "in"]) == 0
    assert "tap   M1.8x0.35" in capsys.readouterr().out
    assert main(["series", "remove", "qw"]) == 0
    assert not kept.exists()
    assert main(["limits", "1.8x0.35 QW"]) == 2


def test_json_forms(example: Path, data: Path, capsys: pytest.CaptureFixture[str]) -> None:
    kept = str(data / "series" / "qw.csv")
    added = printed_json(capsys, "series", "add", str(example))
    assert added == {"schema": "flankwise/own-series/1", "status": "added", "name": "QW", "file": kept, "sizes": 2}
    listed = {series["name"]: series["own"] for series in printed_json(capsys, "series")["series"]}
    assert listed == {**dict.fromkeys(builtin_names(), False), "QW": True}
    one = printed_json(capsys, "series", "QW")
    assert (one["own"], len(one["sizes"])) == (True, 2)
    assert printed_json(capsys, "limits", "1.8x0.35 QW")["series"] == "QW"
    assert printed_json(capsys, "series", "remove", "QW")["status"] == "removed"


def test_faults_are_one_line_each_and_nothing_is_added(
    example: Path, data: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    example.write_text(EXAMPLE.replace("0.35,ISO", "x,ISO").replace("nut", "nutt"), encoding="utf-8")
    assert main(["series", "add", str(example)]) == 3
    shown = capsys.readouterr()
    assert shown.out == ""
    lines = shown.err.splitlines()
    assert len(lines) == 2
    assert lines[0] == f"flankwise: refused: {example}: row 2, column 'pitch': 'x' is not a number such as 0.45"
    assert "row 3, column 'for'" in lines[1]
    refused = printed_json(capsys, "series", "add", str(example), expect=3)
    assert (refused["schema"], refused["status"]) == ("flankwise/refusal/1", "refused")
    assert [reason["code"] for reason in refused["reasons"]] == ["own_series_fault"] * 2
    assert not data.exists()


def test_a_table_full_of_faults_does_not_flood_the_screen(example: Path, capsys: pytest.CaptureFixture[str]) -> None:
    head, first, *_ = EXAMPLE.splitlines()
    rows = [first.replace("1.8x0.35", f"A{i}").replace(",0.35,", ",x,") for i in range(100)]
    example.write_text("\n".join([head, *rows]), encoding="utf-8")
    assert main(["series", "add", str(example)]) == 3
    lines = capsys.readouterr().err.splitlines()
    assert len(lines) == 21
    assert "and 80 faults more" in lines[-1]


def test_adding_again_needs_replace(example: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["series", "add", str(example)]) == 0
    assert main(["series", "add", str(example)]) == 3
    assert "replace it with --replace" in capsys.readouterr().err
    assert main(["series", "add", str(example), "--replace"]) == 0


@pytest.mark.parametrize(
    ("arguments", "code", "says"),
    [
        (["add"], 2, "series add needs a file"),
        (["add", "missing.csv"], 3, "missing.csv cannot be read"),
        (["add", "."], 3, "cannot be read"),
        (["remove"], 2, "Missing argument 'NAME'"),
        (["remove", "NC"], 2, "NC is built in"),
        (["remove", "QX"], 2, "no thread series is called 'QX'"),
        (["show", "QX"], 2, "no thread series is called 'QX'"),
        (["QX"], 2, "no thread series is called 'QX'"),
        (["--unit", "ft"], 2, "not one of mm, in"),
    ],
)
def test_what_cannot_be_done_is_one_line(
    arguments: list[str], code: int, says: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["series", *arguments]) == code
    shown = capsys.readouterr()
    assert shown.out == ""
    assert shown.err.count("\n") == 1
    assert says in shown.err


@pytest.mark.parametrize(
    "arguments",
    [
        ["series"],
        ["series", "QW"],
        ["limits", "4-40 NC-2"],
        ["wires", "4-40 NC-2"],
        ["identify", "missing.png", "--scale", "4um", "--origin", "US"],
    ],
)
def test_a_damaged_file_is_one_line_whatever_is_asked(
    arguments: list[str], data: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (data / "series").mkdir(parents=True)
    broken = data / "series" / "qw.csv"
    broken.write_text("series,size\nQW,1\n", encoding="utf-8")
    assert main(arguments) == 3
    shown = capsys.readouterr()
    assert shown.out == ""
    assert shown.err.count("\n") == 1
    assert f"refused: the own series in {broken} cannot be read" in shown.err
    refused = printed_json(capsys, *arguments, expect=3)
    assert refused["reasons"][0]["code"] == "own_series_broken"
    assert main(["series", "remove", "qw"]) == 0
    assert main(["limits", "4-40 NC-2"]) == 0


def test_a_folder_that_cannot_be_written_is_one_line(
    example: Path, data: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    data.write_text("a file, not a folder", encoding="utf-8")
    assert main(["series", "add", str(example)]) == 3
    shown = capsys.readouterr()
    assert shown.err.count("\n") == 1
    assert "Nothing can be kept in" in shown.err


def test_the_help_explains_the_columns(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["series", "add", "--help"]) == 0
    shown = capsys.readouterr().out
    assert "--example" in shown
    for names in COLUMNS:
        assert names in shown
    assert main(["series", "--help"]) == 0
    assert {"show", "add", "remove"} <= set(capsys.readouterr().out.split())
