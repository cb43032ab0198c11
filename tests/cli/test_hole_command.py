"""``flankwise hole``, ``play --hole-tried`` and ``record hole``, ``trial`` on the sample pictures."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

import flankwise.measuring
from cli.main import main
from cli.trial_options import split

SAMPLES = Path(__file__).resolve().parents[2] / "sample_images"
ORIGINAL = str(SAMPLES / "sextant_index_arm_screw_4-40_bench_a.png")
REPLACEMENT = str(SAMPLES / "sextant_index_arm_replacement_4-40_bench_a.png")
OTHER = str(SAMPLES / "theodolite_cover_screw_M2.5_bench_a.jpg")
SCALE = ("--scale", "4.00um")
HOLE = ("hole", "4-40", "--engagement", "3mm", *SCALE)


@pytest.fixture(autouse=True, scope="module")
def measured_once() -> Any:
    """Each picture is measured once for all tests of the module."""
    measure, answers = flankwise.measuring.measure, {}

    def once(picture: str, bench: Any = None, **options: Any) -> Any:
        if picture not in answers:
            answers[picture] = measure(picture, bench, **options)
        return answers[picture]

    patch = pytest.MonkeyPatch()
    patch.setattr(flankwise.measuring, "measure", once)
    yield
    patch.undo()


def as_json(capsys: pytest.CaptureFixture[str], *words: str) -> dict[str, Any]:
    capsys.readouterr()
    assert main([*words, "--json"]) == 0
    found: dict[str, Any] = json.loads(capsys.readouterr().out)
    return found


def test_values_of_an_option_that_takes_several_are_kept_together() -> None:
    typed = ["4-40", "--went-in", "a.png", "part", "3", "--stopped=c.png", "--moved", "part 4", "0.4mm", "20mm"]
    assert split(typed) == [
        "4-40", "--went-in=a.png", "--went-in=part 3", "--stopped=c.png", "--moved=part 4", "--moved=0.4mm",
        "--moved=20mm",
    ]  # fmt: skip


def test_the_hole_has_the_keys_of_the_contract_and_screws_can_be_put_into_it(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    target = str(tmp_path / "hole.json")
    trials = ("--went-in", REPLACEMENT, "--moved", ORIGINAL, "0.42mm+-0.04mm", "20mm")
    found = as_json(capsys, *HOLE, *trials, "-o", target)
    assert found["schema"] == "flankwise/hole/1"
    assert found["thread"] == "4-40"
    size = found["pitch_diameter"]
    assert size["unit"] == "mm"
    assert 2.43 < size["low95"] < size["median"] < size["high95"] < 2.56
    total = sum(one["probability"] for one in found["classes"]) + found["no_class_probability"]
    assert total == pytest.approx(1.0)
    assert [one["outcome"] for one in found["trials"]] == ["went_in", "moved"]
    assert found["trials"][1]["movement"] == {"value": 0.42, "u95": pytest.approx(0.04), "unit": "mm"}
    make = found["screw_to_make"]
    assert make["pitch_diameter"]["min"] < make["pitch_diameter"]["max"] < size["median"]
    assert "the hole is larger than" in make["why"]
    assert isinstance(found["next_trial"], str)
    play = ("play", REPLACEMENT, *SCALE, "--engagement", "3mm", "--overhang", "20mm", "--original", ORIGINAL)
    played = as_json(capsys, *play, "--hole-tried", target)
    assert played["hole"] == "4-40"
    # the hole was made so that the original travels 0.42 mm, 0.21 mm to each side, and the replacement is thinner
    assert played["original"]["end_movement"]["median"] == pytest.approx(0.21, rel=0.1)
    assert played["end_movement"]["median"] > 1.3 * played["original"]["end_movement"]["median"]
    Path(target).write_text('{"schema": "flankwise/hole/1", "base": "4-40 UNC-2B", "quantiles": [2, 1]}', "utf-8")
    assert main([*play, "--hole-tried", target]) == 3
    assert "damaged or changed by hand" in capsys.readouterr().err


def test_play_solved_backwards_gives_the_clearance(capsys: pytest.CaptureFixture[str]) -> None:
    words = ("play", ORIGINAL, *SCALE, "--hole", "4-40", "--engagement", "3mm", "--overhang", "20mm")
    found = as_json(capsys, *words, "--movement", "0.42mm", "--read-with", "indicator")
    assert found["movement"] == {"value": 0.42, "u95": 0.02, "unit": "mm"}
    clearance = found["clearance_of_pitch_diameters"]["value"]
    # first order (``contact``): 2 (c/2 + 20 mm * (c/2) / (L/2 + r cot 30)), L = 3 mm, r = 1.41 mm
    assert 2 * (clearance / 2) * (1 + 20 / (3.0 / 2 + 1.41 * 3**0.5)) == pytest.approx(0.42, rel=0.03)
    still = as_json(capsys, *words, "--movement", "0mm+-0.02mm")["clearance_of_pitch_diameters"]
    assert still["range95"]["low95"] == 0.0  # it does not shake at all
    assert still["range95"]["high95"] < 0.005
    assert main([*words, "--movement", "0.42mm"]) == 0
    assert "below the hole's" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ((*HOLE, "--stopped", ORIGINAL), "No screw went in"),
        ((*HOLE, "--went-in", OTHER), "it is another thread"),
        ((*HOLE, "--moved", ORIGINAL, "9mm", "20mm"), "more than a screw can make"),
        ((*HOLE, "--went-in", ORIGINAL, "--stopped-after", REPLACEMENT, "9"), "9 turns cannot be"),
        ((*HOLE, "--went-in", ORIGINAL, "--depth", "2mm"), "a hole that is 2 mm deep"),
        ((*HOLE, "--moved", ORIGINAL, "0.4mm"), "--moved takes a picture"),
        (HOLE, "which screws were tried?"),
        (("hole", "1/4-20", "--engagement", "3mm", "--went-in", ORIGINAL), "write one of"),
    ],
)
def test_what_cannot_be_is_one_line(words: tuple[str, ...], says: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(list(words)) == 2
    said = capsys.readouterr()
    assert says in said.err
    assert said.err.count("\n") == 1
    assert said.out == ""


def test_a_hole_on_file_grows_with_its_trials(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    register = ("--register", str(tmp_path / "parts.sqlite"))
    add = ("record", "add", ORIGINAL, *SCALE, "--instrument", "marine sextant", "--name", "index arm screw")
    assert main([*add, *register]) == 0
    hole = ("record", "hole", "4-40", "--engagement", "3mm", "--depth", "4mm", "--name", "index arm post")
    assert as_json(capsys, *hole, "--instrument", "marine sextant", *register)["part"] == 2
    first = as_json(capsys, "record", "trial", "2", REPLACEMENT, *SCALE, "--stopped", "--turns", "2", *register)
    assert first["hole"] is None  # nothing has gone in
    moved = ("--moved", "0.42mm", "--overhang", "20mm", "--movement-u95", "0.04mm")
    one = as_json(capsys, "record", "trial", "2", "1", *moved, *register)["hole"]
    assert "contradicts" in one["trials"][0]  # the smaller one stopped
    assert main(["record", "correct", "trial", "1", "withdrawn=yes", "--why", "a burr", *register]) == 0
    assert main(["record", "show", "2", *register]) == 0
    shown = capsys.readouterr().out
    assert "hole 4-40, screws engage over 3.000 mm, 4.000 mm deep" in shown
    assert "trial 1" in shown
    assert "withdrawn" in shown
    found = as_json(capsys, "record", "show", "2", *register)["hole_found"]
    assert [trial["screw"] for trial in found["trials"]] == ["part 1 (index arm screw, marine sextant)"]
    assert main(["record", "list", *register]) == 0
    assert "hole, 4-40" in capsys.readouterr().out
    play = ("play", REPLACEMENT, *SCALE, "--engagement", "3mm", "--hole-tried", "part 2", *register)
    assert as_json(capsys, *play)["hole"] == "part 2 (index arm post, marine sextant)"
    bundle, other = str(tmp_path / "hole.zip"), ("--register", str(tmp_path / "other.sqlite"))
    assert main(["record", "export", "-o", bundle, "--part", "2", *register]) == 0
    assert main(["record", "import", bundle, *other]) == 0
    there = as_json(capsys, "record", "search", "index arm post", *other)["parts"][0]["id"]
    again = as_json(capsys, "record", "show", str(there), *other)["hole_found"]
    assert again["pitch_diameter"]["median"] == pytest.approx(found["pitch_diameter"]["median"], abs=1e-6)
    assert main(["record", "trial", "1", "1", "--went-in", *register]) == 3
    assert "is no hole" in capsys.readouterr().err
