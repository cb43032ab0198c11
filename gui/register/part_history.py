"""The history of a part in lines: notes, replacements, measurements, what was set right."""

from __future__ import annotations

from collections.abc import Iterator

from PySide6.QtCore import QCoreApplication

from gui.register.deeds import Whole
from records.entries import Correction, FiledMeasurement, FiledTrial
from threads.hole.trial import MOVED, STOPPED, WENT_IN
from threads.shared.formatting import format_quantity

translate = QCoreApplication.translate


def history(whole: Whole, *, inches: bool) -> list[str]:
    """What happened to a part, the latest first."""
    part = whole.part
    lines = [(note.added, note.text) for note in part.notes if not note.withdrawn]
    for made in part.replacements:
        if not made.withdrawn:
            told = ", ".join(word for word in (made.die, made.setting, made.stock, made.remark) if word)
            lines.append((made.made, translate("part history", "replacement made: {what}").format(what=told)))
    lines += [] if part.hole is None else [(one.tried, _tried(one)) for one in part.hole.trials if not one.withdrawn]
    lines += [(one.measured, _measured(one, inches=inches)) for one in part.measurements]
    lines += list(_corrected(whole))
    lines.append((part.added, translate("part history", "filed by {who}").format(who=part.who)))
    lines.sort(key=lambda line: line[0], reverse=True)
    return [f"{day[:10]}  {text}" for day, text in lines]


def _tried(one: FiledTrial) -> str:
    number = translate("part history", "part {number}").format(number=one.screw)
    screw = one.name or "" if one.screw is None else number
    return {
        STOPPED: translate("part history", "{screw} stopped in it"),
        WENT_IN: translate("part history", "{screw} went in"),
        MOVED: translate("part history", "{screw} went in and moved"),
    }[one.outcome].format(screw=screw)


def _measured(one: FiledMeasurement, *, inches: bool) -> str:
    if one.withdrawn:
        return translate("part history", "measured by {who}; withdrawn").format(who=one.who)
    size = format_quantity(one.thread.pitch_diameter, inches=inches)
    text = translate("part history", "measured by {who}: pitch diameter {size}").format(who=one.who, size=size)
    if one.calibration_name:
        text += ", " + translate("part history", "bench {name}").format(name=one.calibration_name)
    return text


def _corrected(whole: Whole) -> Iterator[tuple[str, str]]:
    words = _columns()
    for one in whole.part.corrections:
        if one.column == "withdrawn":
            if one.table == "parts":
                yield (
                    one.added,
                    translate("part history", "withdrawn") if one.after else translate("part history", "brought back"),
                )
            continue
        text = translate("part history", "{what}: {before} became {after}")
        what = words.get(one.column, one.column.replace("_", " "))
        yield (
            one.added,
            text.format(what=what, before=_value(whole, one, one.before), after=_value(whole, one, one.after)),
        )


def _value(whole: Whole, one: Correction, value: object) -> str:
    if value in (None, ""):
        return "–"
    if one.column.endswith("_id"):
        return whole.names.get((one.column, int(str(value))), str(value))
    return str(value)


def _columns() -> dict[str, str]:
    """What a person calls what can be set right."""
    return {
        "name": translate("part history", "name"),
        "instrument_id": translate("part history", "instrument"),
        "position_id": translate("part history", "position"),
        "job_id": translate("part history", "job"),
        "text": translate("part history", "note"),
        "die": translate("part history", "die"),
        "setting": translate("part history", "setting"),
        "stock": translate("part history", "stock"),
        "remark": translate("part history", "remark"),
        "made": translate("part history", "made"),
        "made_from": translate("part history", "made from"),
        "made_to": translate("part history", "made to"),
        "country": translate("part history", "country"),
        "maker": translate("part history", "maker"),
        "model": translate("part history", "model"),
        "serial": translate("part history", "serial number"),
    }
