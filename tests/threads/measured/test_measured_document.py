"""A measured thread goes into JSON and comes back the same."""

from __future__ import annotations

import json
from dataclasses import fields, replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.records.registers import mould
from tests.threads.measured_factory import measured_thread
from threads.measured.measured_document import MeasurementDocumentError, quantity_from_dict, thread_from_dict
from threads.measured.thread import MeasuredThread, RidgeError
from threads.shared.plain_json import plain
from threads.shared.quantity import Quantity
from vision.result.measurement import SCHEMA, _thread


def document_of(thread: MeasuredThread) -> dict[str, Any]:
    covariance = {"order": list(thread.covariance.order), "matrix": thread.covariance.matrix.tolist()}
    return json.loads(json.dumps({"schema": SCHEMA, "thread": _thread(thread), "covariance": covariance}))


@pytest.mark.parametrize("one_sided", [0.0, 0.0047])
@pytest.mark.parametrize("internal", [False, True])
def test_a_thread_comes_back_the_same(one_sided: float, internal: bool) -> None:
    ridges = (RidgeError(0.1, 0.002, 2.41, 0.0005, 0.0006, 1), RidgeError(0.4, -0.001, 2.43))
    thread = replace(
        measured_thread(2.8, 2.42, 0.635, one_sided=one_sided),
        internal=internal,
        per_thread=ridges,
        crest_radius=Quantity(0.05, 0.01, "mm"),
        flat_root=False,
    )
    back = thread_from_dict(document_of(thread))
    for field in fields(MeasuredThread):
        before, after = getattr(thread, field.name), getattr(back, field.name)
        if isinstance(before, Quantity):
            assert (after.value, after.unit) == (before.value, before.unit)
            # u95 = 2 u + bound is taken apart again: to the last digits of a double
            assert after.standard_uncertainty == pytest.approx(before.standard_uncertainty, rel=1e-12, abs=1e-18)
            assert after.one_sided == before.one_sided
        elif field.name == "covariance":
            assert after.order == before.order
            np.testing.assert_array_equal(after.matrix, before.matrix)
        elif field.name == "per_thread":
            assert [(r.position, r.pitch_error, r.edge) for r in after] == [(0.1, 0.002, 1), (0.4, -0.001, 0)]
            assert after[0].pitch_diameter_u == pytest.approx(0.0006, rel=1e-9)
        else:
            assert after == before


def test_a_real_measurement_comes_back_the_same() -> None:
    document = mould()
    thread = thread_from_dict(document)
    again = thread_from_dict(document_of(thread))
    assert again.pitch_diameter.value == document["thread"]["pitch_diameter"]["value"]
    assert again.pitch_diameter.u95 == pytest.approx(document["thread"]["pitch_diameter"]["u95"], rel=1e-12)
    assert again.pitch_diameter.one_sided == document["thread"]["pitch_diameter"].get("one_sided", 0.0)
    assert len(again.per_thread) == len(document["thread"]["per_thread"])


def damaged(path: list[str | int], value: object) -> dict[str, Any]:
    document = json.loads(json.dumps(plain(mould())))
    target = document
    for key in path[:-1]:
        target = target[key]
    if value is None and isinstance(path[-1], str):
        del target[path[-1]]
    else:
        target[path[-1]] = value
    return document


@pytest.mark.parametrize(
    ("path", "value"),
    [
        (["schema"], "flankwise/measurement/2"),
        (["thread"], None),
        (["thread"], "a thread"),
        (["thread", "pitch"], None),
        (["thread", "pitch", "value"], float("nan")),
        (["thread", "pitch", "value"], True),
        (["thread", "pitch", "u95"], -1.0),
        (["thread", "crest_form"], "wavy"),
        (["covariance"], None),
        (["covariance", "order"], ["pitch"]),
        (["covariance", "matrix", 0, 1], 7.0),
    ],
)
def test_what_is_no_measurement_is_refused(path: list[str | int], value: object) -> None:
    with pytest.raises(MeasurementDocumentError):
        thread_from_dict(damaged(path, value))


json_values = st.recursive(
    st.none() | st.booleans() | st.floats() | st.integers() | st.just(10**400) | st.text(max_size=5),
    lambda inside: st.lists(inside, max_size=3) | st.dictionaries(st.text(max_size=5), inside, max_size=3),
    max_leaves=8,
)


@given(st.data(), json_values)
def test_any_damage_is_refused_or_gives_finite_numbers(data: st.DataObject, value: Any) -> None:
    key = data.draw(st.sampled_from(sorted(mould()["thread"])))
    document = {**mould(), "thread": {**mould()["thread"], key: value}}
    try:
        thread = thread_from_dict(document)
    except MeasurementDocumentError:
        return
    assert np.isfinite([thread.pitch.value, thread.pitch_diameter.value, thread.pitch.u95]).all()


def test_a_quantity_without_bound_says_nothing_of_it() -> None:
    plain = Quantity(2.4, 0.001, "mm")
    assert plain.to_dict() == {"value": 2.4, "u95": 0.002, "unit": "mm"}
    assert quantity_from_dict(plain.to_dict()) == plain
    assert Quantity(2.4, 0.001, "mm", 0.005).to_dict()["one_sided"] == 0.005
