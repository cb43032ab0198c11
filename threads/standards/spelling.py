"""The many spellings of a designation, brought to one before it is read.

Spaces are dropped, with one exception: a space between two digits can stand for a hyphen, for the space of a mixed
number, or for nothing at all. It is kept, and ``readings`` gives what it may mean.
"""

from __future__ import annotations

import itertools
import math
import re
from dataclasses import dataclass

LONGEST = 80
"""Characters that are read; no designation is longer."""

_MOST_GAPS = 3  # size, pitch, class and tolerance: more spaces between digits stand in no designation
_SIGNS = str.maketrans(
    dict.fromkeys("‐‑‒–—−", "-")
    | dict.fromkeys("×*✕", "x")
    | {"\u2044": "/", "″": '"', "”": '"', "№": "#"}
    | {"¼": " 1/4", "½": " 1/2", "¾": " 3/4", "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8"}
)
_FLAGS = re.ASCII | re.IGNORECASE
_REPLACED = (
    (re.compile(r",(?=\d)", _FLAGS), "."),  # decimal comma
    (re.compile(r"(?:[a-z]\.){2,}", _FLAGS), lambda found: found[0].replace(".", "") + " "),  # B.A., T.P.I.
    (re.compile(r"(?<=\d) ?(?:\"|''|inch(?:es)?\b|in\b\.?)", _FLAGS), " "),
    (re.compile(r"(?<=\d) ?(?:tpi\b|threads per inch\b)", _FLAGS), " "),
    (re.compile(r"(?:\bno\b\.?|\bnr\b\.?|\bnumber\b|#) ?(?=[\d.])", _FLAGS), ""),
    (re.compile(r"(?<=[a-z])\.(?!\d)", _FLAGS), " "),  # Whit.
)
_DROPPED_SPACE = re.compile(r"(?<![\d.]) | (?![\d.])")
_HAND = re.compile(r"-?(?P<hand>lh|left-?hand(?:ed)?|rh|right-?hand(?:ed)?)$", _FLAGS)
_BEFORE_FRACTION = re.compile(r"(?<![\d/.-])(\d{1,2}) (?=\d{1,3}/\d)", re.ASCII)


def compact(text: str) -> str:
    """``text`` in the one spelling: no inch mark, no ``No.``, a dot for the decimal comma, ``x`` for other signs.

    >>> compact('1/8" B.S.W.'), compact("No. 5 - 40 NC"), compact("M 3,5 × 0,6"), compact("M3 .5")
    ('1/8BSW', '5-40NC', 'M3.5x0.6', 'M3 .5')
    """
    if len(text) > LONGEST:
        return ""
    spelled = text.translate(_SIGNS).strip().lstrip("# ")
    for pattern, instead in _REPLACED:
        spelled = pattern.sub(instead, " ".join(spelled.split()))
    return _DROPPED_SPACE.sub("", " ".join(spelled.split()))


def without_hand(written: str) -> tuple[str, bool]:
    """What stands before ``LH`` or ``RH`` at the end, and whether the thread is left-hand.

    >>> without_hand("M10x1-LH"), without_hand("4BA")
    (('M10x1', True), ('4BA', False))
    """
    found = _HAND.search(written)
    return (written[: found.start()], found["hand"].lower().startswith("l")) if found else (written, False)


@dataclass(frozen=True)
class Readings:
    """What a compact text with spaces between digits may mean.

    ``meant``: each space as a hyphen. ``run_together``: readings that drop one or more of the spaces; the space before
    a fraction is that of a mixed number and is never dropped.
    """

    meant: str
    run_together: tuple[str, ...]


def readings(written: str) -> Readings:
    """The readings of ``written``, which is as ``compact`` gives it.

    >>> readings("M3 .5")
    Readings(meant='M3-.5', run_together=('M3.5',))
    >>> readings("1 3/16-12UN")
    Readings(meant='1-3/16-12UN', run_together=())
    """
    parts = _BEFORE_FRACTION.sub(r"\1-", written).split(" ")
    gaps = len(parts) - 1
    if gaps > _MOST_GAPS:
        return Readings("-".join(parts), ())
    ways = itertools.product(("-", ""), repeat=gaps)
    joined = ["".join(itertools.chain(*zip(parts, [*way, ""], strict=True))) for way in ways]
    return Readings(joined[0], tuple(joined[1:]))


def inches(diameter: str) -> float:
    """The diameter written as a whole, decimal, fraction or mixed number (``1-1/8``); 0 for a fraction over nothing.

    >>> inches("1-1/8"), inches(".25"), inches("3/0")
    (1.125, 0.25, 0.0)
    """
    whole, _, rest = diameter.rpartition("-")
    top, _, bottom = rest.partition("/")
    return int(whole or 0) + float(top) / (int(bottom or 1) or math.inf)
