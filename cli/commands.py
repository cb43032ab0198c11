"""The commands by name. A command's module is loaded when it is asked for, so that each one starts quickly."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from importlib import import_module

import typer

COMMANDS = {
    "calibrate": "cli.calibrate:calibrate",
    "measure": "cli.measure:measure",
    "identify": "cli.identify:identify",
    "check": "cli.check:check",
    "compare": "cli.compare:compare",
    "play": "cli.play:play",
    "hole": "cli.hole:hole",
    "batch": "cli.batch:batch",
    "limits": "cli.limits:limits",
    "wires": "cli.wires:wires",
    "gui": "cli.gui:gui",
    "about": "cli.about:about",
    "series": "cli.own_series:app",
    "record": "cli.record.group:COMMANDS",
}
"""Module and function, in the order of the help; or the module's group ``app``; or its own ``COMMANDS``, a group whose
help is the module's ``HELP``. ``COMMAND_CLASS`` in a module is the class of its command, if not typer's own."""


def new_group(text: str, epilog: str | None = None, *, completion: bool = False) -> typer.Typer:
    """A group without commands, ``text`` its help. ``completion``: with the options that set up a shell's Tab key."""
    return typer.Typer(
        name="flankwise",
        help=text,
        epilog=epilog,
        add_completion=completion,
        rich_markup_mode=None,
        no_args_is_help=True,
    )


def add_commands(group: typer.Typer, typed: Sequence[str], commands: Mapping[str, str] = COMMANDS) -> None:
    """Add the command that is ``typed`` first to ``group``; all of them where that is not the name of one."""
    asked = typed[0] if typed and typed[0] in commands else None
    for name in [asked] if asked else commands:
        path, _, what = commands[name].partition(":")
        module = import_module(path)
        found = getattr(module, what)
        if isinstance(found, typer.Typer):
            group.add_typer(found, name=name)
        elif callable(found):
            group.command(name, cls=getattr(module, "COMMAND_CLASS", None))(found)
        else:
            below = new_group(module.HELP)
            add_commands(below, typed[1:] if asked else (), found)
            group.add_typer(below, name=name)
