"""``measure --budget`` and ``--monte-carlo``: what an uncertainty is made of, and trials of the whole fit beside it."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from cli.main import main

SCREW = str(Path(__file__).parents[2] / "sample_images" / "sextant_horizon_mirror_screw_2-64_bench_a.png")


def test_budget_lists_every_source_and_its_share(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["measure", SCREW, "--scale", "4um", "--budget"]) == 0
    lines = capsys.readouterr().out.splitlines()
    start = next(i for i, line in enumerate(lines) if line.startswith("pitch diameter") and "share" in line)
    block = lines[start : lines.index("", start)]
    assert any(line.startswith("gauges: scale and edge offset") and line.endswith("%") for line in block)
    assert any(line.startswith("backlight mirrored by the flanks") and line.endswith("%") for line in block)
    assert block[-1].startswith("together")


def test_shares_add_up_to_one(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["measure", SCREW, "--scale", "4um", "--json"]) == 0
    result = json.loads(capsys.readouterr().out)
    assert "monte_carlo" not in result
    for terms in result["uncertainty_budget"].values():
        assert sum(t["share"] for t in terms if not t["one_sided"]) == pytest.approx(1.0)
        assert all(t["share"] is None for t in terms if t["one_sided"])


@pytest.mark.slow
def test_trials_stand_beside_the_budget(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["measure", SCREW, "--scale", "4um", "--monte-carlo", "40", "--json"]) == 0
    result = json.loads(capsys.readouterr().out)
    assert result["monte_carlo"]["trials"] == 40
    for name in ("pitch", "pitch_diameter", "major_diameter"):
        of_trials, of_budget = result["monte_carlo"]["quantities"][name], result["thread"][name]
        terms = [t["u"] ** 2 for t in result["uncertainty_budget"][name] if not t["one_sided"]]
        assert of_trials["u"] == pytest.approx(sum(terms) ** 0.5, rel=0.1)
        assert of_trials["low95"] < of_budget["value"] < of_trials["high95"]
        assert of_trials["unit"] == of_budget["unit"]


@pytest.mark.slow
def test_trials_in_words(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["measure", SCREW, "--scale", "4um", "--monte-carlo", "20", "--unit", "in"]) == 0
    shown = capsys.readouterr().out
    assert "20 trials" in shown
    assert "u of the budget" in shown


@pytest.mark.parametrize("wrong", [["--monte-carlo", "5"], ["--monte-carlo", "40", "--impression"]])
def test_what_cannot_be_tried_is_said(wrong: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["measure", SCREW, "--scale", "4um", *wrong]) == 2
    assert "--monte-carlo" in capsys.readouterr().err
