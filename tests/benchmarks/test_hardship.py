"""The benchmark of bad light and worn parts: its scenes are as hard as it says, and it judges what it promises."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from benchmarks import hardship
from benchmarks.hard_scenes import HARDSHIPS, harder_scene, lost_um, stated_scene, worn_scene
from benchmarks.hardship import report, verdicts
from benchmarks.outcome import Compared, Outcome
from benchmarks.scenes import BenchScene
from sample_images.condition import Wear
from sample_images.truth import uneven_light


@pytest.mark.parametrize("seed", range(1, 13))
def test_the_stated_scenes_are_as_hard_as_promised(seed: int) -> None:
    bench = stated_scene(seed)
    screw = bench.screw
    assert uneven_light(screw) == pytest.approx(0.30, abs=1e-9)
    assert screw.camera.noise == 0.02
    assert bench.jpeg_quality == 85
    assert screw.blemishes.spoiled == 0.10
    distance = screw.camera.working_distance_mm
    assert distance is None or 60 <= distance <= 120
    assert (bench.stated_distance_mm is None) == (distance is None)
    # the pins are clean, and lie within three standard deviations of the screw's height
    for pin, _ in bench.pins:
        assert not pin.blemishes.any
        height = (pin.camera.um_per_px / screw.camera.um_per_px - 1) * (distance or 1.0)
        assert abs(height) < 0.1


def test_the_pins_of_near_cameras_lie_higher_and_lower_alike() -> None:
    near = [b for b in map(stated_scene, range(1, 61)) if b.screw.camera.working_distance_mm]
    heights = [
        (b.pins[0][0].camera.um_per_px / b.screw.camera.um_per_px - 1) * (b.screw.camera.working_distance_mm or 1)
        for b in near
    ]
    assert 25 < len(near) < 55
    assert abs(np.mean(heights)) < 0.008
    assert np.std(heights) == pytest.approx(0.03, abs=0.006)


def test_each_hardship_has_its_turn() -> None:
    kinds = {harder_scene(seed)[1] for seed in range(1, 1 + len(HARDSHIPS))}
    assert kinds == set(HARDSHIPS)
    for seed in range(1, 1 + len(HARDSHIPS)):
        bench, kind = harder_scene(seed)
        plain = stated_scene(seed, spoiled=0.05)
        assert bench.screw != plain.screw, kind


def test_a_third_of_the_worn_scenes_is_sound() -> None:
    kinds = [worn_scene(seed)[1] for seed in range(1, 13)]
    assert [kinds.count(kind) for kind in ("sound", "crest", "flank")] == [4, 4, 4]
    for seed in range(1, 13):
        bench, kind = worn_scene(seed)
        assert (bench.screw.wear is None) == (kind == "sound")
        bench.screw.check()


def test_what_was_lost_is_counted_as_a_picture_can_show_it() -> None:
    bench, _ = worn_scene(1)
    thread = bench.screw.thread
    assert thread is not None
    partly = replace(bench.screw, wear=Wear(crest_mm=0.03, to_mm=5.0))
    assert lost_um(partly) == 30
    everywhere = replace(bench.screw, wear=Wear(crest_mm=0.03))
    over = (thread.crest_width_mm - thread.pitch_mm / 8) / (2 * np.tan(np.radians(30)))
    assert lost_um(everywhere) == pytest.approx(30 + 1e3 * over, rel=0.05)
    assert lost_um(replace(bench.screw, wear=Wear(flank_mm=0.02))) == 20


def outcome(seed: int, error: float, u95: float, known: float, wear: dict[str, Any] | None = None) -> Outcome:
    compared = {"pitch_diameter": Compared(2000.0, error, u95, known, u95, None)}
    return Outcome(seed, 4.0, {}, "measured", compared=compared, wear=wear)


def tried(errors: list[float], known: float = 0.4, what: str = "stated") -> list[tuple[BenchScene, str, Outcome]]:
    bench = stated_scene(1)
    return [(bench, what, outcome(i, e, 1.0, known)) for i, e in enumerate(errors)]


def test_promises_are_kept_and_broken_where_they_should_be() -> None:
    good = [0.1] * 95 + [2.0] * 5
    kept = {v.what: v for v in verdicts({"stated": tried(good), "harder": [], "worn": []})}
    assert kept["stated: pitch_diameter RMS, scale known"].value == pytest.approx(0.1)
    assert all(v.met is not False for v in kept.values())
    broken = verdicts({"stated": tried([0.1] * 80 + [2.0] * 20, known=1.3), "harder": [], "worn": []})
    assert {v.what for v in broken if v.met is False} == {
        "stated: pitch_diameter RMS, scale known",
        "stated: pitch_diameter: U95 covers the truth",
    }


def test_invented_and_missed_wear_break_the_promise() -> None:
    sound, _ = worn_scene(3)
    flank = replace(sound, screw=replace(sound.screw, wear=Wear(flank_mm=0.02)))
    block = {"flank": {"lost": {"value": 20.5, "u95": 1.0}}, "crest": None}
    seen = [(flank, "flank", outcome(i, 0.1, 1.0, 0.1, block)) for i in range(10)]
    clean = [(sound, "sound", outcome(i, 0.1, 1.0, 0.1)) for i in range(60)]
    sets = {"stated": tried([0.1] * 40), "harder": [], "worn": seen + clean}
    assert all(v.met is not False for v in verdicts(sets))
    missed = [(b, w, replace(o, wear=None)) for b, w, o in seen[:3]] + seen[3:]
    invented = [(b, w, replace(o, wear=block)) for b, w, o in clean[:4]] + clean[4:]
    for worn, what in ((missed + clean, "worn flank: seen in 10 scenes"), (seen + invented, "wear invented")):
        bad = verdicts({**sets, "worn": worn})
        assert any(v.what.startswith(what) for v in bad if v.met is False)
        assert "BROKEN" in report({**sets, "worn": worn}, bad)


def test_the_command_prints_its_tables(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    def told(task: tuple[str, int], keep: object = None) -> tuple[BenchScene, str, Outcome]:  # noqa: ARG001
        bench = stated_scene(1)
        return bench, "stated", outcome(task[1], 0.1, 1.0, 0.1)

    monkeypatch.setattr(hardship, "run_all", lambda _run, tasks, _jobs: ((task, told(task)) for task in tasks))
    assert hardship.main(["--scenes", "2"]) == 0
    printed = capsys.readouterr().out
    assert "pitch_diameter" in printed
    assert "kept" in printed

    refused = Outcome(1, 4.0, {}, "refused", ("glare",))
    monkeypatch.setattr(hardship, "run_task", lambda *_: (stated_scene(1), "flank", refused))
    assert hardship.main(["--only", "1", "--set", "worn"]) == 1
