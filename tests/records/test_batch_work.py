"""One picture of a folder: measured, refused, known already, or the victim of a defect; never an exception."""

from __future__ import annotations

import hashlib
from dataclasses import replace
from pathlib import Path

import pytest

from flankwise.bench import scaled_by_hand
from records.batch import work
from records.batch.columns import head
from records.batch.work import Settings, Task, measure_one, name_in_results, pictures_in

SAMPLES = Path(__file__).resolve().parents[2] / "sample_images"
SCREW = SAMPLES / "sextant_index_arm_screw_4-40_bench_a.png"
BY_HAND = Settings(scaled_by_hand(4.0), "1.2.3", identify=True, origin="US", made=(1938, 1938))


def as_row(cells: tuple[str, ...]) -> dict[str, str]:
    return dict(zip(head(identify=True), cells, strict=True))


def test_a_screw_is_measured_and_identified() -> None:
    found = measure_one(BY_HAND, Task(str(SCREW), "a.png"))
    row = as_row(found.cells)
    assert (found.status, row["status"], row["code"], row["version"]) == ("measured", "measured", "", "1.2.3")
    assert row["sha256"] == hashlib.sha256(SCREW.read_bytes()).hexdigest()
    assert (row["picture"], row["settings"], row["calibration"]) == ("a.png", BY_HAND.key, "scale given by hand")
    assert float(row["pitch_mm"]) == pytest.approx(0.635, abs=0.002)
    assert 0 < float(row["pitch_diameter_u95_mm"]) < 0.02
    assert row["crest_radius_mm"] == ""
    assert row["designation"].startswith("4-40 NC")
    assert "4-40 UNC-3A" in row["group"]
    assert row["from_memory"] == "yes"


def test_what_is_known_is_not_measured_again() -> None:
    sha256 = hashlib.sha256(SCREW.read_bytes()).hexdigest()
    assert measure_one(BY_HAND, Task(str(SCREW), "a.png", ("0" * 64, sha256))).status == "skipped"
    assert measure_one(BY_HAND, Task(str(SCREW), "a.png", ("0" * 64,))).status == "measured"


@pytest.mark.parametrize("content", [b"", b"no picture", SCREW.read_bytes()[:5000]])
def test_a_bad_picture_gives_a_row_with_its_code_and_hash(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "bad.png"
    path.write_bytes(content)
    found = measure_one(BY_HAND, Task(str(path), "bad.png"))
    row = as_row(found.cells)
    assert row["status"] == "refused"
    assert row["code"] in {"unreadable", "truncated"}
    assert row["message"]
    assert row["sha256"] == hashlib.sha256(content).hexdigest()
    assert row["pitch_mm"] == row["designation"] == ""


def test_a_picture_that_has_gone_gives_a_row(tmp_path: Path) -> None:
    found = measure_one(BY_HAND, Task(str(tmp_path / "gone.png"), "gone.png", ("0" * 64,)))
    assert (found.status, found.code, as_row(found.cells)["sha256"]) == ("refused", "unreadable", "")


@pytest.mark.parametrize(
    ("error", "code"),
    [
        (ZeroDivisionError("1/0\nhere"), "defect"),
        (MemoryError(), "out_of_memory"),
        (ValueError("x" * 900), "defect"),
    ],
)
def test_a_defect_stops_nothing(monkeypatch: pytest.MonkeyPatch, error: Exception, code: str) -> None:
    def broken(*_: object, **__: object) -> None:
        raise error

    monkeypatch.setattr(work, "measure", broken)
    found = measure_one(BY_HAND, Task(str(SCREW), "a.png"))
    row = as_row(found.cells)
    assert (found.status, found.code, row["status"]) == ("failed", code, "failed")
    assert row["message"].isprintable()
    assert len(row["message"]) < 300


def test_settings_that_change_the_result_change_the_key() -> None:
    keys = {
        settings.key
        for settings in (
            BY_HAND,
            Settings(scaled_by_hand(4.1), "1", identify=True, origin="US", made=(1938, 1938)),
            Settings(scaled_by_hand(4.0), "1"),
            Settings(scaled_by_hand(4.0), "1", identify=True),
            Settings(scaled_by_hand(4.0), "1", identify=True, made=(1938, 1938)),
            Settings(scaled_by_hand(4.0), "1", identify=True, series=("NC",)),
        )
    }
    assert len(keys) == 6
    assert Settings(scaled_by_hand(4.0), "2", identify=True, origin="US", made=(1938, 1938)).key == BY_HAND.key
    plain = Settings(scaled_by_hand(4.0), "2", identify=True)
    assert replace(plain, on_file={"UNC": 300}).key == plain.key


def test_what_is_on_file_sharpens_how_common_a_series_is() -> None:
    """The sample lies in zones of both: what the workshop has most of comes first."""
    rows = [
        as_row(
            measure_one(
                Settings(scaled_by_hand(4.0), "2", identify=True, on_file=on_file), Task(str(SCREW), "a.png")
            ).cells
        )
        for on_file in ({"UNC": 3000}, {"NC": 3000})
    ]
    assert [row["designation"].split()[1].split("-")[0] for row in rows] == ["UNC", "NC"]


def test_pictures_are_found_in_the_order_of_their_names(tmp_path: Path) -> None:
    for name in ("b.PNG", "a.jpeg", "c.txt", ".hidden.png", "z/a.tif", "z/y/deep.bmp", ".git/x.png"):
        path = tmp_path / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.touch()
    (tmp_path / "folder.png").mkdir()
    (tmp_path / "round").symlink_to(tmp_path)
    flat = [name_in_results(path, tmp_path) for path in pictures_in(tmp_path, recursive=False)]
    assert flat == ["a.jpeg", "b.PNG"]
    deep = [name_in_results(path, tmp_path) for path in pictures_in(tmp_path, recursive=True)]
    assert deep == ["a.jpeg", "b.PNG", "z/a.tif", "z/y/deep.bmp"]


def test_a_name_that_a_spreadsheet_would_run_is_made_harmless(tmp_path: Path) -> None:
    assert name_in_results(tmp_path / "=1+1.png", tmp_path) == "'=1+1.png"
    assert name_in_results(tmp_path / "two\nlines.png", tmp_path) == "two\\x0alines.png"
