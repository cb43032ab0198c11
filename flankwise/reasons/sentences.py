"""Renders a reason: the row of its key, the places filled with its values by the one formatter of quantities.

A place is ``{name}``, ``{name:format}`` or ``{name!w}``, which puts a word in the language of the sentence. Formats
besides Python's own::

    length       an exact length in mm, with its unit          probability  a share of 1 in per cent
    difference   a small length in mm without its sign         angle        a small angle in degrees without its sign
    and, or      a list with that word before its last         times        a factor, one digit after the dot below 10
    facts        a list with semicolons                        sentences    a list of reasons as whole sentences
    um           a quantity in mm, in micrometres              u95          "12 µm (± 3 µm)" of a quantity in mm
    span         "2.723 mm to 2.845 mm" of two lengths

A quantity without a format is written with its U95; a reason within a reason as its sentence without the full stop.
"""

from __future__ import annotations

import string
from collections.abc import Mapping
from typing import Any

from flankwise.reasons.table import COMMAND_LINE, ENGLISH, GERMAN, german_words, rows
from threads.shared.formatting import (
    format_difference,
    format_length,
    format_lengths,
    format_probability,
    format_quantity,
)
from threads.shared.quantity import Quantity
from threads.shared.refusal import Reason, ReasonedError

_JOINS = {"and": {ENGLISH: "and", GERMAN: "und"}, "or": {ENGLISH: "or", GERMAN: "oder"}}
_MOST_TIMES = 20.0
"""A factor beyond this is said to be over it: such a ratio is known to a digit at best."""


def sentence(
    reason: Reason, *, language: str = ENGLISH, place: str = COMMAND_LINE, inches: bool = False, to_do: bool = True
) -> str:
    """``reason`` in one line: what is the matter and, with ``to_do``, what to do about it.

    One that was read from a document says what stands there (in German: only where its values are not known).
    """
    row = rows().get(reason.key)
    if row is None or (reason.told and language == ENGLISH):
        return str(reason)
    fill = _Filled(language, place, inches)
    parts = row.texts(language, place)
    try:
        filled = (fill.vformat(text, (), reason.values) for text in (parts if to_do else parts[:1]))
        return fill.where(reason.where) + " ".join(text for text in filled if text)
    except (KeyError, ValueError, TypeError, IndexError, AttributeError, OverflowError):
        return str(reason)


def message(error: BaseException, *, language: str = ENGLISH, place: str = COMMAND_LINE, inches: bool = False) -> str:
    """All reasons of an error in one line; of an error without reasons what it says itself."""
    if not isinstance(error, ReasonedError):
        return str(error)
    return " ".join(sentence(one, language=language, place=place, inches=inches) for one in error.reasons)


def word(text: str, language: str) -> str:
    """A single word, such as the name of a quantity or a verdict, in the language; as it is where it is not known."""
    return german_words().get(text, text) if language == GERMAN else text


def chance(probability: float, language: str) -> str:
    """A probability in per cent, in the language: "over 99 %", "über 99 %"."""
    first, *rest = format_probability(probability).split(" ", 1)
    return " ".join((word(first, language), *rest))


class _Filled(string.Formatter):
    def __init__(self, language: str, place: str, inches: bool) -> None:
        self.language, self.place, self.inches = language, place, inches

    def where(self, where: int | str | None) -> str:
        """What stands before the sentence where it is one of several parts or pictures."""
        if isinstance(where, int):
            return f"{'Teil' if self.language == GERMAN else 'part'} {where}: "
        return f"{where}: " if where else ""

    def get_value(self, key: int | str, _args: Any, kwargs: Mapping[str, Any]) -> Any:
        return kwargs[str(key)]

    def convert_field(self, value: Any, conversion: str | None) -> Any:
        if conversion != "w":
            return super().convert_field(value, conversion)
        if isinstance(value, tuple):
            return tuple(word(str(one), self.language) for one in value)
        return word(str(value), self.language)

    def format_field(self, value: Any, spec: str) -> str:
        if isinstance(value, Reason):
            return sentence(value, language=self.language, place=self.place, inches=self.inches).rstrip(".")
        if isinstance(value, tuple):
            return self._listed(value, spec)
        if isinstance(value, Quantity):
            return self._quantity(value, spec)
        return str(value) if spec in _JOINS else self._number(value, spec)

    def _number(self, value: Any, spec: str) -> str:
        if spec == "length":
            return format_length(float(value), inches=self.inches)
        if spec in {"difference", "angle"}:
            return format_difference(abs(float(value)), "mm" if spec == "difference" else "deg", inches=self.inches)
        if spec == "probability":
            return chance(float(value), self.language)
        if spec == "times":
            return _times(float(value), self.language)
        return format(value, spec)

    def _listed(self, values: tuple[Any, ...], spec: str) -> str:
        if spec == "span":
            return f" {'bis' if self.language == GERMAN else 'to'} ".join(format_lengths(values, inches=self.inches))
        if spec == "sentences":
            return " ".join(
                sentence(one, language=self.language, place=self.place, inches=self.inches) for one in values
            )
        each = [self.format_field(one, "" if spec in (*_JOINS, "facts") else spec) for one in values]
        if spec in _JOINS and len(each) > 1:
            return f"{', '.join(each[:-1])} {_JOINS[spec][self.language]} {each[-1]}"
        return ("; " if spec == "facts" else ", ").join(each)

    def _quantity(self, value: Quantity, spec: str) -> str:
        if spec == "difference":
            return format_difference(abs(value.value), value.unit, inches=self.inches)
        if spec == "u95":
            each = (format_difference(abs(x), value.unit, inches=self.inches) for x in (value.value, value.u95))
            return "{} (± {})".format(*each)
        if spec == "um" and value.unit == "mm" and not self.inches:
            value = Quantity(1000 * value.value, 1000 * value.standard_uncertainty, "um", 1000 * value.one_sided)
        return format_quantity(value, inches=self.inches)


def _times(factor: float, language: str) -> str:
    if factor > _MOST_TIMES:
        return f"{'über' if language == GERMAN else 'over'} {_MOST_TIMES:.0f}"
    return f"{factor:.1f}" if factor < 9.95 else f"{factor:.0f}"
