"""All screws of one instrument judged together: its thread system, the odd ones out, sizes, tools."""

from __future__ import annotations

import math
from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from flankwise.amounts import Years, from_to, stated_of
from flankwise.part import Part

if TYPE_CHECKING:
    from threads.identify.screw_evidence import CommonErrors, Screw
    from threads.identify.stated import Stated
    from threads.measured.thread import MeasuredThread
    from threads.workshop.instrument_sheet import InstrumentSheet


@dataclass(frozen=True, eq=False, repr=False)
class InstrumentAnswer:
    """What an instrument is: ``sheet.found.systems``, ``sheet.odd``, ``sheet.sizes``, ``sheet.tools``."""

    name: str
    sheet: InstrumentSheet

    def to_dict(self) -> dict[str, Any]:
        """The object of ``flankwise record instrument --json``."""
        from flankwise.reasons import sentence
        from threads.shared.plain_json import plain

        return dict(plain(self.sheet.to_dict(self.name), sentence))

    def __str__(self) -> str:
        from threads.shared.formatting import format_probability

        first = (f"  {format_probability(one.probability):>6}  {one.system}" for one in self.sheet.found.systems[:3])
        odd = (f"  odd one out: {one.part}" for one, _ in self.sheet.odd)
        return "\n".join((f"{self.name}: {len(self.sheet.screws)} screws", *first, *odd))

    __repr__ = __str__


def instrument(
    parts: Sequence[Part],
    *,
    origin: str | None = None,
    made: Years | None = None,
    name: str = "instrument",
    replaced: float | None = None,
    stated: str | tuple[str, str] | Stated | None = None,
) -> InstrumentAnswer:
    """Judge all screws of one instrument together.

    Args:
        parts: as measured, each once.
        origin: country of the instrument, ``"US"``.
        made: when it was made, 1938 or ``"1930-1940"``.
        name: of the instrument, for what is printed.
        replaced: share of screws that are no longer the maker's; 0.1 if not said.
        stated: what is said of the instrument's threads, and by whom, as in ``identify``.

    Raises ValueError for no part, a part twice, a hole, or a country or year that is not known.
    """
    screws = []
    for part in parts:
        measurement = part.measurement
        terms = {quantity: [(t.source, t.u) for t in lines] for quantity, lines in measurement.budget.items()}
        common = common_errors(terms, part.thread, measurement.plane.id)
        screws.append(screw_of(part.path, part.thread, common))
    return judged(screws, origin=origin, made=from_to(made), name=name, replaced=replaced, stated=stated_of(stated))


def judged(
    screws: Sequence[Screw],
    *,
    origin: str | None,
    made: tuple[int, int] | None,
    name: str,
    replaced: float | None = None,
    stated: Stated | None = None,
) -> InstrumentAnswer:
    """As ``instrument``, of screws as ``screw_of`` makes them."""
    from threads.identify.instrument import REPLACED, judge_together
    from threads.workshop.instrument_sheet import sheet_of

    share = REPLACED if replaced is None else replaced
    found = judge_together(screws, origin=origin, made=made, replaced=share, stated=stated)
    return InstrumentAnswer(name, sheet_of(found, screws))


def screw_of(part: Hashable, thread: MeasuredThread, common: CommonErrors | None) -> Screw:
    """A measured screw. Raises ValueError for the thread of a hole."""
    from threads.identify.screw_evidence import Screw

    if thread.internal:
        raise ValueError(f"{part} is a hole: only screws are judged together")
    return Screw(part, thread, common)


def common_errors(
    budget: Mapping[str, Sequence[tuple[str, float]]], thread: MeasuredThread, bench: Hashable
) -> CommonErrors:
    """What a measurement shares with others of its bench, from its budget: (source, u) of each quantity.

    The share of scale and temperature moves the pitch in proportion, that of the edge offset does not; so what the
    gauges do to the pitch tells the scale, and what they do to the pitch diameter beyond that tells the offset.
    """
    from threads.identify.screw_evidence import CommonErrors
    from vision.fit.budget import COMMON_REFOCUS, COMMON_SOURCES, CONE, GAUGES, REFOCUS

    def shared(quantity: str, *sources: str) -> float:
        of = dict.fromkeys(sources, 1.0) | {REFOCUS: math.sqrt(COMMON_REFOCUS) if REFOCUS in sources else 0.0}
        return math.hypot(*(of.get(source, 0.0) * u for source, u in budget.get(quantity, ())), 0.0)

    pitch, diameter = thread.pitch.value, thread.pitch_diameter.value
    along = [REFOCUS, *(source for source in COMMON_SOURCES if source != CONE)]
    scale = shared("pitch", *along) / pitch
    of_scale = shared("pitch", GAUGES) / pitch * diameter
    offset = math.sqrt(max(shared("pitch_diameter", GAUGES) ** 2 - of_scale**2, 0.0))
    return CommonErrors(bench, scale, offset, shared("pitch_diameter", CONE))
