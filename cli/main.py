"""The command ``flankwise``, and how each run of it ends."""

from __future__ import annotations

import gc
import os
import sys
import warnings
from collections.abc import Sequence
from contextlib import suppress
from typing import Annotated

import typer

from cli.characters import ERRORS
from cli.commands import add_commands, new_group
from cli.defects import report_defect, wants_traceback
from cli.errors import CommandLineError, CommandRefusedError, ExitCode, ReaderGoneError, say
from cli.output import NOWHERE, write, write_json
from cli.refusals import refusal_document, report_broken_series
from threads.shared.refusal import Reason

_OBJECTS_BETWEEN_COLLECTIONS = 100_000
"""Loading the program makes some 100,000 objects that all stay: with Python's own 700 they are searched for cycles a
hundred times, which takes 10 to 30 ms of each command."""


def _show_version(asked: bool) -> None:
    if asked:
        from importlib import metadata

        write(f"flankwise {metadata.version('flankwise')}\n")
        raise typer.Exit


def _options(
    version: Annotated[
        bool, typer.Option("--version", help="Show the version and exit.", is_eager=True, callback=_show_version)
    ] = False,
) -> None:
    """Measure a screw thread from a backlit picture, and say which thread it is."""


def _app(typed: Sequence[str]) -> typer.Typer:
    """The command line with the command that was ``typed``, or with all where none was."""
    app = new_group(
        "Measure a screw thread from a backlit picture, and say which thread it is.",
        "Exit codes: 0 done, 1 a defect, 2 the command line is wrong, 3 picture, gauge or file refused, "
        "4 check: does not conform, 5 check: cannot tell.",
        completion=True,
    )
    app.callback()(_options)
    add_commands(app, typed)
    return app


def main(arguments: Sequence[str] | None = None) -> int:
    """Carry out one command line and return its exit code; nothing is raised. ``arguments``: sys.argv[1:] if None."""
    typed = list(sys.argv[1:] if arguments is None else arguments)
    try:
        app = typer.main.get_command(_app(typed))
        # standalone_mode off: typer reports nothing by itself and hands its own exit codes back
        return int(app.main(args=typed, prog_name="flankwise", standalone_mode=False) or 0)
    except CommandLineError as error:
        return _wrong_command_line(f"flankwise: {error}", typed)
    except CommandRefusedError:
        return ExitCode.REFUSED
    except (ReaderGoneError, SystemExit) as end:  # typer's own printing ends a closed pipe by SystemExit
        return _printing_ended(end)
    except (KeyboardInterrupt, typer.Abort):
        return ExitCode.INTERRUPTED
    except Exception as error:  # noqa: BLE001 - the last line of defence: a person never sees a traceback
        usage = _usage_message(error)
        if usage:
            return _wrong_command_line(usage, typed)
        if report_broken_series(error, as_json="--json" in typed):
            return ExitCode.REFUSED
        report_defect(error, typed)
        return ExitCode.DEFECT


def _wrong_command_line(line: str, typed: Sequence[str]) -> ExitCode:
    """Say what is wrong in one line, and with ``--json`` in the object of a refusal too."""
    say(line)
    if "--json" in typed:
        with suppress(CommandLineError, ReaderGoneError):  # where stdout itself is what is wrong
            write_json(refusal_document([Reason("command_line", text=line.removeprefix("flankwise: "))]))
    return ExitCode.COMMAND_LINE


def run() -> None:
    """Carry out the command line of this process and end it."""
    gc.set_threshold(_OBJECTS_BETWEEN_COLLECTIONS, *gc.get_threshold()[1:])
    if not wants_traceback():
        warnings.simplefilter("ignore")  # they speak to programmers; the tests make each of them fail
    if sys.stdout is None and sys.argv[1:2] != ["gui"]:  # said before anything is filed that could not be answered
        say(f"flankwise: {NOWHERE}")
        sys.exit(ExitCode.COMMAND_LINE)
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(errors=ERRORS)  # a terminal that lacks a sign shows another for it
    sys.exit(main())


def _usage_message(error: Exception) -> str | None:
    """One line for typer's usage errors, None for any other error.

    Told by what they carry: their class has had several homes in the versions of typer that are supported.
    """
    if not hasattr(error, "format_message") or not hasattr(error, "exit_code"):
        return None
    context = getattr(error, "ctx", None)
    if type(error).__name__ == "NoArgsIsHelpError" and context is not None:
        sys.stderr.write(context.get_help() + "\n")
        return "flankwise: no command given"
    command = getattr(context, "command_path", None) or "flankwise"
    message = str(error.format_message()).rstrip(" .")
    return f"flankwise: {message} (see '{command} --help')"


def _printing_ended(end: Exception | SystemExit) -> ExitCode:
    """How printing ended that raised ``end``: the completion for a shell ends by SystemExit when it is done, too."""
    if isinstance(end, SystemExit) and not end.code:
        return ExitCode.DONE
    _let_go_of_stdout()
    return ExitCode.READER_GONE


def _let_go_of_stdout() -> None:
    """Keep the interpreter from complaining about the closed pipe once more when it ends."""
    try:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    except (OSError, ValueError, AttributeError):
        return
