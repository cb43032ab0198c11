"""What is filed comes back the same; nothing is overwritten; an action is kept whole or not at all."""

from __future__ import annotations

import sqlite3
from pathlib import Path

import numpy as np
import pytest

from calib.bench import calibrate_bench
from calib.file import calibration_document, load_calibration, save_calibration
from flankwise.reasons import sentence
from records import filing, reading, schema
from records.correction import correct
from records.documenting import Place, document_measured, document_picture, identification_document
from records.register import Register
from records.verification import verify
from tests.records.registers import file_picture, file_workshop, identification, new_register, picture_file, screws
from threads.identify.identification import identify
from threads.measured.measured_document import thread_from_dict
from threads.shared.refusal import RefusalError
from vision.pictures.picture import read_picture
from vision.result.measure import measure_picture

SAMPLES = Path(__file__).resolve().parents[2] / "sample_images"


@pytest.fixture
def register(tmp_path: Path) -> Register:
    return new_register(tmp_path)


def read(register: Register, part: int) -> reading.Part:
    with register.reading() as found:
        return reading.read_part(found, part)


def test_a_part_comes_back_with_everything(register: Register, tmp_path: Path) -> None:
    path, sha256 = picture_file(tmp_path)
    limits, document = screws(1)[0]
    with register.writing("Ada") as writing:
        instrument = filing.add_instrument(
            writing, "Marinesextant Nürnberg", maker="Quayside Workshop", model="Σ 2", made=(1930, 1938), country="DE"
        )
        job = filing.add_job(writing, "overhaul", instrument=instrument, about="all screws")
        position = filing.add_position(writing, instrument, "index arm 3")
        part = filing.add_part(writing, name="index arm screw", instrument=instrument, position=position, job=job)
        picture = file_picture(writing, path, sha256)
        measurement = filing.add_measurement(writing, part, document, picture=picture)
        filing.add_identification(writing, measurement, {**identification(limits), "says": "as read", "given": None})
        filing.add_check(
            writing, measurement, {"against": limits.designation, "verdict": "conforms", "measurement": document}
        )
        filing.add_replacement(writing, part, made="2026-11-25", die="round die", setting="open", stock="brass 3 mm")
        filing.add_note(writing, "slot worn", part=part)
        filing.add_note(writing, "the case is missing", instrument=instrument)
    found = read(register, part)
    assert found.instrument is not None
    assert (found.instrument.name, found.instrument.made, found.instrument.model) == (
        "Marinesextant Nürnberg", (1930, 1938), "Σ 2",
    )  # fmt: skip
    assert found.position is not None
    assert (found.position.name, found.position.place) == ("index arm 3", 1)
    assert found.job is not None
    assert found.job.about == "all screws"
    assert found.measurement is not None
    assert found.measurement.document == document
    thread, filed = thread_from_dict(document), found.measurement.thread
    assert filed.pitch_diameter == thread.pitch_diameter
    np.testing.assert_array_equal(filed.covariance.matrix, thread.covariance.matrix)
    assert found.measurement.identification is not None
    assert found.measurement.identification.designation == limits.designation
    assert found.measurement.identification.says == "as read"
    assert [check.verdict for check in found.measurement.checks] == ["conforms"]
    assert [(made.die, made.made) for made in found.replacements] == [("round die", "2026-11-25")]
    assert [(note.text, note.who) for note in found.notes] == [("slot worn", "Ada")]
    assert found.picture is not None
    assert register.store.original(sha256, found.picture.suffix).read_bytes() == path.read_bytes()
    assert register.store.thumbnail(sha256).exists()
    assert verify(register).faults == ()


