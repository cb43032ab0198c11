"""An identification as a person reads it: the groups, their candidates, the evidence, what would tell them apart."""

from __future__ import annotations

from typing import TYPE_CHECKING

from cli.brief import UNVERIFIED, Item
from cli.output import width
from cli.tables import (
    UNVERIFIED_MARK,
    Block,
    Paragraph,
    Table,
    indented,
    plain_table,
    side_by_side,
    unverified_note,
)
from flankwise.making import making_lines
from flankwise.reasons import sentence
from flankwise.words import CAUTION
from threads.identify.candidate import CONDITION_WORDS
from threads.identify.identification import WORTH_SAYING
from threads.identify.why_out import why_out
from threads.shared.formatting import format_lengths, format_probability, format_quantity

if TYPE_CHECKING:
    from flankwise.identifying import Answer
    from threads.identify.candidate import Candidate
    from threads.identify.evidence import Evidence
    from threads.identify.grouping import Group
    from threads.identify.identification import Identification

BAR_LENGTH = 20
PLACE_LENGTH = 21
MOST_CANDIDATES = 8
MOST_GROUPS = 4
WORDS = ((0.95, "nearly certain"), (0.75, "likely"), (0.45, "even"), (0.2, "possible"), (0.05, "unlikely"))
INDENT = 6
_MOST_BY_ITSELF = 3
PLACE = " between the limits"
WIDE = 118
"""From so many columns on the evidence has room for the line between the limits."""


def identity_parts(answer: Answer, *, inches: bool, with_provenance: bool) -> list[Block]:
    """Everything about what it is, in the order in which it is read."""
    found, said = answer.found, answer.answer
    parts: list[Block] = [indented(sentence(said.sentence, inches=inches), 0), ""]
    if said.make_with is not None:
        parts += [*(indented(line, 0) for line in making_lines(said.make_with, inches=inches)), ""]
    for group in found.groups[:MOST_GROUPS]:
        parts += _group_lines(group)
    parts += [side_by_side(_bar(found.no_standard_probability), "no series in the tables"), ""]
    parts += [_candidates_table(found, with_provenance=with_provenance), ""]
    out = [why for candidate in found.candidates[:MOST_CANDIDATES] if (why := why_out(candidate)) is not None]
    parts += [*(indented(sentence(why, inches=inches), 0) for why in out), *([""] if out else [])]
    for candidate in _shown_in_full(found):
        heading = f"Evidence for {_named(candidate)} ({candidate.limits.standard}):"
        parts += [heading, _evidence_table(candidate, inches=inches), ""]
    parts += [indented(sentence(note, inches=inches), 0) for note in found.notes]
    if any(candidate.limits.unverified for candidate in found.candidates[:MOST_CANDIDATES]):
        parts.append(unverified_note("limits or sizes"))
    return [*parts, "", indented(f"Caution: {CAUTION}", 0)]


def brief_identity(answer: Answer, measured: str, *, inches: bool) -> list[Item]:
    """The answer in a sentence, the sizes ``measured``, how likely which class is, what would settle it, the tools."""
    found, said = answer.found, answer.answer
    items = [Item(sentence(said.sentence, inches=inches)), Item(measured, 1)]
    if found.status != "no_match":
        items.append(Item(_class_shares(found)))
        if found.as_part_of is not None:
            items.append(Item(Paragraph(f"{sentence(found.as_part_of.said())} By itself: {_by_itself(found)}.")))
    told = [one for one in found.notes if one.code == "stated_contradicted"]
    items += [Item(indented(sentence(one), 0)) for one in (*told, *answer.doubts)]
    if said.settles:
        facts = "; ".join(sentence(one) for one in said.settles)
        items.append(Item(Paragraph(facts, "To settle it: ")))
    if found.status == "no_match":
        items += [Item(indented(sentence(note), 0), 30) for note in found.notes[1:2]]
    if said.make_with is not None:
        lines = making_lines(said.make_with, inches=inches, cautions=False)
        items += [Item(indented(line, 0), 0 if number < 2 else 2 + number) for number, line in enumerate(lines)]
    if any(candidate.limits.unverified for group in found.groups[:MOST_GROUPS] for candidate in group.members):
        items.append(Item(UNVERIFIED))
    return items


def _class_shares(found: Identification) -> Paragraph:
    """Every class worth naming with its probability, and what the part must be where it does not fit as made."""
    told = []
    for candidate in found.candidates[:MOST_CANDIDATES]:
        if candidate.probability < WORTH_SAYING:
            continue
        condition = CONDITION_WORDS.get(candidate.condition, candidate.condition)
        more = "" if candidate.condition == "as made" else f" if {condition}"
        told.append(f"{_named(candidate)} {format_probability(candidate.probability)}{more}")
    if found.no_standard_probability >= WORTH_SAYING:
        told.append(f"no series in the tables {format_probability(found.no_standard_probability)}")
    return Paragraph(", ".join(told), "How likely: ")


