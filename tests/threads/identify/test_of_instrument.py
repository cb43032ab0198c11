"""A screw as part of its instrument: the other screws' posterior over systems in place of commonness."""

from __future__ import annotations

import pytest

from tests.threads.measured_factory import measured_thread
from threads.identify.commonness import shares
from threads.identify.identification import Identification, identify
from threads.identify.of_instrument import OfInstrument
from threads.identify.systems import system_of
from threads.standards.series import series_names

BETWEEN = measured_thread(2.80, 2.412, 0.635)
"""A 4-40 that lies in zones of NC and UNC alike."""


def system_shares(found: Identification) -> dict[str, float]:
    told: dict[str, float] = {}
    for one in found.candidates:
        system = system_of(one.limits.series)
        told[system] = told.get(system, 0.0) + one.probability
    return told


def others(**systems: float) -> OfInstrument:
    names = {"american": "American National", "unified": "Unified", "metric": "ISO metric"}
    return OfInstrument("marine sextant", 8, {names[name]: p for name, p in systems.items()}, 0.1)


@pytest.mark.parametrize(("given", "first"), [({"american": 0.99, "unified": 0.01}, "NC"), ({"unified": 1.0}, "UNC")])
def test_the_other_screws_tell_which_of_two_systems_it_is(given: dict[str, float], first: str) -> None:
    alone, found = identify(BETWEEN), identify(BETWEEN, as_part_of=others(**given))
    assert found.candidates[0].limits.series == first
    assert system_shares(found)[system_of(first)] > max(0.9, system_shares(alone)[system_of(first)])
    by_itself = {one.designation: one.probability for one in alone.candidates}
    for one in found.candidates[:3]:
        assert one.probability_measurement_only == pytest.approx(by_itself[one.designation])
    assert "as_part_of" in [note.key for note in found.notes]


def test_screws_that_tell_nothing_change_nothing() -> None:
    """The factor is (1 - r) + r where the posterior is what the systems count beforehand."""
    share = shares(series_names(), known_origin=False)
    beforehand: dict[str, float] = {}
    for name, p in share.items():
        beforehand[system_of(name)] = beforehand.get(system_of(name), 0.0) + p
    alone = identify(BETWEEN)
    found = identify(BETWEEN, as_part_of=OfInstrument("sextant", 3, beforehand, 0.1))
    for one, other in zip(alone.candidates, found.candidates, strict=True):
        assert other.probability == pytest.approx(one.probability)


def test_a_later_replacement_stays_what_it_is() -> None:
    found = identify(measured_thread(2.95, 2.62, 0.5), as_part_of=others(american=1.0))
    assert found.candidates[0].limits.series == "M"
    assert found.status == "identified"
