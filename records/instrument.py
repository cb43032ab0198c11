"""The screws of one instrument on file, for judging them together, and the charts of what was found."""

from __future__ import annotations

import json
import math
import sqlite3
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import cache, lru_cache, partial
from typing import TYPE_CHECKING, Any

from flankwise.judging_instrument import InstrumentAnswer, judged, screw_of
from flankwise.reasons import sentence
from records.cells import csv_line, text_cell
from records.change_mark import Mark, change_mark
from records.connection import rows
from records.entries import Instrument, Position
from records.figures.instrument_view import ChartedScrew, ChartedZone, instrument_figure
from records.lookup import known_instrument
from records.measured_common import with_common
from records.reading import dies, notes_on, positions, read_instrument
from records.register import open_register
from records.register_path import register_path
from records.statements import stated_in, stated_on
from threads.identify.screw_evidence import Screw, series_of
from threads.identify.stated import Stated
from threads.identify.systems import system_of
from threads.identify.thread_share import same_thread
from threads.measured.measured_document import MeasurementDocumentError
from threads.shared.refusal import Reason
from threads.standards.designation import parse
from threads.standards.limits import Limits, limits_of
from threads.workshop.instrument_sheet import InstrumentSheet, with_own_tools

if TYPE_CHECKING:
    from matplotlib.figure import Figure

ZONES_FROM = 0.02
"""The zones of classes with a smaller probability in a size are not drawn."""
SAME_PLACE_PX = 30.0
"""Two measurements in one picture whose middles are nearer are of one part; of several in view, none is so near."""


@dataclass(frozen=True)
class FiledScrew:
    """A measured screw on file. ``label``: its position, or its name, or its number."""

    part: int
    label: str
    screw: Screw


@dataclass(frozen=True)
class FiledInstrument:
    """What is on file of an instrument.

    ``screws``: measured ones, in the order of positions. ``without``: parts with no measurement. ``holes``: of holes.
    ``empty``: positions with no part. ``stated``: what a document or a person says of it, kept as a note of the number
    ``stated_note``.
    ``own_tools``: dies and taps of the workshop: name, kind, the thread it cuts. ``twice``: filed again by the
    same picture, which counts once, and as what it was filed before.
    """

    instrument: Instrument
    screws: tuple[FiledScrew, ...]
    without: tuple[str, ...]
    holes: tuple[str, ...]
    empty: tuple[Position, ...]
    stated: Stated | None = None
    stated_note: int | None = None
    own_tools: tuple[tuple[str, str, str], ...] = ()
    twice: tuple[tuple[str, str], ...] = ()


def filed_instrument(connection: sqlite3.Connection, instrument: int, *, job: int | None = None) -> FiledInstrument:
    """Read the measurements that count of all parts of an instrument that were not withdrawn. Each part counts once.

    ``job``: only its parts.
    """
    found = rows(
        connection,
        "SELECT p.id, p.name, p.position_id, o.name AS position, d.document, m.internal, m.picture_id "
        "FROM parts p LEFT JOIN positions o ON o.id = p.position_id LEFT JOIN current c ON c.part_id = p.id "
        "LEFT JOIN measurements m ON m.id = c.measurement_id "
        "LEFT JOIN measurement_documents d ON d.measurement_id = m.id "
        "WHERE p.instrument_id = ? AND p.withdrawn = 0 AND (? IS NULL OR p.job_id = ?) "
        "ORDER BY o.place IS NULL, o.place, p.id",
        (instrument, job, job),
    )
    said = _stated_of_parts(connection, instrument)
    screws, without, holes, twice = [], [], [], []
    shown: dict[int, list[tuple[tuple[float, float], str]]] = {}
    for row in found:
        label = str(row["position"] or row["name"] or f"part {row['id']}")
        if row["document"] is None:
            without.append(label)
        elif row["internal"]:
            holes.append(label)
        else:
            document = json.loads(row["document"])
            middle = tuple(document.get("part", {}).get("middle_px", (0.0, 0.0)))
            there = [] if row["picture_id"] is None else shown.setdefault(row["picture_id"], [])
            before = next((name for at, name in there if math.dist(at, middle) < SAME_PLACE_PX), None)
            if before is not None:
                twice.append((label, before))
                continue
            there.append((middle, label))
            try:
                screws.append(FiledScrew(int(row["id"]), label, _screw(int(row["id"]), document, said)))
            except MeasurementDocumentError:  # of an older version, which took in what no screw can be
                without.append(label)
    taken = {row["position_id"] for row in found}
    empty = tuple(one for one in positions(connection, instrument) if one.id not in taken and job is None)
    of = read_instrument(connection, instrument)
    stated, note = stated_on(notes_on(connection, instrument=instrument)) or (None, None)
    own = tuple((one.name, one.kind, one.cuts) for one in dies(connection) if one.cuts)
    return FiledInstrument(of, tuple(screws), tuple(without), tuple(holes), empty, stated, note, own, tuple(twice))


def _stated_of_parts(connection: sqlite3.Connection, instrument: int) -> dict[int, Stated]:
    """What is stated of single parts, by their ids."""
    notes: dict[int, list[str]] = {}
    for row in rows(
        connection,
        "SELECT n.part_id, n.text FROM parts p JOIN notes n ON n.part_id = p.id WHERE p.instrument_id = ? "
        "AND n.withdrawn = 0 AND n.text LIKE '%stated: %' ORDER BY n.id",
        (instrument,),
    ):
        notes.setdefault(int(row["part_id"]), []).append(str(row["text"]))
    return {part: said for part, texts in notes.items() if (said := stated_in(texts)) is not None}


