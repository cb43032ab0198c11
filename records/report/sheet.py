"""What stands on the data sheet of one part, as words: the same for paper and screen."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from flankwise.holes import HoleAnswer
from flankwise.making import making_lines, making_of_designation
from flankwise.reasons import sentence
from records.entries import FiledHole, FiledMeasurement, Part
from threads.hole.hole_words import trial_words
from threads.identify.candidate import CONDITION_WORDS
from threads.measured.measured_document import MeasurementDocumentError, possible_thread, quantity_from_dict
from threads.shared.formatting import (
    NOT_DETERMINED,
    format_length,
    format_probability,
    format_quantity,
    write_quantity,
)
from threads.shared.quantity import COVERAGE_FACTOR, Quantity
from threads.shared.quantity_words import worded
from threads.standards.designation import UnknownDesignationError, parse
from threads.standards.limits import Limits, limits_of
from threads.workshop.tools import tools_of

QUANTITIES = worded(
    "major_diameter", "pitch_diameter", "minor_diameter", "virtual_pitch_diameter", "pitch", "threads_per_inch",
    "flank_angle_left", "flank_angle_right", "included_angle", "crest_width", "root_width", "taper",
)  # fmt: skip
MARK = "†"
FROM_MEMORY = f"{MARK} Limits or sizes from memory, unverified; not checked against the printed standard."
MOST_CANDIDATES = 4
MOST_GROUPS = 3
MOST_DIES = 3
LEAST_SHOWN = 0.001
_OWN_DIMENSIONS = re.compile(r" Its own dimensions: .*?\.(?= Nearest:|$)")


@dataclass(frozen=True)
class Dimension:
    """A line of the table of dimensions; ``rest``: U95 with its sign, and the unit."""

    words: str
    value: str
    rest: str


@dataclass(frozen=True)
class GroupLine:
    """Threads that the measurement cannot tell apart: names, their probability, and what would tell them apart."""

    names: str
    probability: float
    chance: str
    told_apart_by: tuple[str, ...]


@dataclass(frozen=True)
class CandidateLine:
    """One candidate: its name, both probabilities, what origin and year say, what the part would have to be."""

    name: str
    chance: str
    by_measurement: str
    says: str
    condition: str


@dataclass(frozen=True)
class Sheet:
    """The data sheet of one part.

    ``number``: by which the register knows it. ``place``: position, or the part's own name. ``answer``: the identity in
    a few words, ``key``: the two or three dimensions that a list shows, ``kind``: threads in view, starts and hand. The
    rest are lines under their headings.
    """

    uid: str
    number: str
    place: str
    instrument: str
    answer: str
    key: str
    kind: str
    dimensions: tuple[Dimension, ...]
    groups: tuple[GroupLine, ...]
    candidates: tuple[CandidateLine, ...]
    identity_notes: tuple[str, ...]
    dies: tuple[str, ...]
    checks: tuple[str, ...]
    replacements: tuple[str, ...]
    notes: tuple[str, ...]
    behind: tuple[str, ...]
    warnings: tuple[str, ...]
    footnotes: tuple[str, ...]
    limits: tuple[Limits, ...]
    hole: tuple[str, ...] = ()
    trials: tuple[str, ...] = ()


def sheet_of(part: Part, calibration: str | None, *, inches: bool, hole: HoleAnswer | None = None) -> Sheet:
    """The sheet of ``part``; ``calibration`` is the text of the calibration file behind the measurement that counts.

    ``hole``: what its trials say, where it is a hole.
    """
    measurement = part.measurement
    document = {} if measurement is None else measurement.document
    filed = None if measurement is None else measurement.identification
    identity = {} if filed is None else filed.document
    limits = tuple(_limits_shown(identity))
    marked = any(one.get("unverified") for one in identity.get("candidates", [])[:MOST_CANDIDATES])
    years = any("unverified" in note and "Years" in note for note in identity.get("notes", []))
    footnotes = [FROM_MEMORY] if marked else []
    if years:
        footnotes.append("Years and countries of use are from memory, unverified.")
    return Sheet(
        uid=part.uid,
        number=f"part {part.id}",
        place=_place(part),
        instrument=instrument_words(part),
        answer=_answer(identity, measurement) if part.hole is None else f"tapped hole, {part.hole.thread}",
        key=_key(document, inches=inches),
        kind=_kind(document.get("thread", {})),
        dimensions=tuple(_dimensions(document, inches=inches)),
        groups=tuple(_groups(identity)),
        candidates=tuple(_candidates(identity)),
        identity_notes=tuple(
            # the table of dimensions is beside it, in the unit wanted
            _OWN_DIMENSIONS.sub("", note)
            for note in identity.get("notes", [])
            if "unverified" not in note
        ),
        dies=(*_dies(identity), *_making(identity, inches=inches)),
        checks=tuple(_checks(measurement)),
        replacements=tuple(_replacements(part)),
        notes=tuple(f"{note.text} ({note.who}, {note.added[:10]})" for note in part.notes if not note.withdrawn),
        behind=tuple(_behind(part, measurement, document, calibration)),
        warnings=tuple(str(one.get("message", "")) for one in document.get("quality", {}).get("warnings", [])),
        footnotes=tuple(footnotes),
        limits=limits,
        hole=tuple(_hole(part.hole, hole, inches=inches)),
        trials=() if hole is None else tuple(_trials(hole, inches=inches)),
    )


def _hole(hole: FiledHole | None, found: HoleAnswer | None, *, inches: bool) -> Iterator[str]:
    if hole is None:
        return
    deep = "" if hole.depth is None else f", {format_length(hole.depth, inches=inches)} deep"
    yield f"{hole.thread}, screws engage over {format_length(hole.engagement, inches=inches)}{deep}."
    yield from ("No screw has gone in yet.",) if found is None else found.sentences(inches=inches)


def _trials(hole: HoleAnswer, *, inches: bool) -> Iterator[str]:
    for one in sorted(hole.found.trials, key=lambda one: one.size):
        size = format_quantity(Quantity(one.size, one.u95 / COVERAGE_FACTOR, "mm"), inches=inches)
        outcome = sentence(trial_words(one.trial), inches=inches)
        yield f"{one.trial.screw.name}, {size}: {outcome} (expected by the others: {format_probability(one.expected)})"


def instrument_words(part: Part) -> str:
    """The instrument of a part in one line: name, maker, model, serial number, year and country."""
    one = part.instrument
    if one is None:
        return ""
    made = ""
    if one.made is not None:
        made = f"made {one.made[0]}" if one.made[0] == one.made[1] else f"made {one.made[0]}-{one.made[1]}"
    serial = f"no. {one.serial}" if one.serial else None
    return ", ".join(word for word in (one.name, one.maker, one.model, serial, made, one.country) if word)


def _place(part: Part) -> str:
    words = [part.position.name] if part.position is not None else []
    words += [part.name] if part.name else []
    return ", ".join(words) or f"part {part.id}"


def _answer(identity: dict[str, Any], measurement: FiledMeasurement | None) -> str:
    if measurement is None:
        return "not measured"
    if not identity:
        return "not identified"
    groups = identity.get("groups", [])
    if identity["status"] == "no_match" or not groups:
        return "fits no series in the tables"
    names = _marked(identity, groups[0]["members"])
    shown = ", ".join(names[:3]) + (f" and {len(names) - 3} more" if len(names) > 3 else "")
    return shown if identity["status"] == "identified" else f"ambiguous: {shown}"


def _marked(identity: dict[str, Any], names: list[str]) -> list[str]:
    unverified = {one["designation"] for one in identity.get("candidates", []) if one.get("unverified")}
    return [f"{name} {MARK}" if name in unverified else name for name in names]


def _key(document: dict[str, Any], *, inches: bool) -> str:
    thread = document.get("thread", {})
    words = []
    for name, sign in (("major_diameter", "major"), ("pitch_diameter", "pitch dia."), ("pitch", "pitch")):
        quantity = _quantity(thread.get(name))
        if quantity is not None:
            words.append(f"{sign} {format_quantity(quantity, inches=inches)}")
    return "; ".join(words)


def _kind(thread: dict[str, Any]) -> str:
    if not thread:
        return ""
    starts = "1 start" if thread["starts"] == 1 else f"{thread['starts']} starts"
    hand = "hand not determined" if thread["hand"] == "not determined" else f"{thread['hand']}-hand"
    cast = ", hole measured from its cast" if thread.get("internal") else ""
    return f"{thread['threads_in_view']} threads in view, {starts}, {hand}{cast}"


def _quantity(data: object) -> Quantity | None:
    try:
        return quantity_from_dict(data) if isinstance(data, dict) else None
    except (KeyError, TypeError, ValueError):
        return None


def _dimensions(document: dict[str, Any], *, inches: bool) -> Iterator[Dimension]:
    thread = document.get("thread", {})
    for name, words in QUANTITIES:
        if name not in thread:
            continue
        quantity = _quantity(thread[name])
        written = None if quantity is None else write_quantity(quantity, inches=inches)
        if written is None:
            yield Dimension(words, NOT_DETERMINED, "")
        else:
            yield Dimension(words, written.value, str(written).removeprefix(written.value).strip())


def _groups(identity: dict[str, Any]) -> Iterator[GroupLine]:
    for group in identity.get("groups", [])[:MOST_GROUPS]:
        chance = float(group["probability"])
        if chance < LEAST_SHOWN:
            continue
        facts = tuple(fact for fact in str(group["told_apart_by"]).split("; ") if fact)
        names = ", ".join(_marked(identity, group["members"]))
        yield GroupLine(names, chance, format_probability(chance), facts)
    none = identity.get("no_standard_probability")
    if none is not None and none >= LEAST_SHOWN:
        yield GroupLine("no series in the tables", float(none), format_probability(none), ())


def _candidates(identity: dict[str, Any]) -> Iterator[CandidateLine]:
    for one in identity.get("candidates", [])[:MOST_CANDIDATES]:
        yield CandidateLine(
            name=_marked(identity, [one["designation"]])[0],
            chance=format_probability(one["probability"]),
            by_measurement=format_probability(one["probability_measurement_only"]),
            says=str(one.get("origin_and_year", {}).get("says", "")),
            condition=CONDITION_WORDS.get(one.get("condition", ""), str(one.get("condition", ""))),
        )


def _limits_shown(identity: dict[str, Any]) -> Iterator[Limits]:
    """Limits of the classes whose zones are drawn: the most probable, another series that fits, the next group's."""
    groups = [list(group["members"]) for group in identity.get("groups", [])]
    order = groups[0][:1] if groups else []
    for name in groups[0] if groups else []:
        if _series(identity, name) != _series(identity, order[0]):
            order.append(name)
            break
    order += [members[0] for members in groups[1:2]]
    order += [one["designation"] for one in identity.get("candidates", [])]
    seen: set[object] = set()
    for name in order:
        limits = _limits(name)
        if limits is None:
            continue
        zone = (limits.major, limits.pitch_diameter, limits.minor, limits.form)
        if zone not in seen and len(seen) < 3:
            seen.add(zone)
            yield limits


