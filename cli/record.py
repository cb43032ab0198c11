"""``flankwise record``: the parts register. One module for each group of its commands."""

from __future__ import annotations

import typer

from cli import (
    record_add,
    record_correct,
    record_exchange,
    record_find,
    record_keep,
    record_note,
    record_report,
    record_show,
)

app = typer.Typer(
    help="The parts register: every screw documented before the overhaul, and found again in ten years.",
    rich_markup_mode=None,
    no_args_is_help=True,
)
app.command("add")(record_add.add)
app.command("list")(record_find.list_parts)
app.command("show")(record_show.show)
app.command("search")(record_find.search)
app.command("find-like")(record_find.find_like)
app.command("label")(record_show.label)
app.command("note")(record_note.note)
app.command("replacement")(record_note.replacement)
app.command("correct")(record_correct.correct)
app.command("report")(record_report.report)
app.command("export")(record_exchange.export)
app.command("import")(record_exchange.import_parts)
app.command("backup")(record_keep.backup)
app.command("restore")(record_keep.restore)
app.command("verify")(record_keep.verify)
