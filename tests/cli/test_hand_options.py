"""``--hand``, ``--starts`` and ``--lit-picture``: what somebody has seen on the part, besides its shadow."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from cli.main import main

SCREW = str(Path(__file__).parents[2] / "sample_images" / "sextant_horizon_mirror_screw_2-64_bench_a.png")


def test_a_stated_hand_is_taken(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["measure", SCREW, "--scale", "4um", "--hand", "left", "--starts", "1", "--json"]) == 0
    thread = json.loads(capsys.readouterr().out)["thread"]
    assert (thread["hand"], thread["starts"]) == ("left", 1)


def test_a_picture_that_shows_no_hand_is_said(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["identify", SCREW, "--scale", "4um", "--lit-picture", SCREW, "--json"]) == 0
    measured = json.loads(capsys.readouterr().out)["measurement"]
    assert measured["thread"]["hand"] == "not determined"
    assert "hand_not_read" in {warning["code"] for warning in measured["quality"]["warnings"]}


@pytest.mark.parametrize(
    ("wrong", "code"),
    [
        (["--hand", "up"], 2),
        (["--starts", "0"], 2),
        (["--hand", "left", "--all-parts"], 2),
        (["--lit-picture", "no such picture.png"], 3),
        (["--starts", "2"], 3),
    ],
)
def test_what_does_not_go_is_said(wrong: list[str], code: int, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["measure", SCREW, "--scale", "4um", *wrong]) == code
    assert capsys.readouterr().err.startswith(("flankwise: ", "Usage: "))