def _series(identity: dict[str, Any], name: str) -> str:
    return next((str(one["series"]) for one in identity["candidates"] if one["designation"] == name), "")


def _limits(name: str) -> Limits | None:
    """None for a thread of a series that this workshop does not have."""
    try:
        return limits_of(parse(name))
    except (UnknownDesignationError, ValueError):
        return None


def _dies(identity: dict[str, Any]) -> Iterator[str]:
    """What to ask for, for each thread of the first group that needs another tool."""
    groups = identity.get("groups", [])
    if identity.get("status") == "no_match" or not groups:
        return
    asked: dict[str, list[str]] = {}
    for name in groups[0]["members"]:
        limits = _limits(name)
        if limits is None:
            continue
        tools = tools_of(limits)
        if tools.ask_for not in asked and len(asked) < MOST_DIES:
            asked[tools.ask_for] = [
                f"{tools.kind.capitalize()} {tools.ask_for} (as {name}).",
                *(tools.notes if tools.gives is None else ()),
            ]
    told: set[str] = set()
    for lines in asked.values():
        yield " ".join(line for line in lines if line not in told)
        told.update(lines)


def _making(identity: dict[str, Any], *, inches: bool) -> tuple[str, ...]:
    """Blank, drill, wires, what to ask a dealer for, and the cautions, of the most probable class."""
    candidates = identity.get("candidates", [])
    if identity.get("status") == "no_match" or not candidates:
        return ()
    making = making_of_designation(candidates[0]["designation"])
    return () if making is None else (" ".join(making_lines(making, inches=inches)),)


