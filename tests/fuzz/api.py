"""The calls of ``import flankwise`` on a measured part, with arguments that make no sense, or nearly.

Each gives its result, whose JSON has numbers only, or raises ``Refused`` or a ValueError that can be shown.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

import flankwise
from flankwise.reasons import message
from tests.fuzz.recipe import Recipe
from tests.fuzz.words import word_of
from threads.shared.refusal import ReasonedError

_SAMPLES = Path(__file__).resolve().parents[2] / "sample_images"
_LENGTHS: tuple[Any, ...] = (
    "3mm", "0.24mm", "20mm", "1/8in", 3.0, 0.0, -1.0, 1e308, 1e-308, float("nan"), float("inf"), "0mm", 7,
    10**400, True,
)  # fmt: skip
_YEARS: tuple[Any, ...] = (1938, "1930-1940", (1930, 1940), (1940, 1930), -1, "x", 10**30, (1938,), (), 0, 1938.5)
_COUNTRIES: tuple[Any, ...] = ("US", "GB", "united states", "", "XX", "u\x00s", "é" * 300)
_THREADS = ("4-40 NC-2", "4-40 UNC-2A", "4-40", "M3", "M2.5 x 0.45", "2 BA", "4-40 UNC-2B", "1-8 UNC-3A")


@cache
def _part() -> flankwise.Part:
    pins = [(_SAMPLES / f"pin_{n}_bench_a.png", n / 1000) for n in (1000, 2500)]
    bench = flankwise.calibrate(pins=pins, pin_u95="1um", working_distance="telecentric")
    return flankwise.measure(_SAMPLES / "sextant_index_arm_screw_4-40_bench_a.png", bench)


def _length(recipe: Recipe) -> Any:
    length = recipe.choice(_LENGTHS)
    return word_of(length, recipe) if isinstance(length, str) and recipe.number(2) else length


def _thread(recipe: Recipe) -> str:
    thread = recipe.choice(_THREADS)
    return word_of(thread, recipe) if recipe.number(2) else thread


def _identify(recipe: Recipe) -> Any:
    series = recipe.choice((None, (), ("UNC",), ("no such",), ("",), ("UNC", "UNC"), ("BA", "NC")))
    stated = recipe.choice((None, ("NC", "drawing"), ("NC", "nobody"), ("", "word"), "4-40 NC-2", _thread(recipe)))
    return flankwise.identify(
        _part(), origin=recipe.choice((None, *_COUNTRIES)), made=recipe.choice((None, *_YEARS)), series=series,
        stated=stated,
    )  # fmt: skip


def _check(recipe: Recipe) -> Any:
    more = {name: _length(recipe) for name in ("engagement", "over_wires", "over_wires_u95", "wire", "wire_u95")
            if recipe.number(3) == 0}  # fmt: skip
    return flankwise.check(_part(), _thread(recipe), **more)


def _play(recipe: Recipe) -> Any:
    more = {"overhang": _length(recipe)} if recipe.number(2) else {}
    if recipe.number(2):
        more["original_class"] = _thread(recipe)
    return flankwise.play(_part(), _thread(recipe), engagement=_length(recipe), draws=100, **more)


def _hole(recipe: Recipe) -> Any:
    moved = [(_part(), _length(recipe), _length(recipe), *([_length(recipe)] if recipe.number(2) else []))]
    stopped: list[Any] = [(_part(), recipe.choice((1.0, -1.0, 0, float("nan"), float("inf"), 1e308)))]
    return flankwise.hole(
        _thread(recipe), _length(recipe), went_in=[_part()] * recipe.number(2), moved=moved * recipe.number(2),
        stopped=stopped * recipe.number(2), depth=_length(recipe) if recipe.number(2) else None,
    )  # fmt: skip


def _cut(recipe: Recipe) -> Any:
    settings = ("open 1/4 turn", "closed 1/8", "90°", "", "1e999 turns", "mark 3", "½")
    attempts = [(_part(), word_of(recipe.choice(settings), recipe)) for _ in range(recipe.number(4))]
    return flankwise.cut_to_fit(_thread(recipe) if recipe.number(2) else _part(), attempts)


def _calibrate(recipe: Recipe) -> Any:
    """Without a picture that can be read: what is stated is looked at before."""
    pins = [(_SAMPLES / "none.png", _length(recipe)) for _ in range(recipe.number(3))]
    return flankwise.calibrate(pins=pins, pin_u95=_length(recipe), working_distance=_length(recipe))


_CALLS: tuple[Callable[[Recipe], Any], ...] = (_check, _check, _check, _cut, _calibrate, _play, _hole, _identify)


def one(data: bytes) -> None:
    recipe = Recipe(data)
    try:
        answer = recipe.choice(_CALLS)(recipe)
    except ReasonedError as refusal:
        assert message(refusal)
        assert "\n" not in message(refusal)
    except ValueError as error:
        assert str(error)
    else:
        assert str(answer)
        json.dumps(answer.to_dict(), allow_nan=False)
