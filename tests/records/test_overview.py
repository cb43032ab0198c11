"""What a window shows of the register, read and changed from another thread than the one that opened it."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from records import filing
from records.correction import bring_back, correct, take_back, withdraw
from records.listing import Conditions, Page, page_of_parts
from records.overview import overview, position_counts, thumbnails
from records.reading import read_part
from records.register import Register
from tests.records.registers import file_picture, file_workshop, new_register, picture_file
from tests.refused import refused
from threads.shared.refusal import RefusalError


@pytest.fixture
def register(tmp_path: Path) -> Register:
    register = new_register(tmp_path)
    file_workshop(register)
    return register


def typed(register: Register, text: str) -> list[int]:
    with register.reading() as connection:
        page: Page = page_of_parts(connection, Conditions(text=text, typing=True))
    return sorted(line.id for line in page.lines)


def name_of(register: Register, part: int) -> str | None:
    with register.reading() as connection:
        return read_part(connection, part).name


def test_instruments_jobs_and_positions_with_their_parts(register: Register) -> None:
    with register.writing() as writing:
        filing.add_part(writing, name="without a place", instrument=1)
        filing.add_position(writing, 1, "nobody here")
        withdraw(writing, "parts", 5)
    with ThreadPoolExecutor(1) as thread:
        found = thread.submit(overview, register).result()
        counted = thread.submit(position_counts, register, 1).result()
    assert [one.name for one in found.instruments] == ["field theodolite", "marine sextant"]
    assert (found.parts, found.parts_on, found.parts_in) == (6, {1: 3, 2: 3}, {1: 2})
    counts = [(position.name, count) for position, count in counted]
    assert counts == [("index arm 0", 1), ("index arm 2", 1), ("index arm 4", 0), ("nobody here", 0)]


def test_thumbnails_are_those_of_the_measurement_that_counts(register: Register, tmp_path: Path) -> None:
    first, latest = (picture_file(tmp_path, f"{n}.png", bytes([n])) for n in (1, 2))
    with register.writing() as writing:
        filing.show_part(writing, 1, file_picture(writing, *first))
        filing.show_part(
            writing, 1,
            filing.add_picture(writing, latest[0], sha256=latest[1], width_px=9, height_px=9, thumbnail=b"latest"),
        )  # fmt: skip
        filing.show_part(writing, 2, file_picture(writing, *first))
    assert thumbnails(register, [1, 2, 3, 99]) == {1: b"latest", 2: b"\xff\xd8\xffsmall"}
    with register.reading() as connection:
        document = read_part(connection, 1).measurements[0].document
    with register.writing() as writing:
        (picture,) = writing.connection.execute("SELECT id FROM pictures WHERE sha256 = ?", (first[1],)).fetchone()
        filing.add_measurement(writing, 1, document, picture=picture)
    assert thumbnails(register, [1]) == {1: b"\xff\xd8\xffsmall"}
    register.store.thumbnail(first[1]).unlink()
    assert thumbnails(register, [1, 2]) == {}


def test_every_letter_typed_narrows_the_search(register: Register) -> None:
    with register.writing() as writing:
        writing.parts.add(filing.add_part(writing, name="grub screw 1/8-40"))
    assert typed(register, "se") == typed(register, "sexta") == [1, 3, 5]
    assert typed(register, "sextant 41") == [1, 3, 5]  # the serial number 4117
    assert typed(register, "sextant 41 ") == []  # a space ends the number
    assert typed(register, "grub 1/8-4") == [7]
    assert typed(register, "1/8-4 grub") == []
    assert typed(register, "") == list(range(1, 8))


def test_what_was_done_is_undone_and_done_again_and_all_of_it_stays(register: Register) -> None:
    with register.writing("Bo") as writing:
        done = correct(writing, "parts", 1, {"name": "index arm screw", "position_id": None})
        done += correct(writing, "parts", 1, {"name": "index arm screw, long"})
    with register.writing("Bo") as writing:
        undone = take_back(writing, done)
    assert name_of(register, 1) == "screw 0"
    with register.writing() as writing:
        take_back(writing, undone)
    with register.reading() as connection:
        part = read_part(connection, 1)
    assert (part.name, part.position) == ("index arm screw, long", None)
    assert len(part.corrections) == len(done) + 2 * len(undone)
    assert len({change.id for change in part.corrections}) == 7
    with register.writing() as writing:
        correct(writing, "parts", 1, {"name": "another"})
    with refused(RefusalError, match="once more since"), register.writing() as writing:
        take_back(writing, done)
    with refused(RefusalError, match="no such correction"), register.writing() as writing:
        take_back(writing, [9999])
    assert name_of(register, 1) == "another"


def test_a_part_is_withdrawn_and_brought_back(register: Register) -> None:
    with register.writing() as writing:
        withdraw(writing, "parts", 1, why="filed twice")
    assert 1 not in typed(register, "sextant")
    with register.writing() as writing:
        assert len(bring_back(writing, "parts", 1)) == 1
        assert bring_back(writing, "parts", 1) == []
    assert 1 in typed(register, "sextant")
