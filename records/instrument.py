"""The screws of one instrument on file, for judging them together, and the charts of what was found."""

from __future__ import annotations

import json
import sqlite3
from dataclasses import dataclass
from typing import TYPE_CHECKING

from flankwise.judging_instrument import InstrumentAnswer, common_errors, judged, screw_of
from flankwise.reasons import sentence
from records.connection import rows
from records.entries import Instrument, Position
from records.figures.instrument_view import ChartedScrew, ChartedZone, instrument_figure
from records.reading import positions, read_instrument
from threads.identify.screw_evidence import Screw
from threads.identify.stated import Stated
from threads.measured.measured_document import thread_from_dict
from threads.standards.designation import parse
from threads.standards.limits import limits_of

if TYPE_CHECKING:
    from matplotlib.figure import Figure

ZONES_FROM = 0.02
"""The zones of classes with a smaller probability in a size are not drawn."""


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
    ``empty``: positions with no part.
    """

    instrument: Instrument
    screws: tuple[FiledScrew, ...]
    without: tuple[str, ...]
    holes: tuple[str, ...]
    empty: tuple[Position, ...]


def filed_instrument(connection: sqlite3.Connection, instrument: int) -> FiledInstrument:
    """Read the measurements that count of all parts of an instrument that were not withdrawn. Each part counts once."""
    found = rows(
        connection,
        "SELECT p.id, p.name, p.position_id, o.name AS position, d.document, m.internal, m.calibration_id "
        "FROM parts p LEFT JOIN positions o ON o.id = p.position_id LEFT JOIN current c ON c.part_id = p.id "
        "LEFT JOIN measurements m ON m.id = c.measurement_id "
        "LEFT JOIN measurement_documents d ON d.measurement_id = m.id "
        "WHERE p.instrument_id = ? AND p.withdrawn = 0 ORDER BY o.place IS NULL, o.place, p.id",
        (instrument,),
    )
    screws, without, holes = [], [], []
    for row in found:
        label = str(row["position"] or row["name"] or f"part {row['id']}")
        if row["document"] is None:
            without.append(label)
        elif row["internal"]:
            holes.append(label)
        else:
            screws.append(FiledScrew(int(row["id"]), label, _screw(int(row["id"]), row["document"])))
    taken = {row["position_id"] for row in found}
    empty = tuple(one for one in positions(connection, instrument) if one.id not in taken)
    of = read_instrument(connection, instrument)
    return FiledInstrument(of, tuple(screws), tuple(without), tuple(holes), empty)


def judge_filed(
    filed: FiledInstrument,
    *,
    origin: str | None = None,
    made: tuple[int, int] | None = None,
    replaced: float | None = None,
    stated: Stated | None = None,
) -> InstrumentAnswer:
    """Judge the screws of an instrument on file; its country and years on file count where none are given.

    Raises ValueError where it has no measured screw, or for a country or years that are not known.
    """
    of = filed.instrument
    return judged(
        [one.screw for one in filed.screws],
        origin=origin if origin is not None else of.country,
        made=made if made is not None else of.made,
        name=of.name,
        replaced=replaced,
        stated=stated,
    )


def figure_of(filed: FiledInstrument, answer: InstrumentAnswer, *, inches: bool = False) -> Figure:
    """The charts of an instrument: every screw among the zones, and how the answer grew."""
    sheet = answer.sheet
    why = {one.part: reason for one, reason in sheet.odd}
    likely = {one.part: one.likely for one, _ in sheet.odd}
    placed = {one.part: one for one in sheet.found.placed}
    size_of = {part: size for size in sheet.sizes for part in size.parts}
    charted, zones = [], []
    for one in filed.screws:
        size = size_of.get(one.part)
        limits = size.limits if size is not None else likely.get(one.part) or placed[one.part].limits
        if limits is None:
            continue
        name = size.thread if size is not None else limits.size
        odd = sentence(why[one.part]).split(":")[0] if one.part in why else ""
        diameter = one.screw.thread.pitch_diameter
        charted.append(ChartedScrew(one.label, name, diameter, limits.basic_pitch_diameter, odd))
    for size in sheet.sizes:
        for designation, share in size.classes:
            limits = limits_of(parse(designation))
            band = limits.pitch_diameter
            if share >= ZONES_FROM and band.low is not None and band.high is not None:
                label = f"{limits.series} class {limits.thread_class}"
                zones.append(ChartedZone(size.thread, label, band.low, band.high))
    labels = [one.label for one in filed.screws]
    return instrument_figure(answer.name, charted, zones, sheet.found, labels, inches=inches)


def _screw(part: int, text: str) -> Screw:
    document = json.loads(text)
    thread = thread_from_dict(document)
    budget = {
        quantity: [(str(term["source"]), float(term["u"])) for term in terms]
        for quantity, terms in document.get("uncertainty_budget", {}).items()
    }
    bench = document.get("calibration", {}).get("id")
    return screw_of(part, thread, None if bench is None else common_errors(budget, thread, bench))