def test_a_new_measurement_is_a_new_row_and_the_latest_counts(register: Register) -> None:
    (_, first), (_, second), (_, third) = screws(3)
    with register.writing() as writing:
        part = filing.add_part(writing)
        filing.add_measurement(writing, part, first, measured="2026-01-01T00:00:00.000Z")
        later = filing.add_measurement(writing, part, second, measured="2026-03-01T00:00:00.000Z")
        filing.add_measurement(writing, part, third, measured="2026-02-01T00:00:00.000Z")
    found = read(register, part)
    assert len(found.measurements) == 3
    assert found.measurement is not None
    assert found.measurement.id == later
    with register.writing() as writing:
        correct(writing, "measurements", later, {"withdrawn": 1}, why="dust")
    found = read(register, part)
    assert len(found.measurements) == 3
    assert found.measurement is not None
    assert found.measurement.document == third
    assert verify(register).faults == ()


KEPT = (
    "calibrations checks corrections identifications instruments jobs measurement_documents measurements notes "
    "part_pictures parts pictures positions replacements"
)


@pytest.mark.parametrize("table", KEPT.split())
def test_nothing_is_removed_and_results_are_never_changed(register: Register, table: str, tmp_path: Path) -> None:
    path, sha256 = picture_file(tmp_path)
    filed = file_workshop(register, 1)
    with register.writing() as writing:
        picture = file_picture(writing, path, sha256)
        filing.show_part(writing, filed[0], picture)
        filing.add_calibration(writing, '{"id": "abc"}')
        filing.add_check(writing, 1, {"against": "4-40 NC-2", "verdict": "conforms"})
        filing.add_replacement(writing, filed[0], die="round die")
        filing.add_note(writing, "worn", part=filed[0])
        correct(writing, "parts", filed[0], {"name": "another name"})
    bare = sqlite3.connect(register.path)
    assert bare.execute(f"SELECT count(*) FROM {table}").fetchone()[0] > 0
    with pytest.raises(sqlite3.IntegrityError, match="never removed"):
        bare.execute(f"DELETE FROM {table}")
    for _, column, *_ in bare.execute(f"PRAGMA table_info({table})").fetchall():
        if column in schema.CORRECTABLE.get(table, ()) or table in {"instruments", "jobs", "positions", "parts"}:
            continue
        if table in {"replacements", "notes"}:
            continue
        with pytest.raises(sqlite3.IntegrityError, match="never changed"):
            bare.execute(f"UPDATE {table} SET {column} = {column}")
    bare.close()


def test_a_correction_keeps_what_was_before(register: Register) -> None:
    filed = file_workshop(register, 2)
    with register.writing("Bo") as writing:
        done = correct(writing, "instruments", 1, {"made_from": 1937, "made_to": 1937, "country": "US"}, why="stamp")
    assert len(done) == 2
    found = read(register, filed[0])
    assert found.instrument is not None
    assert found.instrument.made == (1937, 1937)
    assert {(c.column, c.before, c.after, c.who, c.why) for c in found.corrections} == {
        ("made_from", 1938, 1937, "Bo", "stamp"), ("made_to", 1938, 1937, "Bo", "stamp"),
    }  # fmt: skip
    with register.writing() as writing:
        assert correct(writing, "instruments", 1, {"country": "US"}) == []
        with pytest.raises(KeyError):
            correct(writing, "measurements", 1, {"pitch": 1})
        with pytest.raises(RefusalError):
            correct(writing, "parts", 99, {"name": "x"})


def test_an_action_that_fails_leaves_nothing(register: Register, tmp_path: Path) -> None:
    path, sha256 = picture_file(tmp_path)

    def fails() -> None:
        with register.writing() as writing:
            part = filing.add_part(writing)
            filing.show_part(writing, part, file_picture(writing, path, sha256))
            assert register.store.original(sha256, ".png").exists()
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        fails()
    assert [file for file in register.store.folder.rglob("*") if file.is_file()] == []
    found = verify(register)
    assert (found.counts["parts"], found.faults, found.remarks) == (0, (), ())


def test_a_reference_that_leads_nowhere_is_refused_by_the_database(register: Register) -> None:
    with pytest.raises(sqlite3.IntegrityError), register.writing() as writing:
        filing.add_part(writing, instrument=77)


