"""The label of a part, as text and drawn."""

from __future__ import annotations

import io
import re
from pathlib import Path

import cv2
import numpy as np
import pypdfium2
import pytest
from PIL import Image
from pypdf import PdfReader

from records import filing
from records.correction import correct
from records.entries import Part
from records.figures.type_files import families_for, type_with
from records.label import label_lines
from records.label_code import label_code
from records.labels import labels_of
from records.listing import Conditions, page_of_parts
from records.reading import read_part
from records.report.label_page import SHEETS, Label, label_png, label_sheets_pdf, labels_pdf
from records.report.spoken import Spoken
from records.thumbnail import LONG_SIDE_PX, thumbnail_of
from tests.records.registers import file_workshop, identification, new_register, screws
from vision.pictures.picture import read_picture

SAMPLES = Path(__file__).resolve().parents[2] / "sample_images"


def label_text(part: Part, spoken: Spoken | None = None) -> str:
    """The label as lines of text, empty ones left out."""
    return "\n".join(line for line in label_lines(part, spoken) if line)


@pytest.mark.slow
def test_the_label_says_what_and_where(tmp_path: Path) -> None:
    register = new_register(tmp_path)
    filed = file_workshop(register, 2)
    limits, document = screws(3)[2]
    with register.writing() as writing:
        bare = filing.add_part(writing, name="$x$ Schräube mit sehr, sehr langem Namen \N{GREEK CAPITAL LETTER SIGMA}")
        open_one = filing.add_part(writing)
        measurement = filing.add_measurement(writing, open_one, document)
        says = f"{limits.designation} (?)"
        filing.add_identification(writing, measurement, {**identification(limits, "ambiguous"), "says": says})
        none = filing.add_part(writing)
        measurement = filing.add_measurement(writing, none, document)
        filing.add_identification(writing, measurement, {"status": "no_match", "candidates": []})
    with register.reading() as connection:
        parts = {n: read_part(connection, n) for n in (filed[0], bare, open_one, none)}
    lines = label_text(parts[filed[0]]).splitlines()
    assert lines[:4] == ["No. 1  screw 0", "marine sextant", "index arm 0", screws(1)[0][0].designation]
    assert ", overhaul, 20" in lines[4]
    assert lines[4].startswith("die ")
    assert label_text(parts[bare]).splitlines()[1] == "not measured"
    assert says in label_text(parts[open_one])
    assert " x " in label_text(parts[none]).splitlines()[1]
    assert " in x " in label_text(parts[none], Spoken(inches=True))
    assert label_text(parts[bare], Spoken("de")).splitlines() == [
        "Nr. 3  $x$ Schräube mit sehr, sehr langem Namen Σ", "nicht gemessen", label_text(parts[bare]).splitlines()[-1],
    ]  # fmt: skip
    (label,) = labels_of(register, [bare], Spoken())
    drawn = Image.open(io.BytesIO(label_png(label, size_mm=(50.8, 25.4))))
    assert drawn.size == (600, 300)  # 2 in x 1 in at 300 dots an inch
    columns = np.asarray(drawn.convert("L")).min(axis=0)
    assert columns.min() < 100
    assert columns[-10:].min() == 255  # nothing runs over the edge, however long the name
    whole = PdfReader(io.BytesIO(labels_pdf(labels_of(register, [none], Spoken())))).pages[0].extract_text()
    assert label_text(parts[none]).splitlines()[1] in re.sub(r"\s+", " ", whole)


