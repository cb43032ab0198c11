"""``flankwise record show``: one part with everything on file about it."""

from __future__ import annotations

import json
from dataclasses import asdict
from typing import TYPE_CHECKING, Any

from cli import options
from cli.output import show as show_parts
from cli.output import write_json
from cli.record.places import made_words
from cli.register import PartNumber, RegisterFile, opened, part_number

if TYPE_CHECKING:
    from cli.tables import Table
    from records.entries import FiledMeasurement, Instrument, Part
    from records.register import Register


def show(
    part: PartNumber,
    register: RegisterFile = None,
    unit: options.Unit = "mm",
    as_json: options.Json = False,
) -> None:
    """Show a part: where it belongs, what was measured, what it is, what was done about it."""
    inches = options.reads_inches(unit)
    number = part_number(part)
    from cli.record.hole import hole_blocks
    from cli.refusals import refusals_reported
    from records.holes import judge_filed_hole
    from records.reading import read_part

    with refusals_reported(as_json=as_json):
        file = opened(register)
        with file.reading() as connection:
            found = read_part(connection, number)
            tried = None if found.hole is None else judge_filed_hole(connection, number)
    if as_json:
        more = {} if found.hole is None else {"hole_found": None if tried is None else tried.to_dict()}
        write_json({**part_document(found, file), **more})
        return
    measured = [] if found.hole is not None and found.measurement is None else _measured_parts(found, inches=inches)
    of_hole = [] if found.hole is None else hole_blocks(found.hole, tried, inches=inches)
    show_parts(*_place_lines(found), *of_hole, *measured, *_history_lines(found, file))


def part_document(part: Part, register: Register) -> dict[str, Any]:
    """A part as JSON, its documents in full and the paths of its pictures."""
    document = asdict(part)
    for trial in (document["hole"] or {}).get("trials", ()):
        trial["document"] = json.loads(trial.pop("text") or "null")
    for measurement, filed in zip(document["measurements"], part.measurements, strict=True):
        measurement["document"] = filed.document
        del measurement["text"]
    for picture in document["pictures"]:
        picture["path"] = str(register.store.original(picture["sha256"], picture["suffix"]))
    counts = part.measurement
    return {
        "schema": "flankwise/part/1", "measurement_that_counts": None if counts is None else counts.id, **document
    }  # fmt: skip


def _place_lines(part: Part) -> list[str]:
    head = f"part {part.id}" + (f": {part.name}" if part.name else "") + (" (withdrawn)" if part.withdrawn else "")
    lines = [head]
    if part.instrument is not None:
        lines.append(f"on {_instrument_words(part.instrument)}" + (f", {part.position.name}" if part.position else ""))
        if part.instrument.owner_note:
            lines.append(f"owner: {part.instrument.owner_note}")
    if part.job is not None:
        lines.append(f"job {part.job.name}")
    return [*lines, f"filed {part.added[:10]} by {part.who}"]


def _instrument_words(instrument: Instrument) -> str:
    facts = [
        instrument.maker,
        instrument.model,
        f"no. {instrument.serial}" if instrument.serial else None,
        made_words(instrument.made) or None,
        instrument.country,
    ]
    known = ", ".join(fact for fact in facts if fact)
    return f"{instrument.name} ({known})" if known else instrument.name


def _measured_parts(part: Part, *, inches: bool) -> list[str | Table]:
    counts = part.measurement
    if counts is None:
        return ["", "not measured"]
    from cli.tables import plain_table
    from flankwise.reasons import sentence
    from threads.shared.formatting import format_quantity
    from threads.shared.quantity_words import QUANTITIES
    from threads.shared.refusal import RefusalError

    try:
        thread = counts.thread
    except RefusalError as refusal:
        return ["", sentence(refusal.reasons[0])]
    table = plain_table("", "measured")
    for name, words in QUANTITIES:
        quantity = getattr(thread, name)
        if quantity is not None and not (name == "lead" and thread.starts == 1):
            table.add_row(words, format_quantity(quantity, inches=inches))
    calibration = counts.document["calibration"]
    behind = f"calibration {counts.calibration_name}" if counts.calibration_name else str(calibration["id"])
    doubt = "" if calibration["traceable"] else ": no gauge stands behind it"
    warnings = [f"warning: {warning['message']}" for warning in counts.document["quality"]["warnings"]]
    how = f"measured {counts.measured[:10]} by {counts.who}, {behind}{doubt}, flankwise {counts.version}"
    return ["", table, "", how, *warnings, *_identity_lines(counts, inches=inches)]


def _identity_lines(measurement: FiledMeasurement, *, inches: bool) -> list[str]:
    from flankwise.making import making_lines, making_of_designation
    from records.from_memory import FOOTNOTE, MARK, checked_from_memory, identified_from_memory, marked
    from threads.shared.formatting import format_probability

    lines, from_memory = [], False
    found = measurement.identification
    if found is not None:
        from_memory = identified_from_memory(found.document)
        named = [
            marked(one["designation"], from_memory=one.get("unverified", False))
            + f" {format_probability(one['probability'])}"
            for one in found.document["candidates"][:4]
            if one["probability"] is not None
        ]
        says = (
            "fits no series in the tables"
            if found.status == "no_match"
            else f"{marked(found.says, from_memory=from_memory)}: {', '.join(named)}"
        )
        lines.append(f"identity {says}")
        if found.status != "no_match" and found.designation is not None:
            making = making_of_designation(found.designation)
            lines += [] if making is None else making_lines(making, inches=inches)
    for check in measurement.checks:
        against = marked(check.against, from_memory=checked_from_memory(check.document))
        lines.append(f"check against {against}: {check.verdict.replace('_', ' ')} ({check.added[:10]})")
    return [*lines, FOOTNOTE] if any(MARK in line for line in lines) else lines


def _history_lines(part: Part, register: Register) -> list[str]:
    from cli.record.hole import trial_lines

    lines = [f"note {note.added[:10]} {note.who}: {note.text}" for note in part.notes if not note.withdrawn]
    for made in part.replacements:
        if not made.withdrawn:
            facts = (("die", made.die), ("setting", made.setting), ("stock", made.stock), ("", made.remark))
            how = ", ".join(f"{word} {fact}".strip() for word, fact in facts if fact)
            which = f" (part {made.made_part})" if made.made_part else ""
            lines.append(f"replacement made {made.made}{which}: {how}")
    lines += [] if part.hole is None else trial_lines(part.hole)
    counts = part.measurement
    for other in part.measurements:
        if counts is not None and other.id != counts.id:
            state = ", withdrawn" if other.withdrawn else ""
            lines.append(f"measurement {other.id} of {other.measured[:10]} by {other.who}{state}")
    for change in part.corrections:
        why = f" ({change.why})" if change.why else ""
        what = f"{change.table.removesuffix('s')}, {change.column.replace('_', ' ')}"
        lines.append(f"corrected {change.added[:10]} {change.who}: {what}: {change.before} -> {change.after}{why}")
    for picture in part.pictures:
        shows = f" ({picture.shows})" if picture.shows else ""
        path = register.store.original(picture.sha256, picture.suffix)
        lines.append(f"picture {picture.file_name}{shows}: {path}")
    return ["", *lines] if lines else []
