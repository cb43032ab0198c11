"""Figures: what stands on them, that they are the same each time, and that files are whole or not there."""

from __future__ import annotations

import io
import re
import threading
import time
import zlib
from dataclasses import replace
from pathlib import Path
from typing import Any

import matplotlib as mpl
import numpy as np
import pytest
from matplotlib import rcParams
from matplotlib.text import Text
from PIL import Image

from flankwise.reasons import sentence
from records.figures import pages
from records.figures.class_bars import SIGNS, Bar, draw_bars, draw_differences
from records.figures.file import MAKER, figure_bytes, is_figure, save_figure
from records.figures.style import INCHES, LOOKS, MILLIMETRES, new_figure, styled
from records.figures.thread_view import draw_thread, magnification, zones_of
from tests.vision.scenes import ACROSS, photograph
from threads.identify.identification import identify
from threads.judge.check import check
from threads.judge.compare import compare
from threads.judge.die_advice import advice
from threads.shared.formatting import format_quantity
from threads.shared.quantity import Quantity
from threads.standards.designation import parse
from threads.standards.limits import Band, limits_of
from threads.workshop.closer_die import advice as compare_advice
from vision.result.folded import fold
from vision.result.measure import measure_picture
from vision.result.measurement import Measurement
from vision.several.impression import as_hole
from vision.shared.plane import FixedScale


@pytest.fixture(scope="module")
def measured() -> Measurement:
    picture, _ = photograph(replace(ACROSS, dust=2))
    return measure_picture(picture, FixedScale(ACROSS.camera.um_per_px, light_cone_deg=0.0))


def thread_page(measured: Measurement) -> Any:
    """The heart of a page on A4."""
    figure = new_figure()
    axes = figure.add_axes((0.1, 0.5, 0.8, 0.4))
    draw_thread(axes, fold(measured), zones_of([limits_of(parse("4-40 UNC-2A"))]), MILLIMETRES)
    axes.legend()
    return figure


def texts(figure: Any) -> str:
    return "\n".join(str(text.get_text()) for text in figure.findobj(Text))


def test_the_page_of_a_measurement_says_what_was_measured(measured: Measurement) -> None:
    with styled():
        words = texts(pages.measurement_page(measured))
    assert "scene" in words
    for wanted in ("pitch diameter", "virtual pitch diameter", "magnified", "pitch error, µm", "diameter, mm", "U95"):
        assert wanted in words
    assert "no gauge stands behind it" in words


def test_the_page_of_an_identity_draws_the_zones_of_what_is_told_apart(measured: Measurement) -> None:
    found = identify(measured.thread)
    with styled():
        words = texts(pages.identification_page(measured, found))
    assert found.candidates[0].designation in words
    assert "no series in the tables" in words
    assert "least to most material" in words
    if any(c.limits.unverified for c in found.candidates[:3]):
        assert "†" in words


def test_the_page_of_a_check_has_verdict_bars_and_advice(measured: Measurement) -> None:
    found = check(measured.thread, limits_of(parse("4-40 UNC-2A")))
    said = advice(found)
    with styled():
        words = texts(pages.check_page(measured, found, said))
    assert f"{SIGNS[found.verdict]} {pages.VERDICTS[found.verdict]}" in words
    assert sentence(said[0])[:30] in words
    assert "qualified" in words
    assert f"⌀ {format_quantity(measured.thread.pitch_diameter)}" in words  # the part stands on it, dimensioned


def test_the_page_of_a_comparison_lays_one_over_the_other(measured: Measurement) -> None:
    thicker = replace(measured.thread.pitch_diameter, value=measured.thread.pitch_diameter.value + 0.03)
    other = replace(measured, thread=replace(measured.thread, pitch_diameter=thicker))
    found = compare(measured.thread, other.thread)
    with styled():
        words = texts(pages.comparison_page(measured, other, found, compare_advice(found)))
    assert "replacement has more metal" in words
    assert "Close the die" in words
    assert "dimensions differ" in words
    for one in (measured, other):
        assert f"⌀ {format_quantity(one.thread.pitch_diameter)}" in words


def test_a_cast_is_drawn_too(measured: Measurement) -> None:
    with styled():
        words = texts(pages.measurement_page(as_hole(measured), inches=True))
    assert "thread of a hole, from its cast" in words
    assert "diameter, in" in words
    assert "0.0001 in" in words


@pytest.mark.parametrize("suffix", [".svg", ".pdf"])
def test_the_same_figure_is_the_same_file_and_is_known_again(
    tmp_path: Path, suffix: str, measured: Measurement
) -> None:
    path = tmp_path / f"page{suffix}"
    save_figure(lambda: thread_page(measured), path)
    assert path.read_bytes() == figure_bytes(lambda: thread_page(measured), suffix)
    assert is_figure(path)
    assert [p.name for p in tmp_path.iterdir()] == [path.name]


def test_fonts_are_embedded_and_the_page_is_a4(measured: Measurement) -> None:
    pdf = figure_bytes(lambda: thread_page(measured), ".pdf")
    assert b"/FontFile2" in pdf  # TrueType outlines, whole
    box = re.search(rb"/MediaBox \[ 0 0 ([\d.]+) ([\d.]+) \]", pdf)
    assert box is not None
    assert (float(box[1]) / 72 * 25.4, float(box[2]) / 72 * 25.4) == pytest.approx((210, 297), abs=0.5)


