"""A few hundred cases of each harness, what was found once, and that the runner sees what it looks for."""

from __future__ import annotations

import struct
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from calib.calibration import calibration_from_dict
from flankwise.amounts import in_mm
from flankwise.reasons import message
from tests.fuzz import calibrations, parts, run, tones, trials
from tests.fuzz.filed import filed
from tests.fuzz.recipe import Recipe, spoilt, spoilt_document
from threads.cutting.setting import setting_of
from threads.hole.hole_document import tried_hole
from threads.shared import typed
from threads.shared.refusal import RefusalError
from vision.pictures.tone import tone_of_icc

CASES = {"pictures": 400, "parts": 25, "calibrations": 400, "bundles": 100, "tables": 400, "words": 150}


SHORT = {"tones": 200, "benches": 100, "trials": 100, "dies": 100, "instruments": 100, "api": 100}
"""Those that need no process of their own."""


@pytest.mark.slow
@pytest.mark.parametrize("name", SHORT)
def test_nothing_is_found_in_this_process(name: str, tmp_path: Path) -> None:
    watch = run.Watch(name, tmp_path)
    run.run_plainly(watch, SHORT[name], 8)
    assert (watch.cases, watch.failed) == (SHORT[name], "")


@pytest.mark.slow
@pytest.mark.parametrize("name", CASES)
def test_nothing_is_found(name: str, tmp_path: Path) -> None:
    """Each in a process of its own: the memory of this one is that of all tests before."""
    command = [sys.executable, "-m", "tests.fuzz.run", name, "--cases", str(CASES[name]), "--seed", "8"]
    done = subprocess.run([*command, "--keep", tmp_path], capture_output=True, text=True, check=False, timeout=600)
    assert done.returncode == 0, done.stderr
    assert f" {CASES[name]} cases" in done.stdout
    assert "nothing found" in done.stdout
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("wrong", [[[1]], "x", 7, {"camera": [1], "lens": {}}])
def test_a_camera_that_is_no_camera_counts_as_not_said(wrong: Any) -> None:
    assert calibration_from_dict({**calibrations.seed(), "camera": wrong}).camera.camera is None


def test_a_crash_is_kept_with_its_recipe(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(run, "harness", lambda _name: lambda data: 1 // data[0])
    watch = run.Watch("words", tmp_path)
    watch(b"\1")
    with pytest.raises(ZeroDivisionError):
        watch(b"\0more")
    assert "ZeroDivisionError" in watch.failed
    assert (tmp_path / "words.recipe").read_bytes() == b"\0more"
    assert "FAILED" in run.report("words", watch, 1.0)


def _busy(_data: bytes) -> None:
    until = time.process_time() + 0.02
    while time.process_time() < until:
        pass


def test_a_hang_and_a_glutton_are_seen(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(run, "LONGEST_S", 0.01)
    monkeypatch.setattr(run, "harness", lambda _name: _busy)
    with pytest.raises(RuntimeError, match="took"):
        run.Watch("words", tmp_path)(b"")
    monkeypatch.setattr(run, "LONGEST_S", 5.0)
    monkeypatch.setattr(run, "MOST_BYTES", 1000)
    monkeypatch.setattr(run, "harness", lambda _name: lambda _data: None)
    watch = run.Watch("words", tmp_path)
    for _ in range(199):
        watch(b"")
    with pytest.raises(RuntimeError, match="MB were needed"):
        watch(b"")


def test_the_runner_as_a_command(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run.main(["words", "--cases", "20", "--keep", str(tmp_path)]) == 0
    assert "nothing found" in capsys.readouterr().out
    assert list(tmp_path.iterdir()) == []
    (tmp_path / "a.recipe").write_bytes(run.recipe_of(1, 3))
    assert run.main(["words", "--again", str(tmp_path / "a.recipe")]) == 0


def test_recipes_are_made_again_and_differ() -> None:
    first = [run.recipe_of(1, n) for n in range(50)]
    assert first == [run.recipe_of(1, n) for n in range(50)]
    assert len(set(first)) > 45
    assert run.recipe_of(2, 7) != first[7]


def test_a_number_of_thousands_of_digits_is_refused_at_once() -> None:
    """Found: the pattern of numbers could be read in as many ways as there were digits."""
    with pytest.raises(typed.TypedError) as refused:
        typed.parse_length("1" * 20_000 + "²mm")
    assert len(message(refused.value)) < 200


def test_a_picture_without_a_single_edge_is_refused() -> None:
    """Found: shapes so soft that no point of the outline was an edge."""
    parts.one(run.recipe_of(7, 919))


@pytest.mark.slow
def test_an_outline_of_which_nothing_counts_is_refused() -> None:
    """Found: a fit that went astray left no point to tell bend and drunkenness by."""
    parts.one(run.recipe_of(8, 7316))


def test_a_fit_that_leaves_all_points_is_refused() -> None:
    """What a long run of the harness found."""
    parts.one(run.recipe_of(2403, 1421))


def test_a_few_bright_points_are_no_pad() -> None:
    """Found: so few that none was among those that are looked at."""
    parts.one(run.recipe_of(8, 14638))


@pytest.mark.parametrize("length", [1e308, "1e308mm", 10**400, 1e-300, "1e-200in"])
def test_a_length_beyond_all_measure_is_refused(length: Any) -> None:
    """Found: an engagement of 1e308 mm ended in a defect, and so did a whole number of 400 digits."""
    with pytest.raises(typed.TypedError, match=r"typed.too_(large|small)"):
        in_mm(length, "engagement")


def test_a_curve_that_dips_between_few_codes_is_no_tone() -> None:
    """Found: looked at in 257 places only, a table of more may run back between them."""
    rising = np.linspace(0.0, 1.0, 2001)
    dips = rising.copy()
    dips[1000:1003] = 0.45
    head = b"curv" + struct.pack(">II", 0, 2001)
    tables = [head + np.round(65535 * one).astype(">u2").tobytes() for one in (rising, dips)]
    assert [tone_of_icc(tones.profile_with(b"GRAY", table)) is None for table in tables] == [False, True]


@pytest.mark.parametrize("digits", [400, 6000])
def test_a_setting_of_hundreds_of_digits_is_none(digits: int) -> None:
    """Found: too large for a number, or for the interpreter to read."""
    assert setting_of(f"open {digits * '9'}/1 turns") is None


def test_a_size_of_hundreds_of_digits_is_no_hole() -> None:
    """Found: too large a whole number among the sizes of a hole's file."""
    hole = {**trials.hole_file(), "quantiles": [10**400] * 20}
    with pytest.raises(RefusalError, match="not_a_hole_file"):
        tried_hole(hole, "hole.json")


def test_rows_that_are_not_spoilt_are_filed_and_used() -> None:
    """Else three harnesses would only see refusals."""
    used: list[Any] = []
    kept = [run.recipe_of(1, number) for number in range(40)]
    for recipe in kept:
        filed(Recipe(recipe), ("instruments", "trials", "dies"), used.append)
    assert len(used) > 3


def test_what_a_recipe_does() -> None:
    seed = bytes(range(64))
    changed = {spoilt(seed, Recipe(run.recipe_of(3, n))) for n in range(200)}
    assert len(changed) > 100
    document = {"a": [1, {"b": "c"}], "d": None}
    others = [spoilt_document(document, Recipe(run.recipe_of(4, n))) for n in range(100)]
    assert document == {"a": [1, {"b": "c"}], "d": None}
    assert sum(other != document for other in others) > 60
    assert Recipe(b"").number(10) == 0
