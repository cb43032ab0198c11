"""Lengths for the Fourier transform: those that scipy takes for real data, and none that is too short."""

from __future__ import annotations

import pytest
from scipy.fft import next_fast_len

from vision.locate.fast_length import fast_length


@pytest.mark.parametrize("least", [1, 2, 7, 13, 97, 1021, 2049, 4801, 9973, 65537])
def test_it_is_scipys(least: int) -> None:
    assert fast_length(least) == next_fast_len(least, real=True)
