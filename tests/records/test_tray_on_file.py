"""Several parts in one picture: filed in one action, counted on, and printed with their numbers."""

from __future__ import annotations

import io
import re
from pathlib import Path

import pytest
from PIL import Image
from pypdf import PdfReader

from flankwise.bench import Bench
from flankwise.measuring import measure_all
from flankwise.part import Parts
from records.correction import withdraw
from records.documenting import Place
from records.labels import labels_of
from records.overview import thumbnails
from records.register import Register
from records.report.spoken import Spoken
from records.report.tray_sheet import print_tray
from records.tray import TrayPart, file_tray
from sample_images.render import render_together
from tests.records.registers import new_register
from tests.refused import refused
from tests.vision.several.test_all_parts import PLANE, TRAY
from threads.shared.refusal import RefusalError

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def parts(tmp_path_factory: pytest.TempPathFactory) -> Parts:
    """Two screws, a pin, and a blank that is refused."""
    levels, _ = render_together(TRAY)
    path = tmp_path_factory.mktemp("tray") / "tray.png"
    Image.fromarray(levels.astype("uint8")).save(path)
    return measure_all(path, Bench(PLANE))


@pytest.fixture
def register(tmp_path: Path) -> Register:
    return new_register(tmp_path)


PLACE = Place(instrument="marine sextant", job="overhaul", name="shade screw")


def filed(found: tuple[TrayPart, ...]) -> dict[str, int]:
    return {one.position: one.filed.part for one in found if one.filed is not None}


def test_all_that_are_measured_are_filed_and_the_sheet_numbers_them_as_the_measurement_did(
    register: Register, parts: Parts
) -> None:
    found = file_tray(register, parts, PLACE, ["shade 9"])
    assert filed(found) == {"shade 9": 1, "shade 10": 2}
    assert [one.number for one in found] == [1, 2, 3, 4]
    assert sum(bool(one.reasons) for one in found) == 1
    with register.writing() as writing:
        withdraw(writing, "parts", 2)
    (page,) = PdfReader(io.BytesIO(print_tray(register, 1, Spoken("de")).content)).pages
    text = re.sub(r"\s+", " ", page.extract_text())
    first = next(one.number for one in found if one.position == "shade 9")
    assert text.startswith("Teile in tray.png 1 2 3 4 ")  # the discs in the picture
    assert f"{first} shade 9, shade screw {first}" in text
    assert text.count("nicht eingetragen") == 3
    small = thumbnails(register, [1])[1]
    label = labels_of(register, [1], Spoken())[0].picture
    assert label is not None
    whole, own = (Image.open(io.BytesIO(content)) for content in (small, label))
    assert own.width < whole.width  # its own part of the picture, not the whole tray
    assert own.height < whole.height


def test_where_one_cannot_be_filed_none_is(register: Register, parts: Parts) -> None:
    for positions, why in ((["handle"], "no number to count on"), (["shade 1", "shade 1"], "already|on file")):
        with refused(RefusalError, match=why):
            file_tray(register, parts, PLACE, positions)
        with register.reading() as connection:
            assert connection.execute("SELECT count(*) FROM parts").fetchone() == (0,)
            assert connection.execute("SELECT count(*) FROM instruments").fetchone() == (0,)
    assert list(filed(file_tray(register, parts, PLACE))) == [""]
