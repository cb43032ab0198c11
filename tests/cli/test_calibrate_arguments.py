"""What ``flankwise calibrate`` accepts on its command line, before any picture is read."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cli.errors import CommandLineError
from cli.main import main
from cli.pairs import PAIRED, split_pairs

PIN = ["--pin", "pin.png", "2.500mm"]

words = st.text(st.characters(codec="utf-8", exclude_characters="\x00"), min_size=1, max_size=8)
values = words.filter(lambda text: not text.startswith("-"))


@given(st.lists(st.tuples(values, values), max_size=4), st.booleans())
def test_pairs_come_back_in_order(pairs: list[tuple[str, str]], joined: bool) -> None:
    typed: list[str] = []
    for picture, diameter in pairs:
        typed += [f"--pin={picture}", diameter] if joined else ["--pin", picture, diameter]
    split = split_pairs([*typed, "-o", "cal.json"])
    assert split[-2:] == ["-o", "cal.json"]
    flat = [argument.removeprefix("--pin=") for argument in split[:-2]]
    assert list(zip(flat[::2], flat[1::2], strict=True)) == pairs


@given(st.lists(words | st.sampled_from([*PAIRED, "--pin=a", "--grid=", "--json", "-o"]), max_size=8))
def test_any_arguments_are_split_or_refused_in_one_line(arguments: list[str]) -> None:
    try:
        split = split_pairs(arguments)
    except CommandLineError as error:
        assert str(error) in PAIRED.values()
    else:
        for option in PAIRED:
            assert sum(argument.startswith(f"{option}=") for argument in split) % 2 == 0


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        ([*PIN], "Name the file with -o CAL.json"),
        (["-o", "new.json"], "no gauge was given: give --pin FILE DIAMETER"),
        ([], "no gauge was given"),
        (["--pin", "pin.png", "-o", "new.json"], "--pin takes two values"),
        (["--pin", "pin.png", "-2mm", "-o", "new.json"], "must be above zero"),
        (["--pin", "pin.png"], "--pin takes two values"),
        (["--pin", "--json"], "--pin takes two values"),
        (["--pin", "pin.png", "2.5", "-o", "new.json"], "the diameter of pin.png '2.5' has no unit"),
        (["--pin", "pin.png", "2.5deg", "-o", "new.json"], "not one of mm, um, in"),
        ([*PIN, "-o", "new.json", "--pin-u95", "1"], "--pin-u95 '1' has no unit"),
        ([*PIN, "-o", "new.json", "--light-cone", "2"], "--light-cone '2' has no unit"),
        ([*PIN, "-o", "new.json", "--light-cone", "2mm"], "'mm' is not deg"),
        ([*PIN, "-o", "nowhere/new.json"], "there is no folder nowhere"),
        ([*PIN, "-o", "."], "is a folder"),
        ([*PIN, "-o", "old.txt"], "exists: choose another name, or replace it with --force"),
        ([*PIN, "-o", "old.txt", "--force"], "is not a calibration file; it is left as it is"),
        (["--grid", "grid.png", "-o", "new.json"], "--grid takes two values"),
        (["--grid", "grid.png", "1", "-o", "new.json"], "the pitch of grid.png '1' has no unit"),
        (["--stage-micrometer", "scale.png", "10", "-o", "new.json"], "the division of scale.png '10' has no unit"),
        ([*PIN, "-o", "new.json", "--division-u95", "-1um"], "must be above zero"),
        ([*PIN, "-o", "new.json", "--grid-u95", "1deg"], "not one of mm, um, in"),
        ([*PIN, "-o", "new.json", "--working-distance", "80"], "--working-distance '80' has no unit"),
        ([*PIN, "--history"], "gauges and --history are different jobs"),
        (["--verify", "pin.png", "1mm"], "--verify needs --calibration"),
        (["--verify", "pin.png", "--calibration", "a.json"], "--verify takes two values"),
        ([*PIN, "--calibration", "a.json", "-o", "new.json"], "--calibration goes with --verify"),
        (["--verify", "a.png", "1mm", "--verify", "b.png", "2mm", "--calibration", "a.json"], "one pin at a time"),
    ],
)
def test_what_is_typed_wrong_is_one_line_and_2(
    arguments: list[str],
    says: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "old.txt").write_text("precious")
    assert main(["calibrate", *arguments]) == 2
    shown = capsys.readouterr()
    assert (shown.out == "") == ("--json" not in arguments)
    assert shown.err.count("\n") == 1
    assert says in shown.err
    assert {path.name: path.read_text() for path in tmp_path.iterdir()} == {"old.txt": "precious"}


@pytest.mark.skipif(os.name == "nt" or os.geteuid() == 0, reason="root may write everywhere")
def test_a_folder_that_cannot_be_written_to_is_one_line(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    tmp_path.chmod(0o500)
    try:
        assert main(["calibrate", *PIN, "-o", str(tmp_path / "new.json")]) == 2
    finally:
        tmp_path.chmod(0o700)
    assert "cannot be written to" in capsys.readouterr().err


def test_a_pin_picture_that_cannot_be_read_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    picture = tmp_path / "pin.png"
    picture.write_bytes(b"not a picture")
    target = tmp_path / "new.json"
    assert main(["calibrate", "--pin", str(picture), "2.500mm", "-o", str(target), "--json"]) == 3
    shown = capsys.readouterr()
    assert json.loads(shown.out)["reasons"][0]["code"] == "unreadable"
    assert shown.err.startswith("flankwise: refused: ")
    assert shown.err.count("\n") == 1
    assert not target.exists()
