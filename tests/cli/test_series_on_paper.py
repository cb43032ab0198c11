"""``flankwise series --near``, ``--chart`` and ``--wall``: whole commands."""

from __future__ import annotations

import json
from pathlib import Path

import pypdfium2
import pytest

from cli.main import main
from threads.own.own_table import EXAMPLE


def text_of(path: Path) -> list[str]:
    """The words of each page."""
    document = pypdfium2.PdfDocument(path)
    pages = [page.get_textpage().get_text_bounded() for page in document]
    document.close()
    return pages


@pytest.fixture(autouse=True)
def data(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("FLANKWISE_DATA", str(tmp_path / "data"))


def test_near_shows_what_looks_alike(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["series", "--near", '1/8" BSW']) == 0
    shown = capsys.readouterr().out
    assert "5-40 UNC" in shown
    assert "the same thread" in shown
    assert main(["series", "--near", "1/8-40 BSW", "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert found["schema"] == "flankwise/look_alikes/1"
    assert {"thread", "same_thread", "its_screw_in_this_hole", "this_screw_in_its_hole"} <= set(found["look_alikes"][0])
    assert main(["series", "--near", "1/8-41 BSW"]) == 2
    assert "nearest" in capsys.readouterr().err


def test_the_chart_has_every_thread_on_four_pages_at_most(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "chart.pdf"
    assert main(["series", "--chart", str(path)]) == 0
    assert "written to" in capsys.readouterr().err
    pages = text_of(path)
    assert 2 <= len(pages) <= 4
    words = " ".join(" ".join(pages).split())
    for name in ("4-40 UNC NC", "1/8-40 BSW ME", "39x26 Lens", "RMS", "2 BA", "4x0.75 SF JIS FR", "1/4-20 BSW"):
        assert name in words


def test_the_wall_chart_is_that_of_own_series(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "wall.pdf"
    assert main(["series", "--wall", str(path)]) == 2
    assert "series add --example" in capsys.readouterr().err
    (tmp_path / "own.csv").write_text(EXAMPLE, encoding="utf-8")
    assert main(["series", "add", str(tmp_path / "own.csv")]) == 0
    assert main(["series", "--wall", str(path), "--json"]) == 0
    capsys.readouterr()
    (page,) = text_of(path)
    assert "1.8x0.35 QW" in page
    assert "2.080 to 2.200" in page
    # 75 % of thread of 1.8x0.35: 1.8 - 0.75 x 1.299 x 0.35 mm (Machinery's Handbook, 31st ed., p. 2155)
    assert "1.46" in page


def test_one_thing_at_a_time(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["series", "NC", "--near", "4-40 NC"]) == 2
    assert "one thing at a time" in capsys.readouterr().err
    assert main(["series", "--chart", str(tmp_path / "chart.txt")]) == 2
