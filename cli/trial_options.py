"""Options that say which screws went in, stopped or moved: each takes one or more values, and may be repeated."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from typer.core import TyperCommand

from cli.errors import CommandLineError
from cli.lengths import parse_length
from cli.register import part_number
from flankwise.holes import length_or_zero
from flankwise.reasons import message
from threads.shared.typed import TypedError

WENT_IN, STOPPED, STOPPED_AFTER, MOVED = "--went-in", "--stopped", "--stopped-after", "--moved"

_VALUES = {
    WENT_IN: (None, "--went-in takes the pictures of screws that went in: --went-in a.png b.png 'part 3'"),
    STOPPED: (None, "--stopped takes the pictures of screws that did not go in: --stopped c.png 'part 4'"),
    STOPPED_AFTER: (2, "--stopped-after takes a picture and the turns: --stopped-after c.png 2.5"),
    MOVED: (
        3,
        "--moved takes a picture, the movement from side to side, and the overhang: --moved a.png 0.42mm 20mm",
    ),
}
_SIGNS = ("±", "+/-", "+-")


class TrialOptions(TyperCommand):
    """A command with these options. ``--went-in A B`` is ``--went-in A --went-in B``; ``part 3`` is one word."""

    def parse_args(self, ctx: Any, args: list[str]) -> list[str]:
        """Split, then parse as any command does. Raises CommandLineError where a value is missing."""
        return super().parse_args(ctx, split(args))


def split(arguments: Sequence[str]) -> list[str]:
    """One value an option; everything else as it is. Raises CommandLineError where a value is missing."""
    found: list[str] = []
    left = list(arguments)
    while left:
        option, equals, first = left.pop(0).partition("=")
        if option not in _VALUES:
            found.append(option + equals + first)
            continue
        count, words = _VALUES[option]
        values = [first] if equals else []
        while left and not _is_option(left[0]) and (count is None or len(values) < count):
            if left[0].lower() in ("part", "no.") and len(left) > 1 and left[1].lstrip("#").isdigit():
                values.append(f"part {left[1]}")
                del left[:2]
            else:
                values.append(left.pop(0))
        if not values or (count is not None and len(values) < count):
            raise CommandLineError(words)
        found += [f"{option}={value}" for value in values]
    return found


def _is_option(word: str) -> bool:
    """Whether ``word`` begins another option; a length below zero does not, and is refused with its own message."""
    return len(word) > 1 and word[0] == "-" and not (word[1].isdigit() or word[1] == ".")


@dataclass(frozen=True)
class Typed:
    """A trial as typed: ``picture``, a path or the number of a part; lengths in mm."""

    picture: str
    part: int | None
    outcome: str
    turns: float | None = None
    movement: float | None = None
    movement_u95: float | None = None
    overhang: float = 0.0


def typed_trials(
    went_in: Sequence[str], stopped: Sequence[str], stopped_after: Sequence[str], moved: Sequence[str]
) -> list[Typed]:
    """The trials in these options, as ``split`` leaves them. Raises CommandLineError."""
    found = [Typed(one, part_of(one), "went_in") for one in went_in]
    found += [Typed(one, part_of(one), "stopped") for one in stopped]
    for picture, turns in zip(stopped_after[::2], stopped_after[1::2], strict=True):
        found.append(Typed(picture, part_of(picture), "stopped", turns=read_turns(turns)))
    for picture, movement, overhang in zip(moved[::3], moved[1::3], moved[2::3], strict=True):
        way, u95 = read_movement(movement)
        out = read_way(overhang, "the overhang")
        found.append(Typed(picture, part_of(picture), "moved", movement=way, movement_u95=u95, overhang=out))
    return found


def part_of(text: str) -> int | None:
    """The number in "part 12"; None for a picture."""
    kind, _, number = text.strip().partition(" ")
    return part_number(number) if kind.lower() == "part" and number.strip() else None


def read_turns(text: str) -> float:
    """Turns as typed, 2.5. Raises CommandLineError."""
    try:
        return float(text.replace(",", "."))
    except ValueError as error:
        raise CommandLineError(f"{text!r} is no number of turns, such as 2.5") from error


def read_movement(text: str) -> tuple[float, float | None]:
    """A movement as typed, in mm, with its U95 where it has one: 0.42mm, 0.42mm+-0.02mm. Raises CommandLineError."""
    for sign in _SIGNS:
        value, found, u95 = text.partition(sign)
        if found:
            return read_way(value, "the movement"), parse_length(u95.strip(), "its U95")
    return read_way(text, "the movement"), None


def read_way(text: str, what: str) -> float:
    """A movement or an overhang in mm; 0mm is one. Raises CommandLineError."""
    try:
        return length_or_zero(text.strip(), what)
    except TypedError as error:
        raise CommandLineError(message(error)) from error