def test_the_same_picture_is_stored_once(register: Register, tmp_path: Path) -> None:
    path, sha256 = picture_file(tmp_path)
    copy, _ = picture_file(tmp_path, "the same.png")
    with register.writing() as writing:
        one, two = filing.add_part(writing), filing.add_part(writing)
        first, second = file_picture(writing, path, sha256), file_picture(writing, copy, sha256)
        for part in (one, two, two):
            filing.show_part(writing, part, first)
    assert first == second
    assert len(list((register.store.folder / "originals").rglob("*.png"))) == 1
    assert len(read(register, two).pictures) == 1


def test_a_picture_that_changes_while_it_is_filed_is_refused(register: Register, tmp_path: Path) -> None:
    path, sha256 = picture_file(tmp_path)
    path.write_bytes(b"\x89PNG, another one")
    with pytest.raises(RefusalError) as caught, register.writing() as writing:
        file_picture(writing, path, sha256)
    assert caught.value.reasons[0].code == "picture_changed"
    assert [file for file in register.store.folder.rglob("*") if file.is_file()] == []


def test_documenting_a_screw(register: Register, tmp_path: Path) -> None:
    pins = [(read_picture(str(SAMPLES / f"pin_{n}_bench_a.png")), n / 1000) for n in (1000, 2500)]
    bench = calibrate_bench(pins=pins, pin_u95_mm=0.001, focus_locked=True)
    measurement = measure_picture(read_picture(str(SAMPLES / "sextant_index_arm_screw_4-40_bench_a.png")), bench)
    found = identify(measurement.thread, origin="US", made=(1938, 1938))
    place = Place(instrument="marine sextant", position="index arm 3", job="overhaul", made=(1938, 1938), country="US")
    filed = document_measured(
        register,
        measurement,
        place,
        identification=identification_document(found, "US", (1938, 1938)),
        note="slot worn",
    )
    assert filed.made == ("instrument marine sextant", "job overhaul", "position index arm 3")
    part = read(register, filed.part)
    assert part.measurement is not None
    assert part.measurement.calibration_name == bench.id
    assert part.measurement.identification is not None
    assert part.measurement.identification.says == "4-40 NC, class 2 or 3"
    with register.reading() as connection:
        assert part.measurement.calibration is not None
        text = reading.calibration_text(connection, part.measurement.calibration)
    kept = tmp_path / "kept.json"
    kept.write_text(text, encoding="utf-8")
    assert calibration_document(load_calibration(kept), sentence) == calibration_document(bench, sentence)
    save_calibration(bench, tmp_path / "bench.json")

    def again(place: Place) -> str:
        with pytest.raises(RefusalError) as caught:
            document_measured(register, measurement, place)
        return caught.value.reasons[0].code

    assert again(place) == "position_taken"
    assert again(Place(instrument="marine sextnat")) == "name_alike"
    assert again(Place(instrument="marine sextant", made=(1950, 1950))) == "place_contradicts"
    assert again(Place(position="index arm 4")) == "no_instrument"
    assert again(Place(part=99)) == "no_part_on_file"
    head = document_picture(register, measurement.picture, Place(part=filed.part), shows="head")
    assert (head.part, head.new_part, head.measurement) == (filed.part, False, None)
    other = read_picture(str(SAMPLES / "sextant_horizon_mirror_screw_2-64_bench_a.png"))
    place = Place(job="overhaul", position="index arm 3", serial="4117", another=True)
    more = document_measured(register, measurement, place, more_pictures=[measurement.picture, other])
    part = read(register, more.part)
    assert [one.sha256 for one in part.pictures] == [measurement.picture.sha256, other.sha256]
    assert part.picture is not None
    assert part.picture.sha256 == measurement.picture.sha256
    assert part.instrument is not None
    assert (part.instrument.name, part.instrument.serial) == ("marine sextant", "4117")
    assert [change.column for change in part.corrections] == ["serial"]
    assert verify(register).faults == ()
