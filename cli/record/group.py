"""``flankwise record``: the parts register. One module for each group of its commands."""

from __future__ import annotations

HELP = "The parts register: every screw documented before the overhaul, and found again in ten years."

COMMANDS = {
    "add": "cli.record.add:add",
    "list": "cli.record.find:list_parts",
    "show": "cli.record.show:show",
    "search": "cli.record.find:search",
    "find-like": "cli.record.find:find_like",
    "label": "cli.record.label:label",
    "note": "cli.record.note:note",
    "replacement": "cli.record.replacement:replacement",
    "die": "cli.record.die:die",
    "dies": "cli.record.die:dies",
    "hole": "cli.record.hole:hole",
    "trial": "cli.record.hole:trial",
    "correct": "cli.record.correct:correct",
    "instrument": "cli.record.instrument:instrument",
    "report": "cli.record.report:report",
    "drawing": "cli.record.drawing:drawing",
    "tray": "cli.record.tray:tray",
    "map": "cli.record.map:draw_map",
    "letterhead": "cli.record.letterhead:letterhead",
    "export": "cli.record.exchange:export",
    "import": "cli.record.exchange:import_parts",
    "backup": "cli.record.keep:backup",
    "restore": "cli.record.keep:restore",
    "verify": "cli.record.keep:verify",
    "repair": "cli.record.keep:repair",
}
