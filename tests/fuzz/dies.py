"""Dies, what they cut and how they were set: filed by another program and learnt from; and settings as typed."""

from __future__ import annotations

import math

from records.dies import dies_for_part, states_on_file
from records.register import Register
from tests.fuzz.filed import filed
from tests.fuzz.recipe import Recipe
from tests.fuzz.words import word_of
from threads.cutting.setting import setting_of

_SETTINGS = ("open 1 1/4 turns", "closed a quarter turn", "90°", "½ turn", "mark 3,5", "zu 1/8 Umdrehung", "-2")


def _used(register: Register) -> None:
    with register.reading() as connection:
        for state in states_on_file(connection):
            assert state.to_dict()
        assert dies_for_part(connection, 1).to_dict(1)


def one(data: bytes) -> None:
    recipe = Recipe(data)
    if recipe.number(8) == 0:
        filed(recipe, ("dies", "replacements"), _used)
        return
    setting = setting_of(word_of(recipe.choice(_SETTINGS), recipe))
    assert setting is None or math.isfinite(setting.value)
