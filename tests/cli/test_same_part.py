"""``measure`` with several pictures of one part and with casts: options that do not go together, what is printed."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from cli.main import main
from sample_images.files import write_picture
from sample_images.imperfections import Imperfections
from sample_images.render import render
from tests.vision.scenes import ACROSS


@pytest.fixture(scope="module")
def pictures(tmp_path_factory: pytest.TempPathFactory) -> list[str]:
    """A good screw with its end in view, from two sides."""
    folder = tmp_path_factory.mktemp("sides")
    scene = replace(ACROSS, view_mm=2.2, chamfer_end_mm=1.9)
    for i, turned in enumerate((0.0, 90.0)):
        seen = replace(scene, seed=i, form_errors=Imperfections(turned_deg=turned))
        write_picture(folder / f"{i}.png", render(seen)[0])
    return [str(folder / "0.png"), str(folder / "1.png")]


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (["a.png", "b.png"], "--same-part"),
        (["a.png", "b.png", "--same-part", "--turned", "0deg"], "1 times --turned for 2 pictures"),
        (["a.png", "--turned", "0deg"], "--turned for 1 picture:"),
        (["a.png", "b.png", "--same-part", "--turned", "0deg", "--turned", "60"], "no unit"),
        (["a.png", "--shrinkage", "0.2%"], "goes with --impression"),
        (["a.png", "--impression", "--shrinkage", "0.2"], "no unit"),
        (["a.png", "--impression", "--shrinkage", "0.2mm"], "is not %"),
        (["a.png", "--impression", "--shrinkage", "20%"], "no cast shrinks"),
        (["a.png", "--impression", "--shrinkage-u95", "0.1%"], "goes with --shrinkage"),
    ],
)
def test_options_that_do_not_go_together(options: list[str], words: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["measure", *options, "--scale", "6um"]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert words in err
    assert err.count("\n") == 1


@pytest.mark.slow
def test_two_sides_are_joined(pictures: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["measure", *pictures, "--same-part", "--scale", "6um", "--full"]) == 0
    out = capsys.readouterr().out
    assert out.startswith("2 pictures of one part: ")
    for words in ("errors of form", "drunkenness", "ovality, major diameter", "either way", "chi squared"):
        assert words in out
    turns = [word for turned in ("0deg", "90deg") for word in ("--turned", turned)]
    assert main(["measure", *pictures, "--same-part", *turns, "--scale", "6um", "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert found["schema"] == "flankwise/measurement/1"
    assert found["thread"]["hand"] == "right"
    assert [p["turned"]["value"] for p in found["pictures"]] == [0.0, 90.0]


def test_a_cast_is_read_as_a_hole(pictures: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["measure", pictures[0], "--impression", "--shrinkage", "0.2%", "--scale", "6um", "--full"]) == 0
    assert "a cast, read as the hole it came from" in capsys.readouterr().out


def test_one_picture_with_same_part_is_measured_as_ever(
    pictures: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["measure", pictures[0], "--scale", "6um", "--json"]) == 0
    plain = capsys.readouterr().out
    assert main(["measure", pictures[0], "--same-part", "--scale", "6um", "--json"]) == 0
    assert capsys.readouterr().out == plain


def test_the_same_file_twice_is_refused(pictures: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["measure", pictures[0], pictures[0], "--same-part", "--scale", "6um", "--json"]) == 3
    assert json.loads(capsys.readouterr().out)["reasons"][0]["code"] == "same_picture_twice"
