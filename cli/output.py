"""Everything that goes to stdout goes through here: one JSON object, or text and tables for a person."""

from __future__ import annotations

import io
import json
import shutil
import sys
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from cli.errors import CommandLineError, ReaderGoneError
from threads.shared.plain_json import plain

if TYPE_CHECKING:
    from rich.console import RenderableType

PIPED_WIDTH = 120
"""Columns of a table that goes to a file or a pipe."""

LEAST_WIDTH = 60


def write(text: str) -> None:
    """Write ``text`` to stdout and flush it.

    Raises ReaderGoneError where the other end of the pipe is closed, CommandLineError where stdout cannot take it.
    """
    try:
        sys.stdout.write(text)
        sys.stdout.flush()
    except BrokenPipeError as error:
        raise ReaderGoneError from error
    except OSError as error:
        raise CommandLineError(f"the result cannot be written to where it was sent: {error.strerror}") from error


def write_json(content: Mapping[str, Any]) -> None:
    """Write ``content`` as one JSON object; a number that is not finite becomes null."""
    write(json_text(content) + "\n")


def json_text(content: Mapping[str, Any]) -> str:
    """``content`` as JSON text in ASCII, so that no terminal setting can spoil it."""
    return json.dumps(plain(content), indent=2, allow_nan=False)


def can_show(signs: str) -> bool:
    """Whether stdout's encoding has all of ``signs``."""
    try:
        signs.encode(sys.stdout.encoding or "ascii")
    except (UnicodeError, LookupError):
        return False
    return True


def width() -> int:
    """Columns that a line may have."""
    return max(shutil.get_terminal_size().columns, LEAST_WIDTH) if sys.stdout.isatty() else PIPED_WIDTH


class _Collected(io.StringIO):
    """Text on its way to stdout: rich asks its file for the encoding, to choose signs that can be shown."""

    @property
    def encoding(self) -> str:  # type: ignore[override]
        return sys.stdout.encoding or "utf-8"


def show(*parts: RenderableType) -> None:
    """Write text and tables for a person to stdout, one under the other; colour and width as stdout has them."""
    from rich.console import Console

    on_terminal = sys.stdout.isatty()
    collected = _Collected()
    screen = Console(
        file=collected, force_terminal=on_terminal, width=width(), highlight=False, markup=False, emoji=False
    )
    for part in parts:
        screen.print(part, soft_wrap=isinstance(part, str) and not on_terminal)
    write("".join(f"{line.rstrip()}\n" for line in collected.getvalue().splitlines()))