def others_on_file(register: str | None, instrument: str | int, *, sha256: str = "") -> InstrumentAnswer | None:
    """The screws of an instrument on file judged together, without the part that the picture ``sha256`` shows.

    ``instrument``: its name, or its id. None where no other screw of it is measured. Raises RefusalError:
    no_such_name, and what opening raises.
    """
    path = register_path(register)
    return _others(str(path), instrument, sha256, change_mark(path))


@lru_cache(maxsize=16)
def _others(path: str, instrument: str | int, sha256: str, _mark: Mark) -> InstrumentAnswer | None:
    with open_register(path).reading() as connection:
        number = instrument if isinstance(instrument, int) else known_instrument(connection, instrument)
        filed = filed_instrument(connection, number)
        shown = {
            int(row["part_id"])
            for row in rows(
                connection,
                "SELECT s.part_id FROM part_pictures s JOIN pictures k ON k.id = s.picture_id WHERE k.sha256 = ? UNION "
                "SELECT m.part_id FROM measurements m JOIN pictures k ON k.id = m.picture_id WHERE k.sha256 = ?",
                (sha256, sha256),
            )
        }
    others = tuple(one for one in filed.screws if one.part not in shown)
    return judge_filed(replace(filed, screws=others)) if others else None


def judge_filed(
    filed: FiledInstrument,
    *,
    origin: str | None = None,
    made: tuple[int, int] | None = None,
    replaced: float | None = None,
    stated: Stated | None = None,
) -> InstrumentAnswer:
    """Judge the screws of an instrument on file; its country, years and statement on file count where none are given.

    Raises ValueError where it has no measured screw, or for a country or years that are not known.
    """
    of = filed.instrument
    answer = judged(
        [one.screw for one in filed.screws],
        origin=origin if origin is not None else of.country,
        made=made if made is not None else of.made,
        name=of.name,
        replaced=replaced,
        stated=stated if stated is not None else filed.stated,
    )
    return replace(answer, sheet=with_own_tools(answer.sheet, filed.own_tools))


def chart_of(
    filed: FiledInstrument, answer: InstrumentAnswer, say: Callable[[Reason], str] = sentence
) -> tuple[list[ChartedScrew], list[ChartedZone]]:
    """The points and zones of the chart; ``say`` puts why a screw is odd into words."""
    sheet = answer.sheet
    why = {one.part: reason for one, reason in sheet.odd}
    likely = {one.part: one.likely for one, _ in sheet.odd}
    placed = {one.part: one for one in sheet.found.placed}
    size_of = {part: size for size in sheet.sizes for part in size.parts}
    charted = []
    for one in filed.screws:
        size = size_of.get(one.part)
        limits = size.limits if size is not None else likely.get(one.part) or placed[one.part].limits
        if limits is None:
            continue
        name = size.thread if size is not None else limits.size
        odd = say(why[one.part]).split(":")[0] if one.part in why else ""
        diameter = one.screw.thread.pitch_diameter
        charted.append(ChartedScrew(one.label, name, diameter, limits.basic_pitch_diameter, odd, one.part))
    return charted, _zones(sheet)


def _zones(sheet: InstrumentSheet) -> list[ChartedZone]:
    """The classes of each size, and the usual class of the next system that has it: one sees what that does not allow.

    Series of one system share a name, such as NC/NF 2.
    """
    found: list[tuple[str, Limits]] = []
    for size in sheet.sizes:
        found += [(size.thread, limits_of(parse(name))) for name, share in size.classes if share >= ZONES_FROM]
        of_others = (series for one in sheet.found.systems[1:] for series in series_of(one.system))
        other = next(
            (limits for series in of_others if (limits := _same_in(series, size.limits.designation)) is not None), None
        )
        found += [] if other is None else [(size.thread, other)]
    together: dict[str, set[str]] = {}
    for _, limits in found:
        together.setdefault(system_of(limits.series), set()).add(limits.series)
    zones = []
    for thread, limits in found:
        band = limits.pitch_diameter
        if band.low is not None and band.high is not None:
            names = "/".join(sorted(together[system_of(limits.series)]))
            zones.append(ChartedZone(thread, f"{names} {limits.thread_class}".strip(), band.low, band.high))
    return zones


@cache
def _same_in(series: str, designation: str) -> Limits | None:
    """The usual class of the same thread in another series; None where that does not have it."""
    limits = limits_of(parse(designation))
    try:
        found = limits_of(parse(f"{limits.size} {series}"))
    except ValueError:
        return None
    return found if same_thread(found, limits) else None


def figure_of(
    filed: FiledInstrument, answer: InstrumentAnswer, *, inches: bool = False, language: str = "en"
) -> Figure:
    """The charts of an instrument: every screw among the zones, and how the answer grew."""
    charted, zones = chart_of(filed, answer, partial(sentence, language=language))
    labels = [one.label for one in filed.screws]
    return instrument_figure(answer.name, charted, zones, answer.sheet.found, labels, inches=inches, language=language)


def tools_csv(answer: InstrumentAnswer) -> bytes:
    """The list of tools as a table: a line a tool."""
    lines = [csv_line(("kind", "name", "for", "screws", "at hand", "note"))]
    for tool in answer.sheet.tools:
        note = "" if tool.note is None else sentence(tool.note)
        cells = (tool.kind, tool.name, " ".join(tool.threads), str(tool.screws), "; ".join(tool.at_hand), note)
        lines.append(csv_line([text_cell(cell) for cell in cells]))
    return b"".join(lines)


def _screw(part: int, document: Mapping[str, Any], stated: Mapping[int, Stated]) -> Screw:
    screw = screw_of(part, *with_common(document))
    said = stated.get(part)
    return screw if said is None else replace(screw, stated={said.series: said.weight})
