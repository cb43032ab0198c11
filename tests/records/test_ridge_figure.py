"""The figure of a data sheet: to scale, the same in PDF and on the web page, and its words are words."""

import io
import re
from dataclasses import replace
from xml.etree import ElementTree as ET

import numpy as np
import pytest
from pypdf import PdfReader
from reportlab.pdfgen.canvas import Canvas

from records.report.flowables import Drawn
from records.report.ridge import RidgeView, ridge_figure, ticks
from records.report.spoken import Spoken
from records.report.typefaces import load_types
from records.report.vector import Clipped, Dots, Line, Words, svg_of
from threads.measured.axial_profile import AxialProfile
from threads.shared.quantity import Quantity
from threads.standards.designation import parse
from threads.standards.limits import limits_of
from vision.result.folded import Folded

SECTION = AxialProfile(0.8, 2.0, 1.74, 1.51, 30.0, 30.0)
"""Nearly M4 by ISO 261: pitch 0.8 mm, major diameter 4 mm, pitch diameter 3.48 mm."""


@pytest.fixture(scope="module")
def ridge() -> RidgeView:
    s = np.linspace(-0.45, 0.45, 400)
    upper = np.arange(400) % 2 == 0
    folded = Folded(SECTION, s, SECTION.radius(s), upper, 0 * s, 0 * s, 9)
    limits = [limits_of(parse(name)) for name in ("M4 - 6g", "M4 - 6h", "M4 - 4h")]
    return RidgeView(folded, tuple(limits), Quantity(3.48, 0.001, "mm"))


@pytest.mark.parametrize("height", [196.0, 120.0])
def test_it_is_as_many_times_larger_than_life_as_it_says(ridge: RidgeView, height: float) -> None:
    figure = ridge_figure(ridge, (515.0, height), Spoken())
    said = [one.text for one in figure.shapes if isinstance(one, Words) and "times" in one.text]
    views = [one for one in figure.shapes if isinstance(one, Clipped)]
    for words, view in zip(said, views, strict=True):
        magnified = float(re.findall(r"([\d.]+) times", words)[0])
        curve = view.shapes[-1]
        assert isinstance(curve, Line)
        wide, high = np.ptp(curve.points, axis=0)
        assert wide / 72 * 25.4 / (2 * 0.62 * 0.8) == pytest.approx(magnified, rel=0.02)  # 0.62 pitches to each side
        assert high / 72 * 25.4 / (2.0 - 1.51) == pytest.approx(magnified, rel=0.02)
        for dots in (one for one in view.shapes if isinstance(one, Dots)):
            on_curve = np.interp(dots.points[:, 0], *curve.points.T)
            assert np.abs(on_curve - dots.points[:, 1]).max() < 0.4  # of a point: corners lie between samples
    for one in figure.shapes:
        if isinstance(one, Words):
            assert 0 <= one.x <= 515
            assert 0 <= one.y <= height


def test_web_page_and_pdf_show_the_same_words_and_no_name_is_markup(ridge: RidgeView) -> None:
    named = replace(ridge.limits[0], designation="M4 <b>&(6g)\\ \x1b")
    figure = ridge_figure(replace(ridge, limits=(named, *ridge.limits[1:])), (515.0, 196.0), Spoken("de"))
    svg = ET.fromstring(svg_of(figure, "a <title>"))
    assert (
        len(list(svg.iter("pattern"))) == len(list(svg.iter("title"))) + 8
    )  # three zones in three places, and a title
    types, content = load_types(), io.BytesIO()
    canvas = Canvas(content, pagesize=(515, 196))
    Drawn(lambda: figure, (515, 196), types).drawOn(canvas, 0, 0)
    canvas.save()
    (page,) = PdfReader(content, strict=True).pages
    written = re.sub(r"\s+", "", page.extract_text())
    for one in svg.iter("text"):
        assert one.text is not None
        assert re.sub(r"\s+", "", one.text) in written
    assert "M4<b>&(6g)\\[U+001B],kleinstes" in written
    operators = page.get_contents()
    assert operators is not None
    data = operators.get_data().split()
    assert data.count(b"q") == data.count(b"Q")
    assert {b"re", b"W", b"S", b"f", b"d"} <= set(data)


def test_numbers_of_an_axis_are_round_and_within_it() -> None:
    assert ticks(2.001, 2.009, 4) == [(2.002, "2.002"), (2.004, "2.004"), (2.006, "2.006"), (2.008, "2.008")]
    assert [words for _, words in ticks(-1.0, 1.0, 4)] == ["−1.0", "−0.5", "0.0", "0.5", "1.0"]
    assert ticks(1.0, 1.0, 4) == []