@pytest.mark.parametrize(("paper", "columns", "rows"), [("a4", 5, 13), ("letter", 3, 10), ("a4", 2, 7)])
def test_every_common_sheet_lies_on_its_paper_and_its_codes_find_their_parts(
    tmp_path: Path, paper: str, columns: int, rows: int
) -> None:
    """The code is read from the printed page by a reader that is not ours (OpenCV's)."""
    register = new_register(tmp_path)
    with register.writing() as writing:
        instrument = filing.add_instrument(writing, "x" * 60)
        position = filing.add_position(writing, instrument, "twelve chars")
        filed = [
            filing.add_part(writing, name="y\u200f" * 30, instrument=instrument, position=position) for _ in range(12)
        ]
        filing.add_part(writing, name="PART12 and part 12")
        correct(writing, "parts", filed[-1], {"withdrawn": 1})
    for known in SHEETS:
        assert all(one.fits(known) for one in SHEETS[known])
    sheet = next(one for one in SHEETS[paper] if (one.columns, one.rows) == (columns, rows))
    # the first sheet is used up but for its last label
    made = label_sheets_pdf(labels_of(register, filed, Spoken()), sheet, paper, first=columns * rows, cut_lines=True)
    document = pypdfium2.PdfDocument(made)
    assert len(document) == 2
    for page, part in ((0, filed[0]), (1, filed[1])):
        drawn = document[page].render(scale=200 / 72).to_numpy()[..., :3].min(axis=2)
        left, top = sheet.corner(columns * rows - 1 if page == 0 else 0, paper)
        y, x, high, wide = (round(side / 25.4 * 200) for side in (top, left, sheet.size[1], sheet.size[0]))
        label = drawn[y : y + high, x : x + wide]
        code, *_ = cv2.QRCodeDetector().detectAndDecode(np.ascontiguousarray(np.pad(label, 20, constant_values=255)))
        assert code == label_code(part)
    document.close()
    with register.reading() as connection:
        for part in (filed[0], filed[-1]):  # one that was withdrawn too
            found = page_of_parts(connection, Conditions(text=label_code(part), instrument=99))
            assert [line.id for line in found.lines] == [part]
        assert page_of_parts(connection, Conditions(text="PART99")).total == 0
        assert len(page_of_parts(connection, Conditions(text="part 12")).lines) == 1  # words


def test_a_label_is_drawn_as_many_at_a_time_as_a_roll_has(tmp_path: Path) -> None:
    register = new_register(tmp_path)
    filed = file_workshop(register, 2)
    reader = PdfReader(io.BytesIO(labels_pdf(labels_of(register, filed, Spoken("de")), size_mm=(62, 29))))
    assert [tuple(map(float, page.mediabox[2:])) for page in reader.pages] == [
        pytest.approx((62 / 25.4 * 72, 29 / 25.4 * 72), abs=0.01)
    ] * 2
    assert "Schneideisen" in reader.pages[0].extract_text()


def test_letters_of_other_scripts_are_drawn_or_shown_as_codes() -> None:
    assert families_for("Łódź Ελ верх ♯ 4-40") == (["DejaVu Sans"], "Łódź Ελ верх ♯ 4-40")
    assert families_for("a\x07\U0010fffd") == (["DejaVu Sans"], "a[U+0007][U+10FFFD]")
    families, shown = families_for("日本 ねじ 下管")
    if type_with(ord("日")) is None:
        assert shown.startswith("[U+65E5][U+672C] ")
    else:
        assert shown == "日本 ねじ 下管"
        assert len(families) > 1


@pytest.mark.parametrize(
    "name", ["sextant_index_arm_screw_4-40_bench_a.png", "theodolite_cover_screw_M2.5_bench_a.jpg"]
)
def test_a_thumbnail_is_small_and_as_bright_as_the_picture(name: str) -> None:
    picture = read_picture(str(SAMPLES / name))
    small = Image.open(io.BytesIO(thumbnail_of(picture)))
    assert (small.format, small.mode, max(small.size)) == ("JPEG", "L", LONG_SIDE_PX)
    assert small.size[0] / small.size[1] == pytest.approx(picture.width_px / picture.height_px, rel=0.01)
    corner = small.getpixel((2, 2))
    # to the eye: light to the power of 1/2.2; JPEG and noise leave a few grey levels
    assert corner == pytest.approx(255 * float(picture.light[:20, :20].mean()) ** (1 / 2.2), abs=8)


HOSTILE = "a) Tj (b) \\051 <b>&amp; \x1b[31m \u202egnp.exe $x$ </font>"
SHOWN = r"a) Tj (b) \051 <b>&amp; [U+001B][31m [U+202E]gnp.exe $x$ </font>"


def test_no_name_is_markup_or_an_operator_on_a_label() -> None:
    """What ends a text in PDF, markup, escape sequences and right-to-left marks stand there as they are or as codes."""
    content = labels_pdf([Label((HOSTILE, "marine sextant"), "FW1")], size_mm=(120, 60))
    (page,) = PdfReader(io.BytesIO(content), strict=True).pages
    assert re.sub(r"\s+", "", SHOWN) in re.sub(r"\s+", "", page.extract_text())
    assert not {"\x1b", "\u202e"} & set(page.extract_text())
