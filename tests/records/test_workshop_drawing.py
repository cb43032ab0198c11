"""The drawing of a part to make it again: its sizes, its scale, where its limits come from, as PDF and as DXF."""

from __future__ import annotations

import io
import re
from pathlib import Path
from typing import Any

import ezdxf.filemanagement
import numpy as np
import pypdfium2
import pytest
from pypdf import PdfReader

from flankwise.reasons import sentence
from records import filing
from records.documenting import Place, document_measured, identification_document
from records.register import Register
from records.report.spoken import Spoken
from records.workshop_drawing.filed import print_drawing
from records.workshop_drawing.part_to_make import part_to_make, thread_to_make
from records.workshop_drawing.sheet import PAPERS
from records.workshop_drawing.view import view_of
from tests.records.registers import document, identification, new_register
from tests.records.workshop import measured
from tests.refused import refused
from threads.identify.identification import identify
from threads.measured.measured_document import possible_thread
from threads.shared.refusal import RefusalError
from threads.standards.designation import parse
from threads.standards.limits import limits_of

LONG = "n\u200f" * 30
SHOULDER, HEAD = 3.2, 5.0
DOTS = 10  # a millimetre of the paper


def sections(shank: float, thread: float) -> list[dict[str, Any]]:
    """A whole screw: head with a slot, shank, thread with a chamfer at its free end."""

    def of(value: float, unit: str = "mm") -> dict[str, Any]:
        return {"value": value, "u95": 0.004, "unit": unit}

    return [
        {"kind": "head", "form": "cylinder", "from": 0.0, "to": 1.5, "length": of(1.5), "diameter": of(HEAD),
         "slot_width": of(0.8), "slot_depth": of(0.6), "cut_off": False},
        {"kind": "shank", "form": "cylinder", "from": 1.5, "to": 1.5 + shank, "length": of(shank),
         "diameter": of(SHOULDER), "cut_off": False},
        {"kind": "thread", "form": "thread", "from": 1.5 + shank, "to": 1.5 + shank + thread, "length": of(thread),
         "diameter": of(2.8), "chamfer_angle": of(45.0, "deg"), "chamfer_length": of(0.4), "cut_off": False,
         "measured": True},
    ]  # fmt: skip


@pytest.fixture(scope="module")
def register(tmp_path_factory: pytest.TempPathFactory) -> Register:
    """1: a whole 4-40 screw; 2: one really measured, cut off by its picture; 3: a hole tried with 1; 4: no thread."""
    found = new_register(tmp_path_factory.mktemp("drawings"))
    limits = limits_of(parse("4-40 NC-2"))
    screw = document(limits, 0.5)
    screw["part"] = {"sections": sections(2.0, 4.2), "ends": [{"kind": "head", "in_view": True}, {"in_view": True}]}
    with found.writing() as writing:
        instrument = filing.add_instrument(writing, LONG, owner_note="no owner")
        part = filing.add_part(writing, name=LONG, instrument=instrument)
        filing.add_identification(writing, filing.add_measurement(writing, part, screw), identification(limits))
    identified = identification_document(identify(measured().thread))
    document_measured(found, measured(), Place(name="index arm screw"), identification=identified)
    with found.writing() as writing:
        hole = filing.add_part(writing, name="post")
        tapped = filing.add_hole(writing, hole, "4-40", engagement=3.0)
        filing.add_trial(writing, tapped, outcome="went_in", screw=part)
        filing.add_part(writing, name="bare")
    return found


