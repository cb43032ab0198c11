"""The pictures kept from a path tracer: their truth, and what the measurement makes of them."""

from __future__ import annotations

from math import pi

import numpy as np
import pytest

from benchmarks.traced import FOLDER, WAYS, kept, line_of, report_shifts, score, screws, shifts
from benchmarks.traced_mesh import Form, screw, section_sizes


def test_the_section_of_a_mesh() -> None:
    """Sizes cut out of the triangles are those the section was drawn with; normals stand square on the triangles."""
    form = Form("any", 0.6, 2.8, 2.41, 2.07, 28.0, 31.0, 0.01, None)
    mesh = screw(form, -2.0, 1.4)
    found = section_sizes(mesh, -1.9, 0.9, rounded=(False, True))
    for name in ("pitch", "pitch_diameter"):
        assert found[name] == pytest.approx(getattr(form, name), abs=2e-5)
    assert found["major_diameter"] == pytest.approx(form.major, abs=2e-5)
    assert found["minor_diameter"] == pytest.approx(form.minor, abs=2e-5)
    assert (found["flank_angle_left"], found["flank_angle_right"]) == pytest.approx((28.0, 31.0), abs=0.005)
    # what is left of the root between two flanks takes a circle of w / (tan((90 - a) / 2) + tan((90 - b) / 2))
    width = 0.3 - 0.17 * (np.tan(28 * pi / 180) + np.tan(31 * pi / 180))
    assert found["root_radius"] == pytest.approx(width / (np.tan(31 * pi / 180) + np.tan(29.5 * pi / 180)), abs=2e-4)
    corners = mesh.vertices[mesh.triangles]
    across = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    area = np.linalg.norm(across, axis=1)
    body = (area > 1e-9) & (corners[:, :, 0].max(axis=1) < 0.9)
    square = np.einsum("ij,ij->i", across, mesh.normals[mesh.triangles[:, 0]])[body] / area[body]
    assert square.min() > 0.99  # the arcs in the corners turn by 8 degrees from point to point


def test_the_kept_pictures_are_there() -> None:
    truth = kept()
    assert {path.name for path in FOLDER.glob("*.png")} == set(truth)
    for name, true in truth.items():
        assert true["kind"] != "screw" or all(other in truth for other in true["other_light"]), name
    for set_up in {true["set_up"] for true in truth.values()}:
        kinds = [(t["kind"], t["light"]["half_cone_deg"]) for t in truth.values() if t["set_up"] == set_up]
        assert all(kinds.count(("pin", cone)) == 2 for _, cone in kinds)


@pytest.mark.slow
@pytest.mark.parametrize(("way", "set_up"), [("nothing stated", None), ("two lights", "c")])
def test_the_promise_of_the_pitch_diameter(way: str, set_up: str | None) -> None:
    """In ordinary set-ups U95 covers 95 %, and errors and U95 are no larger than promised; no picture is refused."""
    rows, refused = score(way, screws(set_up, ordinary=True))
    assert not refused
    line, promise = line_of([row for row in rows if row.quantity == "pitch_diameter"]), WAYS[way][1]
    assert line.coverage >= promise.coverage
    assert line.rms <= promise.rms
    assert line.median_u95 <= promise.median_u95


@pytest.mark.parametrize("way", ["wrong cone stated", "other light"])
def test_a_light_of_eleven_degrees_where_less_is_stated(way: str) -> None:
    """The pins show it, or the flanks do: U95 reaches the sizes, so that no verdict is drawn from such a picture."""
    rows, refused = score(way, screws("w"))
    assert not refused
    lengths = [row for row in rows if row.quantity.endswith("diameter")]
    assert len(lengths) == 6
    assert all(row.covered for row in lengths)


@pytest.mark.slow
def test_the_opening_of_the_lens_moves_no_blackened_part() -> None:
    text, met = report_shifts(shifts(widest=0.04))
    assert met, text
