"""What a document or a person says of a thread, as typed: ``--stated "5-40 NC" --by drawing``."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from cli.errors import CommandLineError
from flankwise.reasons import message

if TYPE_CHECKING:
    from threads.identify.stated import Stated as Statement

Stated = Annotated[
    str | None,
    typer.Option("--stated", metavar="THREAD", help="What a document or a person says: NC, 5-40 NC or 5-40 NC-2."),
]
By = Annotated[
    str, typer.Option("--by", metavar="drawing|catalogue|word", help="Where --stated comes from: how much it counts.")
]
Weight = Annotated[
    float | None,
    typer.Option("--weight", metavar="NUMBER", help="How many times likelier --stated becomes, if not as usual."),
]


Source = Annotated[
    str | None,
    typer.Option("--source", metavar="TEXT|FILE", help="Where --stated stands: the page of a drawing, or its file."),
]


def statement(text: str | None, by: str, weight: float | None, source: str | None = None) -> Statement | None:
    """What was stated; None where nothing was. Raises CommandLineError."""
    if text is None:
        if weight is not None or source is not None:
            raise CommandLineError("--weight and --source go with --stated")
        return None
    from threads.identify.stated import StatedError, stated

    try:
        return stated(text, by, weight)
    except StatedError as error:
        raise CommandLineError(message(error)) from error
