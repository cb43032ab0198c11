"""What is typed: designations, lengths, angles, shares and years."""

from __future__ import annotations

import math
from functools import cache

from tests.fuzz.recipe import Recipe, spoilt
from tests.fuzz.refused import assert_plain
from threads.shared import typed
from threads.standards.designation import UnknownDesignationError, known_designations, parse

_QUANTITIES = (
    "2.500mm", "0.0984in", "25um", "1/8in", "1-1/2in", "2deg", "2.5°", "0.2%", "1938", "1930-1940", '1/4"', "2,5mm",
    "1e3um", "+.5mm", "0/0in", "1e999mm",
)  # fmt: skip
_PIECES = (
    "-", "UNC", "nut", "x", "M", " ", "#", "BA", "2A", "6g", "6H", ".", "/", "1", "20", "é", "\n", "²", "٣", "½", "0",
    "BSW", "SI", "mm", "in", "%", "°", "e9", "\x00", "−", "µ", "999999", "nan", "inf",
)  # fmt: skip


@cache
def designations() -> tuple[str, ...]:
    """Every one that the tables have, of screws and nuts."""
    return (*known_designations(internal=False), *known_designations(internal=True))


def word_of(seed: str, recipe: Recipe) -> str:
    if recipe.number(3) == 0:
        return spoilt(seed.encode(), recipe).decode("utf-8", "replace")
    text = seed
    for _ in range(recipe.number(5)):
        at = recipe.number(len(text) + 1)
        text = text[:at] + recipe.choice(_PIECES) + text[at + recipe.number(3) :]
    return recipe.choice((text, text, text.lower(), text.upper(), text * (1 + recipe.number(2000))))


def one(data: bytes) -> None:
    recipe = Recipe(data)
    if recipe.number(2):
        _designation(word_of(recipe.choice(designations()), recipe), recipe.choice((None, True, False)))
        return
    word = word_of(recipe.choice(_QUANTITIES), recipe)
    for read in (typed.parse_length, typed.parse_angle, typed.parse_percent):
        try:
            value = read(word)
        except typed.TypedError as error:
            assert_plain(error)
        else:
            assert math.isfinite(value)
            assert value >= 0
    try:
        first, last = typed.parse_years(word)
    except typed.TypedError:
        return
    assert 0 <= first <= last <= 9999


def _designation(word: str, internal: bool | None) -> None:
    try:
        found = parse(word, internal=internal)
    except UnknownDesignationError as error:
        assert_plain(error)
        return
    again = parse(found.text, internal=found.internal)
    assert again == found, (found.text, again)
    assert found.entry.pitch_mm > 0
