"""The calibration file: it comes back as it was, is written whole, and is refused once anything in it was changed."""

from __future__ import annotations

import hashlib
import json
import os
import re
from datetime import UTC, datetime
from pathlib import Path

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from calib.calibration import Calibration, Gauge, canonical, new_calibration
from calib.file import calibration_document, load_calibration, save_calibration
from calib.lens import radial_lens
from flankwise.reasons import sentence
from threads.shared.plain_json import plain
from threads.shared.refusal import Reason, RefusalError
from vision.pictures.picture import Picture


def _calibration(**changes: object) -> Calibration:
    values: dict[str, object] = {
        "gauges": [
            Gauge("pin", 1.0, 0.001, "Stift Ø1.png", "a1" * 32, 250.123456789012, 1 / 60, -0.012345678901),
            Gauge("pin", 2.5, 0.001, "pin2.png", "b2" * 32, 625.1, 0.02, 1 / 3),
        ],
        "um_per_px": 4.0 + 1 / 3000,
        "edge_offset_px": 0.1 + 1 / 70,
        "covariance": np.array([[2.1e-6, 3.3e-5], [3.3e-5, 0.0123456789012345]]),
        "lens": radial_lens(0.0123456789, 1600, 1200),
        "light_cone_deg": 2.0,
        "picture_width_px": 1600,
        "picture_height_px": 1200,
        "warnings": [Reason("pin_u95_assumed", um=1.0)],
        "when": datetime(2026, 11, 25, 9, 30, tzinfo=UTC),
    }
    return new_calibration(**{**values, **changes})  # type: ignore[arg-type]


def _picture(width: int, height: int) -> Picture:
    light = np.zeros((2, 2), np.float32)
    return Picture("/somewhere/part.png", "0" * 64, width, height, light, 8, 0.0, 1 / 255, ())


def _refused(path: Path | str, **options: Picture) -> tuple[str, str]:
    with pytest.raises(RefusalError) as caught:
        load_calibration(path, **options)
    (reason,) = caught.value.reasons
    assert "\n" not in sentence(reason)
    return reason.code, sentence(reason)


def test_it_comes_back_as_it_was(tmp_path: Path) -> None:
    made = _calibration()
    save_calibration(made, tmp_path / "bench.json")
    read = load_calibration(tmp_path / "bench.json", picture=_picture(1600, 1200))
    assert plain(read.to_dict()) == plain(made.to_dict())
    assert np.array_equal(read.covariance, made.covariance)
    assert read.gauges == made.gauges
    assert read.warnings == made.warnings
    points = np.array([[10.0, 20.0], [1500.0, 900.0]])
    assert np.array_equal(read.undistort(points), made.undistort(points))


def test_contents_are_those_of_the_contract(tmp_path: Path) -> None:
    save_calibration(_calibration(), tmp_path / "bench.json")
    text = (tmp_path / "bench.json").read_text(encoding="utf-8")
    data = json.loads(text)
    assert list(data) == [
        "schema", "id", "when", "gauges", "um_per_px", "edge_offset_px", "covariance", "lens", "light_cone_deg",
        "light_cone_u_deg", "light_cone_found", "light_cone_most_deg", "working_distance_mm", "focus_locked",
        "lens_opening", "light_patch_mm", "light_distance_mm", "camera", "tone", "file_kind", "bit_depth", "sharpness",
        "picture_width_px", "picture_height_px", "warnings", "checksum",
    ]  # fmt: skip
    assert data["schema"] == "flankwise/calibration/1"
    assert data["when"] == "2026-11-25T09:30:00Z"
    assert data["um_per_px"] == {"value": 4.000333333, "u95": pytest.approx(2 * 2.1e-6**0.5), "unit": "um/px"}
    assert data["edge_offset_px"]["u95"] == pytest.approx(2 * 0.0123456789012345**0.5)
    assert data["gauges"][0]["nominal_mm"] == 1.0
    assert "Ø" in text  # readable, not escaped
    assert text.count("\n") > 40
    content = {key: value for key, value in data.items() if key != "checksum"}
    assert data["checksum"] == "sha256:" + hashlib.sha256(canonical(content)).hexdigest()


