"""Why something is refused, or what to know about a result: a code with values, never a sentence.

The sentences stand in one table, ``flankwise/reasons``, in English and German, for the command line and the window.
"""

from __future__ import annotations

import os
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, TypeAlias

from threads.shared.quantity import COVERAGE_FACTOR, Quantity

Value: TypeAlias = "str | int | float | Quantity | Reason | tuple[Value, ...]"
"""What a sentence is filled with; lengths in mm, angles in degrees. A tuple is a list of names, numbers or reasons."""

Given: TypeAlias = "Value | os.PathLike[str] | None"
"""What may be handed over for it: a path is taken as its text, None as what an operating system does not say."""


@dataclass(frozen=True, init=False)
class Reason:
    """One reason, warning or piece of advice.

    Attributes:
        key: which row of the table says it: the code, or the code and one of its cases (``no_part.thin``).
        items: the values by name, as pairs.
        where: the part (its number) or the picture (its path) that is meant, where there are several.
        told: the sentence as a document has it from which this was read; empty where it was not.
    """

    key: str
    items: tuple[tuple[str, Value], ...]
    where: int | str | None
    told: str = field(compare=False)

    def __init__(self, key: str, /, **values: Given) -> None:
        self._set(key, values)

    def _set(self, key: str, values: Mapping[str, Given], where: int | str | None = None, told: str = "") -> None:
        object.__setattr__(self, "key", key)
        object.__setattr__(self, "items", tuple((name, _as_value(value)) for name, value in values.items()))
        object.__setattr__(self, "where", where)
        object.__setattr__(self, "told", told)

    @property
    def code(self) -> str:
        """The stable code, one for all cases."""
        return self.key.partition(".")[0]

    @property
    def values(self) -> dict[str, Value]:
        """The values by name."""
        return dict(self.items)

    def at(self, where: int | str) -> Reason:
        """The same of one of several parts (its number) or pictures (its path)."""
        placed = Reason(self.key)
        placed._set(self.key, self.values, where, self.told)
        return placed

    def __str__(self) -> str:
        """The sentence of the document that it comes from, else key and values: for logs, not for a person."""
        values = ", ".join(f"{name}={value!s}" for name, value in self.items)
        return self.told or (f"{self.key} ({values})" if values else self.key)

    def to_dict(self) -> dict[str, Any]:
        """The JSON form but for its sentence: ``message`` is the reason itself, which whoever writes the JSON words."""
        case = self.key.partition(".")[2]
        plain: dict[str, Any] = {"code": self.code, "message": self}
        if case:
            plain["case"] = case
        if self.items:
            plain["values"] = {name: _plain(value) for name, value in self.items}
        return plain

    @classmethod
    def from_dict(cls, plain: Mapping[str, Any]) -> Reason:
        """The reason of a document; ``told`` is its message, which stands for it where its values are not there.

        Raises KeyError, TypeError, ValueError: it is no such dict.
        """
        code, told, case = plain["code"], plain["message"], plain.get("case", "")
        if not (isinstance(code, str) and isinstance(told, str) and isinstance(case, str)):
            raise TypeError("a reason is a code and a message")
        read = cls(f"{code}.{case}" if case else code)
        read._set(read.key, {str(name): _read(value) for name, value in dict(plain.get("values", {})).items()})
        if told != str(read):  # written without words: there is no sentence to keep
            read._set(read.key, read.values, told=told)
        return read


class ReasonedError(Exception):
    """An error that says its reasons as data.

    Attributes:
        reasons: at least one, the most important first.
    """

    def __init__(self, first: str | Reason, /, *more: Reason, **values: Given) -> None:
        super().__init__(first, *more)
        self.reasons: tuple[Reason, ...] = (first if isinstance(first, Reason) else Reason(first, **values), *more)

    @property
    def code(self) -> str:
        """The code of the first reason."""
        return self.reasons[0].code

    @property
    def values(self) -> dict[str, Value]:
        """The values of the first reason."""
        return self.reasons[0].values

    def __str__(self) -> str:
        return "; ".join(map(str, self.reasons))


class RefusalError(ReasonedError):
    """Raised when a picture, gauge or file is refused. The command line ends with exit code 3."""


def _as_value(given: Any) -> Value:
    if isinstance(given, tuple):
        return tuple(_as_value(one) for one in given)
    if given is None:
        return "unknown"
    if hasattr(given, "item"):  # numpy's numbers
        return given.item()
    return os.fspath(given) if isinstance(given, os.PathLike) else given


def _plain(value: Value) -> Any:
    if isinstance(value, (Quantity, Reason)):
        return value.to_dict()
    return [_plain(one) for one in value] if isinstance(value, tuple) else value


def _read(value: Any) -> Value:
    if isinstance(value, dict):
        if "code" in value:
            return Reason.from_dict(value)
        return Quantity(float(value["value"]), float(value["u95"]) / COVERAGE_FACTOR, str(value["unit"]))
    if isinstance(value, list):
        return tuple(_read(one) for one in value)
    if isinstance(value, (str, int, float)):
        return value
    raise TypeError("a value is a text, a number, a quantity or a reason")
