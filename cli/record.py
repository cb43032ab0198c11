"""``flankwise record``: the parts register. One module for each group of its commands."""

from __future__ import annotations

HELP = "The parts register: every screw documented before the overhaul, and found again in ten years."

COMMANDS = {
    "add": "cli.record_add:add",
    "list": "cli.record_find:list_parts",
    "show": "cli.record_show:show",
    "search": "cli.record_find:search",
    "find-like": "cli.record_find:find_like",
    "label": "cli.record_show:label",
    "note": "cli.record_note:note",
    "replacement": "cli.record_note:replacement",
    "correct": "cli.record_correct:correct",
    "report": "cli.record_report:report",
    "export": "cli.record_exchange:export",
    "import": "cli.record_exchange:import_parts",
    "backup": "cli.record_keep:backup",
    "restore": "cli.record_keep:restore",
    "verify": "cli.record_keep:verify",
}
