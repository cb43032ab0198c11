"""What ``flankwise limits`` says for the bench: drills, tap or die, wires."""

from __future__ import annotations

import json
from typing import Any

import pytest

from cli.main import main


def limits_json(capsys: pytest.CaptureFixture[str], *arguments: str) -> dict[str, Any]:
    capsys.readouterr()
    assert main(["limits", *arguments, "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert isinstance(found, dict)
    return found


def test_json_of_a_nut_has_drills_and_a_tap(capsys: pytest.CaptureFixture[str]) -> None:
    found = limits_json(capsys, "4-40 UNC-2B")
    assert found["tap_drill"] == pytest.approx(2.2708, abs=0.0001)
    assert found["drill"]["target"] == found["tap_drill"]
    assert found["drill"]["hole"] == found["minor_diameter"]
    names = {choice["name"]: choice for choice in found["drill"]["recommended"]}
    assert names["No. 43"]["thread_percent"] == pytest.approx(70.8, abs=0.1)
    assert names["No. 43"]["within_limits"] is True
    assert found["tools"]["kind"] == "tap"
    assert found["tools"]["tap_class"] == "H3"
    assert found["wires"] is None


def test_json_of_a_screw_has_a_die_and_wires(capsys: pytest.CaptureFixture[str]) -> None:
    found = limits_json(capsys, "4-40 NC-2")
    assert found["tap_drill"] is None
    assert found["drill"] is None
    assert found["tools"]["gives"] == "4-40 UNC-2A"
    assert found["tools"]["looser_by"] == pytest.approx(0.02032)
    assert found["wires"]["best_wire"] == pytest.approx(0.36662, abs=0.00001)
    assert found["wires"]["over_wires"]["max"] == pytest.approx(2.9850, abs=0.0001)


def test_a_person_reads_the_same(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["limits", "4-40 UNC-2B"]) == 0
    shown = capsys.readouterr().out
    assert "No. 43    2.2606 mm     71 %   within the limits" in shown
    assert "tap   4-40 UNC, H3" in shown
    assert main(["limits", "4-40 NC-2", "--unit", "in"]) == 0
    shown = capsys.readouterr().out
    assert "die   4-40 UNC" in shown
    assert "(0.0008 in) thinner than 4-40 NC-2 may be" in " ".join(shown.split())
    assert "wires 0.01443 in" in shown
    assert main(["limits", "M1.6-6H"]) == 0
    assert "too small" in capsys.readouterr().out
