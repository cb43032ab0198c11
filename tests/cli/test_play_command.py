"""``flankwise play`` on the sample pictures: the contract's JSON, the words for a person, and what is refused."""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import pytest

from cli.main import main

SAMPLES = Path(__file__).resolve().parents[2] / "sample_images"
TRUTH = {entry["file"]: entry for entry in json.loads((SAMPLES / "truth.json").read_text("utf-8"))}
ORIGINAL, REPLACEMENT = "sextant_index_arm_screw_4-40_bench_a.png", "sextant_index_arm_replacement_4-40_bench_a.png"
HOLE = ("--hole", "4-40 NC-2", "--engagement", "3mm")
PLAYS = ("radial_clearance", "axial_backlash", "tilt", "end_movement")


@pytest.fixture(scope="module")
def bench_a(tmp_path_factory: pytest.TempPathFactory) -> str:
    target = tmp_path_factory.mktemp("bench") / "a.json"
    pins = [
        argument
        for size in ("1000", "2500")
        for argument in ("--pin", str(SAMPLES / f"pin_{size}_bench_a.png"), f"{size[0]}.{size[1:]}mm")
    ]
    assert main(["calibrate", *pins, "--light-cone", "0deg", "--focus-locked", "-o", str(target)]) == 0
    return str(target)


def run(picture: str, bench: str, *options: str) -> list[str]:
    return ["play", str(SAMPLES / picture), "--calibration", bench, *options]


