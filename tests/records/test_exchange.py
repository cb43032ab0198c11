"""Parts from one register to another: nothing lost, nothing twice, nothing in the way of what is there."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from records import exchange, filing
from records.correction import correct
from records.exchange import outgoing
from records.exchange.arrival import file_document, read_document
from records.exchange.arrived import Arrived
from records.exchange.bundle import open_bundle
from records.exchange.document import document_of
from records.exchange.outgoing import chosen_parts, write_parts
from records.picture_store import clear_leftovers
from records.reading import read_part
from records.register import Register, open_register
from records.verification import verify
from tests.records.registers import new_register, screws
from tests.records.workshop import kept_workshop, measured_workshop
from threads.measured.measured_document import MeasurementDocumentError
from threads.shared.refusal import RefusalError

SCHEMA_FILE = Path(exchange.__file__).with_name("parts_1.schema.json")


@pytest.fixture(scope="module")
def source(tmp_path_factory: pytest.TempPathFactory) -> Register:
    return kept_workshop(tmp_path_factory.mktemp("source"))


def everything(register: Register) -> dict[str, Any]:
    with register.reading() as connection:
        parts = [key for (key,) in connection.execute("SELECT id FROM parts")]
        return document_of(connection, parts)


def take_in(register: Register, bundle: Path) -> Arrived:
    with open_bundle(bundle) as opened:
        return file_document(register, opened.document, opened.extract)


def by_uid(document: dict[str, Any]) -> dict[str, Any]:
    return {row["uid"]: row for rows in document.values() if isinstance(rows, list) for row in rows}


def test_a_bundle_brings_everything_and_brings_it_once(source: Register, tmp_path: Path) -> None:
    bundle = tmp_path / "job.zip"
    write_parts(source, [1, 2, 3], bundle)
    there = open_register(tmp_path / "there.sqlite", create=True)
    first = take_in(there, bundle)
    sent, got = everything(source), everything(there)
    assert by_uid(got) == by_uid(sent)
    assert len(by_uid(got)) > 20
    assert first.filed.total() == len(by_uid(sent))
    assert (first.known.total(), first.renamed, first.without_picture) == (0, [], 0)
    assert verify(there).faults == ()
    with there.reading() as connection:
        part = read_part(connection, 1)
    for picture in part.pictures:
        same = there.store.original(picture.sha256, picture.suffix).read_bytes()
        assert same == source.store.original(picture.sha256, picture.suffix).read_bytes()
        assert there.store.thumbnail(picture.sha256).exists()
    second = take_in(there, bundle)
    assert (second.filed.total(), second.known.total()) == (0, len(by_uid(sent)))
    assert by_uid(everything(there)) == by_uid(sent)


def test_names_that_are_taken_get_a_number(source: Register, tmp_path: Path) -> None:
    bundle = tmp_path / "job.zip"
    write_parts(source, [1], bundle)
    there = open_register(tmp_path / "there.sqlite", create=True)
    with there.writing("Cy") as writing:
        own = filing.add_instrument(writing, "Marine Sextant")
        filing.add_job(writing, "overhaul", instrument=own)
        filing.add_job(writing, "overhaul (2)")
        filing.add_part(writing, instrument=own)
    arrived = take_in(there, bundle)
    assert len(arrived.renamed) == 2
    with there.reading() as connection:
        names = [name for (name,) in connection.execute("SELECT name FROM instruments ORDER BY id")]
        jobs = [name for (name,) in connection.execute("SELECT name FROM jobs ORDER BY id")]
        assert read_part(connection, 1).instrument == read_part(connection, 1).instrument
        assert read_part(connection, 1).name is None
    assert names == ["Marine Sextant", "marine sextant (2)"]
    assert jobs == ["overhaul", "overhaul (2)", "overhaul (3)"]
    assert verify(there).faults == ()


def test_a_document_without_pictures_says_what_did_not_come(source: Register, tmp_path: Path) -> None:
    path = tmp_path / "parts.json"
    write_parts(source, [1, 2, 3], path)
    there = open_register(tmp_path / "there.sqlite", create=True)
    arrived = file_document(there, read_document(path, "parts.json"), lambda _sha256, _target: False)
    sent = json.loads(path.read_text("utf-8"))
    assert arrived.without_picture == len(sent["pictures"]) > 0
    assert arrived.filed["measurements"] == len(sent["measurements"])
    assert arrived.filed["part_pictures"] == 0
    assert verify(there).faults == ()


@pytest.mark.slow
def test_who_and_when_stay_and_so_do_corrections_of_places(tmp_path: Path) -> None:
    here = measured_workshop(tmp_path)
    with here.writing("Bo") as writing:
        place = filing.add_position(writing, 1, "lower shade")
        correct(writing, "parts", 1, {"position_id": place}, why="it was the other one")
        made = filing.add_part(writing, name="new screw")
        filing.add_replacement(writing, 2, made_part=made, die="4-40 UNC")
    bundle = tmp_path / "out.zip"
    write_parts(here, [1, 2], bundle)
    (tmp_path / "there").mkdir()
    there = open_register(tmp_path / "there" / "parts.sqlite", create=True)
    arrived = take_in(there, bundle)
    assert arrived.filed["parts"] == 3  # the screw that was made came along
    with here.reading() as one, there.reading() as other:
        before, after = read_part(one, 1), read_part(other, 1)
        replaced = read_part(other, 2).replacements[0]
        assert read_part(other, replaced.made_part or 0).name == "new screw"
    assert (after.who, after.added, after.uid) == (before.who, before.added, before.uid)
    assert after.corrections[0].who == "Bo"
    assert after.position is not None
    assert after.corrections[0].after == after.position.uid


def test_what_is_written_keeps_to_the_schema(source: Register) -> None:
    schema = json.loads(SCHEMA_FILE.read_text("utf-8"))
    Draft202012Validator.check_schema(schema)
    document = json.loads(json.dumps(everything(source)))
    Draft202012Validator(schema).validate(document)
    empty = {name: [] if isinstance(rows, list) else rows for name, rows in document.items()}
    Draft202012Validator(schema).validate(empty)


def test_what_is_too_much_for_one_file_goes_into_several_that_can_be_taken_in(
    source: Register, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(outgoing, "MOST_PARTS_OF_A_FILE", 1)
    written = write_parts(source, [1, 2, 3], tmp_path / "job.zip")
    files = sorted(tmp_path.glob("job*.zip"))
    assert list(outgoing.files_for(source, [1, 2, 3], tmp_path / "job.zip")) == files
    assert (written.counts["parts"], len(files)) == (3, 3)
    there = open_register(tmp_path / "there.sqlite", create=True)
    for file in reversed(files):
        take_in(there, file)
    sent, got = by_uid(everything(source)), by_uid(everything(there))
    assert set(got) == {uid for uid in sent if uid in got}
    assert {row["uid"] for row in everything(source)["measurements"]} <= set(got)
    assert verify(there).faults == ()
    monkeypatch.setattr(outgoing, "MOST_PARTS_OF_A_FILE", 1000)
    monkeypatch.setattr(outgoing, "MOST_OF_A_FILE", 10)
    assert list(outgoing.files_for(source, [1, 2, 3], tmp_path / "job.zip")) == files


def test_a_bundle_goes_without_a_lost_picture_and_says_so(tmp_path: Path) -> None:
    here = kept_workshop(tmp_path)
    lost = min((here.store.folder / "originals").rglob("*.jpg"))
    lost.unlink()
    written = write_parts(here, [1, 2, 3], tmp_path / "job.zip")
    assert [one.code for one in written.missing] == ["picture_missing"]
    there = open_register(tmp_path / "there.sqlite", create=True)
    arrived = take_in(there, tmp_path / "job.zip")
    assert (arrived.without_picture, arrived.filed["pictures"], arrived.filed["parts"]) == (1, 2, 3)


def test_what_could_not_be_taken_in_is_not_filed_and_not_written(tmp_path: Path) -> None:
    """By the limits of what arrives: texts as long as they may be go out and come in, longer ones are refused here."""
    here = new_register(tmp_path)
    with here.writing("A" * 1000) as writing:
        part = filing.add_part(writing, name="n" * 1000)
        filing.add_note(writing, "t" * 100_000, part=part)
    for text, add in (
        ("n" * 1001, lambda writing, text: filing.add_part(writing, name=text)),
        ("t" * 100_001, lambda writing, text: filing.add_note(writing, text, part=part)),
        ("c" * 1001, lambda writing, text: correct(writing, "parts", part, {"name": text})),
    ):
        with pytest.raises(RefusalError, match="text_too_long"), here.writing() as writing:
            add(writing, text)
    write_parts(here, [part], tmp_path / "a.json")
    there = open_register(tmp_path / "there.sqlite", create=True)
    arrived = file_document(there, read_document(tmp_path / "a.json", "a.json"), lambda _sha256, _target: False)
    assert arrived.filed["parts"] == 1
    _, document = screws(1)[0]
    document["thread"]["pitch"] = {"value": 1e300, "u95": 1.0, "unit": "mm"}
    with pytest.raises(MeasurementDocumentError, match="impossible"), here.writing() as writing:
        filing.add_measurement(writing, part, document)


def test_pictures_are_decoded_before_anybody_has_to_wait(source: Register, tmp_path: Path) -> None:
    write_parts(source, [1], tmp_path / "job.zip")
    there = open_register(tmp_path / "there.sqlite", create=True)
    fetched = []
    with open_bundle(tmp_path / "job.zip") as opened:

        def fetch(sha256: str, target: Path) -> bool:
            with there.writing() as writing:  # somebody else files meanwhile
                fetched.append(filing.add_part(writing, name="meanwhile"))
            clear_leftovers(there.store, there.path)  # and opens the register
            return opened.extract(sha256, target)

        arrived = file_document(there, opened.document, fetch)
    assert (len(fetched), arrived.filed["pictures"]) == (1, 1)
    assert sorted(path.name for path in there.store.folder.iterdir()) == ["incoming", "originals", "thumbnails"]


def test_which_parts_are_meant(source: Register) -> None:
    with source.reading() as connection:
        assert chosen_parts(connection, job=None, instrument=None, parts=[]) == [1, 2, 3]
        assert chosen_parts(connection, job=1, instrument=None, parts=[]) == [1, 2]
        assert chosen_parts(connection, job=None, instrument=2, parts=[]) == [3]
        assert chosen_parts(connection, job=None, instrument=None, parts=[3, 1, 3]) == [3, 1]