def words(content: bytes) -> str:
    (page,) = PdfReader(io.BytesIO(content)).pages
    return re.sub(r"\s+", " ", page.extract_text())


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("language", ["en", "de"])
def test_the_sheet_has_sizes_limits_and_a_bar_that_is_true(register: Register, paper: str, language: str) -> None:
    """Limits: NBS Handbook H28 (1944) for 4-40 NC-2, 0.0934 to 0.0958 in on the pitch diameter (from memory)."""
    content = print_drawing(register, 1, "pdf", Spoken(language), paper=paper).content
    text = words(content)
    least, most = (round(25.4 * inches, 3) for inches in (0.0934, 0.0958))
    row = "pitch diameter" if language == "en" else "Flankendurchmesser"
    assert f"{row} {least} {most}" in text
    for size in ("⌀5.00", "⌀3.20", "1.50", "2.00", "4.20", "7.70", "0.40 × 45°", "4-40 NC-2"):
        assert size in text, size
    for one in ("slot 0.80 wide", "Thread, 50 : 1", "material:") if language == "en" else (
        "Schlitz 0.80 breit", "Gewinde, 50 : 1", "Werkstoff:",
    ):  # fmt: skip
        assert one in text
    assert "--" not in text
    page = pypdfium2.PdfDocument(content)[0]
    dark = page.render(scale=DOTS * 25.4 / 72).to_numpy()[..., :3].min(axis=2) < 128
    row_of_bar = dark[-round(15.5 * DOTS) - 3 : -round(15.5 * DOTS) + 3, : 80 * DOTS].any(axis=0)
    row_of_bar[: 10 * DOTS] = False  # the frame
    along = np.flatnonzero(row_of_bar)
    assert (along[-1] - along[0]) / DOTS == pytest.approx(50.0, abs=0.5)
    frame = np.flatnonzero(dark[dark.shape[0] // 2])
    assert frame[0] / DOTS == pytest.approx(9.0, abs=0.4)  # nothing beyond the frame
    assert (dark.shape[1] - frame[-1]) / DOTS == pytest.approx(9.0, abs=0.5)


def test_what_the_picture_cut_off_is_to_be_written_in_by_hand(register: Register) -> None:
    text = words(print_drawing(register, 2, "pdf", Spoken(inches=True)).content)
    assert "…………" in text
    assert "measure what is dotted by hand" in text
    assert "Dimensions in inches" in text
    assert "look at the part" in text  # its hand
    assert re.search(r"4-40 NC-\d †", text)


def test_the_hole_gives_the_pitch_diameter_and_a_class_may_be_named(register: Register) -> None:
    text = words(print_drawing(register, 1, "pdf", Spoken(), hole=3).content)
    low, high = map(float, re.findall(r"virtual pitch diameter (\d\.\d+) (\d\.\d+)", text)[0])
    assert 2.2 < low < high < 2.45  # of a 4-40 hole: the drill is 2.26 mm, its basic pitch diameter 2.433 mm
    assert "fits part 3 (post)" in text
    asked = limits_of(parse("4-40 NC-3"))
    assert "By class: 4-40 NC-3" in words(print_drawing(register, 1, "pdf", Spoken(), limits=asked).content)
    for number, why in ((4, "without a measurement"), (99, "no part")):
        with pytest.raises(RefusalError) as refusal:
            print_drawing(register, number, "dxf", Spoken())
        assert why in sentence(refusal.value.reasons[0]).lower()
    with refused(RefusalError, match="not a tapped hole|no hole"):
        print_drawing(register, 1, "pdf", Spoken(), hole=2)


def test_the_dxf_is_true_to_size_and_has_dimensions(register: Register, tmp_path: Path) -> None:
    path = tmp_path / "screw.dxf"
    path.write_bytes(print_drawing(register, 1, "dxf", Spoken("de")).content)
    found = ezdxf.filemanagement.readfile(path)
    assert found.audit().errors == []
    space = found.modelspace()
    points = np.array([p[:2] for line in space.query('LWPOLYLINE[layer=="EDGE"]') for p in line.get_points()])
    assert points[:, 0].min() == pytest.approx(0.0, abs=1e-9)
    assert points[:, 0].max() == pytest.approx(7.7)
    assert 2 * points[:, 1].max() == pytest.approx(HEAD)
    assert 2 * points[np.abs(points[:, 0] - 2.0) < 1.4][:, 1].max() == pytest.approx(HEAD)
    (thread,) = space.query('LWPOLYLINE[layer=="THREAD"]')
    section = np.array([p[:2] for p in thread.get_points()])
    assert np.ptp(section[:, 0]) == pytest.approx(2 * 0.635)  # two pitches of 40 threads an inch
    sizes = sorted(one.get_measurement() for one in space.query("DIMENSION"))
    assert sizes == pytest.approx([1.5, 2.0, 4.2, 7.7])
    texts = [one.dxf.text for one in space.query("TEXT")]
    assert any("Flankendurchmesser" in text for text in texts)
    assert not any("\u200f" in text for text in texts)


def test_a_countersunk_head_is_drawn_by_its_measured_outline() -> None:
    """A cone of 90° from 5.4 to 3.2 mm before a cylinder, which the sections call one head of 3.2 mm."""
    along = np.linspace(0.0, 6.0, 1201)
    radius = np.where(along < 1.1, 2.7 - along, np.where(along < 2.3, 1.6, 1.4))
    noise = 0.002 * np.sin(40 * along)
    outline = np.stack([along, radius + noise, -radius + noise], axis=1)
    limits = limits_of(parse("4-40 NC-2"))
    screw = document(limits, 0.5)
    rows = sections(0.1, 3.6)
    screw["part"] = {
        "sections": [{**rows[0], "to": 2.3, "diameter": {"value": 3.2, "u95": 0.004, "unit": "mm"}},
                     {**rows[2], "from": 2.3, "to": 6.0}],
        "ends": [{"in_view": True}, {"in_view": True}],
    }  # fmt: skip
    part = part_to_make(screw, thread_to_make(possible_thread(screw), limits), outline)
    head, thread = part.pieces
    assert (head.traced, thread.traced) == (True, False)
    assert len(head.edge) <= 5  # straight lines, and not every point of the outline
    assert 2 * head.radius == pytest.approx(5.4, abs=0.01)
    texts = [one.text for one in view_of(part, Spoken(), 0.1).leaders]
    assert "⌀3.20" in texts
    assert any(text.startswith(("⌀5.4", "⌀5.39")) for text in texts)
