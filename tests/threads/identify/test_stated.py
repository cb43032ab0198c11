"""What a document or a person says of a thread: read, weighed, and contradicted by a measurement."""

from __future__ import annotations

import pytest

from tests.threads.measured_factory import measured_thread
from threads.identify.identification import Identification, identify
from threads.identify.stated import WEIGHTS, StatedError, stated

OPEN = measured_thread(2.80, 2.412, 0.635)
"""4-40, where the tables of 1924 and 1949 hold it alike."""


def share(found: Identification, series: str) -> float:
    return sum(one.probability for one in found.candidates if one.limits.series == series)


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("NC", ("NC", "", "")),
        ("  nc ", ("NC", "", "")),
        ("5-40 NC", ("NC", "5-40", "")),
        ("5-40 NC-2", ("NC", "5-40", "2")),
        ("M3", ("M", "M3x0.5", "")),
        ("M3-6g", ("M", "M3x0.5", "6g")),
        ("4 BA", ("BA", "4", "")),
    ],
)
def test_a_series_a_size_or_a_class_is_read(text: str, names: tuple[str, str, str]) -> None:
    found = stated(text)
    assert (found.series, found.size, found.thread_class) == names


@pytest.mark.parametrize(("text", "by", "weight"), [("xx", "word", None), ("NC", "guess", None), ("NC", "word", 0.5)])
def test_what_is_no_statement_is_refused(text: str, by: str, weight: float | None) -> None:
    with pytest.raises(StatedError):
        stated(text, by, weight)


def test_a_drawing_is_harder_to_beat_than_a_word() -> None:
    plain = share(identify(OPEN), "UNC")
    by = [share(identify(OPEN, stated=stated("UNC", how)), "UNC") for how in ("word", "catalogue", "drawing")]
    assert plain < by[0] < by[1] < by[2]
    # odds times the weight, which is all that a statement does
    assert by[2] / (1 - by[2]) == pytest.approx(WEIGHTS["drawing"] * plain / (1 - plain), rel=1e-6)


def test_a_measurement_that_contradicts_it_is_said() -> None:
    found = identify(OPEN, stated=stated("M3", "drawing"))
    assert "stated_contradicted" in [note.code for note in found.notes]
    assert found.candidates[0].limits.size == "4-40"
    assert found.to_dict({})["stated"] == {
        "says": "M3", "by": "drawing", "weight": 100.0, "probability": found.stated_probability,
    }  # fmt: skip
    agreed = identify(OPEN, stated=stated("4-40 NC", "drawing"))
    assert "stated_contradicted" not in [note.code for note in agreed.notes]
    assert identify(OPEN).to_dict({})["stated"] is None