def test_a_file_from_before_there_were_other_gauges_still_loads(tmp_path: Path) -> None:
    made = _calibration()
    content = plain(made.to_dict())
    added = (
        "light_cone_u_deg", "light_cone_found", "working_distance_mm", "focus_locked", "lens_opening",
        "light_patch_mm", "light_distance_mm", "camera", "light_cone_most_deg",
    )  # fmt: skip
    for key in added:
        del content[key]
    content["gauges"] = [{k: v for k, v in g.items() if k not in ("steps", "scatter_px")} for g in content["gauges"]]
    checksum = "sha256:" + hashlib.sha256(canonical(content)).hexdigest()
    (tmp_path / "old.json").write_text(json.dumps({**content, "checksum": checksum}), encoding="utf-8")
    read = load_calibration(tmp_path / "old.json")
    assert plain(read.to_dict()) == plain(made.to_dict())
    assert (read.light_cone_u_deg, read.light_cone_found, read.working_distance_mm) == (0.0, False, None)
    assert not read.focus_locked
    assert not read.camera
    assert read.round_gauges


def test_id_follows_the_contents() -> None:
    assert _calibration().id == _calibration().id
    assert re.fullmatch(r"[0-9a-f]{10}", _calibration().id)
    assert _calibration().id != _calibration(um_per_px=4.001).id
    assert _calibration().id != _calibration(when=datetime(2026, 11, 25, 9, 31, tzinfo=UTC)).id


def test_every_single_digit_counts(tmp_path: Path) -> None:
    """Each digit of the file changed in turn, to each neighbour that it can have."""
    text = json.dumps(calibration_document(_calibration()), indent=2, ensure_ascii=False)
    path = tmp_path / "bench.json"
    digits = [m.start() for m in re.finditer(r"\d", text)]
    assert len(digits) > 300
    for at in digits:
        other = str((int(text[at]) + 1) % 10)
        path.write_text(text[:at] + other + text[at + 1 :], encoding="utf-8")
        assert _refused(path)[0] in ("calibration_altered", "calibration_unreadable"), text[at - 20 : at + 5]


@settings(max_examples=200, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(data=st.data())
def test_any_change_is_refused_or_changes_nothing(tmp_path: Path, data: st.DataObject) -> None:
    made = _calibration()
    raw = bytearray(json.dumps(calibration_document(made), indent=2, ensure_ascii=False).encode())
    at = data.draw(st.integers(0, len(raw) - 1))
    what = data.draw(st.sampled_from(("set", "insert", "cut", "end")))
    if what == "set":
        raw[at] = data.draw(st.integers(0, 255))
    elif what == "insert":
        raw[at:at] = data.draw(st.binary(min_size=1, max_size=6))
    elif what == "cut":
        del raw[at : at + data.draw(st.integers(1, 30))]
    else:
        del raw[at:]
    path = tmp_path / "bench.json"
    path.write_bytes(bytes(raw))
    try:
        read = load_calibration(path)
    except RefusalError:
        return
    assert plain(read.to_dict()) == plain(made.to_dict())  # blanks, or an escape for the same letter


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"{}",
        b"[]",
        b"null",
        b"\xff\xfe\x00",
        b'{"schema": "flankwise/measurement/1"}',
        b'{"schema": "flankwise/calibration/x"}',
        b'{"schema": ["flankwise/calibration/1"]}',
        b'{"a": 1, "a": 2}',
        b'{"a": NaN}',
        b"[" * 100_000,
        b'{"schema": "flankwise/calibration/1", "a": ' + b"[" * 5_000 + b"]" * 5_000 + b"}",
        b"9" * 10_000,
    ],
)
def test_other_files(tmp_path: Path, content: bytes) -> None:
    (tmp_path / "a.json").write_bytes(content)
    assert _refused(tmp_path / "a.json")[0] in ("calibration_unreadable", "calibration_altered")


