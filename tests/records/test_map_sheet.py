"""The map of an instrument: marks that count, what is printed, and how it goes to another workshop."""

from __future__ import annotations

import io
import re
from pathlib import Path

import pytest
from PIL import Image
from pypdf import PdfReader

from records import filing
from records.correction import withdraw
from records.exchange.arrival import checked_document, file_document
from records.exchange.document import document_of
from records.instrument_map import map_marks, mark_positions
from records.register import Register, open_register
from records.report.map_sheet import print_map
from records.report.spoken import Spoken
from tests.records.registers import sextant_register
from tests.refused import refused
from threads.shared.refusal import RefusalError


@pytest.fixture
def register(tmp_path: Path) -> Register:
    """A sextant of nine positions, three of which are marked in a picture of 400 x 200 pixels, two at one place."""
    found = sextant_register(tmp_path)
    Image.new("RGB", (400, 200), (200, 190, 180)).save(tmp_path / "whole.png")
    marks = [("screw 1", 20.0, 30.0), ("screw 8", 20.0, 31.0), ("screw 9", 399.0, 199.0)]
    mark_positions(found, 1, marks, picture=tmp_path / "whole.png")
    return found


def words(content: bytes) -> list[str]:
    return [re.sub(r"\s+", " ", page.extract_text()) for page in PdfReader(io.BytesIO(content)).pages]


def test_each_part_has_its_number_on_the_picture_and_in_the_list(register: Register) -> None:
    (text,) = words(print_map(register, 1, Spoken()).content)
    assert text.startswith("marine sextant: where each part sits 1 8 9 ")  # the discs
    on_map, left = text.split("Not on the map")
    for line in ("1 screw 1 part 1, 0-80 NF-2", "8 screw 8 part 8, M3x0.5-6g", "9 screw 9 empty"):
        assert line in on_map
    for number in range(2, 8):
        assert f"{number} screw {number} part {number}" in left
    (german,) = words(print_map(register, 1, Spoken("de"), paper="letter").content)
    assert "wo jedes Teil sitzt" in german
    assert "9 screw 9 leer" in german


def test_an_instrument_without_a_picture_has_a_frame_to_sketch_in(register: Register) -> None:
    (text,) = words(print_map(register, 2, Spoken("de")).content)
    assert "Zeichnen Sie das Instrument hier" in text
    with refused(RefusalError, match="No picture of the whole instrument"):
        mark_positions(register, 2, [("x", 1, 1)])
    for mark, why in ((("screw 1", 400.0, 3.0), "not in the picture"), (("no such", 1.0, 1.0), "no such")):
        with refused(RefusalError, match=why):
            mark_positions(register, 1, [mark])


def test_the_latest_mark_counts_and_goes_to_another_register(register: Register, tmp_path: Path) -> None:
    with register.reading() as connection:
        before = map_marks(connection, 1)
    assert (before[0].across, before[0].down) == pytest.approx((20.5 / 400, 30.5 / 200))
    with register.writing() as writing:
        added = filing.add_map_mark(writing, before[0].position, before[0].picture, 0.5, 0.75)
    with register.reading() as connection:
        assert (0.5, 0.75) in {(one.across, one.down) for one in map_marks(connection, 1)}
        document = document_of(connection, range(1, 11))
    other = open_register(tmp_path / "other.sqlite", create=True)
    checked = checked_document(document, "parts.json")

    def fetch(sha256: str, path: Path) -> bool:
        path.write_bytes(register.store.original(sha256, ".png").read_bytes())
        return True

    file_document(other, checked, fetch)
    with other.reading() as connection:
        # a position without a part stays behind, as it always did
        assert {(one.across, one.down) for one in map_marks(connection, 1)} == {(0.5, 0.75), (20.5 / 400, 31.5 / 200)}
    with register.writing() as writing:  # undone
        withdraw(writing, "map_marks", added)
    with register.reading() as connection:
        assert [(one.id, one.across) for one in map_marks(connection, 1)] == [(one.id, one.across) for one in before]
