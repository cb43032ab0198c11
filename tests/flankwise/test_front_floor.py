"""The public calls: what they take, what they give, what they refuse, and that each command gives the same."""

from __future__ import annotations

import dataclasses
import doctest
import importlib
import inspect
import json
import subprocess
import sys
from pathlib import Path

import pytest

import flankwise
from cli.main import main
from flankwise import amounts
from flankwise.bench import Bench, scaled_by_hand
from flankwise.reference import reference_of
from threads.shared.typed import TypedError

SAMPLES = Path(__file__).resolve().parents[2] / "sample_images"
SCREW = SAMPLES / "sextant_index_arm_screw_4-40_bench_a.png"
CUT = SAMPLES / "sextant_index_arm_replacement_4-40_bench_a.png"
PINS = [(SAMPLES / "pin_1000_bench_a.png", "1.000mm"), (SAMPLES / "pin_2500_bench_a.png", 2.5)]


@pytest.fixture(scope="module")
def bench() -> Bench:
    return flankwise.calibrate(pins=PINS, pin_u95="1um")


@pytest.fixture(scope="module")
def parts(bench: Bench) -> tuple[flankwise.Part, flankwise.Part]:
    return flankwise.measure(SCREW, bench), flankwise.measure(CUT, bench)


def as_json(capsys: pytest.CaptureFixture[str], *typed: str) -> object:
    capsys.readouterr()
    main([*typed, "--json"])
    return json.loads(capsys.readouterr().out)


def as_written(document: object) -> object:
    return json.loads(json.dumps(document))


@pytest.mark.parametrize(
    ("name", "parameters"),
    [  # those that the description of the interface names, in its order
        ("calibrate", "pins stage_micrometer grid pin_u95 light_cone light_patch light_distance working_distance"),
        ("measure", "picture bench pin_beside hand starts part"),
        ("measure_all", "picture bench"),
        ("join", "pictures bench turned"),
        ("stitch", "pictures bench"),
        ("identify", "part origin made series"),
        ("check", "part"),
        ("compare", "original replacement"),
        ("play", "part hole engagement overhang"),
        ("load_bench", "path"),
    ],
)
def test_the_calls_take_what_is_promised(name: str, parameters: str) -> None:
    there = list(inspect.signature(getattr(flankwise, name)).parameters)
    assert [one for one in there if one in parameters.split()] == parameters.split()
    assert name in flankwise.__all__
    assert name in dir(flankwise)


@pytest.mark.parametrize("name", ["flankwise", "flankwise.amounts"])
def test_examples_of_docstrings_run(name: str) -> None:
    module = importlib.import_module(name)
    found = doctest.testmod(module, extraglobs={"samples": SAMPLES, "screw": SCREW.name})
    assert found.attempted >= 2
    assert found.failed == 0


def test_importing_it_loads_nothing_heavy() -> None:
    heavy = "{'numpy', 'scipy', 'cv2', 'PIL', 'typer', 'rich', 'threads', 'vision', 'calib'}"
    code = f"import sys, flankwise; print(sorted({heavy} & set(sys.modules)))"
    ended = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=SAMPLES.parent)
    assert ended.stdout == "[]\n"


def test_no_module_hides_a_call_of_its_name() -> None:
    modules = {path.stem for path in Path(str(flankwise.__file__)).parent.glob("*.py")}
    assert modules & set(flankwise.__all__) == set()


def test_a_bench_is_kept_and_comes_back(bench: Bench, tmp_path: Path) -> None:
    bench.save(tmp_path / "bench.json")
    again = flankwise.load_bench(tmp_path / "bench.json")
    assert again.to_dict() == bench.to_dict() == json.loads((tmp_path / "bench.json").read_text("utf-8"))
    assert "4.000" in str(again)
    with pytest.raises(TypeError):
        scaled_by_hand(4.0).save(tmp_path / "no.json")