def _by_itself(found: Identification) -> str:
    """The classes that the measurement alone would name, the most probable first."""
    alone = sorted(found.candidates, key=lambda one: -one.probability_measurement_only)[:_MOST_BY_ITSELF]
    told = [f"{_named(one)} {format_probability(one.probability_measurement_only)}" for one in alone]
    return ", ".join(told)


def place_between(value: float, u95: float, low: float, high: float) -> str:
    """Where a value lies between two limits, as a line: ``[....-o-......]``, the dashes reaching over its U95.

    A value outside stands before or behind the brackets.
    """

    def cell(number: float) -> int:
        return round((number - low) / (high - low) * (PLACE_LENGTH - 1))

    cells = ["."] * PLACE_LENGTH
    for index in range(max(cell(value - u95), 0), min(cell(value + u95), PLACE_LENGTH - 1) + 1):
        cells[index] = "-"
    inside = low <= value <= high
    if inside:
        cells[cell(value)] = "o"
    before, behind = (" ", " ") if inside else ("o", " ") if value < low else (" ", "o")
    return f"{before}[{''.join(cells)}]{behind}"


def _group_lines(group: Group) -> list[Block]:
    members = ", ".join(_named(candidate) for candidate in group.members)
    fits = "" if group.holds else "  (outside its limits)"
    facts = [Paragraph(sentence(fact), f"{' ' * (INDENT + 2)}- ") for fact in group.told_apart_by]
    return [side_by_side(_bar(group.probability), f"{members}{fits}"), f"{' ' * INDENT}told apart by", *facts]


def _bar(probability: float) -> str:
    """A probability as a length, a number and a word."""
    filled = round(BAR_LENGTH * probability)
    return f"  {'█' * filled}{'░' * (BAR_LENGTH - filled)} {format_probability(probability):>9} {_word(probability)}"


def _word(probability: float) -> str:
    return next((word for least, word in WORDS if probability >= least), "very unlikely").ljust(14)


def _named(candidate: Candidate) -> str:
    return f"{candidate.designation} {UNVERIFIED_MARK}" if candidate.limits.unverified else candidate.designation


def _candidates_table(found: Identification, *, with_provenance: bool) -> Table:
    head = ["candidate", "probability"]
    if with_provenance:
        head += ["by measurement alone", "origin and year"]
    table = plain_table(*head, "if so, the part is", right=tuple(head[1:3]))
    for candidate in found.candidates[:MOST_CANDIDATES]:
        row = [_named(candidate), format_probability(candidate.probability)]
        if with_provenance:
            says = "; ".join(map(sentence, candidate.provenance.says))
            row += [format_probability(candidate.probability_measurement_only), says]
        table.add_row(*row, CONDITION_WORDS.get(candidate.condition, candidate.condition))
    return table


def _shown_in_full(found: Identification) -> list[Candidate]:
    """The first of each of the two most probable groups, or the nearest candidate where there is no group."""
    firsts = [group.members[0] for group in found.groups[:2]]
    return firsts or list(found.candidates[:1])


def _evidence_table(candidate: Candidate, *, inches: bool) -> Table:
    head = ["", "measured", "low", "high", "verdict"]
    with_place = width() >= WIDE
    if with_place:
        head.insert(4, PLACE)
    table = plain_table(*head, right=("low", "high"), whole=tuple(head[1:]))
    in_mm = [evidence for evidence in candidate.evidence if evidence.measured.unit == "mm"]
    lengths = format_lengths([limit for evidence in in_mm for limit in (evidence.low, evidence.high)], inches=inches)
    pairs = zip(lengths[::2], lengths[1::2], strict=True)
    written = {evidence.quantity: pair for evidence, pair in zip(in_mm, pairs, strict=True)}
    for evidence in candidate.evidence:
        low, high = written.get(evidence.quantity) or (_degrees(evidence.low), _degrees(evidence.high))
        words = evidence.quantity.replace("_", " ")
        row = [words, format_quantity(evidence.measured, inches=inches), low, high, evidence.verdict]
        if with_place:
            row.insert(4, _place(evidence))
        table.add_row(*row)
    return table


def _place(evidence: Evidence) -> str:
    if evidence.low is None or evidence.high is None or evidence.low >= evidence.high:
        return ""
    return place_between(evidence.measured.value, evidence.measured.u95, evidence.low, evidence.high)


def _degrees(angle: float | None) -> str:
    return "none" if angle is None else f"{angle:.2f}°"
