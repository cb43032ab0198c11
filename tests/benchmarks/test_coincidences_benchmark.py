"""The benchmark of nearly equal threads, in short: two of its forty pictures."""

import numpy as np
import pytest

from benchmarks.coincidences import PAIRS, outcome_of
from threads.standards.designation import parse


@pytest.mark.slow
@pytest.mark.parametrize("number", [2, 3])
def test_the_true_thread_is_kept_and_no_other_identified(number):
    found = outcome_of(*PAIRS[number], np.random.default_rng([1, number]))
    assert found.kept
    assert not found.wrong


def test_there_are_forty_pairs_of_known_threads():
    assert len(set(PAIRS)) >= 40
    assert all(parse(one).entry != parse(other).entry for one, other in PAIRS)
