"""``flankwise series --chart`` and ``--wall``: threads on paper."""

from __future__ import annotations

from cli.errors import CommandLineError, say
from cli.output import write_json
from cli.target import file_to_write


def write_chart(chart: str | None, wall: str | None, *, as_json: bool) -> None:
    """Write the chart of all threads, or that of the workshop's own series, as PDF.

    Raises CommandLineError for a name or place that will not do, and where there is no own series to show.
    """
    option, text = ("--chart", chart) if chart is not None else ("--wall", wall or "")
    target = file_to_write(option, text, (".pdf",))
    from records.report.thread_chart import chart_pdf, wall_pdf
    from threads.shared.whole_file import write_whole

    made = chart_pdf() if chart is not None else wall_pdf()
    if made is None:
        raise CommandLineError("there is no series of your own yet: 'flankwise series add --example' shows how")
    try:
        write_whole(target, made.content)
    except OSError as error:
        raise CommandLineError(f"{option} {text}: {error.strerror or 'it cannot be written'}") from error
    if as_json:
        found = {"path": str(target), "pages": made.pages, "threads": made.threads}
        write_json({"schema": "flankwise/thread_chart/1", **found})
        return
    say(f"{made.threads} threads on {made.pages} pages, written to {target}")
