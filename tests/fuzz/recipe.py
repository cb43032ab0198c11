"""Bytes as instructions: how a good input is to be spoilt. The same bytes always spoil it in the same way."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, TypeVar

T = TypeVar("T")

_NUMBERS = (0, 1, 2, 3, 8, 127, 128, 255, 256, 4095, 32767, 32768, 65535, 65536, 2**31 - 1, 2**31, 2**32 - 1)
_VALUES: tuple[Any, ...] = (
    None, True, False, 0, 1, -1, 0.0, -0.0, 0.5, 1e-308, 1e308, -1e308, 10**30, 2**63, 2**1100, "", "x", "0", "1e999",
    "\x00", "\ud800", "NaN", "../../etc", "=1+1", "é" * 300, [], {}, [[]], [None], {"": None}, {"value": -1},
    float("nan"), float("inf"), "a" * 5000, [[[[[[[[[[1]]]]]]]]]],
)  # fmt: skip


class Recipe:
    """Choices, one after the other; when the bytes have run out every choice is the first."""

    def __init__(self, data: bytes) -> None:
        self._data = data
        self._at = 0

    def number(self, below: int) -> int:
        """0 to ``below`` - 1."""
        if below <= 1:
            return 0
        width = (below - 1).bit_length() // 8 + 1
        taken = self._data[self._at : self._at + width]
        self._at += width
        return int.from_bytes(taken, "little") % below

    def choice(self, among: Sequence[T]) -> T:
        return among[self.number(len(among))]

    def bytes(self, most: int) -> bytes:
        size = self.number(most + 1)
        taken = self._data[self._at : self._at + size]
        self._at += size
        return taken

    def rest(self) -> bytes:
        """All that is left."""
        taken = self._data[self._at :]
        self._at = len(self._data)
        return taken

    @property
    def is_empty(self) -> bool:
        return self._at >= len(self._data)


def spoilt(seed: bytes, recipe: Recipe, *, head: int | None = None) -> bytes:
    """``seed`` after a few changes; ``head``: half of them fall into so many first bytes."""
    data = bytearray(seed)
    for _ in range(1 + recipe.number(8)):
        if recipe.is_empty:
            break
        reach = min(head, len(data)) if head is not None and recipe.number(2) else len(data)
        at = recipe.number(reach + 1)
        way = recipe.number(9)
        if way == 0 and data:
            data[at % len(data)] ^= 1 << recipe.number(8)
        elif way == 1:
            data[at : at + 1] = bytes([recipe.number(256)])
        elif way == 2:
            width = recipe.choice((1, 2, 4, 8))
            value = recipe.choice(_NUMBERS) % 256**width
            data[at : at + width] = value.to_bytes(width, recipe.choice(("little", "big")))
        elif way == 3:
            data[at:at] = recipe.bytes(16)
        elif way == 4:
            del data[at : at + 1 + recipe.number(64)]
        elif way == 5:
            del data[at:]
        elif way == 6:  # a piece from elsewhere
            start, size = recipe.number(len(data) + 1), recipe.number(200)
            data[at:at] = data[start : start + size]
        elif way == 7:
            data[at : at + 4] = recipe.bytes(8)
        else:  # over and over again
            piece = bytes(data[at : at + 1 + recipe.number(30)])
            data[at:at] = piece * (1 + recipe.number(300))
    return bytes(data)


def spoilt_document(document: Any, recipe: Recipe) -> Any:
    """A JSON document after a few changes of its values and keys; ``document`` itself is left as it is."""
    for _ in range(1 + recipe.number(4)):
        document = _changed(document, recipe, 0)
    return document


def _changed(value: Any, recipe: Recipe, depth: int) -> Any:
    inside = bool(value) and isinstance(value, dict | list) and depth < 12
    if not inside or recipe.number(6) == 0:
        return _other(value, recipe)
    if isinstance(value, list):
        out = list(value)
        i = recipe.number(len(out))
        way = recipe.number(8)
        if way == 0:
            del out[i]
        elif way == 1:
            out.append(out[i])
        else:
            out[i] = _changed(out[i], recipe, depth + 1)
        return out
    new = dict(value)
    key = recipe.choice(sorted(new))
    way = recipe.number(10)
    if way == 0:
        del new[key]
    elif way == 1:
        new[recipe.choice(("", "value", "uid", "schema", *sorted(new)))] = new.pop(key)
    elif way == 2:
        new[f"{key}_"] = new[key]
    else:
        new[key] = _changed(new[key], recipe, depth + 1)
    return new


def _other(value: Any, recipe: Recipe) -> Any:
    if isinstance(value, bool) or value is None or recipe.number(3) == 0:
        return recipe.choice(_VALUES)
    if isinstance(value, int | float) and abs(value) < 1e200:
        return recipe.choice((-value, value * 10, value // 1000, value + 1, value + 0.5e-9, str(value), [value]))
    if isinstance(value, str):
        return spoilt(value.encode("utf-8", "surrogatepass"), recipe).decode("utf-8", "replace")
    return recipe.choice(_VALUES)
