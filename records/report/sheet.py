"""What stands on the data sheet of one part, as words: the same for paper and screen."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from flankwise.holes import HoleAnswer
from flankwise.making import making_of_designation
from flankwise.reasons.table import ENGLISH
from records.entries import FiledHole, FiledMeasurement, Part
from records.report.reworded import reworded
from records.report.spoken import Spoken
from threads.hole.hole_words import sentences, trial_words
from threads.identify.candidate import CONDITION_WORDS
from threads.measured.measured_document import MeasurementDocumentError, possible_thread, quantity_from_dict
from threads.shared.formatting import NOT_DETERMINED, write_quantity
from threads.shared.quantity import COVERAGE_FACTOR, Quantity
from threads.shared.quantity_words import worded
from threads.shared.refusal import Reason
from threads.standards.designation import UnknownDesignationError, parse
from threads.standards.limits import Limits, limits_of
from threads.workshop.making_told import making_told
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


def sheet_of(part: Part, calibration: str | None, spoken: Spoken, hole: HoleAnswer | None = None) -> Sheet:
    """The sheet of ``part``; ``calibration`` is the text of the calibration file behind the measurement that counts.

    ``hole``: what its trials say, where it is a hole.
    """
    say, word = spoken.say, spoken.word
    measurement = part.measurement
    document = {} if measurement is None else measurement.document
    filed = None if measurement is None else measurement.identification
    identity = {} if filed is None else filed.document
    if measurement is not None and identity and spoken.language != ENGLISH:
        identity = reworded(measurement.document, identity, spoken)
    limits = tuple(_limits_shown(identity))
    marked = any(one.get("unverified") for one in identity.get("candidates", [])[:MOST_CANDIDATES])
    doubted = [note for note in (filed.document if filed else {}).get("notes", []) if "unverified" in note]
    footnotes = [FROM_MEMORY] if marked else []
    if any("Years" in note for note in doubted):
        footnotes.append("Years and countries of use are from memory, unverified.")
    return Sheet(
        uid=part.uid,
        number=f"{word('part')} {part.id}",
        place=place_words(part, spoken),
        instrument=instrument_words(part, spoken),
        answer=_answer(identity, measurement, spoken)
        if part.hole is None
        else say(Reason("sheet.hole", thread=part.hole.thread)),
        key=_key(document, spoken),
        kind=_kind(document.get("thread", {}), spoken),
        dimensions=tuple(_dimensions(document, spoken)),
        groups=tuple(_groups(identity, spoken)),
        candidates=tuple(_candidates(identity, spoken)),
        identity_notes=tuple(
            # the table of dimensions is beside it, in the unit wanted
            _OWN_DIMENSIONS.sub("", note)
            for note in identity.get("notes", [])
            if "unverified" not in note and "nicht nachgeprüft" not in note
        ),
        dies=(*_dies(identity, spoken), *_making(identity, spoken)),
        checks=tuple(_checks(measurement, spoken)),
        replacements=tuple(_replacements(part, spoken)),
        notes=tuple(f"{note.text} ({note.added[:10]})" for note in part.notes if not note.withdrawn),
        behind=tuple(map(say, _behind(part, measurement, document, calibration))),
        warnings=tuple(map(spoken.told, document.get("quality", {}).get("warnings", []))),
        footnotes=tuple(map(word, footnotes)),
        limits=limits,
        hole=tuple(_hole(part.hole, hole, spoken)),
        trials=() if hole is None else tuple(_trials(hole, spoken)),
    )


def _hole(hole: FiledHole | None, found: HoleAnswer | None, spoken: Spoken) -> Iterator[str]:
    if hole is None:
        return
    key = "sheet.hole_size" if hole.depth is None else "sheet.hole_size_deep"
    yield spoken.say(Reason(key, thread=hole.thread, engagement=hole.engagement, depth=hole.depth))
    yield from map(spoken.say, [Reason("sheet.hole_untried")] if found is None else sentences(found.found))


def _trials(hole: HoleAnswer, spoken: Spoken) -> Iterator[str]:
    for one in sorted(hole.found.trials, key=lambda one: one.size):
        size = Quantity(one.size, one.u95 / COVERAGE_FACTOR, "mm")
        outcome = trial_words(one.trial)
        yield spoken.say(
            Reason(
                "sheet.trial",
                name=spoken.named(one.trial.screw.name),
                size=size,
                outcome=outcome,
                expected=one.expected,
            )
        )


def instrument_words(part: Part, spoken: Spoken) -> str:
    """The instrument of a part in one line: name, maker, model, serial number, year and country."""
    one = part.instrument
    if one is None:
        return ""
    made = None
    if one.made is not None:
        year = str(one.made[0]) if one.made[0] == one.made[1] else f"{one.made[0]}-{one.made[1]}"
        made = spoken.say(Reason("paper.made", year=year))
    serial = f"{spoken.word('no.')} {one.serial}" if one.serial else None
    return ", ".join(text for text in (one.name, one.maker, one.model, serial, made, one.country) if text)


def place_words(part: Part, spoken: Spoken) -> str:
    """Position and name of a part, or its number."""
    words = [part.position.name] if part.position is not None else []
    words += [part.name] if part.name else []
    return ", ".join(words) or f"{spoken.word('part')} {part.id}"


def _answer(identity: dict[str, Any], measurement: FiledMeasurement | None, spoken: Spoken) -> str:
    if measurement is None:
        return spoken.word("not measured")
    if not identity:
        return spoken.word("not identified")
    groups = identity.get("groups", [])
    if identity["status"] == "no_match" or not groups:
        return spoken.word("fits no series in the tables")
    named = _marked(identity, groups[0]["members"])
    names, more = ", ".join(named[:3]), len(named) - 3
    case = "identified" if identity["status"] == "identified" else "ambiguous"
    if more > 0:
        return spoken.say(Reason(f"sheet.{case}_more", names=names, count=more))
    return names if case == "identified" else spoken.say(Reason("sheet.ambiguous", names=names))


def _marked(identity: dict[str, Any], names: list[str]) -> list[str]:
    unverified = {one["designation"] for one in identity.get("candidates", []) if one.get("unverified")}
    return [f"{name} {MARK}" if name in unverified else name for name in names]


def _key(document: dict[str, Any], spoken: Spoken) -> str:
    thread = document.get("thread", {})
    words = []
    for name, sign in (("major_diameter", "major"), ("pitch_diameter", "pitch dia."), ("pitch", "pitch")):
        quantity = _quantity(thread.get(name))
        if quantity is not None:
            words.append(f"{spoken.word(sign)} {spoken.quantity(quantity)}")
    return "; ".join(words)


def _kind(thread: dict[str, Any], spoken: Spoken) -> str:
    if not thread:
        return ""
    hand = "hand not determined" if thread["hand"] == "not determined" else f"{thread['hand']}-hand"
    key = "sheet.kind.one" if thread["starts"] == 1 else "sheet.kind"
    kind = spoken.say(Reason(key, threads=thread["threads_in_view"], starts=thread["starts"], hand=hand))
    return kind + (spoken.word(", hole measured from its cast") if thread.get("internal") else "")


def _quantity(data: object) -> Quantity | None:
    try:
        return quantity_from_dict(data) if isinstance(data, dict) else None
    except (KeyError, TypeError, ValueError):
        return None


def _dimensions(document: dict[str, Any], spoken: Spoken) -> Iterator[Dimension]:
    thread = document.get("thread", {})
    for name, words in QUANTITIES:
        if name not in thread:
            continue
        quantity = _quantity(thread[name])
        written = None if quantity is None else write_quantity(quantity, inches=spoken.inches)
        if written is None:
            yield Dimension(spoken.word(words), spoken.word(NOT_DETERMINED), "")
        else:
            yield Dimension(spoken.word(words), written.value, str(written).removeprefix(written.value).strip())


def _groups(identity: dict[str, Any], spoken: Spoken) -> Iterator[GroupLine]:
    for group in identity.get("groups", [])[:MOST_GROUPS]:
        share = float(group["probability"])
        if share < LEAST_SHOWN:
            continue
        facts = tuple(fact for fact in str(group["told_apart_by"]).split("; ") if fact)
        names = ", ".join(_marked(identity, group["members"]))
        yield GroupLine(names, share, spoken.chance(share), facts)
    none = identity.get("no_standard_probability")
    if none is not None and none >= LEAST_SHOWN:
        yield GroupLine(spoken.word("no series in the tables"), float(none), spoken.chance(none), ())


def _candidates(identity: dict[str, Any], spoken: Spoken) -> Iterator[CandidateLine]:
    for one in identity.get("candidates", [])[:MOST_CANDIDATES]:
        yield CandidateLine(
            name=_marked(identity, [one["designation"]])[0],
            chance=spoken.chance(one["probability"]),
            by_measurement=spoken.chance(one["probability_measurement_only"]),
            says=str(one.get("origin_and_year", {}).get("says", "")),
            condition=spoken.word(CONDITION_WORDS.get(one.get("condition", ""), str(one.get("condition", "")))),
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


def _dies(identity: dict[str, Any], spoken: Spoken) -> Iterator[str]:
    """What to ask for, for each thread of the first group that needs another tool."""
    groups = identity.get("groups", [])
    if identity.get("status") == "no_match" or not groups:
        return
    asked: set[str] = set()
    for name in groups[0]["members"]:
        limits = _limits(name)
        tools = None if limits is None else tools_of(limits)
        if tools is not None and tools.ask_for not in asked and len(asked) < MOST_DIES:
            asked.add(tools.ask_for)
            kind = tools.kind.capitalize()
            yield spoken.say(Reason("sheet.ask_for", kind=kind, name=tools.ask_for, designation=name))


def _making(identity: dict[str, Any], spoken: Spoken) -> tuple[str, ...]:
    """Blank, drill, wires, what to ask a dealer for, and the cautions, of the most probable class."""
    candidates = identity.get("candidates", [])
    if identity.get("status") == "no_match" or not candidates:
        return ()
    making = making_of_designation(candidates[0]["designation"])
    return () if making is None else (" ".join(map(spoken.say, making_told(making))),)


def _checks(measurement: FiledMeasurement | None, spoken: Spoken) -> Iterator[str]:
    for one in () if measurement is None else measurement.checks:
        verdict = one.verdict.replace("_", " ")
        yield spoken.say(Reason("sheet.check", against=one.against, verdict=verdict, day=one.added[:10]))


def _replacements(part: Part, spoken: Spoken) -> Iterator[str]:
    for one in part.replacements:
        if one.withdrawn:
            continue
        words = []
        for name, value in (("die", one.die), ("setting", one.setting), ("stock", one.stock), ("", one.remark)):
            words += [f"{spoken.word(name) if name else ''} {value}".strip()] if value else []
        words += [spoken.say(Reason("sheet.made_part", part=one.made_part))] if one.made_part is not None else []
        yield spoken.say(Reason("sheet.made", day=one.made, how=", ".join(words)))


def _behind(
    part: Part, measurement: FiledMeasurement | None, document: dict[str, Any], calibration: str | None
) -> Iterator[Reason]:
    if measurement is None:
        return
    scale = document["calibration"]
    size, offset = (
        _quantity({**scale[name], "unit": unit}) for name, unit in (("um_per_px", "um"), ("edge_offset_px", "px"))
    )
    behind = Reason("sheet.scale_calibration" if scale["traceable"] else "sheet.scale_by_hand", name=scale["id"])
    yield Reason("sheet.scale", size=size, offset=offset, behind=behind)
    if calibration is not None:
        yield _gauges(json.loads(calibration))
    picture = part.picture
    if picture is not None:
        yield Reason(
            "sheet.picture", name=picture.file_name, wide=picture.width_px, high=picture.height_px,
            hash=picture.sha256[:16],
        )  # fmt: skip
    quality = document["quality"]
    yield Reason("sheet.fit", rms=quality["residual_rms_px"], share=100 * quality["rejected_edge_fraction"])
    yield Reason("sheet.measured", day=measurement.measured[:10], version=measurement.version)


def _gauges(calibration: dict[str, Any]) -> Reason:
    gauges = tuple(
        Reason(
            "sheet.gauge",
            what=gauge["what"],
            size=Quantity(float(gauge["nominal_mm"]), float(gauge["u95_mm"]) / 2, "mm"),
        )
        for gauge in calibration.get("gauges", [])
    )
    day = str(calibration.get("when", ""))[:10]
    return Reason("sheet.calibrated", day=day, gauges=gauges) if gauges else Reason("sheet.calibrated_none", day=day)


def is_measurement(document: dict[str, Any]) -> bool:
    """Whether a document on file can be read as a measured thread."""
    try:
        possible_thread(document)
    except MeasurementDocumentError:
        return False
    return True
