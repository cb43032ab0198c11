"""A small label for the bag or the drawer that a screw waits in: its number, where it belongs, what it is."""

from __future__ import annotations

from flankwise.making import making_of_designation
from flankwise.reasons.table import ENGLISH
from records.entries import Part
from records.from_memory import FOOTNOTE, identified_from_memory, marked
from records.report.reworded import reworded
from records.report.spoken import Spoken
from threads.shared.refusal import Reason


def label_lines(part: Part, spoken: Spoken | None = None) -> list[str]:
    """What stands on the label: number and name; instrument; position; designation or dimensions; die, job and day.

    The footnote of the mark follows where the designation carries it.
    """
    spoken = spoken or Spoken()
    measurement, from_memory = part.measurement, False
    identified = None if measurement is None else measurement.identification
    lines = [
        f"{spoken.word('No.')} {part.id}" + (f"  {part.name}" if part.name else ""),
        "" if part.instrument is None else part.instrument.name,
        "" if part.position is None else part.position.name,
    ]
    if part.hole is not None:
        lines.append(spoken.say(Reason("label.hole", thread=part.hole.thread)))
    elif measurement is None:
        lines.append(spoken.word("not measured"))
    elif identified is not None and identified.status != "no_match":
        from_memory = identified_from_memory(identified.document)
        says = identified.says
        if spoken.language != ENGLISH:
            says = str(reworded(measurement.document, identified.document, spoken).get("says", says))
        lines.append(marked(says, from_memory=from_memory))
    else:
        thread = measurement.thread
        major, pitch = (spoken.quantity(one) for one in (thread.major_diameter, thread.pitch))
        lines.append(f"{major} x {pitch}")
    die = ""
    if identified is not None and identified.designation is not None and identified.status != "no_match":
        making = making_of_designation(identified.designation)
        die = "" if making is None else f"{spoken.word('die')} {making.die}"
    last = (die, "" if part.job is None else part.job.name, part.added[:10])
    lines.append(", ".join(text for text in last if text))
    return [*lines, spoken.word(FOOTNOTE)] if from_memory else lines
