"""``check``, ``compare`` and ``--figure`` on the sample pictures, with their exit codes."""

from __future__ import annotations

import functools
import json
import re
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

import cli.bench
from cli.main import main
from records.figures import pages, style

SAMPLES = Path(__file__).resolve().parents[2] / "sample_images"
ORIGINAL, REPLACEMENT = (
    str(SAMPLES / name)
    for name in ("sextant_index_arm_screw_4-40_bench_a.png", "sextant_index_arm_replacement_4-40_bench_a.png")
)


@pytest.fixture(scope="module")
def bench(tmp_path_factory: pytest.TempPathFactory) -> str:
    target = tmp_path_factory.mktemp("bench") / "a.json"
    pins = [
        argument
        for size in ("1000", "2500")
        for argument in ("--pin", str(SAMPLES / f"pin_{size}_bench_a.png"), f"{size[0]}.{size[1:]}mm")
    ]
    assert main(["calibrate", *pins, "--light-cone", "0deg", "--focus-locked", "-o", str(target)]) == 0
    return str(target)


@pytest.fixture(scope="module")
def measures() -> Callable[..., Any]:
    return functools.cache(cli.bench.measured)


@pytest.fixture(autouse=True)
def each_picture_is_measured_once(measures: Callable[..., Any], monkeypatch: pytest.MonkeyPatch) -> None:
    for command in ("check", "compare", "identify", "measure"):
        monkeypatch.setattr(f"cli.{command}.measured", measures)


def as_json(capsys: pytest.CaptureFixture[str], *arguments: str, expect: int = 0) -> dict[str, Any]:
    capsys.readouterr()
    assert main([*arguments, "--json"]) == expect
    found = json.loads(capsys.readouterr().out)
    assert isinstance(found, dict)
    return found


def test_each_verdict_has_its_exit_code(bench: str, capsys: pytest.CaptureFixture[str]) -> None:
    given = ("--calibration", bench)
    for picture, against, verdict, code in (
        (REPLACEMENT, "4-40 UNC-2A", "conforms", 0),
        (ORIGINAL, "4-40 UNC-2A", "does_not_conform", 4),
    ):
        found = as_json(capsys, "check", picture, *given, "--against", against, expect=code)
        assert found["schema"] == "flankwise/check/1"
        assert found["verdict"] == verdict
        assert found["against"] == against
        assert found["measurement"]["schema"] == "flankwise/measurement/1"
        assert found["advice"]
        for one in found["quantities"]:
            assert {"quantity", "measured", "min", "max", "verdict", "margin"} <= set(one)
    # a scale by hand knows no edge to a quarter of a pixel: too near the greatest limit to tell
    open_ = as_json(capsys, "check", ORIGINAL, "--scale", "4.00um", "--against", "4-40 NC-2", expect=5)
    assert open_["verdict"] == "cannot_tell"


def test_a_person_reads_verdict_reasons_and_what_to_do(bench: str, capsys: pytest.CaptureFixture[str]) -> None:
    capsys.readouterr()
    assert main(["check", ORIGINAL, "--calibration", bench, "--against", "4-40unc2a", "--full"]) == 4
    shown = capsys.readouterr().out
    assert "Against 4-40 UNC-2A (ASME B1.1): does not conform" in shown
    assert "Close the die: the pitch diameter must come down by" in shown
    assert (
        "cleared by 2 u (U95), broken if it is passed by 2.6 u: stricter than the default of ISO 14253-1"
        in " ".join(shown.split())
    )
    flank = next(line for line in shown.splitlines() if line.startswith("flank angle left"))
    assert re.search(r"30\.\d+ ± 0\.\d+° +none +none +conforms", flank)
    assert re.search(r"room left by the pitch diameter: 2\d\.\d\d° to 3\d\.\d\d°", " ".join(shown.split()))
    assert "qualified" in shown
    in_inches = [ORIGINAL, "--calibration", bench, "--against", "4-40 NC-2", "--unit", "in", "--full"]
    assert main(["check", *in_inches]) in {0, 5}
    shown = capsys.readouterr().out
    assert "0.1120 in" in shown
    assert "from memory, unverified" in shown


def test_a_reading_over_wires_is_joined(bench: str, capsys: pytest.CaptureFixture[str]) -> None:
    wires = ("--wire", "0.3666mm", "--wire-u95", "0.5um", "--over-wires-u95", "2um")
    given = ("check", REPLACEMENT, "--calibration", bench, "--against", "4-40 UNC-2A")
    content = as_json(capsys, *given, "--over-wires", "2.9393mm", *wires)
    found = content["micrometer"]
    assert found["agree"] is True
    both, alone = found["pitch_diameter"], found["pitch_diameter_of_picture"]
    assert both["u95"] < alone["u95"]
    assert abs(both["value"] - 2.3876) <= both["u95"]
    # the checked pitch diameter is the joint one
    assert next(one for one in content["quantities"] if one["quantity"] == "pitch_diameter")["measured"] == both
    capsys.readouterr()
    assert main([*given, "--over-wires", "2.97mm", *wires]) in {0, 4, 5}
    assert "They disagree" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("--against", "4-40 XYZ"), "4-40"),
        (("--against", "6-32 UNC-2A"), "another size"),
        (("--against", "4-40 UNC-2B"), "that of a hole"),
        (("--against", "4-40 NC-2", "--over-wires", "2.98mm"), "--wire"),
        (("--against", "4-40 NC-2", "--wire", "0.3666mm"), "--over-wires"),
        (("--against", "4-40 NC-2", "--over-wires", "5.98mm", "--wire", "0.3666mm"), "not of this screw"),
        (("--against", "4-40 NC-2", "--engagement", "3"), "unit"),
    ],
)
def test_what_cannot_be_done_as_typed_is_one_line(
    bench: str, capsys: pytest.CaptureFixture[str], arguments: tuple[str, ...], words: str
) -> None:
    capsys.readouterr()
    assert main(["check", ORIGINAL, "--calibration", bench, *arguments]) == 2
    shown = capsys.readouterr()
    assert shown.out == ""
    assert shown.err.count("\n") == 1
    assert words in shown.err


