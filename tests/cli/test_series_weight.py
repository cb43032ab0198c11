"""``flankwise series weigh``: how common a series is with this workshop."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from cli.main import main


@pytest.fixture(autouse=True)
def data_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("FLANKWISE_DATA", str(tmp_path / "data"))


def shown(capsys: pytest.CaptureFixture[str], *arguments: str) -> dict[str, object]:
    assert main([*arguments, "--json"]) == 0
    found: dict[str, object] = json.loads(capsys.readouterr().out)
    return found


def test_a_weight_is_kept_shown_and_taken_back(capsys: pytest.CaptureFixture[str]) -> None:
    before = shown(capsys, "series", "BA")["commonness"]
    set_now = shown(capsys, "series", "weigh", "ba", "90", "--because", "British instruments are our trade")
    assert (set_now["series"], set_now["commonness"], set_now["own"]) == ("BA", 90.0, True)
    assert shown(capsys, "series", "BA")["commonness_reason"] == "British instruments are our trade"
    assert main(["series"]) == 0
    assert "90 *" in capsys.readouterr().out
    assert shown(capsys, "series", "weigh", "BA", "--usual")["commonness"] == before


@pytest.mark.parametrize("wrong", [["BA"], ["BA", "0"], ["BA", "1e9"], ["nothing", "5"], ["BA", "5", "--usual"]])
def test_a_wrong_weight_is_one_line(wrong: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["series", "weigh", *wrong]) == 2
    assert len(capsys.readouterr().err.strip().splitlines()) == 1
