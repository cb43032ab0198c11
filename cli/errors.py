"""How a command ends: the exit codes of the contract and the one line that goes with each."""

from __future__ import annotations

import sys
from enum import IntEnum

from cli.characters import harmless


class ExitCode(IntEnum):
    """What the shell is told."""

    DONE = 0
    DEFECT = 1
    COMMAND_LINE = 2
    REFUSED = 3
    DOES_NOT_CONFORM = 4
    CANNOT_TELL = 5
    INTERRUPTED = 130  # 128 + SIGINT, as shells write it
    READER_GONE = 141  # 128 + SIGPIPE


class CommandLineError(Exception):
    """What was typed cannot be done as typed. The text is one line that says what to type instead."""


class ReaderGoneError(Exception):
    """Whoever read stdout has closed it (``flankwise series | head -1``)."""


class CommandRefusedError(Exception):
    """A refusal that has been reported; only the exit code is left to be given."""


def say(text: str) -> None:
    """Write ``text`` as one line to stderr that does nothing to a terminal; a closed stderr is nothing to fall over."""
    if sys.stderr is None:  # print would take stdout in its place
        return
    try:
        print(harmless(" ".join(text.split())), file=sys.stderr, flush=True)  # noqa: T201 - the place where lines are written
    except (OSError, ValueError):
        return