def test_a_newer_version_says_so(tmp_path: Path) -> None:
    data = calibration_document(_calibration())
    data["schema"] = "flankwise/calibration/2"
    (tmp_path / "a.json").write_text(json.dumps(data), encoding="utf-8")
    code, message = _refused(tmp_path / "a.json")
    assert code == "calibration_unreadable"
    assert "version 2" in message
    assert "Update" in message


@pytest.mark.parametrize(
    "change",
    [
        {"um_per_px": {"value": -4.0}},
        {"um_per_px": {"value": "4"}},
        {"um_per_px": 4.0},
        {"covariance": {"order": ["um_per_px", "edge_offset_px"], "matrix": [[1.0, 2.0], [2.0, 1.0]]}},
        {"covariance": {"order": ["um_per_px", "edge_offset_px"], "matrix": [[1.0, 0.0]]}},
        {"covariance": {"order": ["edge_offset_px", "um_per_px"], "matrix": [[1.0, 0.0], [0.0, 1.0]]}},
        {"lens": {"model": "magic"}},
        {"lens": {"model": "radial"}},
        {"lens": "none"},
        {"picture_width_px": 0},
        {"picture_width_px": 1600.5},
        {"light_cone_deg": "2"},
        {"gauges": [{"what": "pin"}]},
        {"gauges": None},
        {"warnings": [{}]},
        {"id": 5},
        {"um_per_px": {"value": 1e999}},
    ],
)
def test_impossible_contents_with_a_right_checksum(tmp_path: Path, change: dict[str, object]) -> None:
    content = {**plain(_calibration().to_dict()), **change}
    text = json.dumps(content, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    checksum = "sha256:" + hashlib.sha256(text.encode()).hexdigest()
    (tmp_path / "a.json").write_text(json.dumps({**content, "checksum": checksum}), encoding="utf-8")
    assert _refused(tmp_path / "a.json")[0] == "calibration_unreadable"


def test_missing_folder_and_odd_paths(tmp_path: Path) -> None:
    for path in (tmp_path / "nothing.json", tmp_path, "a\0b", str(tmp_path / ("x" * 5000)), ""):
        assert _refused(path)[0] == "calibration_unreadable"


@pytest.mark.parametrize("size", [(1601, 1200), (800, 600), (1200, 1600)])
def test_pictures_of_another_size(tmp_path: Path, size: tuple[int, int]) -> None:
    save_calibration(_calibration(), tmp_path / "bench.json")
    code, message = _refused(tmp_path / "bench.json", picture=_picture(*size))
    assert code == "calibration_picture_size"
    assert f"{size[0]} x {size[1]}" in message
    assert "1600 x 1200" in message
    assert ("quarter" in message) == (size == (1200, 1600))


def test_an_old_file_survives_when_writing_fails(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "bench.json"
    save_calibration(_calibration(), path)
    before = path.read_bytes()

    def no_space(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", no_space)
    with pytest.raises(RefusalError) as caught:
        save_calibration(_calibration(um_per_px=5.0), path)
    assert caught.value.reasons[0].code == "calibration_not_written"
    assert path.read_bytes() == before
    assert [p.name for p in tmp_path.iterdir()] == ["bench.json"]


def test_places_that_cannot_be_written(tmp_path: Path) -> None:
    for path in (tmp_path, tmp_path / "no" / "bench.json", "a\0b"):
        with pytest.raises(RefusalError) as caught:
            save_calibration(_calibration(), path)
        assert caught.value.reasons[0].code == "calibration_not_written"
    assert list(tmp_path.iterdir()) == []


@pytest.mark.skipif(os.name != "posix", reason="permissions and links of POSIX")
def test_permissions_and_links_are_kept(tmp_path: Path) -> None:
    (tmp_path / "plain").touch()
    save_calibration(_calibration(), tmp_path / "bench.json")
    assert (tmp_path / "bench.json").stat().st_mode == (tmp_path / "plain").stat().st_mode
    (tmp_path / "link.json").symlink_to(tmp_path / "bench.json")
    save_calibration(_calibration(um_per_px=5.0), tmp_path / "link.json")
    assert (tmp_path / "link.json").is_symlink()
    assert load_calibration(tmp_path / "bench.json").um_per_px == 5.0
