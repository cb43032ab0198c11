"""Writes ``register_vN.zip``: a small register as this version writes it, for the migration test of all later ones.

``python -m tests.records.make_register_fixture`` in the root, once for each version of the register, before it is
released; the files of earlier versions are never written again. Two parts and a tapped hole of a marine sextant, one
part of a theodolite, in the invented Quayside Workshop; the pictures are small ones, in place of those that were
measured.
"""

from __future__ import annotations

import contextlib
import json
import sqlite3
import tempfile
import zipfile
from pathlib import Path
from typing import Any

from calib.bench import calibrate_bench
from calib.file import calibration_document
from flankwise.reasons import sentence
from records import filing
from records.correction import correct
from records.documenting import identification_document
from records.picture_store import file_sha256
from records.register import VERSION, Writing, open_register
from records.thumbnail import thumbnail_of
from records.verification import verify
from threads.identify.identification import identify
from threads.judge.check import check
from threads.shared.plain_json import plain
from threads.standards.designation import parse
from threads.standards.limits import limits_of
from vision.pictures.picture import read_picture
from vision.result.measure import measure_picture

HERE = Path(__file__).resolve().parent
SAMPLES = HERE.parents[1] / "sample_images"


def write(target: Path) -> None:
    """Make the register and pack it."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        register = open_register(folder / "register.sqlite", create=True)
        with register.writing("Ada") as writing:
            _file_everything(writing, folder)
        with register.writing("Bo") as writing:
            correct(writing, "parts", 1, {"name": "index arm screw, long"}, why="there are two lengths")
        assert verify(register).faults == ()
        with contextlib.closing(sqlite3.connect(register.path)) as found:
            found.execute("VACUUM")
            found.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as packed:
            packed.write(register.path, register.path.name)
            for path in sorted(register.store.folder.rglob("*.*")):
                packed.write(path, path.relative_to(folder))


def _file_everything(writing: Writing, folder: Path) -> None:
    pins = [(read_picture(str(SAMPLES / f"pin_{n}_bench_a.png")), n / 1000) for n in (1000, 2500)]
    bench = calibrate_bench(pins=pins, pin_u95_mm=0.001)
    calibration = filing.add_calibration(writing, json.dumps(calibration_document(bench, sentence)))
    sextant = filing.add_instrument(
        writing, "marine sextant", maker="Quayside Workshop", model="Σ 2", serial="4117", made=(1938, 1938),
        country="US", owner_note="reads two minutes off the arc",
    )  # fmt: skip
    screw: dict[str, Any] = {}
    theodolite = filing.add_instrument(writing, "field theodolite", made=(1950, 1954), country="DE")
    job = filing.add_job(
        writing, "overhaul", instrument=sextant, about="every screw before the arm comes off",
        owner="the harbour school",
    )  # fmt: skip
    for sample, instrument, position, words in (
        ("sextant_index_arm_screw_4-40_bench_a.png", sextant, "index arm 3", "index arm screw"),
        ("sextant_horizon_mirror_screw_2-64_bench_a.png", sextant, "horizon mirror 1", "mirror screw"),
        ("theodolite_cover_screw_M2.5_bench_a.jpg", theodolite, "cover 1", "cover screw"),
    ):
        picture = read_picture(str(SAMPLES / sample))
        measurement = measure_picture(picture, bench)
        place = filing.add_position(writing, instrument, position)
        part = filing.add_part(
            writing, name=words, instrument=instrument, position=place, job=job if instrument == sextant else None
        )
        small = folder / f"{Path(sample).stem}.jpg"
        small.write_bytes(thumbnail_of(picture))
        filed = filing.add_picture(
            writing, small, sha256=file_sha256(small), width_px=480, height_px=360, thumbnail=small.read_bytes()
        )
        made = (1938, 1938) if instrument == sextant else (1950, 1954)
        origin = "US" if instrument == sextant else "DE"
        measured = filing.add_measurement(
            writing, part, plain(measurement.to_dict(), sentence), picture=filed, calibration=calibration
        )
        found = identify(measurement.thread, origin=origin, made=made)
        filing.add_identification(writing, measured, identification_document(found, origin, made))
        small.unlink()
        if words == "index arm screw":
            checked = check(measurement.thread, limits_of(parse("4-40 NC-2")))
            filing.add_check(writing, measured, plain(checked.to_dict({}, ()), sentence))
            filing.add_replacement(
                writing, part, made="2026-11-25", die="4-40 NC round die", setting="closed a quarter turn",
                stock="brass rod 3 mm",
            )  # fmt: skip
            die = filing.add_die(writing, "4-40 split die", cuts="4-40", remark="opened with its screw")
            filing.add_replacement(
                writing, part, made="2026-11-26", die="4-40 split die", cut_by=die, setting="1/4 turn"
            )
            filing.add_note(writing, "slot worn", part=part)
            screw = measurement.to_dict()
    hole = filing.add_hole(
        writing, filing.add_part(writing, name="cover post", instrument=theodolite), "4-40", engagement=3.0, depth=4.0
    )
    filing.add_trial(writing, hole, outcome="moved", screw=1, movement=0.4, movement_u95=0.04, overhang=20.0)
    filing.add_trial(writing, hole, outcome="stopped", name="new screw", document=plain(screw, sentence), turns=2.5)
    filing.add_note(writing, "the case is missing", instrument=sextant)
    for position, across, down in ((1, 0.3, 0.4), (2, 0.6, 0.25)):
        filing.add_map_mark(writing, position, 1, across, down)


if __name__ == "__main__":
    write(HERE / f"register_v{VERSION}.zip")
