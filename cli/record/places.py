"""``flankwise record list instruments`` and ``jobs``."""

from __future__ import annotations

from dataclasses import asdict

from cli.output import show, write_json
from cli.register import opened
from cli.tables import plain_table


def list_places(what: str, register: str | None, *, as_json: bool) -> None:
    """List the instruments or the jobs on file with the number of their parts."""
    from cli.refusals import refusals_reported
    from records import reading

    with refusals_reported(as_json=as_json):
        file = opened(register)
        with file.reading() as connection:
            instruments = reading.instruments(connection)
            jobs = reading.jobs(connection)
            counted = reading.part_counts(connection, what)
    if as_json:
        entries = instruments if what == "instruments" else jobs
        write_json({
            "schema": f"flankwise/{what}/1",
            what: [{**asdict(entry), "parts": counted.get(entry.id, 0)} for entry in entries],
        })  # fmt: skip
        return
    if what == "instruments":
        table = plain_table(
            "no.", "instrument", "maker", "model", "serial", "made", "country", "parts", right=("parts",)
        )
        for one in instruments:
            words = [text or "" for text in (one.maker, one.model, one.serial, made_words(one.made), one.country)]
            table.add_row(str(one.id), one.name, *words, str(counted.get(one.id, 0)))
    else:
        names = {one.id: one.name for one in instruments}
        table = plain_table("no.", "job", "instrument", "begun", "parts", right=("parts",))
        for job in jobs:
            instrument = "" if job.instrument is None else names[job.instrument]
            table.add_row(str(job.id), job.name, instrument, job.added[:10], str(counted.get(job.id, 0)))
    show(table if counted or instruments or jobs else f"no {what} on file")


def made_words(made: tuple[int, int] | None) -> str:
    """First and last year of making, as typed: 1938, 1930-1940; empty where it is not known."""
    if made is None:
        return ""
    return str(made[0]) if made[0] == made[1] else f"{made[0]}-{made[1]}"
