"""Lengths and angles on the command line: always with their unit."""

from __future__ import annotations

from collections.abc import Callable

from cli.errors import CommandLineError
from flankwise.reasons import message
from threads.shared import typed

MM_PER_UNIT = typed.MM_PER_UNIT


def parse_length(text: str, what: str = "a length") -> float:
    """``threads.shared.typed.parse_length``. Raises CommandLineError for what is no length."""
    return _read(typed.parse_length, text, what)


def parse_angle(text: str, what: str = "an angle") -> float:
    """``threads.shared.typed.parse_angle``. Raises CommandLineError for what is no angle."""
    return _read(typed.parse_angle, text, what)


def parse_percent(text: str, what: str = "a share") -> float:
    """``threads.shared.typed.parse_percent``. Raises CommandLineError for what is no share."""
    return _read(typed.parse_percent, text, what)


def _read(parse: Callable[[str, str], float], text: str, what: str) -> float:
    try:
        return parse(text, what)
    except typed.TypedError as error:
        raise CommandLineError(message(error)) from error
