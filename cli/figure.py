"""``--figure``: where a picture of the result goes, looked at before anything is measured."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path
from types import ModuleType
from typing import TYPE_CHECKING, Annotated

import typer

from cli.errors import CommandLineError, say
from cli.target import file_to_write

if TYPE_CHECKING:
    from matplotlib.figure import Figure

SUFFIXES = (".png", ".svg", ".pdf")
HELP = "Draw the result: a file that ends in .png, .svg or .pdf."

FigureFile = Annotated[str | None, typer.Option("--figure", metavar="FILE", help=HELP)]


def figure_target(text: str | None, *pictures: str, one_thread: bool = True) -> Path | None:
    """The file to draw into, None where none was asked for.

    ``pictures`` are the files that are read; ``one_thread`` False where there is more than one to draw. Raises
    CommandLineError for another suffix, a place that cannot be written to, and a file that is there and was not drawn
    by this program: a photograph is not overwritten by a slip.
    """
    if text is None:
        return None
    if not one_thread:
        raise CommandLineError("--figure draws one thread: leave out --all-parts and --stitch")
    target = file_to_write("--figure", text, SUFFIXES)
    if any(Path(os.path.realpath(target)) == Path(os.path.realpath(picture)) for picture in pictures):
        raise CommandLineError(f"--figure {text} is the picture to be measured: choose another name")
    if target.exists():
        from records.figures.file import is_figure

        if not is_figure(target):
            raise CommandLineError(f"--figure {text} exists and is no figure of this program: choose another name")
    return target


def write_figure(target: Path | None, draw: Callable[[ModuleType], Figure]) -> None:
    """Draw and write all or nothing; nothing at all without a target.

    ``draw`` is given the module ``records.figures.pages``, loaded only now. Raises CommandLineError where the file
    cannot be written.
    """
    if target is None:
        return
    from records.figures import pages
    from records.figures.file import save_figure

    try:
        save_figure(lambda: draw(pages), target)
    except OSError as error:
        why = error.strerror or "it cannot be written"
        raise CommandLineError(f"--figure {target}: {why}") from error
    say(f"figure written to {target}")
