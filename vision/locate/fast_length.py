"""Lengths that a fast Fourier transform is fast for."""

from __future__ import annotations


def fast_length(least: int) -> int:
    """The smallest length of at least ``least`` that has no prime factors but 2, 3 and 5.

    >>> fast_length(1021)
    1024
    """
    best = 1 << (least - 1).bit_length()
    five = 1
    while five < best:
        odd = five
        while odd < best:
            best = min(best, odd << max(0, (-(-least // odd) - 1).bit_length()))
            odd *= 3
        five *= 5
    return best
