"""What is kept of a measurement to be drawn: there and back, made again, and nothing worse than a refusal for junk."""

from __future__ import annotations

import json
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from calib.file import calibration_document
from records.drawing import drawing_again, drawing_found, drawing_of, from_bytes, keep, kept, to_bytes
from tests.records.workshop import SCREW, bench, measured
from threads.shared.formatting import write_quantity
from threads.shared.plain_json import plain

UID = "0f7c1a52-0000-4000-8000-000000000001"


def test_a_drawing_comes_back_as_it_was_kept(tmp_path: Path) -> None:
    drawing = drawing_of(measured())
    assert kept(tmp_path, UID) is None
    assert keep(tmp_path, UID, to_bytes(drawing))
    content = kept(tmp_path, UID)
    assert content is not None
    assert len(content) < 100_000
    back = from_bytes(content)
    assert back.folded.section == drawing.folded.section
    assert (back.folded.ridges, back.picture_size) == (drawing.folded.ridges, (1280, 960))
    for one, other in ((back.folded.r, drawing.folded.r), (back.edges, drawing.edges), (back.outline, drawing.outline)):
        assert np.allclose(one, other, atol=1e-4, equal_nan=True)
    assert {one.quantity for one in back.dimensions} >= {"pitch", "pitch_diameter", "included_angle"}
    for kept_one, one_drawn in zip(back.dimensions, drawing.dimensions, strict=True):
        assert write_quantity(kept_one.value) == write_quantity(one_drawn.value)
        assert np.allclose(kept_one.line, one_drawn.line, atol=1e-2)
    assert back.photograph == drawing.photograph


def test_a_drawing_of_before_dimensions_is_made_again_or_does_as_it_is() -> None:
    old = to_bytes(replace(drawing_of(measured()), dimensions=())).replace(b"drawing/3", b"drawing/1", 1)
    document, calibration = plain(measured().to_dict()), json.dumps(calibration_document(bench()))
    drawing, made = drawing_found(old, SCREW, document, calibration)
    assert drawing is not None
    assert drawing.dimensions
    assert made is not None
    drawing, made = drawing_found(old, None, document, calibration)
    assert drawing is not None
    assert (drawing.picture_size, made) == ((1280, 960), None)


def test_the_outline_is_the_part_in_millimetres() -> None:
    outline = drawing_of(measured()).outline
    assert np.nanmax(outline[:, 1]) - np.nanmin(outline[:, 2]) == pytest.approx(
        measured().thread.major_diameter.value, abs=0.005
    )
    assert outline[0, 0] == 0
    assert outline[-1, 0] == pytest.approx(measured().part.overall_length, rel=0.005)


def test_a_folder_that_cannot_be_written_is_no_fault(tmp_path: Path) -> None:
    (tmp_path / "drawings").write_text("in the way")
    assert not keep(tmp_path, UID, b"x")
    assert kept(tmp_path, UID) is None


@pytest.mark.slow
def test_it_is_made_again_only_where_it_comes_out_as_before(tmp_path: Path) -> None:
    document = plain(measured().to_dict())
    calibration = json.dumps(calibration_document(bench()))
    again = drawing_again(SCREW, document, calibration)
    assert again is not None
    assert np.allclose(again.edges, drawing_of(measured()).edges)
    other = json.loads(json.dumps(document))
    other["thread"]["pitch_diameter"]["value"] += 0.01
    assert drawing_again(SCREW, other, calibration) is None
    assert drawing_again(SCREW, document, None) is None  # the scale was not given by hand
    assert drawing_again(tmp_path / "gone.png", document, calibration) is None
    assert drawing_found(b"junk", None, document, calibration) == (None, None)


@given(place=st.integers(0, 30_000), byte=st.integers(1, 255), cut=st.integers(0, 30_000))
def test_damaged_drawings_are_refused(place: int, byte: int, cut: int) -> None:
    whole = content()
    changed = bytearray(whole)
    changed[place % len(whole)] ^= byte
    assume(place % len(whole) != whole.index(b"\n") - 1)  # the version: an earlier one is read as well
    for damaged in (bytes(changed), whole[: cut % len(whole)]):
        with pytest.raises(ValueError, match="drawing"):
            from_bytes(damaged)


@cache
def content() -> bytes:
    return to_bytes(drawing_of(measured()))
