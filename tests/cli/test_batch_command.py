"""``flankwise batch``: whole folders, good and bad pictures, kills and Ctrl-C, and a cluster."""

from __future__ import annotations

import csv
import json
import os
import shutil
import signal
import subprocess
import sys
import time
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from cli.main import main
from sample_images.files import write_picture
from sample_images.render import render_together
from sample_images.scene import Camera, Cylinder, Scene

ROOT = Path(__file__).resolve().parents[2]
SAMPLES = ROOT / "sample_images"
SCREWS = ("sextant_index_arm_screw_4-40_bench_a.png", "sextant_horizon_mirror_screw_2-64_bench_a.png")


def rows_of(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file, strict=True))


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Two screws, a pin, and a file that is no picture."""
    place = tmp_path / "pictures"
    (place / "more").mkdir(parents=True)
    shutil.copyfile(SAMPLES / SCREWS[0], place / "b.png")
    shutil.copyfile(SAMPLES / SCREWS[1], place / "more" / "=c.png")
    shutil.copyfile(SAMPLES / "pin_1000_bench_a.png", place / "pin.png")
    (place / "a.png").write_bytes(b"no picture")
    return place


@pytest.fixture(scope="module")
def bench(tmp_path_factory: pytest.TempPathFactory) -> str:
    target = tmp_path_factory.mktemp("bench") / "a.json"
    pins = [
        text
        for d in ("1.000", "2.500")
        for text in ("--pin", str(SAMPLES / f"pin_{d.replace('.', '')}_bench_a.png"), f"{d}mm")
    ]
    assert main(["calibrate", *pins, "-o", str(target)]) == 0
    return str(target)


def as_json(capsys: pytest.CaptureFixture[str], *arguments: str, expect: int = 0) -> dict[str, Any]:
    capsys.readouterr()
    assert main([*arguments, "--json"]) == expect
    found = json.loads(capsys.readouterr().out)
    assert isinstance(found, dict)
    return found


@pytest.mark.slow
def test_a_folder_is_measured_and_gone_on_with(
    folder: Path, tmp_path: Path, bench: str, capsys: pytest.CaptureFixture[str]
) -> None:
    target = tmp_path / "results.csv"
    command = [
        "batch",
        str(folder),
        "--calibration",
        bench,
        "-o",
        str(target),
        "--recursive",
        "--identify",
        "--jobs",
        "2",
    ]
    found = as_json(capsys, *command, "--made", "1938", "--origin", "US", expect=3)
    expected = {
        "schema": "flankwise/batch/1",
        "status": "done",
        "pictures": 4,
        "measured": 2,
        "refused": 2,
        "failed": 0,
    }
    assert found | expected == found
    assert found["reasons"] == {"unreadable": 1, "no_thread": 1}
    rows = rows_of(target)
    assert [(row["picture"], row["status"], row["code"]) for row in rows] == [
        ("a.png", "refused", "unreadable"),
        ("b.png", "measured", ""),
        ("more/=c.png", "measured", ""),
        ("pin.png", "refused", "no_thread"),
    ]
    assert rows[1]["designation"].startswith("4-40 NC")
    assert {row["calibration"] for row in rows} == {json.loads(Path(bench).read_text("utf-8"))["id"]}

    # a broken last row is done again, a changed picture too, and nothing else
    content = target.read_bytes()
    target.write_bytes(content[:-20])
    shutil.copyfile(SAMPLES / SCREWS[1], folder / "b.png")
    capsys.readouterr()
    assert main([*command, "--made", "1938", "--origin", "US"]) == 3
    told = capsys.readouterr().out
    assert told.splitlines()[-1].endswith('2 of its pictures were not measured, and the column "message" says why')
    assert "4 pictures, 1 measured, 1 not, 2 on file already" in told
    assert "broken off" in told
    assert "pin.png" in told
    again = rows_of(target)
    assert [row["picture"] for row in again] == ["a.png", "b.png", "more/=c.png", "b.png", "pin.png"]
    assert again[:3] == rows[:3]
    assert again[3]["sha256"] == rows[2]["sha256"]

    # another calibration, or other options, would be a second set of rows
    other = tmp_path / "other.json"
    assert main(["calibrate", "--pin", str(SAMPLES / "pin_2500_bench_a.png"), "2.500mm", "-o", str(other)]) == 0
    content = target.read_bytes()
    for changed in (["--calibration", str(other), "--made", "1938", "--origin", "US"], ["--calibration", bench]):
        again_with = ["batch", str(folder), "-o", str(target), "--recursive", "--identify", "--jobs", "1", *changed]
        assert as_json(capsys, *again_with, expect=3)["reasons"][0]["code"] == "results_otherwise"
        assert target.read_bytes() == content


def start(*arguments: str) -> subprocess.Popen[str]:
    # a shell that runs the tests in the background has its children ignore the key that stops a command
    obey = "import signal; signal.signal(signal.SIGINT, signal.default_int_handler)"
    code = f"import sys; {obey}; from cli.main import run; run()"
    return subprocess.Popen(
        [sys.executable, "-c", code, *arguments],
        cwd=ROOT,
        text=True,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        env=os.environ | {"PYTHONPATH": str(ROOT)},
        start_new_session=True,
    )


def wait_for_rows(target: Path, count: int) -> None:
    until = time.monotonic() + 600
    while not target.exists() or target.read_bytes().count(b"\n") <= count:
        assert time.monotonic() < until, "no rows"
        time.sleep(0.02)


@pytest.mark.slow
@pytest.mark.skipif(os.name == "nt", reason="signals of POSIX")
@pytest.mark.parametrize("how", [signal.SIGKILL, signal.SIGINT])
def test_stopped_at_any_moment_it_goes_on_from_there(tmp_path: Path, how: signal.Signals) -> None:
    place, target = tmp_path / "pictures", tmp_path / "results.csv"
    place.mkdir()
    for number in range(12):
        shutil.copyfile(SAMPLES / SCREWS[1], place / f"{number:02d}.png")
    command = ["batch", str(place), "--scale", "4um", "-o", str(target), "--jobs", "1"]
    with start(*command) as process:
        wait_for_rows(target, 1)
        process.send_signal(how)
        _, told = process.communicate(timeout=600)
    if how == signal.SIGINT:
        assert process.returncode == 130
        assert "the same command again goes on" in told
    before = rows_of(target)
    assert 1 <= len(before) < 12
    if how == signal.SIGINT:
        return
    for number in range(len(before) + 2, 12):  # enough to see that it goes on
        (place / f"{number:02d}.png").unlink()
    assert main(command) == 0
    after = rows_of(target)
    assert after[: len(before)] == before
    assert [row["picture"] for row in after] == [f"{number:02d}.png" for number in range(len(before) + 2)][: len(after)]
    assert len(after) == min(len(before) + 2, 12)


@pytest.mark.slow
def test_no_folder_no_picture_and_nothing_measured_are_refused(
    tmp_path: Path, bench: str, capsys: pytest.CaptureFixture[str]
) -> None:
    target = str(tmp_path / "results.csv")
    rest = ("--calibration", bench, "-o", target, "--jobs", "1")

    def code(*arguments: str) -> str:
        return as_json(capsys, "batch", *arguments, *rest, expect=3)["reasons"][0]["code"]

    empty = tmp_path / "empty"
    empty.mkdir()
    assert code(str(tmp_path / "none")) == "no_folder"
    assert code(str(empty)) == "no_pictures"
    assert not Path(target).exists()
    (empty / "a.png").write_bytes(b"no picture")
    assert code(str(empty)) == "nothing_measured"
    assert [row["code"] for row in rows_of(Path(target))] == ["unreadable"]
    Path(target).write_text("dear diary\n", "utf-8")
    assert code(str(empty)) == "results_foreign"
    assert Path(target).read_text("utf-8") == "dear diary\n"
    assert (
        as_json(capsys, "batch", str(empty), "--calibration", target, "-o", target, expect=3)["reasons"][0]["code"]
        == "calibration_unreadable"
    )


@pytest.mark.parametrize(
    "arguments",
    [
        (),
        ("--scale", "4um"),
        ("-o", "r.csv"),
        ("-o", "r.csv", "--scale", "4"),
        ("-o", ".", "--scale", "4um"),
        ("-o", "none/r.csv", "--scale", "4um"),
        ("-o", "r.csv", "--scale", "4um", "--jobs", "0"),
        ("-o", "r.csv", "--scale", "4um", "--made", "1938"),
        ("-o", "r.csv", "--scale", "4um", "--identify", "--origin", "ZZ"),
        ("-o", "r.csv", "--scale", "4um", "--identify", "--series", "NX"),
        ("-o", "r.csv", "--scale", "4um", "--executor", "fork"),
        ("-o", "r.csv", "--scale", "4um", "--executor", "dask"),
        ("-o", "r.csv", "--scale", "4um", "--scheduler", "tcp://127.0.0.1:1"),
        ("-o", "r.csv", "--scale", "4um", "--executor", "dask", "--scheduler", "tcp://127.0.0.1:1", "--jobs", "2"),
        ("-o", "pictures/a.png", "--scale", "4um"),
    ],
)
def test_a_wrong_command_line_is_told_before_anything_is_written(
    folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], arguments: tuple[str, ...]
) -> None:
    monkeypatch.chdir(folder.parent)
    assert main(["batch", "pictures", *arguments]) == 2
    assert capsys.readouterr().err.count("\n") == 1
    assert not Path("r.csv").exists()
    assert (folder / "a.png").read_bytes() == b"no picture"


@pytest.mark.slow
@pytest.mark.filterwarnings("ignore")  # of the cluster's own, such as ports that are taken
def test_a_cluster_gives_the_same_rows(folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    distributed = pytest.importorskip("distributed")
    here, there = tmp_path / "here.csv", tmp_path / "there.csv"
    command = ["batch", str(folder), "--scale", "4um"]
    assert main([*command, "-o", str(here), "--jobs", "1"]) == 3
    with distributed.LocalCluster(
        n_workers=1, threads_per_worker=1, processes=False, dashboard_address=None
    ) as cluster:
        on_cluster = [*command, "-o", str(there), "--executor", "dask", "--scheduler", cluster.scheduler_address]
        found = as_json(capsys, *on_cluster, expect=3)
        assert (found["measured"], found["refused"]) == (1, 2)
        assert as_json(capsys, *on_cluster, expect=3)["skipped"] == 3
    same = [{name: cell for name, cell in row.items() if name != "when"} for row in rows_of(here)]
    assert [{name: cell for name, cell in row.items() if name != "when"} for row in rows_of(there)] == same


def test_without_dask_one_line_says_how_to_get_it(
    folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setitem(sys.modules, "distributed", None)  # as if it were not installed
    command = ["batch", str(folder), "--scale", "4um", "-o", str(tmp_path / "r.csv"), "--executor", "dask"]
    assert main([*command, "--scheduler", "tcp://127.0.0.1:1"]) == 3
    told = capsys.readouterr().err
    assert told.splitlines()[-1].startswith("flankwise: refused: Dask is not installed here. Install it with: pip")


@pytest.mark.slow
def test_no_option_is_advised_that_batch_and_compare_do_not_have(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    place = tmp_path / "pictures"
    place.mkdir()
    pin = Scene(None, body=(Cylinder(1.6, 2.0),), view_mm=1.0, offset_px=120, camera=Camera(300, 520, um_per_px=9.0))
    write_picture(place / "two.png", render_together([pin, replace(pin, offset_px=-120)])[0])
    for command in (["batch", str(place), "-o", str(tmp_path / "r.csv")], ["compare", "a.png", "b.png"]):
        assert main(command) == 2
        assert "--pin-beside" not in capsys.readouterr().err
    assert main(["batch", str(place), "-o", str(tmp_path / "r.csv"), "--scale", "9um", "--jobs", "1"]) == 3
    (row,) = rows_of(tmp_path / "r.csv")
    assert row["code"] == "several_parts"
    assert "--part N" not in row["message"]
    assert "flankwise measure --all-parts" in row["message"]
    capsys.readouterr()
    two = str(place / "two.png")
    assert main(["compare", two, two, "--scale", "9um"]) == 3
    told = capsys.readouterr().err
    assert "Name one with --original-part N or --replacement-part N" in told
    assert "'flankwise measure --all-parts'" in told


def test_a_cluster_that_does_not_answer_is_refused(
    folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    pytest.importorskip("distributed")
    monkeypatch.setattr("records.batch.cluster.CONNECT_S", 1)
    target = str(tmp_path / "results.csv")
    command = ["batch", str(folder), "--scale", "4um", "-o", target, "--executor", "dask", "--scheduler"]
    for address in ("tcp://127.0.0.1:9", "nonsense", "mailto://x"):
        assert as_json(capsys, *command, address, expect=3)["reasons"][0]["code"] == "cluster_not_reached"
