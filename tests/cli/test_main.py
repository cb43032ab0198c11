"""How a run of the command ends: exit codes, one line on stderr, nothing but the object on stdout under --json."""

from __future__ import annotations

import importlib
import json
import os
import re
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from cli.main import main

ROOT = Path(__file__).resolve().parents[2]


RUN = [sys.executable, "-c", "from cli.main import run; run()"]
"""The real command in a process of its own; its working folder is ROOT."""


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["frobnicate"], "No such command 'frobnicate'"),
        (["limits"], "Missing argument 'DESIGNATION'"),
        (["limits", "4-40 NC-2", "--grid", "x"], "No such option: --grid"),
        (["limits", "4-40 NC-2", "--unit"], "--unit"),
        (["limits", "4-40 NC-2", "--unit", "cubits"], "--unit 'cubits' is not one of mm, in"),
        (["limits", "4-40 NC-2", "more"], "more"),
        (["limits", "4-40 QQ-2"], "4-40 NC-2"),
        (["limits", "hello\nworld"], "is not a thread designation"),
        (["series", "NCX"], "nearest: NC"),
        (["--nonsense"], "No such option: --nonsense"),
    ],
)
def test_a_wrong_command_line_is_one_line_and_2(
    arguments: list[str], says: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(arguments) == 2
    shown = capsys.readouterr()
    assert shown.out == ""
    assert shown.err.startswith("flankwise: ")
    assert shown.err.count("\n") == 1
    assert says in shown.err


@pytest.mark.parametrize(
    "arguments",
    [["limits", "4-40 QQ-2", "--json"], ["series", "QQ", "--json"], ["limits", "--json"], ["nonsense", "--json"]],
)
def test_a_wrong_command_line_is_a_refusal_under_json(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(arguments) == 2
    shown = capsys.readouterr()
    document = json.loads(shown.out)
    (reason,) = document.pop("reasons")
    assert document == {"schema": "flankwise/refusal/1", "status": "refused"}
    assert reason["code"] == "command_line"
    assert shown.err == f"flankwise: {reason['message']}\n"


def test_no_command_shows_the_help_and_is_2(capsys: pytest.CaptureFixture[str]) -> None:
    assert main([]) == 2
    shown = capsys.readouterr()
    assert shown.out == ""
    assert "Commands:" in shown.err


def test_help_and_version(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--help"]) == 0
    assert {"limits", "series"} <= set(re.findall(r"^  (\w+) ", capsys.readouterr().out, re.MULTILINE))
    assert main(["--version"]) == 0
    assert re.fullmatch(r"flankwise \d+\.\d+\.\d+\n", capsys.readouterr().out)


def test_help_loads_nothing_heavy() -> None:
    heavy = "numpy scipy cv2 skimage PIL tifffile rich PySide6 pydantic matplotlib"
    code = f"import sys; from cli.main import main; main(['--help']); print(set({heavy.split()}) & set(sys.modules))"
    ended = subprocess.run(
        [sys.executable, "-c", code], text=True, capture_output=True, cwd=ROOT, timeout=600, check=True
    )
    assert ended.stdout.splitlines()[-1] == "set()"


def test_a_defect_leaves_a_log_and_one_line(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    def fails(*_: object, **__: object) -> None:
        raise ZeroDivisionError("a defect made for this test")

    monkeypatch.setattr("threads.standards.limits.limits_of", fails)
    monkeypatch.setattr("cli.defects.log_folder", lambda: tmp_path / "logs")
    monkeypatch.delenv("FLANKWISE_DEBUG", raising=False)
    assert main(["limits", "4-40 NC-2"]) == 1
    shown = capsys.readouterr()
    assert shown.out == ""
    assert shown.err.count("\n") == 1
    assert "Traceback" not in shown.err
    (log,) = (tmp_path / "logs").iterdir()
    assert str(log) in shown.err
    text = log.read_text()
    assert "ZeroDivisionError: a defect made for this test" in text
    assert "'4-40 NC-2'" in text


def test_a_defect_shows_its_traceback_when_asked(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr("threads.standards.limits.limits_of", lambda *_, **__: 1 / 0)
    monkeypatch.setattr("cli.defects.log_folder", lambda: tmp_path)
    monkeypatch.setenv("FLANKWISE_DEBUG", "1")
    assert main(["limits", "4-40 NC-2"]) == 1
    assert "Traceback" in capsys.readouterr().err


def test_a_defect_is_reported_even_where_no_folder_takes_the_log(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    blocked = tmp_path / "a file, not a folder"
    blocked.write_text("")
    monkeypatch.setattr("threads.standards.limits.limits_of", lambda *_, **__: 1 / 0)
    monkeypatch.setattr("cli.defects.log_folder", lambda: blocked)
    monkeypatch.setattr("tempfile.gettempdir", lambda: str(blocked))
    assert main(["limits", "4-40 NC-2"]) == 1
    assert "FLANKWISE_DEBUG=1" in capsys.readouterr().err


def test_ctrl_c_is_quiet(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    def interrupted(*_: object, **__: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("threads.standards.limits.limits_of", interrupted)
    assert main(["limits", "4-40 NC-2"]) == 130
    shown = capsys.readouterr()
    assert (shown.out, shown.err) == ("", "")


@pytest.mark.skipif(os.name == "nt", reason="a pipe of POSIX")
@pytest.mark.parametrize("arguments", [["series"], ["limits", "4-40 NC-2", "--json"], ["--help"], ["--version"]])
def test_a_closed_pipe_is_quiet(arguments: list[str]) -> None:
    reading, writing = os.pipe()
    os.close(reading)
    try:
        command = [*RUN, *arguments]
        ended = subprocess.run(
            command, stdout=writing, stderr=subprocess.PIPE, text=True, cwd=ROOT, timeout=600, check=False
        )
    finally:
        os.close(writing)
    assert ended.stderr == ""
    assert ended.returncode == 141


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs a device that is always full")
def test_a_full_disk_is_one_line() -> None:
    with Path("/dev/full").open("w") as full:
        command = [*RUN, "limits", "4-40 NC-2"]
        ended = subprocess.run(
            command, stdout=full, stderr=subprocess.PIPE, text=True, cwd=ROOT, timeout=600, check=False
        )
    assert ended.returncode == 2
    assert ended.stderr.count("\n") == 1
    assert "cannot be written" in ended.stderr


def test_a_terminal_that_lacks_a_sign_shows_another() -> None:
    environment = {**os.environ, "PYTHONIOENCODING": "ascii", "PYTHONUTF8": "0"}
    ended = subprocess.run(
        [*RUN, "series", "NC"], text=True, capture_output=True, cwd=ROOT, env=environment, timeout=600, check=False
    )
    assert ended.returncode == 0
    assert "4-40" in ended.stdout
    assert ended.stderr == ""


def test_the_command_that_is_installed_can_be_called() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    module, _, function = project["scripts"]["flankwise"].partition(":")
    assert callable(getattr(importlib.import_module(module), function))


def test_limits_as_json(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["limits", "1/4-20 unc-2b", "--json", "--unit", "in"]) == 0
    shown = capsys.readouterr()
    limits = json.loads(shown.out)
    assert limits["schema"] == "flankwise/limits/1"
    assert (limits["designation"], limits["internal"], limits["unit"]) == ("1/4-20 UNC-2B", True, "mm")
    assert limits["major_diameter"]["max"] is None
    # ASME B1.1, 1/4-20 UNC-2B: pitch diameter 0.2175 to 0.2224 in
    assert limits["published"]["pitch_diameter"] == {"min": 0.2175, "max": 0.2224}
    assert limits["pitch_diameter"]["max"] == pytest.approx(0.2224 * 25.4, abs=1e-9)
    assert shown.err == ""


def test_internal_asks_for_the_nut_where_the_class_serves_both(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["limits", "4-40 NC-2", "--json"]) == 0
    screw = json.loads(capsys.readouterr().out)
    assert main(["limits", "4-40 NC-2", "--internal", "--json"]) == 0
    nut = json.loads(capsys.readouterr().out)
    assert (screw["internal"], nut["internal"]) == (False, True)
    assert nut["pitch_diameter"]["min"] == screw["pitch_diameter"]["max"]


def test_internal_against_a_screw_class_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["limits", "4-40 UNC-2A", "--internal"]) == 2
    assert "2A" in capsys.readouterr().err


def test_limits_as_a_table(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["limits", "4-40 UNC-2A"]) == 0
    in_mm = capsys.readouterr().out
    assert "4-40 UNC-2A" in in_mm
    assert re.search(r"pitch diameter +2\.3\d+ mm +2\.4130 mm .* 0\.0925 +0\.0950", in_mm)  # ASME B1.1
    assert main(["limits", "4-40 UNC-2A", "--unit", "in"]) == 0
    in_inches = capsys.readouterr().out
    assert re.search(r"pitch diameter +0\.0925 in +0\.0950 in", in_inches)
    assert "as printed" not in in_inches


def test_what_is_from_memory_says_so(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["limits", "4-40 NC-2"]) == 0
    shown = capsys.readouterr().out
    assert "4-40 NC-2 †" in shown
    assert "† limits or sizes: from memory, unverified" in shown


def test_every_series_is_listed_with_its_size_count(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["series", "--json"]) == 0
    listed = json.loads(capsys.readouterr().out)
    assert listed["schema"] == "flankwise/series/1"
    assert {"UNC", "UNF", "UNEF", "NC", "NF", "M", "M fine"} <= {series["name"] for series in listed["series"]}
    assert main(["series"]) == 0
    table = capsys.readouterr().out
    for series in listed["series"]:
        assert main(["series", series["name"], "--json"]) == 0
        one = json.loads(capsys.readouterr().out)
        assert len(one["sizes"]) == series["sizes"] > 0
        assert f"\n{series['name']} " in table


def test_sizes_of_a_series_as_a_table(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["series", "m FINE"]) == 0
    assert re.search(r"M10x1 +10\.000 mm +1\.000 mm", capsys.readouterr().out)
    assert main(["series", "NC", "--unit", "in"]) == 0
    assert re.search(r"4-40 +0\.112\d* in +40", capsys.readouterr().out)


@pytest.mark.skipif(os.name == "nt", reason="a shell of POSIX")
@pytest.mark.parametrize("arguments", [["series"], ["limits", "4-40 NC-2", "--json"], ["record", "list"]])
def test_without_stdout_one_line_says_what_to_do(arguments: list[str]) -> None:
    ended = subprocess.run(
        ["sh", "-c", 'exec "$@" >&-', "sh", *RUN, *arguments],
        stderr=subprocess.PIPE, text=True, cwd=ROOT, timeout=600, check=False,
    )  # fmt: skip
    assert ended.returncode == 2
    assert ended.stderr.startswith("flankwise: stdout is closed")
    assert "> FILE" in ended.stderr
    assert ended.stderr.count("\n") == 1


@pytest.mark.parametrize(
    ("encoding", "signs"),
    [
        ("ascii", {"±": "+/-", "µ": "u", "°": "deg", "†": "(m)"}),
        ("cp850", {"±": "±", "µ": "µ", "°": "°", "†": "(m)"}),
        ("cp1252", {"±": "±", "µ": "µ", "°": "°", "†": "†"}),
        ("koi8-r", {"±": "+/-", "µ": "u", "°": "°", "†": "(m)"}),
    ],
)
def test_signs_that_stdout_lacks_are_written_otherwise(encoding: str, signs: dict[str, str]) -> None:
    wires = ["wires", "4-40 NC-2", "--wire", "0.38mm", "--measured", "2.97mm"]
    ended = subprocess.run(
        [*RUN, *wires], capture_output=True, cwd=ROOT, timeout=600, check=True,
        env={**os.environ, "PYTHONIOENCODING": encoding},
    )  # fmt: skip
    text = ended.stdout.decode(encoding)
    assert text.startswith(f"4-40 NC-2 {signs['†']}: best wire 0.3666 mm")
    assert re.search(rf"2\.97\d* {re.escape(signs['±'])} 0\.00\d+ mm over wires", text)
    assert re.search(rf"lead angle of 4\.\d\d{signs['°']} included", text)
    assert re.search(rf"gives \d\.\d\d {signs['µ']}m (more|less)", text)
    assert "?" not in text


@pytest.mark.skipif(os.name == "nt", reason="file names of POSIX")
def test_the_name_of_a_file_does_not_steer_the_terminal(tmp_path: Path) -> None:
    name = tmp_path / "a\x1b]0;title\x07\u202egnp.csv"
    ended = subprocess.run(
        [*RUN, "series", "add", str(name)], capture_output=True, text=True, cwd=ROOT, timeout=600, check=False
    )
    assert ended.returncode == 3
    assert "a\\x1b]0;title\\x07\\u202egnp.csv" in ended.stderr
    assert ended.stderr.isascii()
