"""``flankwise batch``: every picture of a folder, a row each; given again, it goes on from where it stopped."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from cli import options
from cli.bench import bench_of, scale_of
from cli.errors import CommandLineError, ExitCode, say
from cli.identify import check_evidence
from cli.output import show, write_json
from cli.refusals import refusals_reported
from cli.years import parse_made

if TYPE_CHECKING:
    from rich.progress import Progress, TaskID

    from flankwise.bench import Bench
    from records.batch.run import Spread, Summary
    from records.batch.work import Outcome, Settings

MOST_NAMED = 20
"""Pictures without a measurement that are named on the screen; the file names all."""


def batch(
    folder: Annotated[str, typer.Argument(metavar="FOLDER", help="The folder with the pictures.")],
    output: Annotated[
        str, typer.Option("--output", "-o", metavar="RESULTS.csv", help="The file of results: made, or continued.")
    ],
    calibration: options.CalibrationFile = None,
    focus_locked: options.FocusLocked = False,
    scale: options.Scale = None,
    surface: options.Surface = None,
    recursive: Annotated[bool, typer.Option("--recursive", help="Take the folders in the folder, too.")] = False,
    identify: Annotated[bool, typer.Option("--identify", help="Identify each part: columns for its identity.")] = False,
    origin: Annotated[
        str | None, typer.Option("--origin", metavar="CC", help="With --identify: country of the instrument.")
    ] = None,
    made: Annotated[
        str | None, typer.Option("--made", metavar="YEAR", help="With --identify: when it was made.")
    ] = None,
    series: Annotated[
        list[str] | None, typer.Option("--series", metavar="NAME", help="With --identify: only this series.")
    ] = None,
    jobs: Annotated[
        int | None,
        typer.Option("--jobs", min=1, max=256, metavar="N", help="Processes side by side; one a core if not said."),
    ] = None,
    executor: Annotated[
        str,
        typer.Option("--executor", metavar="processes|dask", help="Where: in processes here, or on a Dask cluster."),
    ] = "processes",
    scheduler: Annotated[
        str | None,
        typer.Option("--scheduler", metavar="ADDRESS", help="Of the Dask cluster, which sees the same folder."),
    ] = None,
    as_json: options.Json = False,
) -> None:
    """Measure every picture of a folder.

    Ends with 0 where all were measured, 3 where some were not.
    """
    um_per_px = scale_of(calibration, scale)
    years = None if made is None else parse_made(made)
    chosen = tuple(series or ())
    if (origin or made or series) and not identify:
        raise CommandLineError("--origin, --made and --series say what may be identified: give --identify with them")
    if identify:
        check_evidence(origin, years, chosen or None)
    from records.batch.run import run_batch
    from records.batch.work import pictures_in
    from threads.shared.refusal import RefusalError

    with refusals_reported(as_json=as_json):
        place = Path(folder)
        bench = bench_of(calibration, um_per_px, focus_locked=focus_locked)
        settings = _settings(
            bench,
            identify=identify,
            origin=origin,
            made=years,
            series=chosen,
            surface=options.read_surface(surface),
        )
        spread = _spread(executor, scheduler, jobs)
        pictures = _pictures(place, list(pictures_in(place, recursive=recursive)) if place.is_dir() else None)
        target = _target(output, pictures)
        summary: Summary | None = None
        unmeasured: list[Outcome] = []
        with _progress(len(pictures)) as (bar, task):
            try:
                for outcome, summary in run_batch(place, pictures, target, settings, spread):
                    if outcome.code and len(unmeasured) < MOST_NAMED:
                        unmeasured.append(outcome)
                    bar.update(task, completed=summary.done, description=_so_far(summary))
            except KeyboardInterrupt:
                bar.stop()
                done = 0 if summary is None else summary.done
                say(f"stopped: {done} of {len(pictures)} pictures have their rows; the same command again goes on")
                raise
        assert summary is not None
        if not summary.anything_measured:
            _say_unmeasured(unmeasured)
            raise RefusalError("nothing_measured", pictures=len(pictures), folder=folder, target=target)
    if as_json:
        write_json({**summary.to_dict(), "calibration": settings.bench.plane.id, "settings": settings.key})
    else:
        _show(summary, unmeasured)
    if summary.unmeasured:
        raise typer.Exit(ExitCode.REFUSED)


def _settings(
    bench: Bench | None,
    *,
    identify: bool,
    origin: str | None,
    made: tuple[int, int] | None,
    series: tuple[str, ...],
    surface: str | None,
) -> Settings:
    from records.batch.work import Settings
    from records.filing import program_version
    from records.series_on_file import series_on_file

    assert bench is not None
    on_file = series_on_file() if identify else {}
    return Settings(bench, program_version(), identify, origin, made, series, on_file, surface)


def _spread(executor: str, scheduler: str | None, jobs: int | None) -> Spread:
    """Where the work is done. Raises CommandLineError."""
    if executor == "processes":
        if scheduler is not None:
            raise CommandLineError("--scheduler goes with --executor dask")
        from records.batch.processes import by_processes, cores

        count = jobs or cores()
        return lambda work, tasks, died: by_processes(work, tasks, count, died)
    if executor != "dask":
        raise CommandLineError(f"--executor {executor!r} is not one of processes, dask")
    if scheduler is None:
        raise CommandLineError("--executor dask needs --scheduler with the address of the cluster's scheduler")
    if jobs is not None:
        raise CommandLineError("--jobs counts processes on this machine: a cluster has its own workers")
    from records.batch.cluster import by_cluster

    return lambda work, tasks, died: by_cluster(work, tasks, scheduler, died)


def _pictures(folder: Path, found: list[Path] | None) -> list[Path]:
    """Raises RefusalError no_folder, no_pictures."""
    from threads.shared.refusal import RefusalError

    if found is None:
        raise RefusalError("no_folder", folder=folder)
    if not found:
        raise RefusalError("no_pictures", folder=folder)
    return found


def _target(output: str, pictures: list[Path]) -> Path:
    """Raises CommandLineError where the results would go into something that is no file for them."""
    target = Path(output)
    if target.is_dir():
        raise CommandLineError(f"-o {output} is a folder: name the file to write, such as results.csv")
    if not target.parent.is_dir():
        raise CommandLineError(f"-o {output}: there is no folder {target.parent}")
    if target.exists() and any(target.samefile(picture) for picture in pictures if picture.exists()):
        raise CommandLineError(f"-o {output} is one of the pictures: choose another name")
    return target


@contextmanager
def _progress(count: int) -> Iterator[tuple[Progress, TaskID]]:
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, TextColumn, TimeRemainingColumn
    from rich.progress import Progress as Bar

    columns = (BarColumn(), MofNCompleteColumn(), TimeRemainingColumn(), TextColumn("{task.description}"))
    with Bar(*columns, console=Console(stderr=True)) as bar:
        yield bar, bar.add_task("", total=count)


def _so_far(summary: Summary) -> str:
    counts = summary.counts
    refused = counts["refused"] + counts["failed"]
    skipped = f", {counts['skipped']} on file already" if counts["skipped"] else ""
    return f"{counts['measured']} measured, {refused} not{skipped}"


def _show(summary: Summary, unmeasured: list[Outcome]) -> None:
    from cli.tables import plain_table

    lines = [f"{summary.folder}: {summary.pictures} pictures, {_so_far(summary)} ({summary.seconds:.1f} s)"]
    if summary.repaired:
        lines.append("the last row had been broken off: it was cut, and its picture measured again")
    show(*lines)
    if unmeasured:
        table = plain_table("not measured", "why", whole=("not measured",))
        for one in unmeasured:
            table.add_row(one.name, one.message)
        left = summary.counts["refused"] + summary.counts["failed"] - len(unmeasured)
        show("", table, *([f"and {left} more"] if left else []))
    rows = f"the rows are in {summary.results}"
    many = f"{summary.unmeasured} of its pictures were" if summary.unmeasured > 1 else "one of its pictures was"
    show("", f'{rows}; {many} not measured, and the column "message" says why' if summary.unmeasured else rows)


def _say_unmeasured(unmeasured: list[Outcome]) -> None:
    for one in unmeasured[:3]:
        say(f"{one.name}: {one.message}")
