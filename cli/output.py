"""Everything that goes to stdout goes through here: one JSON object, or text and tables for a person."""

from __future__ import annotations

import json
import shutil
import sys
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from cli.characters import harmless, writable
from cli.errors import CommandLineError, ReaderGoneError
from cli.tables import Block, Paragraph, Table, laid_out
from flankwise.reasons import sentence
from threads.shared.plain_json import plain

PIPED_WIDTH = 120
"""Columns of a table that goes to a file or a pipe."""

LEAST_WIDTH = 20
"""What a terminal without a size, or with none to speak of, is taken for."""

NOWHERE = "stdout is closed, so there is nowhere to put the answer: leave out '>&-', or send it to a file by '> FILE'"


def write(text: str) -> None:
    """Write ``text`` to stdout and flush it.

    Raises ReaderGoneError where the other end of the pipe is closed, CommandLineError where stdout cannot take it.
    """
    if sys.stdout is None:
        raise CommandLineError(NOWHERE)
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
    return json.dumps(plain(content, sentence), indent=2, allow_nan=False)


def width() -> int:
    """Columns that a line may have."""
    return max(shutil.get_terminal_size().columns, LEAST_WIDTH) if sys.stdout.isatty() else PIPED_WIDTH


def show(*parts: Block) -> None:
    """Write text and tables for a person to stdout, one under the other; a plain text to a pipe stays one line."""
    write("".join(f"{writable(line).rstrip()}\n" for part in parts for line in lines_of(part)))


def lines_of(part: Block) -> list[str]:
    """The lines that ``show`` prints of ``part``."""
    shown = _for_the_screen(part)
    return [shown] if isinstance(shown, str) and not sys.stdout.isatty() else laid_out(shown, width())


def _for_the_screen(part: Block) -> Block:
    """``part`` in characters that stdout has and that do nothing to a terminal."""
    if isinstance(part, Table):
        heads = tuple(map(_shown, part.heads))
        return replace(part, heads=heads, rows=[tuple(map(_shown, row)) for row in part.rows])
    return Paragraph(_shown(part.text), _shown(part.first)) if isinstance(part, Paragraph) else _shown(part)


def _shown(text: str) -> str:
    return writable(harmless(text))
