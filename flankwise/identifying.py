"""Which thread a measured part has."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from flankwise.amounts import Years, from_to, stated_of
from flankwise.reasons import sentence
from threads.shared.plain_json import plain

if TYPE_CHECKING:
    from flankwise.judging_instrument import InstrumentAnswer
    from flankwise.part import Part
    from threads.identify.candidate import Candidate
    from threads.identify.identification import Identification
    from threads.identify.stated import Stated
    from threads.shared.refusal import Reason
    from threads.workshop.answer import Answer as Said


@dataclass(frozen=True, eq=False, repr=False)
class Answer:
    """What a part is: ``answer`` first; ``found`` has the candidates, their groups and what tells them apart.

    ``untold``: which of origin and year was not given, where the other screws of the instrument do not tell as much:
    ``"origin"``, ``"year"``, ``"origin_and_year"``. ``doubts``: what speaks for another bench or scale.
    """

    part: Part
    found: Identification
    untold: str = ""
    doubts: tuple[Reason, ...] = ()

    @property
    def answer(self) -> Said:
        """What a person wants to read first: the sentence, what would settle it, what to make it with."""
        from threads.workshop.answer import answer_of

        return answer_of(self.found, self.part.thread, untold=self.untold)

    @property
    def candidates(self) -> tuple[Candidate, ...]:
        return self.found.candidates

    def to_dict(self) -> dict[str, Any]:
        """The object of ``flankwise identify --json``."""
        said = self.answer
        settles = [sentence(one, to_do=False) for one in said.settles]
        answer = {**said.to_dict(), "settles": settles, "bench_doubts": list(self.doubts)}
        return dict(plain({**self.found.to_dict(self.part.to_dict()), "answer": answer}, sentence))

    def __str__(self) -> str:
        from threads.shared.formatting import format_probability

        first = (f"  {format_probability(one.probability):>6}  {one.designation}" for one in self.candidates[:5])
        return "\n".join((sentence(self.answer.sentence), *first))

    __repr__ = __str__


def identify(
    part: Part,
    *,
    origin: str | None = None,
    made: Years | None = None,
    series: Sequence[str] | None = None,
    on_file: Mapping[str, int] | None = None,
    stated: str | tuple[str, str] | Stated | None = None,
    instrument: InstrumentAnswer | None = None,
) -> Answer:
    """Say which series, size and class a part fits.

    Args:
        part: as measured.
        origin: country of the instrument, ``"US"``.
        made: when it was made, 1938 or ``"1930-1940"``.
        series: only these, by the names that ``flankwise series`` prints.
        stated: what is said of the thread, ``"5-40 NC"``, or that and by whom, ``("NC", "drawing")``: ``"drawing"``,
            ``"catalogue"`` or ``"word"``, which it is if not said.
        on_file: how many parts of each series the workshop has on file; sharpens how common a series is.
        instrument: the other screws of its instrument, judged together (``flankwise.instrument``): what they say of
            the thread system counts in place of how common a series is.

    Raises ValueError for a country, a year or a series that is not known.
    """
    from flankwise.other_scale import other_scale
    from threads.identify.identification import NO_MATCH
    from threads.identify.identification import identify as identified
    from threads.identify.of_instrument import of_instrument

    names = tuple(series or ()) or None
    said = stated_of(stated)
    kin = None if instrument is None else of_instrument(instrument.name, instrument.sheet.found)
    told = {"origin": origin, "made": from_to(made), "series": names}
    found = identified(part.thread, **told, on_file=on_file, stated=said, as_part_of=kin)  # type: ignore[arg-type]
    doubts = other_scale(part) if found.status == NO_MATCH and names is None else ()
    missing = [name for name, given in (("origin", origin), ("year", made)) if given is None]
    untold = "" if kin is not None and kin.settled else "_and_".join(missing)
    return Answer(part, found, untold=untold, doubts=doubts)
