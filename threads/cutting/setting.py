"""How a die is set, read from what a person writes, and written for a person: turns of its screw, or a mark on a scale.

A setting is counted from wherever the person counts, always from the same place: "open 1/4 turn" is +1/4, "closed a
quarter turn" is -1/4. Degrees of its screw are turns; a number without a unit is a mark on a scale of the die's own.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from fractions import Fraction

from threads.shared.refusal import Reason

TURN, MARK = "turn", "mark"

_SIGNS = {"½": "1/2", "⅓": "1/3", "⅔": "2/3", "¼": "1/4", "¾": "3/4", "⅙": "1/6", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8",
          "⅞": "7/8"}  # fmt: skip
_WORDS = {
    "half": 1 / 2, "third": 1 / 3, "quarter": 1 / 4, "fifth": 1 / 5, "sixth": 1 / 6, "eighth": 1 / 8, "tenth": 1 / 10,
    "twelfth": 1 / 12, "sixteenth": 1 / 16,
    "halb": 1 / 2, "halbe": 1 / 2, "drittel": 1 / 3, "viertel": 1 / 4, "fünftel": 1 / 5, "sechstel": 1 / 6,
    "achtel": 1 / 8, "zehntel": 1 / 10, "zwölftel": 1 / 12, "sechzehntel": 1 / 16,
}  # fmt: skip
_COUNTS = {"a": 1, "an": 1, "one": 1, "two": 2, "three": 3, "five": 5, "seven": 7,
           "ein": 1, "eine": 1, "zwei": 2, "drei": 3, "fünf": 5, "sieben": 7}  # fmt: skip
_CLOSED = re.compile(r"\b(clos\w*|in|inwards?|tight\w*|zu|geschlossen|schließ\w*|hinein|enger)\b")
_OPEN = re.compile(r"\b(open\w*|out|outwards?|auf|geöffnet|offen|heraus|weiter)\b")
_NUMBER = r"(?:\d+\s+\d+/\d+|\d+/\d+|\d+(?:[.,]\d+)?|[.,]\d+)"
_AMOUNT = re.compile(
    rf"(?<![\w.,/])(?P<sign>[-+−]\s*)?(?P<number>{_NUMBER})(?![\d/]|[.,]\d|e\d)\s*(?:of\s+a\s+)?"
    r"(?P<unit>turns?|umdrehung(?:en)?|u\b|°|deg\w*|grad)?"
)
_MOST = 1e4

FRACTIONS = {
    "turn.1_24": 1 / 24, "turn.1_16": 1 / 16, "turn.1_12": 1 / 12, "turn.1_10": 1 / 10, "turn.1_8": 1 / 8,
    "turn.1_6": 1 / 6, "turn.1_5": 1 / 5, "turn.1_4": 1 / 4, "turn.1_3": 1 / 3, "turn.3_8": 3 / 8, "turn.1_2": 1 / 2,
    "turn.5_8": 5 / 8, "turn.2_3": 2 / 3, "turn.3_4": 3 / 4, "turn.7_8": 7 / 8, "turn.1_1": 1.0,
}  # fmt: skip
"""Of a turn, as a hand can set them."""
HARDLY = 1 / 32
"""Of a turn: less cannot be set by hand."""


@dataclass(frozen=True)
class Setting:
    """``value`` in ``unit``: turns of the die's screw, or a mark on a scale."""

    value: float
    unit: str


def setting_of(text: str | None) -> Setting | None:
    """The setting that ``text`` names; None where it has no number, or several of which none is a turn or an angle.

    >>> setting_of("open 1 1/4 turns"), setting_of("closed a quarter turn"), setting_of("90°")
    (Setting(value=1.25, unit='turn'), Setting(value=-0.25, unit='turn'), Setting(value=0.25, unit='turn'))
    """
    if text is None:
        return None
    plain = text.lower()
    for sign, written in _SIGNS.items():
        plain = re.sub(rf"(\d){sign}", rf"\1 {written}", plain).replace(sign, written)
    found = [_read(match) for match in _AMOUNT.finditer(plain)]
    told = [one for one in found if one.unit == TURN] or found or _in_words(plain)
    if len(told) != 1 or not abs(told[0].value) <= _MOST:
        return None
    one = told[0]
    signed = re.search(r"(?<![\w.,])[-+−]\s*[\d.,]", plain) is not None
    closed = not signed and _CLOSED.search(plain) is not None and _OPEN.search(plain) is None
    return Setting(-one.value if closed else one.value, one.unit)


def _read(match: re.Match[str]) -> Setting:
    parts = match["number"].replace(",", ".").split()
    try:
        value = float(sum(Fraction(part) for part in parts))
    except (ZeroDivisionError, OverflowError, ValueError):  # the last two: hundreds, and thousands, of digits
        value = math.inf
    if (match["sign"] or "").strip() in ("-", "−"):
        value = -value
    unit = match["unit"] or ""
    if unit.startswith(("°", "deg", "grad")):
        return Setting(value / 360, TURN)
    return Setting(value, TURN if unit else MARK)


def _in_words(plain: str) -> list[Setting]:
    """A setting of words only, such as "three eighths of a turn"."""
    words = [word for word in re.findall(r"[^\W\d_]+", plain) if word not in ("ganze", "whole", "full")]
    for place, word in enumerate(words):
        stem = word.removesuffix("umdrehung").removesuffix("e") if word.endswith("umdrehung") else word
        part = _WORDS.get(stem.removesuffix("s")) or _WORDS.get(stem)
        if part is not None:
            count = _COUNTS.get(words[place - 1], 1) if place else 1
            return [Setting(count * part, TURN)]
    turns = [place for place, word in enumerate(words) if word in ("turn", "turns", "umdrehung", "umdrehungen")]
    if turns and turns[0] and words[turns[0] - 1] in _COUNTS:
        return [Setting(float(_COUNTS[words[turns[0] - 1]]), TURN)]
    return []


def way_in_words(way: float, unit: str) -> Reason:
    """How far to turn, as a hand can set it: ``way`` without its sign.

    >>> way_in_words(-0.162, "turn").key, way_in_words(2.3, "turn").values
    ('turn.1_6', {'turns': 2.25})
    """
    far = abs(way)
    if unit != TURN:
        return Reason("turn.marks", marks=far)
    if far > 1 + 1 / 16:
        return Reason("turn.several", turns=round(4 * far) / 4)
    if far < HARDLY:
        return Reason("turn.hardly")
    return Reason(min(FRACTIONS, key=lambda key: abs(math.log(far / FRACTIONS[key]))))