def test_commands_and_calls_give_the_same(
    bench: Bench,
    parts: tuple[flankwise.Part, flankwise.Part],
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:
    bench.save(tmp_path / "bench.json")
    on = ("--calibration", str(tmp_path / "bench.json"))
    screw, cut = parts
    assert as_json(capsys, "measure", str(SCREW), *on) == as_written(screw.to_dict())
    answer = flankwise.identify(screw, origin="US", made=1938, series=["NC", "UNC"])
    typed = ("identify", str(SCREW), *on, "--origin", "US", "--made", "1938", "--series", "NC", "--series", "UNC")
    assert as_json(capsys, *typed) == as_written(answer.to_dict())
    checked = flankwise.check(cut, "4-40 UNC-2A", engagement="3mm")
    typed = ("check", str(CUT), *on, "--against", "4-40 UNC-2A", "--engagement", "3mm")
    assert as_json(capsys, *typed) == as_written(checked.to_dict())
    compared = flankwise.compare(screw, cut)
    assert as_json(capsys, "compare", str(SCREW), str(CUT), *on) == as_written(compared.to_dict())
    played = flankwise.play(cut, "4-40 NC-2", "3mm", overhang="20mm", original=screw, draws=500)
    typed = ("play", str(CUT), *on, "--hole", "4-40 NC-2", "--engagement", "3mm", "--overhang", "20mm")
    typed = (*typed, "--original", str(SCREW), "--draws", "500")
    assert as_json(capsys, *typed) == as_written(played.to_dict())
    everything = flankwise.measure_all(SCREW, bench)
    assert as_json(capsys, "measure", str(SCREW), *on, "--all-parts") == as_written(everything.to_dict())
    assert len(everything) == 1


def test_what_comes_back_is_frozen_and_readable(parts: tuple[flankwise.Part, flankwise.Part]) -> None:
    screw, cut = parts
    results = (
        (screw, "pitch diameter"),
        (flankwise.identify(screw), "4-40"),
        (flankwise.check(cut, "4-40 UNC-2A"), "conforms"),
        (flankwise.compare(screw, cut), "pitch_diameter"),
        (flankwise.play(cut, "4-40 NC-2", 3.0, draws=200), "enters"),
    )
    for found, words in results:
        assert words in str(found)
        assert repr(found) == str(found)
        assert max(map(len, repr(found).splitlines())) < 400
        with pytest.raises(dataclasses.FrozenInstanceError):
            found.part = None  # type: ignore[attr-defined]


def test_the_original_at_hand_takes_part_in_a_check(parts: tuple[flankwise.Part, flankwise.Part]) -> None:
    screw, cut = parts
    with_pictures = flankwise.check(cut, screw).found
    of_file = dataclasses.replace(reference_of(screw), measurement=None)
    without = flankwise.check(cut, of_file).found
    assert with_pictures.against == without.against == SCREW.name
    wide, narrow = ({one.quantity: one for one in found.judgements} for found in (without, with_pictures))
    assert narrow["pitch_diameter"].measured == wide["pitch_diameter"].measured


def test_what_cannot_be_used_is_refused(bench: Bench, tmp_path: Path) -> None:
    with pytest.raises(flankwise.Refused) as refused:
        flankwise.measure(PINS[0][0], bench)
    assert refused.value.code == "no_thread"
    with pytest.raises(flankwise.Refused) as refused:
        flankwise.load_bench(tmp_path / "none.json")
    assert refused.value.code == "calibration_unreadable"
    other_size = dataclasses.replace(bench.calibration, picture_width_px=640)
    with pytest.raises(flankwise.Refused) as refused:
        flankwise.measure(SCREW, Bench(other_size))
    assert refused.value.code == "calibration_picture_size"


@pytest.mark.parametrize(
    "call",
    [
        lambda _: flankwise.calibrate(pins=(PINS[0][0], "1.000")),
        lambda _: flankwise.calibrate(pins=PINS, light_cone="2deg", light_patch="10mm", light_distance="150mm"),
        lambda _: flankwise.calibrate(pins=PINS, light_patch="10mm"),
        lambda bench: flankwise.measure(SCREW, bench, hand="both"),
        lambda bench: flankwise.measure(SCREW, bench, known={"head": "4mm"}),
        lambda _: flankwise.measure(SCREW, None),
        lambda bench: flankwise.join([SCREW], bench),
        lambda bench: flankwise.join([SCREW, CUT], bench, turned=["0deg"]),
        lambda bench: flankwise.stitch([SCREW], bench),
        lambda bench: flankwise.stitch([SCREW, CUT], bench, moved=["1mm", "1mm"]),
    ],
)
def test_an_argument_that_makes_no_sense_is_a_value_error(bench: Bench, call: object) -> None:
    assert callable(call)
    with pytest.raises(ValueError, match=r"\w"):
        call(bench)


@pytest.mark.parametrize("length", ["2.5", "-2mm", -2.0, 0.0, float("nan"), float("inf")])
def test_no_lengths(length: str | float) -> None:
    with pytest.raises(TypedError):
        amounts.in_mm(length, "a pin")


def test_years_may_be_given_in_four_ways() -> None:
    assert amounts.from_to(None) is None
    assert amounts.from_to(1938) == amounts.from_to("1938") == amounts.from_to((1938, 1938)) == (1938, 1938)
    assert amounts.from_to("1930-1940") == (1930, 1940)
    with pytest.raises(TypedError):
        amounts.from_to("1940-1930")
