"""A job on paper and as HTML: what stands in it, in which order and type; names that mean harm or have no type."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from flankwise.words import CAUTION
from records import filing
from records.correction import correct
from records.drawing import drawing_path, kept
from records.figures.type_files import type_with
from records.letterhead import keep_letterhead
from records.register import Register, open_register
from records.report.flowables import Mark, Text
from records.report.gather import FEW, Report, gather, is_report
from records.report.html import _text, report_html
from records.report.pdf import built, figure_size, foot_of, frame_of, report_pdf, styles_of
from records.report.printed import print_job
from records.report.sheet import FROM_MEMORY
from records.report.spoken import Spoken
from records.report.typefaces import load_types
from tests.records.workshop import JOB, POSITIONS, kept_workshop, measured_workshop
from threads.shared.refusal import RefusalError


@pytest.fixture(scope="module")
def register(tmp_path_factory: pytest.TempPathFactory) -> Register:
    return measured_workshop(tmp_path_factory.mktemp("report"))


@pytest.fixture(scope="module")
def report(register: Register) -> Report:
    return gather(register, 1, Spoken(), figure_size=figure_size("a4"), jobs=1)


@pytest.fixture(scope="module")
def in_inches(register: Register) -> Report:
    return gather(register, 1, Spoken(inches=True), figure_size=figure_size("letter"), jobs=1)


@pytest.fixture(scope="module")
def pdf(report: Report) -> PdfReader:
    return PdfReader(io.BytesIO(report_pdf(report, "a4")), strict=True)


def words(page: Any) -> str:
    return re.sub(r"\s+", " ", page.extract_text())


@pytest.mark.slow
def test_a_line_a_part_then_a_sheet_a_part_in_the_order_of_positions(pdf: PdfReader) -> None:
    assert len(pdf.pages) == 1 + len(POSITIONS)
    first = words(pdf.pages[0])
    assert first.startswith(JOB)
    places = [first.index(text) for text in ("Łódź & ≥3 shade", "upper shade", "верхний светофильтр")]
    assert places == sorted(places)
    for page, position in zip(pdf.pages[1:4], POSITIONS, strict=False):
        assert words(page).startswith(f"{position}, index arm screw")
    assert [entry.title for entry in pdf.outline][1:4] == [f"{position}, index arm screw" for position in POSITIONS[:3]]


def test_a_sheet_has_dimensions_identity_die_and_what_is_behind_them(pdf: PdfReader) -> None:
    text = words(pdf.pages[1])
    assert re.search(r"pitch diameter 2\.4[23]\d+ ± 0\.00\d+ mm", text)
    assert re.search(r"flank angle, left 30\.\d+ ± 0\.\d+°", text)
    for part in (
        "4-40 NC-2 †", "told apart by", "Die 4-40 UNC", "slot worn", "Calibrated", "pin 1.0000 ± 0.0010 mm",
        "with flankwise", FROM_MEMORY[2:40], "hand not determined", "marine sextant, Quayside Workshop, no. 4117",
    ):  # fmt: skip
        assert part in text, part
    assert re.search(r"⌀ 2\.4[23]\d+ ± 0\.00\d+ mm", text)  # in the photograph
    assert re.search(r"⌀ 2\.8\d+ mm", words(pdf.pages[0]))
    for page in pdf.pages:
        assert CAUTION in words(page)
        assert re.search(rf"\d of {len(pdf.pages)}", words(page))


def test_a_part_without_a_measurement_has_its_line_and_its_sheet(pdf: PdfReader) -> None:
    assert "not measured" in words(pdf.pages[4])
    assert "not measured" in words(pdf.pages[0])


def fonts_of(pdf: PdfReader) -> Iterator[Any]:
    for page in pdf.pages:
        for font in page["/Resources"]["/Font"].values():
            yield font.get_object()


def test_types_are_embedded_and_letters_that_none_has_are_shown_as_codes(pdf: PdfReader) -> None:
    shown = {font["/BaseFont"] for font in fonts_of(pdf)}
    assert shown
    for font in fonts_of(pdf):
        within = font["/DescendantFonts"][0].get_object() if "/DescendantFonts" in font else font
        assert "/FontFile2" in within["/FontDescriptor"], font["/BaseFont"]
    assert ("日本のねじ" if type_with(ord("日")) else "[U+65E5]") in words(pdf.pages[4])
    types = load_types()
    assert types.markup("a\u0301<b>&\x07") == "á&lt;b&gt;&amp;[U+0007]"
    assert types.markup("\U0010fffd") == "[U+10FFFD]"
    assert types.plain("x\ud800") == "x[U+D800]"


def test_a_sheet_with_everything_on_it_is_one_page(tmp_path: Path) -> None:
    register = kept_workshop(tmp_path)
    found = gather(register, 1, Spoken(), figure_size=figure_size("a4"), jobs=1)
    pdf = PdfReader(io.BytesIO(report_pdf(found, "a4")))
    assert len(pdf.pages) == 1 + len(found.sheets)
    assert all("Behind these numbers" in words(page) and "Measured 20" in words(page) for page in pdf.pages[1:])


@pytest.mark.slow
@pytest.mark.parametrize(("paper", "size"), [("a4", (595.276, 841.89)), ("letter", (612, 792))])
def test_paper_and_unit(in_inches: Report, paper: str, size: tuple[float, float]) -> None:
    pdf = PdfReader(io.BytesIO(report_pdf(in_inches, paper)))
    assert len(pdf.pages) == 1 + len(POSITIONS)
    box = pdf.pages[0].mediabox
    assert (float(box.width), float(box.height)) == pytest.approx(size, abs=0.01)
    assert re.search(r"major diameter 0\.110[67]\d+ ± 0\.0000\d+ in", words(pdf.pages[1]))
    assert "pitch 0.0249" in words(pdf.pages[0])


class _Page(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.text = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))

    def handle_data(self, data: str) -> None:
        self.text += data


@pytest.mark.slow
def test_the_html_file_needs_nothing_else_and_escapes_everything(report: Report, tmp_path: Path) -> None:
    content = report_html(report)
    page = _Page()
    page.feed(content.decode("utf-8"))
    assert {tag for tag, _ in page.tags} & {"script", "link", "iframe", "object"} == set()
    fetched = [value for _, found in page.tags for name, value in found.items() if name in {"src", "href"}]
    assert len(fetched) > 8
    assert all(value is not None and value.startswith(("data:image/jpeg;base64,", "#p")) for value in fetched)
    assert sum(tag == "article" for tag, _ in page.tags) == len(POSITIONS)
    for text in (JOB, *POSITIONS, CAUTION, "=HYPERLINK(1), slot worn", "4-40 NC-2 †"):
        assert text in page.text
    for name, suffix in (("a", content), ("b", report_pdf(report, "a4"))):
        (tmp_path / name).write_bytes(suffix)
        assert is_report(tmp_path / name)
    (tmp_path / "c").write_bytes(b"%PDF-1.4 of another program")
    assert not is_report(tmp_path / "c")


def test_no_name_is_markup_in_html() -> None:
    page = _Page()
    page.feed(_text("<b onclick='x'>&amp;\x1b[2J\u202egnp"))
    page.close()
    assert (page.tags, page.text) == ([], "<b onclick='x'>&amp;[U+001B][2J[U+202E]gnp")


@pytest.mark.slow
def test_without_drawings_they_are_made_again_or_left_out(tmp_path: Path) -> None:
    register = measured_workshop(tmp_path)
    with register.reading() as connection:
        uids = [uid for (uid,) in connection.execute("SELECT uid FROM measurements ORDER BY id")]
    before = kept(register.store.folder, uids[0])
    assert before is not None
    drawing_path(register.store.folder, uids[0]).unlink()
    again = gather(register, 1, Spoken(), figure_size=(7, 3), jobs=1)
    assert kept(register.store.folder, uids[0]) is not None
    assert [one.remarks for one in again.illustrations if one is not None] == [(), (), ()]
    # of the kept register the pictures are small ones, in which nothing comes out as before
    other = kept_workshop(tmp_path / "other")
    found = gather(other, 1, Spoken(), figure_size=(7, 3), jobs=1)
    assert all(one.remarks[0].key == "sheet.edges_lost" for one in found.illustrations if one is not None)
    assert len(PdfReader(io.BytesIO(report_pdf(found, "letter"))).pages) >= 3


def test_more_than_a_few_sheets_are_shared_out(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[tuple[int, int]] = []

    def noted(_: Any, wanted: list[Any], jobs: int, died: Any) -> list[Any]:
        asked.append((len(wanted), jobs))
        assert len({one.uid for one in wanted}) == len(wanted)
        return [died(one) for one in wanted]

    register = measured_workshop(tmp_path)
    kept_at_filing = gather(register, 1, Spoken(), figure_size=(7, 3), jobs=2)
    assert all(one.photograph is not None for one in kept_at_filing.illustrations if one is not None)
    for path in (register.store.folder / "drawings").glob("*/*"):
        path.unlink()
    monkeypatch.setattr("records.report.gather.by_processes", noted)
    monkeypatch.setattr("records.report.gather.FEW", 2)
    shares: list[float] = []
    found = gather(register, 1, Spoken(), figure_size=(7, 3), jobs=2, reached=shares.append)
    assert asked == [(3, 2)]
    assert shares == [1 / 3, 2 / 3, 1.0]
    assert FEW == 3
    content = report_pdf(found, "a4")
    assert "could not be made" in words(PdfReader(io.BytesIO(content)).pages[1])


@pytest.mark.slow
def test_a_job_is_looked_at_before_it_is_printed_from_another_thread(register: Register) -> None:
    with ThreadPoolExecutor(1) as thread:
        page = thread.submit(print_job, register, 1, "html", inches=True, processes=1).result()
        paper = thread.submit(print_job, register, 1, paper="letter", processes=1).result()
    assert (page.job, page.parts, page.measured) == (JOB, len(POSITIONS), 3)
    assert page.content.startswith(b"<!DOCTYPE html>")
    assert len(PdfReader(io.BytesIO(paper.content)).pages) == 1 + len(POSITIONS)
    assert paper.missing == ("" if type_with(ord("日")) else "のじね日本")
    for kind, sheet in (("docx", "a4"), ("pdf", "a5")):
        with pytest.raises(ValueError, match="a job is printed as one of"):
            print_job(register, 1, kind, paper=sheet)


def test_an_empty_job_is_refused(tmp_path: Path) -> None:
    register = open_register(tmp_path / "parts.sqlite", create=True)
    with register.writing() as writing:
        filing.add_job(writing, "nothing yet")
    with pytest.raises(RefusalError, match="empty_job"):
        gather(register, 1, Spoken(), figure_size=(7, 3))


def test_a_job_in_german_has_letterhead_owner_summary_and_no_word_of_the_program(tmp_path: Path) -> None:
    register = measured_workshop(tmp_path)
    keep_letterhead(register, "Quayside Workshop\n12 Harbour Street")
    with register.writing("somebody-at-desk-7") as writing:
        correct(writing, "jobs", 1, {"owner": "harbour school"})
    printed = print_job(register, 1, language="de", processes=1)
    pages = [words(page) for page in PdfReader(io.BytesIO(printed.content)).pages]
    first, sheet = pages[:2]
    for text in (
        "Quayside Workshop 12 Harbour Street", "Eigentümer: harbour school", "In einfachen Worten",
        "3 Teile wurden gemessen. Bestimmt: 3 × 4-40 NC.", "Noch zu messen:", "Für Notizen von Hand",
    ):  # fmt: skip
        assert text in first, text
    for text in (
        "Flankendurchmesser 2.4", "zu unterscheiden durch Herkunft und Jahr", "Machen Sie es mit: Schneideisen",
        "Gemessen am", "Gangrichtung nicht bestimmt", "gebaut 1938",
    ):  # fmt: skip
        assert text in sheet, text
    whole = " ".join(pages)
    assert "Für Notizen von Hand" in pages[4]
    for text in (" --", "Ada", "somebody-at", "measured", "probability", "not measured"):
        assert text not in whole, text
    page = print_job(register, 1, "html", language="de", processes=1).content.decode()
    assert '<html lang="de">' in page
    assert "Welches Gewinde es ist" in page


def test_no_name_is_markup_or_an_operator_in_pdf() -> None:
    """In a paragraph, in the foot and in the outline: ends of texts, markup, escape sequences, right-to-left marks."""
    hostile = "a) Tj (b) \\051 <b>&amp; \x1b[31m \u202egnp.exe </font><a href='x'>"
    shown = r"a) Tj (b) \051 <b>&amp; [U+001B][31m [U+202E]gnp.exe </font><a href='x'>"
    types, frame = load_types(hostile), frame_of("a4")
    flow = [Mark("m", hostile), Text(types.markup(hostile), styles_of().body)]
    content = built(flow, frame, hostile, types, foot_of(hostile, "2026-01-01", "1", Spoken()), "1")
    found = PdfReader(io.BytesIO(content), strict=True)
    (page,) = found.pages
    text = re.sub(r"\s+", "", page.extract_text())
    assert text.startswith(re.sub(r"\s+", "", shown))
    assert text.count("[U+001B]") == 2  # and in the foot
    assert "/Annots" not in page
    assert found.metadata is not None
    assert "\x1b" not in str(found.metadata.title)
    assert [entry.title for entry in found.outline] == [hostile]
