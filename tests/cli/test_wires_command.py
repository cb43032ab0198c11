"""``flankwise wires``: what is printed, the JSON form of the contract, and what is refused."""

from __future__ import annotations

import json
from typing import Any

import pytest

from cli.main import main
from threads.judge.wires import over_wires


def as_json(capsys: pytest.CaptureFixture[str], *arguments: str) -> dict[str, Any]:
    capsys.readouterr()
    assert main(["wires", *arguments, "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert isinstance(found, dict)
    return found


def test_json_has_the_keys_of_the_contract(capsys: pytest.CaptureFixture[str]) -> None:
    found = as_json(capsys, "4-40 UNC-2A")
    assert found["schema"] == "flankwise/wires/1"
    assert found["designation"] == "4-40 UNC-2A"
    assert found["wire"] == found["best_wire"] == pytest.approx(0.36662, abs=0.00001)
    assert set(found["over_wires"]) == {"min", "max", "basic"}
    assert found["over_wires"]["max"] == pytest.approx(over_wires(2.413, found["wire"], 0.635, 30.0), abs=1e-4)
    assert found["over_wires"]["min"] < found["over_wires"]["max"] < found["over_wires"]["basic"]
    assert found["formula"]
    assert "Machinery" in found["source"]


def test_other_wires_give_other_measurements(capsys: pytest.CaptureFixture[str]) -> None:
    best, own = as_json(capsys, "4 BA"), as_json(capsys, "4 BA", "--wire", "400um")
    assert own["wire"] == pytest.approx(0.4)
    assert own["best_wire"] == best["best_wire"]
    assert own["over_wires"]["max"] > best["over_wires"]["max"]


def test_a_reading_gives_the_pitch_diameter_and_says_where_it_lies(capsys: pytest.CaptureFixture[str]) -> None:
    sizes = as_json(capsys, "4-40 UNC-2A")["over_wires"]
    for reading, verdict in (
        (sizes["max"] + 0.01, "above"),
        (sizes["max"], "cannot tell"),
        ((sizes["min"] + sizes["max"]) / 2, "inside"),
        (sizes["min"] - 0.01, "below"),
    ):
        measured = as_json(capsys, "4-40 UNC-2A", "--measured", f"{reading:.6f}mm")["measured"]
        assert measured["verdict"] == verdict
        assert measured["over_wires"]["u95"] == pytest.approx(0.004)
    assert measured["pitch_diameter"]["value"] == pytest.approx(2.3495 - 0.01, abs=0.0001)
    assert measured["pitch_diameter"]["u95"] > 0.004
    fine = as_json(capsys, "4-40 UNC-2A", "--measured", "2.93mm", "--measured-u95", "1um", "--wire-u95", "0.25um")[
        "measured"
    ]
    assert fine["pitch_diameter"]["u95"] < measured["pitch_diameter"]["u95"]


def test_a_person_reads_the_same(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["wires", "4-40 NC-2", "--measured", "2.95mm"]) == 0
    shown = capsys.readouterr().out
    assert "4-40 NC-2 †: best wire 0.3666 mm (usable 0.3208 mm to 0.6416 mm)" in shown
    assert "2.9850 mm        2.4333 mm" in shown
    assert "Exact, the lead angle of 4.75° included" in shown
    assert "gives 0.14 µm more, without its term of the lead angle 1.76 µm less" in shown
    assert "2.9500 ± 0.0040 mm over wires of 0.3666 ± 0.0010 mm: pitch diameter" in shown
    assert "within its limits" in shown
    assert "from memory, unverified" in shown
    assert main(["wires", "4-40 NC-2", "--unit", "in"]) == 0
    assert "0.01443 in" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["4-40 UNC-2B"], "an internal thread: wires measure screws"),
        (["4-40 QQ"], "nearest"),
        (["4-40 UNC", "--wire", "0.3"], "has no unit"),
        (["4-40 UNC", "--wire", "0.3mm"], "best 0.3666 mm"),
        (["4-40 UNC", "--measured", "2.5mm"], "is the reading over all three wires?"),
        (["4-40 UNC", "--measured", "0.2mm"], "no thread of pitch"),
        (["4-40 UNC", "--measured", "2.9mm", "--measured-u95", "0"], "has no unit"),
        (["4-40 UNC", "--unit", "ft"], "not one of mm, in"),
    ],
)
def test_what_cannot_be_is_one_line(arguments: list[str], says: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["wires", *arguments]) == 2
    shown = capsys.readouterr()
    assert shown.out == ""
    assert shown.err.count("\n") == 1
    assert says in shown.err
