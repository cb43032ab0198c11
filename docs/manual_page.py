"""Write the manual page from the commands' own help: ``python docs/manual_page.py`` prints it.

``docs/flankwise.1`` is what it printed last; a test compares the two.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))  # runs in a checkout that is not installed

import typer

from cli.commands import COMMANDS, add_commands, new_group

SUMMARY = "measure a screw thread from a backlit picture, and say which thread it is"
ENDS = (
    ("0", "done"),
    ("1", "a defect of the program; it says where the log is"),
    ("2", "the command line is wrong"),
    ("3", "the picture, gauge or file was refused"),
    ("4", "check: the part does not conform"),
    ("5", "check: the measurement cannot tell"),
)
CAUTION = (
    "Where a thread carries load, pressure or people, do not rely on this: have it checked with gauges by someone "
    "qualified."
)


def escaped(text: str) -> str:
    """``text`` for a line of a manual page: no sign in it is taken for a request."""
    plain = " ".join(text.split()).replace("\\", "\\e").replace("-", "\\-")
    return f"\\&{plain}" if plain[:1] in {".", "'"} else plain


def _command(command: Any, words: str) -> Iterator[str]:
    subcommands = getattr(command, "commands", {})
    yield f".SS {escaped(words)}"
    yield escaped(command.help or "")
    for parameter in command.params:
        about = getattr(parameter, "help", None)
        if not about or "--help" in parameter.opts:
            continue
        option = parameter.opts[0].startswith("-")
        names = ", ".join(parameter.opts) if option else parameter.metavar or parameter.name.upper()
        metavar = parameter.metavar if option else None
        yield ".TP"
        yield f"\\fB{escaped(names)}\\fR" + (f" \\fI{escaped(metavar)}\\fR" if metavar else "")
        yield escaped(about)
    for name, one in subcommands.items():
        yield from _command(one, f"{words} {name}")


def manual_page() -> str:
    """The whole page, in the language of man(7)."""
    group = new_group(SUMMARY)
    add_commands(group, ())
    commands = typer.main.get_command(group).commands  # type: ignore[attr-defined]  # it is a group
    lines = [
        '.\\" written by docs/manual_page.py',
        ".TH FLANKWISE 1",
        ".SH NAME",
        f"flankwise \\- {SUMMARY}",
        ".SH SYNOPSIS",
        "\\fBflankwise\\fR \\fICOMMAND\\fR [\\fIOPTION\\fR]... [\\fIARGUMENT\\fR]...",
        ".SH DESCRIPTION",
        "Lengths carry a unit (2.500mm, 0.0984in, 25um). Every command that reports numbers takes \\fB\\-\\-json\\fR.",
        "\\fBflankwise \\-\\-install\\-completion\\fR sets up the Tab key of the shell.",
        ".SH COMMANDS",
    ]
    for name in COMMANDS:
        lines += _command(commands[name], name)
    lines.append(".SH EXIT STATUS")
    for code, means in ENDS:
        lines += [".TP", code, escaped(means)]
    lines += [
        ".SH ENVIRONMENT",
        ".TP",
        "FLANKWISE_DATA",
        "The folder of own series, the history of the bench and the parts register.",
        ".TP",
        "FLANKWISE_DEBUG",
        "With 1, a defect shows its traceback.",
        ".SH CAUTION",
        escaped(CAUTION),
    ]
    return "\n".join(lines) + "\n"


if __name__ == "__main__":
    sys.stdout.reconfigure(encoding="utf-8")  # type: ignore[union-attr]  # it is the stream of a process
    sys.stdout.write(manual_page())
