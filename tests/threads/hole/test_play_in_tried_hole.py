"""A screw in a hole that was tried: what bench and hole have in common falls out of the clearance."""

from __future__ import annotations

import math
from dataclasses import replace
from statistics import NormalDist

import numpy as np
import pytest

from tests.threads.hole.tried import ENGAGEMENT, hole_of, screw_440, tried
from threads.hole.hole_document import as_tried, document_of, tried_hole
from threads.hole.trial import STOPPED, WENT_IN
from threads.identify.screw_evidence import CommonErrors
from threads.measured.thread import Covariance
from threads.shared.plain_json import plain
from threads.shared.refusal import RefusalError
from threads.standards.designation import parse
from threads.standards.limits import limits_of
from threads.workshop.drawn_thread import TriedHole
from threads.workshop.play import Reading, play

U_HOLE, U_OWN, U_COMMON = 0.006, 0.003, 0.004


@pytest.mark.parametrize("follows", [0.0, 0.8])
def test_the_spread_of_the_clearance_is_that_of_a_difference(follows: float) -> None:
    # hole - screw: u^2 = u_h^2 + u_s^2 - 2 r u_h u_common (JCGM 100:2008, 5.2.2); radial is half of it
    screw = screw_440(2.42, u=math.hypot(U_OWN, U_COMMON))
    order = screw.covariance.order
    common = np.zeros((len(order), len(order)))
    k = order.index("pitch_diameter")
    common[k, k] = U_COMMON**2
    sizes = tuple(2.47 + U_HOLE * NormalDist().inv_cdf((n + 0.5) / 201) for n in range(201))
    hole = TriedHole("4-40", limits_of(parse("4-40 UNC-2B")), sizes, "a", follows)
    found = play(Reading(screw, Covariance(order, common)), hole, engagement_mm=ENGAGEMENT)
    u = math.sqrt(U_HOLE**2 + U_OWN**2 + U_COMMON**2 - 2 * follows * U_HOLE * U_COMMON)
    clearance = found.screw.radial_clearance
    assert clearance.median == pytest.approx((2.47 - 2.42) / 2, abs=0.001)
    assert clearance.high95 - clearance.low95 == pytest.approx(2 * 1.96 * u / 2, rel=0.05)


def test_a_hole_follows_the_bench_of_its_screws_and_is_kept_so() -> None:
    bench = CommonErrors("bench a", offset=0.005)
    sizes = (2.440, 2.446, 2.454, 2.460)
    trials = [tried(size, WENT_IN if size < 2.45 else STOPPED, common=bench) for size in sizes]
    found = hole_of(*trials)
    assert found.bench == "bench a"
    # the bench's 5 um against a bracket of 8 um, u about 2.5 um
    assert 0.75 < found.follows < 0.97
    assert hole_of(*(replace(one, screw=replace(one.screw, common=None)) for one in trials)).follows == 0.0
    document = plain(document_of(found), str)
    assert tried_hole(document, "hole.json") == replace(
        as_tried(found),
        pitch_diameters=tuple(round(size, 6) for size in as_tried(found).pitch_diameters),
        follows=round(found.follows, 3),
    )
    for broken in ({"schema": "flankwise/play/1"}, {**document, "quantiles": [3.0, 2.0]}, {**document, "base": "M9"}):
        with pytest.raises(RefusalError) as refused:
            tried_hole(broken, "hole.json")
        assert refused.value.reasons[0].code == "not_a_hole_file"