def as_json(capsys: pytest.CaptureFixture[str], arguments: list[str]) -> dict[str, Any]:
    capsys.readouterr()
    assert main([*arguments, "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert isinstance(found, dict)
    return found


def test_json_has_the_keys_of_the_contract_and_the_original_beside(
    bench_a: str, capsys: pytest.CaptureFixture[str]
) -> None:
    arguments = run(REPLACEMENT, bench_a, *HOLE, "--overhang", "40mm", "--original", str(SAMPLES / ORIGINAL))
    found = as_json(capsys, arguments)
    assert found["schema"] == "flankwise/play/1"
    assert found["hole"] == "4-40 NC-2"
    assert found["engagement"] == {"value": 3.0, "u95": 0.0, "unit": "mm"}
    for name in PLAYS:
        assert set(found[name]) == {"median", "low95", "high95", "unit"}
        assert 0 <= found[name]["low95"] < found[name]["median"] < found[name]["high95"]
    assert found["tilt"]["unit"] == "deg"
    assert found["enters"] > 0.99
    assert found["verdict"] == "enters"
    assert "JCGM 101" in found["method"]
    assert "no calculation of strength" in found["limits_of_the_method"][0]
    assert "load, pressure or people" in found["caution"]
    assert found["measurement"]["schema"] == found["original_measurement"]["schema"] == "flankwise/measurement/1"
    # the middle of the hole's zone: basic 0.0958 in, tolerance 0.0024 in; flank errors as drawn
    middle = 25.4 * (0.0958 + 0.0012)
    flanks = 0.0109 * 0.635 * 0.1
    truth = (middle - TRUTH[REPLACEMENT]["pitch_diameter_mm"] - flanks) / 2
    assert found["radial_clearance"]["median"] == pytest.approx(truth, abs=0.0015)
    before = found["original"]
    difference = (TRUTH[ORIGINAL]["pitch_diameter_mm"] - TRUTH[REPLACEMENT]["pitch_diameter_mm"] + 2 * flanks) / 2
    assert before["looser_by"]["median"] == pytest.approx(difference, abs=0.0015)
    assert before["probability_looser"] > 0.99
    assert before["times_as_loose"]["median"] > 1.5
    assert found["end_movement"]["median"] == pytest.approx(
        found["radial_clearance"]["median"] + 40 * math.tan(math.radians(found["tilt"]["median"])), rel=0.01
    )
    assert found["yardstick"] is None
    assert found["sentences"][1].startswith("That is about ")
    assert (found["seed"], found["draws"]) == (1, 10_000)


def test_a_person_reads_a_table_a_sentence_the_method_and_the_caution(
    bench_a: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(run(ORIGINAL, bench_a, *HOLE, "--overhang", "40mm", "--full")) == 0
    shown = " ".join(capsys.readouterr().out.split())
    assert "in a 4-40 NC-2 † hole, engaged over 3.000 mm" in shown
    assert "this screw 95 % a new 4-40 NC-2 screw 95 %" in shown
    for words in ("radial clearance", "axial backlash", "tilt", "movement, 40.000 mm out", "enters", "touches first"):
        assert words in shown
    assert "its end, 40.000 mm out, moves" in shown
    assert "a new 4-40 NC-2 screw: 0." in shown or "a new 4-40 NC-2 screw cannot be told" in shown
    assert "Method: Virtual pitch diameters" in shown
    assert "no calculation of strength" in shown
    assert "from memory, unverified" in shown
    assert "Caution: Where a thread carries load, pressure or people" in shown


def test_a_hole_that_does_not_fit_is_said_to_be_so(bench_a: str, capsys: pytest.CaptureFixture[str]) -> None:
    options = ("--hole", "M3-6H", "--engagement", "3mm", "--original-class", "M3-6h", "--unit", "in")
    assert main(run(REPLACEMENT, bench_a, *options, "--full")) == 0
    shown = " ".join(capsys.readouterr().out.split())
    assert (
        "It is no screw for a M3x0.5-6H hole: its pitch is another, 0.635 mm (40 to the inch) against 0.5 mm" in shown
    )
    assert "and it binds after" in shown
    assert "radial clearance none" in shown
    assert "tilt none" in shown
    assert "enters no pair" in shown
    assert "this screw 95 % a new M3x0.5-6h screw 95 %" in shown
    assert "engaged over 0.11811 in" in shown
    found = as_json(capsys, run(REPLACEMENT, bench_a, *options))
    assert found["pair"]["verdict"] == "other_pitch"
    assert found["radial_clearance"] is None
    assert found["enters"] == 0


@pytest.mark.slow
def test_a_cast_stands_for_the_hole(bench_a: str, capsys: pytest.CaptureFixture[str]) -> None:
    cast = ("--hole-cast", str(SAMPLES / ORIGINAL), "--engagement", "1mm")
    found = as_json(
        capsys,
        run(
            REPLACEMENT,
            bench_a,
            *cast,
            "--shrinkage",
            "0.2%",
            "--shrinkage-u95",
            "0.02%",
            "--seed",
            "5",
            "--draws",
            "4000",
        ),
    )
    assert (found["seed"], found["draws"]) == (5, 4000)
    assert found["hole"] == "the hole as measured"
    assert found["hole_measurement"]["thread"]["internal"] is True
    flanks = 25.4 * 0.0109 / 40 * 0.1  # 30.2 and 29.9 degrees against 30.1 and 30.0, crosswise
    pitch = 0.002 * 1.0 / math.tan(math.radians(30))
    room = TRUTH[ORIGINAL]["pitch_diameter_mm"] / 0.998 - TRUTH[REPLACEMENT]["pitch_diameter_mm"] - pitch
    assert found["axial_backlash"]["median"] == pytest.approx((room - 2 * flanks) * math.tan(math.pi / 6), abs=0.002)
    # both sharp roots are as deep: what the cast did not shrink at its root is all the room that they leave
    assert found["touches_first"]["roots"] > 0.5
    assert found["radial_clearance"]["median"] == pytest.approx(
        (TRUTH[ORIGINAL]["minor_mm"] / 0.998 - TRUTH[REPLACEMENT]["minor_mm"]) / 2, abs=0.0015
    )
    assert main(run(REPLACEMENT, bench_a, *cast, "--full")) == 0
    shown = " ".join(capsys.readouterr().out.split())
    assert f"in the hole of which {SAMPLES / ORIGINAL} is a cast, engaged over 1.000 mm" in shown
    assert "Shrinkage of the cast not given" in shown


@pytest.mark.parametrize(
    ("options", "says"),
    [
        (("--engagement", "3mm"), "which hole?"),
        ((*HOLE, "--hole-cast", "cast.png"), "which hole?"),
        (("--hole", "4-40 NC-2"), "--engagement"),
        (("--hole", "4-40 NC-2", "--engagement", "3"), "has no unit"),
        (("--hole", "4-40 UNC-2A", "--engagement", "3mm"), "a class of external threads"),
        (("--hole", "4-41 NC-2", "--engagement", "3mm"), "nearest"),
        ((*HOLE, "--original-class", "4-40 UNC-2B"), "a class of internal threads"),
        ((*HOLE, "--shrinkage", "0.2%"), "goes with --hole-cast"),
        ((*HOLE, "--hole-calibration", "c.json"), "--hole-calibration goes with --hole-cast"),
        ((*HOLE, "--draws", "5"), "--draws"),
        ((*HOLE, "--overhang", "0mm"), "above zero"),
    ],
)
def test_what_was_typed_wrongly_is_told_before_a_picture_is_read(
    options: tuple[str, ...], says: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["play", "no_such_picture.png", "--scale", "4um", *options]) == 2
    said = capsys.readouterr().err
    assert says in said
    assert len(said.splitlines()) == 1


def test_too_short_an_engagement_and_a_missing_picture(bench_a: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(run(REPLACEMENT, bench_a, "--hole", "4-40 NC-2", "--engagement", "0.5mm")) == 2
    assert "less than one turn of this thread (0.635 mm)" in capsys.readouterr().err
    assert main(run(REPLACEMENT, bench_a, *HOLE, "--original", "no_such_picture.png")) == 3
    assert "no_such_picture.png" in capsys.readouterr().err