def test_a_photograph_is_no_figure(tmp_path: Path) -> None:
    photo = tmp_path / "photo.png"
    Image.fromarray(np.zeros((4, 4), np.uint8)).save(photo)
    assert not is_figure(photo)
    assert not is_figure(tmp_path / "nothing.png")
    assert not is_figure(tmp_path)


def test_a_failed_write_leaves_the_old_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "page.svg"
    path.write_bytes(b"old")
    monkeypatch.setattr("os.fsync", lambda _: (_ for _ in ()).throw(OSError(28, "No space left on device")))
    with pytest.raises(OSError, match="No space"):
        save_figure(lambda: new_figure((1, 1)), path)
    assert path.read_bytes() == b"old"
    assert [p.name for p in tmp_path.iterdir()] == ["page.svg"]


def test_drawing_leaves_the_library_as_it_was(measured: Measurement) -> None:
    before = dict(mpl.rcParams)
    figure_bytes(lambda: thread_page(measured), ".svg")
    assert dict(mpl.rcParams) == before
    with pytest.raises(KeyError):
        figure_bytes(new_figure, ".gif")


def test_zones_differ_in_more_than_colour() -> None:
    assert len({look.hatch for look in LOOKS}) == len(LOOKS)
    assert len({str(look.dashes) for look in LOOKS}) == len(LOOKS)
    zones = zones_of([limits_of(parse(d)) for d in ("4-40 UNC-2A", "4-40 NC-2", "4-40 UNC-2B", "4-40 NC-3", "M3-6g")])
    assert [zone.name for zone in zones] == ["4-40 UNC-2A", "4-40 NC-2 †", "4-40 NC-3 †"]
    assert len({zone.look.hatch for zone in zones}) == 3


def test_lengths_along_and_across_are_drawn_to_one_scale(measured: Measurement) -> None:
    """The upright axis is a diameter, so a millimetre of it is half as long."""
    figure = new_figure()
    axes = figure.add_axes((0.1, 0.1, 0.8, 0.5))
    draw_thread(axes, fold(measured), (), MILLIMETRES)
    axes.apply_aspect()
    place = axes.get_position()
    width, height = place.width * figure.get_figwidth(), place.height * figure.get_figheight()
    (x0, x1), (y0, y1) = axes.get_xlim(), axes.get_ylim()
    assert width / (x1 - x0) == pytest.approx(2 * height / (y1 - y0), rel=1e-6)
    assert magnification(axes, MILLIMETRES) == pytest.approx(width * 25.4 / (x1 - x0))


def test_bars_stand_where_their_limits_are() -> None:
    axes = new_figure().add_axes((0.1, 0.1, 0.8, 0.5))
    bars = [Bar("one", Band(2.0, 2.1), LOOKS[0]), Bar("open", Band(None, 2.15), LOOKS[1])]
    draw_bars(axes, bars, Quantity(2.05, 0.005, "mm"), "pitch diameter", MILLIMETRES)
    low, high = axes.get_xlim()
    assert low < 2.0
    assert high > 2.15
    first = axes.patches[1]  # the first patch is the band of the value
    assert (first.get_x(), first.get_width()) == pytest.approx((2.0, 0.1))
    assert [tick.get_text() for tick in axes.get_yticklabels()] == ["open", "one"]
    inch = new_figure().add_axes((0.1, 0.1, 0.8, 0.5))
    draw_bars(inch, bars[:1], Quantity(2.05, 0.005, "mm"), "pitch diameter", INCHES)
    assert inch.patches[1].get_x() == pytest.approx(2.0 / 25.4)


def test_a_significant_difference_has_another_mark() -> None:
    axes = new_figure().add_axes((0.1, 0.1, 0.8, 0.5))
    rows = [("a", Quantity(0.02, 0.001, "mm"), True), ("b", Quantity(0.001, 0.001, "mm"), False)]
    draw_differences(axes, rows, MILLIMETRES, threshold=2.8)
    marks = [line.get_marker() for line in axes.lines if line.get_marker() in ("D", "o")]
    assert marks == ["D", "o"]
    assert axes.get_xlabel() == "replacement less original, µm"


def test_the_png_is_not_blank_and_reads_in_grey(measured: Measurement) -> None:
    picture = Image.open(io.BytesIO(figure_bytes(lambda: pages.measurement_page(measured), ".png")))
    assert picture.size == (1654, 2338)
    assert picture.info["Software"] == MAKER
    grey = np.asarray(picture.convert("L"))
    assert 0.02 < float((grey < 128).mean()) < 0.5
    assert zlib.crc32(grey.tobytes()) != 0


def test_two_threads_do_not_leave_their_settings_to_each_other() -> None:
    """A label on one thread, a report on another: neither ends with the settings of the other in force."""
    before = rcParams["font.size"]
    seen: list[float] = []
    first_is_in, go_on = threading.Event(), threading.Event()

    def first() -> None:
        with styled():
            first_is_in.set()
            go_on.wait(5)

    def second() -> None:
        first_is_in.wait(5)
        with styled():
            seen.append(rcParams["font.size"])

    threads = [threading.Thread(target=first), threading.Thread(target=second)]
    for thread in threads:
        thread.start()
    first_is_in.wait(5)
    time.sleep(0.1)
    assert seen == []  # it waits
    go_on.set()
    for thread in threads:
        thread.join()
    assert seen == [8.5]
    assert rcParams["font.size"] == before