def test_compare_says_what_differs_and_what_cancels(bench: str, capsys: pytest.CaptureFixture[str]) -> None:
    found = as_json(capsys, "compare", ORIGINAL, REPLACEMENT, "--calibration", bench)
    assert found["schema"] == "flankwise/comparison/1"
    assert {"pitch_diameter", "major_diameter"} <= set(found["significant"])
    assert "pitch" not in found["significant"]
    difference, alone = found["differences"]["pitch_diameter"], found["original"]["thread"]["pitch_diameter"]
    assert abs(difference["value"] - (2.3876 - 2.4282)) <= difference["u95"]
    assert difference["u95"] < 0.5 * alone["u95"]
    same = as_json(capsys, "compare", ORIGINAL, ORIGINAL, "--calibration", bench)
    assert same["significant"] == []
    capsys.readouterr()
    assert main(["compare", ORIGINAL, REPLACEMENT, "--calibration", bench, "--full"]) == 0
    shown = capsys.readouterr().out
    assert "fall out of the differences" in shown
    assert "Open the die" in shown


def test_compare_of_benches_apart_cancels_nothing(
    bench: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    other = tmp_path / "other.json"
    pins = ["--pin", str(SAMPLES / "pin_2500_bench_a.png"), "2.500mm", "--light-cone", "0deg"]
    assert main(["calibrate", *pins, "-o", str(other)]) == 0
    found = as_json(
        capsys, "compare", ORIGINAL, REPLACEMENT, "--calibration", bench, "--replacement-calibration", str(other)
    )
    assert found["common_part_left_out"] is False
    capsys.readouterr()
    assert main(["compare", ORIGINAL, REPLACEMENT, "--scale", "4um", "--replacement-calibration", str(other)]) == 2


@pytest.mark.slow
def test_figures_are_written_by_all_four_commands(
    bench: str, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def small(*_: object, **__: object) -> object:
        return style.new_figure((1, 1))

    for page in ("identification_page", "check_page"):  # how they look is tested beside the figures
        monkeypatch.setattr(pages, page, small)
    commands = {
        "m.png": ["measure", ORIGINAL],
        "i.svg": ["identify", ORIGINAL],
        "c.pdf": ["check", ORIGINAL, "--against", "4-40 UNC-2A"],
    }
    starts = {".png": b"\x89PNG", ".svg": b"<?xml", ".pdf": b"%PDF"}
    for name, command in commands.items():
        target = tmp_path / name
        capsys.readouterr()
        assert main([*command, "--calibration", bench, "--figure", str(target), "--json"]) in {0, 4}
        assert target.read_bytes().startswith(starts[target.suffix])
        shown = capsys.readouterr()
        json.loads(shown.out)
        assert "figure written to" in shown.err
    overlay = tmp_path / "overlay.svg"
    assert main(["compare", ORIGINAL, REPLACEMENT, "--calibration", bench, "-o", str(overlay)]) == 0
    first = overlay.read_bytes()
    monkeypatch.setattr(pages, "comparison_page", small)
    assert (
        main(["compare", ORIGINAL, REPLACEMENT, "--calibration", bench, "-o", str(overlay)]) == 0
    )  # its own is replaced
    assert len(overlay.read_bytes()) < len(first)
    assert sorted(p.name for p in tmp_path.iterdir()) == ["c.pdf", "i.svg", "m.png", "overlay.svg"]


def test_figures_that_cannot_be_written_are_refused_before_anything_is_measured(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    photo = tmp_path / "photo.png"
    shutil.copy(ORIGINAL, photo)
    before = photo.read_bytes()
    locked = tmp_path / "locked"
    locked.mkdir()
    for target, words in (
        (tmp_path / "page.gif", "must end in"),
        (tmp_path / "page", "must end in"),
        (tmp_path / "nowhere" / "page.png", "no folder"),
        (photo, "is no figure of this program"),
        (tmp_path / "folder.png", "is a folder"),
    ):
        if target.name == "folder.png":
            target.mkdir()
        capsys.readouterr()
        assert main(["measure", "missing.png", "--scale", "4um", "--figure", str(target)]) == 2
        shown = capsys.readouterr()
        assert words in shown.err
        assert shown.err.count("\n") == 1
    assert main(["measure", str(photo), "--scale", "4um", "--figure", str(photo)]) == 2
    assert "is the picture to be measured" in capsys.readouterr().err
    assert main(["measure", str(photo), "--scale", "4um", "--all-parts", "--figure", str(tmp_path / "a.png")]) == 2
    assert photo.read_bytes() == before


def test_a_folder_that_cannot_be_written_to(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Rights mean nothing to the superuser, who may run the tests: what the system says is made up."""
    monkeypatch.setattr("cli.figure.os.access", lambda *_: False)
    assert main(["measure", ORIGINAL, "--scale", "4um", "--figure", str(tmp_path / "a.png")]) == 2
    assert "cannot be written to" in capsys.readouterr().err

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.undo()
    monkeypatch.setattr("records.figures.file.write_whole", full)
    monkeypatch.setattr(pages, "measurement_page", lambda *_, **__: style.new_figure((1, 1)))
    assert main(["measure", ORIGINAL, "--scale", "4um", "--figure", str(tmp_path / "a.png")]) == 2
    assert "No space left on device" in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []
