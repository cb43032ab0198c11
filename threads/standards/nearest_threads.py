"""The known threads nearest to what was written, in diameter and pitch."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

from threads.rules.series_tables import MM_PER_INCH, Entry
from threads.standards import spelling
from threads.standards.series import entries

SHOWN = 3

# Who types a wrong figure mostly has the diameter right: a diameter 1 % off counts as much as a pitch 3 % off.
_DIAMETER, _PITCH = 3.0, 1.0
_OTHER_SERIES = 0.05  # as much as a pitch 5 % off
_OTHER_UNIT = 1.0  # millimetres written, inches meant, or the other way round: only where nothing else is near
_NUMBER_D0, _NUMBER_STEP = 0.060, 0.013  # in: machine screw number n is 0.060 + 0.013 n (ASME B1.1, A.S.M.E. 1907)
_NUMBER_RATIO = 0.9  # pitch of number n, mm: 0.9^n, and its diameter 6 p^1.2 (Thury; BA rounds it)
_SAME = 1e-3  # relative; decimals of an inch round by as much
_INCH_FROM_TPI = 20  # a whole number with up to so many threads to the inch may be a diameter in inches

_NUMBER = r"(?:\d{1,2}-)?\d{1,3}/\d{1,2}|\d{1,3}\.\d{1,5}|\.\d{1,5}|\d{1,4}"
_SIZE = re.compile(rf"(?P<before>[a-zö]*)(?P<diameter>{_NUMBER})(?:[x-](?P<pitch>{_NUMBER})(?![a-z]*\d))?")


@dataclass(frozen=True)
class Guess:
    """One way to take what was written: diameter and pitch, mm (None: not written)."""

    diameter: float
    pitch: float | None
    inch: bool


def nearest(guesses: list[Guess], series: tuple[str, ...]) -> tuple[Entry, ...]:
    """The sizes nearest to any of ``guesses``, the nearest first, those of ``series`` (as written) before others."""
    if not guesses:
        return ()
    ranked = sorted(entries(), key=lambda entry: min(_distance(entry, guess, series) for guess in guesses))
    return tuple(ranked[:SHOWN])


def fits(entry: Entry, guesses: list[Guess]) -> bool:
    """Whether one of ``guesses`` is ``entry``, in diameter and pitch."""
    return any(guess.pitch is not None and _distance(entry, guess, ()) < _SAME for guess in guesses)


def guesses_of(written: str, *, metric: bool, numbered: str | None) -> list[Guess]:
    """What the first size in ``written`` (compact, lower case) may be; none where there is no size.

    ``metric``: lengths in it are millimetres. ``numbered``: the series, where it is one of numbers.
    """
    found = _SIZE.search(written.replace(" ", "-"))
    if found is None:
        return []
    diameter, pitch = spelling.inches(found["diameter"]), found["pitch"]
    step = spelling.inches(pitch) if pitch else 0.0
    if numbered:
        listed = next((entry for entry in entries(numbered) if entry.size == found["diameter"]), None)
        if listed:
            return [Guess(listed.major_mm, listed.pitch_mm, inch=False)]
        number_pitch = _NUMBER_RATIO ** min(diameter, 99)
        return [Guess(6 * number_pitch**1.2, number_pitch, inch=False)]
    if diameter <= 0 and set(found["diameter"]) != {"0"}:
        return []
    if metric and diameter > 0:
        return [Guess(diameter, step or None, inch=False)]
    inch_pitch = MM_PER_INCH / step if step else None
    whole = found["diameter"].isdigit()
    guesses = []
    if not whole or (diameter > 0 and (not step or step <= _INCH_FROM_TPI)):
        guesses.append(Guess(diameter * MM_PER_INCH, inch_pitch, inch=True))
    if whole:
        number = _NUMBER_D0 + _NUMBER_STEP * diameter
        if set(found["diameter"]) == {"0"}:  # 00, 000: each nought is a number less
            number = _NUMBER_D0 - _NUMBER_STEP * (len(found["diameter"]) - 1)
        guesses.append(Guess(number * MM_PER_INCH, inch_pitch, inch=True))
    return guesses


def _distance(entry: Entry, guess: Guess, series: tuple[str, ...]) -> float:
    off = _DIAMETER * abs(math.log(entry.major_mm / guess.diameter))
    if guess.pitch is not None:
        off += _PITCH * abs(math.log(entry.pitch_mm / guess.pitch))
    if series and entry.series not in series:
        off += _OTHER_SERIES
    return off + (_OTHER_UNIT if (entry.threads_per_inch is not None) != guess.inch else 0.0)
