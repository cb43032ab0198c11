"""The drawing file, read back by a reader of such files: true scale, the right section, what was measured."""

from __future__ import annotations

import io
import re
from typing import Any

import ezdxf
import numpy as np
import pytest

from records.drawing import drawing_of
from records.exchange.dxf import dxf_of, plain_text
from tests.records.workshop import measured


def read(content: bytes) -> Any:
    found = ezdxf.read(io.StringIO(content.decode("utf-8")))
    assert not found.audit().has_errors
    return found


def points(found: Any, layer: str) -> list[np.ndarray[Any, Any]]:
    lines = found.modelspace().query(f'LWPOLYLINE[layer=="{layer}"]')
    return [np.array([(x, y) for x, y, *_ in line.get_points()]) for line in lines]


def test_the_outline_is_drawn_at_true_scale() -> None:
    found = read(dxf_of(measured().thread, drawing_of(measured()), ["part 1", "Łódź"]))
    assert (found.header["$INSUNITS"], found.header["$MEASUREMENT"]) == (4, 1)
    outline = np.vstack(points(found, "OUTLINE"))
    thread = measured().thread
    assert outline[:, 1].max() - outline[:, 1].min() == pytest.approx(thread.major_diameter.value, abs=0.003)
    assert np.ptp(outline[:, 0]) == pytest.approx(measured().part.overall_length, abs=0.03)
    words = [text.dxf.text for text in found.modelspace().query("TEXT")]
    assert words[:3] == ["part 1", "Łódź", "1 unit = 1 mm"]
    assert any(word.startswith("pitch diameter 2.4") and "±" in word for word in words)


def test_the_section_has_the_measured_dimensions() -> None:
    thread = measured().thread
    found = read(dxf_of(thread, None, ["part 1"]))
    assert points(found, "OUTLINE") == []
    upper, lower = points(found, "SECTION")
    assert upper[:, 1].max() - lower[:, 1].min() == pytest.approx(thread.major_diameter.value, abs=1e-4)
    axis = (upper[:, 1].max() + lower[:, 1].min()) / 2
    radii = upper[:, 1] - axis
    assert 2 * radii.min() == pytest.approx(thread.minor_diameter.value, abs=1e-4)
    grid = np.arange(0, thread.pitch.value * 2, 1e-4)
    radius = np.interp(grid, upper[:, 0], radii)
    crossings = grid[np.flatnonzero(np.diff(np.sign(radius - thread.pitch_diameter.value / 2)))]
    # on the pitch line ridge and groove are equally wide: half a pitch each
    assert np.diff(crossings) == pytest.approx(thread.pitch.value / 2, abs=3e-4)
    assert np.ptp(upper[:, 0]) == pytest.approx(thread.threads_in_view * thread.pitch.value, abs=1e-6)
    assert len(upper) < 40 * thread.threads_in_view


def test_no_name_is_a_code_for_a_drawing_program() -> None:
    """Codes of the DXF reference for TEXT: %%nnn, \\U+nnnn, \\M+nxxxx, and a caret before a letter."""
    text = plain_text("100%%d \\U+202E \\m+1 ^J \u202e \x1b[2J")
    assert not re.search(r"%%|\\[UuMm]\+|\^[^ ]|[^ -~]", text)
