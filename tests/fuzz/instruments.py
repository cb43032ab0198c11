"""Instruments, their positions and what is stated of them: filed by another program, and judged together."""

from __future__ import annotations

from flankwise.reasons import sentence
from records.instrument_page import instrument_page
from records.register import Register
from records.statements import stated_in
from tests.fuzz.filed import filed
from tests.fuzz.recipe import Recipe
from tests.fuzz.words import word_of

_NOTES = (
    "stated: NC, by drawing, weight 20; source: sheet 3",
    "stated: BA, by word",
    "stated: 4-40 NC-2, by catalogue",
)


def _used(register: Register) -> None:
    with register.reading() as connection:
        numbers = [number for (number,) in connection.execute("SELECT id FROM instruments")]
    for number in numbers:
        assert sentence(instrument_page(register, number).verdict)


def one(data: bytes) -> None:
    recipe = Recipe(data)
    if recipe.number(8) == 0:
        filed(recipe, ("instruments", "positions", "notes", "jobs", "parts"), _used)
        return
    found = stated_in([word_of(recipe.choice(_NOTES), recipe)])
    assert found is None or (found.series and 0 < found.weight < float("inf"))
