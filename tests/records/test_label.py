"""The label of a part, as text and drawn."""

from __future__ import annotations

import io
from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from pypdf import PdfReader

from records import filing
from records.figures.type_files import families_for, type_with
from records.label import label_drawn, label_text
from records.reading import read_part
from records.thumbnail import LONG_SIDE_PX, thumbnail_of
from tests.records.registers import file_workshop, identification, new_register, screws
from vision.pictures.picture import read_picture

SAMPLES = Path(__file__).resolve().parents[2] / "sample_images"


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
    assert "overhaul  20" in lines[4]
    assert lines[4].startswith("die ")
    assert label_text(parts[bare]).splitlines()[1] == "not measured"
    assert says in label_text(parts[open_one])
    assert " x " in label_text(parts[none]).splitlines()[1]
    assert " in x " in label_text(parts[none], inches=True)
    drawn = Image.open(io.BytesIO(label_drawn(parts[bare], "png", size_mm=(50.8, 25.4))))
    assert drawn.size == (600, 300)  # 2 in x 1 in at 300 dots an inch
    columns = [int(np.asarray(drawn.convert("L").crop((x, 0, x + 1, 300))).min()) for x in range(600)]
    assert min(columns) < 100
    assert min(columns[-10:]) == 255  # nothing runs over the edge, however long the name
    assert label_drawn(parts[bare], "pdf").startswith(b"%PDF")
    whole = PdfReader(io.BytesIO(label_drawn(parts[none], "pdf"))).pages[0].extract_text()
    assert label_text(parts[none]).splitlines()[1] in whole  # a long line gets smaller before it is cut


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
