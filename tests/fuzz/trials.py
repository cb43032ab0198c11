"""Holes and what was tried in them, filed by another program, and judged; and files of holes."""

from __future__ import annotations

import math
from functools import cache
from typing import Any

from flankwise.holes import hole
from records.holes import judge_filed_hole, screw_of_document
from records.register import Register
from tests.fuzz.filed import filed
from tests.fuzz.recipe import Recipe, spoilt_document
from tests.fuzz.refused import assert_plain
from tests.records.dies_on_file import measured
from threads.hole.hole_document import tried_hole
from threads.shared.refusal import RefusalError


def _used(register: Register) -> None:
    with register.reading() as connection:
        for (part,) in connection.execute("SELECT part_id FROM holes").fetchall():
            answer = judge_filed_hole(connection, part)
            if answer is not None:
                assert math.isfinite(answer.found.pitch_diameter.median)
                assert all(answer.sentences())


@cache
def hole_file() -> dict[str, Any]:
    return hole("4-40", 3.0, went_in=[screw_of_document("a screw", measured(2.41))]).to_dict()


def one(data: bytes) -> None:
    recipe = Recipe(data)
    if recipe.number(8) == 0:
        filed(recipe, ("holes", "trials"), _used)
        return
    try:
        found = tried_hole(spoilt_document(hole_file(), recipe), "hole.json")
    except RefusalError as refusal:
        assert_plain(refusal)
        return
    assert list(found.pitch_diameters) == sorted(found.pitch_diameters)
    assert all(map(math.isfinite, found.pitch_diameters))
    assert 0 <= found.follows < 1