def _checks(measurement: FiledMeasurement | None) -> Iterator[str]:
    for check in () if measurement is None else measurement.checks:
        yield f"against {check.against}: {check.verdict.replace('_', ' ')} ({check.who}, {check.added[:10]})"


def _replacements(part: Part) -> Iterator[str]:
    for one in part.replacements:
        if one.withdrawn:
            continue
        words = [f"made {one.made}"]
        for name, value in (("die", one.die), ("setting", one.setting), ("stock", one.stock), ("", one.remark)):
            words += [f"{name} {value}".strip()] if value else []
        words += [f"on file as part {one.made_part}"] if one.made_part is not None else []
        yield f"{', '.join(words)} ({one.who})"


def _behind(
    part: Part, measurement: FiledMeasurement | None, document: dict[str, Any], calibration: str | None
) -> Iterator[str]:
    if measurement is None:
        return
    scale = document["calibration"]
    size, offset = (
        _quantity({**scale[name], "unit": unit}) for name, unit in (("um_per_px", "um"), ("edge_offset_px", "px"))
    )
    behind = f"calibration {scale['id']}" if scale["traceable"] else f"{scale['id']}: no gauge stands behind it"
    yield f"Scale {format_quantity(size)} a pixel, edge offset {format_quantity(offset)} ({behind})."
    if calibration is not None:
        yield from _gauges(json.loads(calibration))
    picture = part.picture
    if picture is not None:
        yield (
            f"Picture {picture.file_name}, {picture.width_px} x {picture.height_px} pixels, SHA-256 "
            f"{picture.sha256[:16]}..."
        )
    quality = document["quality"]
    yield (
        f"Edges fit the thread to {quality['residual_rms_px']:.2f} px (RMS); "
        f"{100 * quality['rejected_edge_fraction']:.0f} % of them left out."
    )
    yield f"Measured {measurement.measured[:10]} by {measurement.who} with flankwise {measurement.version}."


def _gauges(calibration: dict[str, Any]) -> Iterator[str]:
    gauges = []
    for gauge in calibration.get("gauges", []):
        size = Quantity(float(gauge["nominal_mm"]), float(gauge["u95_mm"]) / 2, "mm")
        gauges.append(f"{gauge['what']} {format_quantity(size)}")
    yield f"Calibrated {str(calibration.get('when', ''))[:10]} with {', '.join(gauges) or 'no gauge'}."


def is_measurement(document: dict[str, Any]) -> bool:
    """Whether a document on file can be read as a measured thread."""
    try:
        possible_thread(document)
    except MeasurementDocumentError:
        return False
    return True
