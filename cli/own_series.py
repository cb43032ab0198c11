"""``flankwise series``, its parts: show the series, add a workshop's own one, remove it."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Any

import typer
from typer.core import TyperCommand, TyperGroup

from cli import options
from cli.errors import CommandLineError
from cli.output import show, write, write_json
from cli.series import series
from flankwise.reasons import message

SHOW = "show"
MOST_REASONS = 20


class NameOrCommand(TyperGroup):
    """``series NAME`` and ``series`` alone mean ``series show``; what is no command of the group is a name."""

    def parse_args(self, ctx: Any, args: list[str]) -> list[str]:
        """Put ``show`` before everything but the group's own commands and its help."""
        named = bool(args) and (args[0] in self.commands or args[0] == "--help")
        return super().parse_args(ctx, args if named else [SHOW, *args])


class ExplainsColumns(TyperCommand):
    """A command whose help ends with the columns of the table that it reads."""

    def format_epilog(self, ctx: Any, formatter: Any) -> None:  # noqa: ARG002 - the signature is typer's
        """Write the columns and the rules; only here are the tables loaded."""
        from threads.own.own_table import COLUMNS, RULES

        with formatter.section("Columns of FILE.csv"):
            formatter.write_dl(list(COLUMNS.items()))
        formatter.write_paragraph()
        formatter.write_text(RULES)


app = typer.Typer(
    cls=NameOrCommand,
    help="Show the thread series known, or the sizes of one; add, remove or weigh a series.",
    rich_markup_mode=None,
)
app.command(SHOW, help="Show the series known, or the sizes of one (also: 'flankwise series NAME').")(series)


@app.command("add", cls=ExplainsColumns)
def add(
    file: Annotated[str | None, typer.Argument(metavar="FILE.csv", help="The sizes of the series.")] = None,
    example: Annotated[
        bool, typer.Option("--example", help="Print a file to start from, and do nothing else.")
    ] = False,
    replace: Annotated[bool, typer.Option("--replace", help="Replace your series of the same name.")] = False,
    as_json: options.Json = False,
) -> None:
    """Add a thread series of your own, which then takes part in everything.

    It is kept in your data folder, never in the program. With a fault anywhere in the file nothing is added.
    """
    from cli.refusals import refusals_reported

    if example:
        from threads.own.own_table import EXAMPLE

        write(EXAMPLE)
        return
    if file is None:
        raise CommandLineError("series add needs a file: FILE.csv; 'flankwise series add --example' prints one")
    with refusals_reported(as_json=as_json):
        _add(Path(file), replace=replace, as_json=as_json)


def _add(path: Path, *, replace: bool, as_json: bool) -> None:
    from threads.own import own_folder
    from threads.own.own_table import OwnTableError
    from threads.shared.refusal import Reason, RefusalError
    from threads.standards import own_series

    try:
        content = path.read_bytes()
    except OSError as error:
        raise RefusalError("unreadable.table", path=path, why=error.strerror) from error
    try:
        added = own_series.add(content, replace=replace)
    except OwnTableError as error:
        reasons = [Reason("own_series_fault", path=path, fault=fault.reason) for fault in error.faults[:MOST_REASONS]]
        if len(error.faults) > MOST_REASONS:
            more = len(error.faults) - MOST_REASONS
            reasons.append(Reason("own_series_fault.more", path=path, faults=more))
        raise RefusalError(*reasons) from error
    except OSError as error:
        where = own_folder.folder()
        raise RefusalError("data_folder", path=where, why=error.strerror) from error
    kept, name, sizes = own_folder.path_of(added.info.name), added.info.name, len(added.entries)
    if as_json:
        _write_done("added", name, kept, sizes)
        return
    what = "1 size" if sizes == 1 else f"{sizes} sizes"
    show(f"added {name}: {what}, {added.info.form} form, kept in {kept}", f"The sizes: flankwise series {name}")


@app.command("remove")
def remove(
    name: Annotated[str, typer.Argument(metavar="NAME", help="One of your own series.")],
    as_json: options.Json = False,
) -> None:
    """Remove a thread series of your own."""
    from cli.refusals import refusals_reported
    from threads.shared.refusal import RefusalError
    from threads.standards import own_series
    from threads.standards.series import UnknownSeriesError

    with refusals_reported(as_json=as_json):
        try:
            path = own_series.remove(name)
        except (own_series.BuiltInSeriesError, UnknownSeriesError) as error:
            raise CommandLineError(message(error)) from error
        except OSError as error:
            raise RefusalError("data_folder.remove", name=name, why=error.strerror) from error
    if as_json:
        _write_done("removed", name, path, None)
    else:
        show(f"removed {name} ({path})")


@app.command("weigh")
def weigh(
    name: Annotated[str, typer.Argument(metavar="NAME", help="A series.")],
    weight: Annotated[
        float | None, typer.Argument(metavar="[WEIGHT]", help="How common it is with you; the usual thread has 100.")
    ] = None,
    because: Annotated[str, typer.Option("--because", metavar="TEXT", help="Why, for whoever reads it later.")] = "",
    usual: Annotated[bool, typer.Option("--usual", help="Go back to the weight of the table.")] = False,
    as_json: options.Json = False,
) -> None:
    """Say how common a series is on your bench: it orders the answers where origin and year are not known."""
    from cli.refusals import refusals_reported
    from threads.identify.commonness import CommonnessError, commonness_of, forget_weight, set_weight
    from threads.shared.refusal import RefusalError
    from threads.standards.series import UnknownSeriesError

    if (weight is None) != usual:
        raise CommandLineError("series weigh takes a weight, such as 60, or --usual for that of the table")
    with refusals_reported(as_json=as_json):
        try:
            if weight is None:
                forget_weight(name)
            else:
                set_weight(name, weight, because or "set by the workshop")
            now = commonness_of(name)
        except (UnknownSeriesError, CommonnessError) as error:
            raise CommandLineError(message(error)) from error
        except OSError as error:
            raise RefusalError("data_folder.weight", why=error.strerror) from error
    if as_json:
        write_json({
            "schema": "flankwise/commonness/1", "series": now.series, "commonness": now.on_bench, "reason": now.reason,
            "own": now.own,
        })  # fmt: skip
    else:
        show(f"{now.series} counts as {now.on_bench:g}: {now.reason}")


def _write_done(status: str, name: str, path: Path, sizes: int | None) -> None:
    write_json({"schema": "flankwise/own-series/1", "status": status, "name": name, "file": str(path), "sizes": sizes})
