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
from flankwise.reasons import sentence
from flankwise.words import CAUTION
from threads.identify.candidate import CONDITION_WORDS
from threads.identify.identification import WORTH_SAYING
from threads.identify.identity_words import status_words
from threads.shared.formatting import format_lengths, format_probability, format_quantity

if TYPE_CHECKING:
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
PLACE = " between the limits"
WIDE = 118
"""From so many columns on the evidence has room for the line between the limits."""


def identity_parts(found: Identification, *, inches: bool, with_provenance: bool) -> list[Block]:
    """Everything under the heading "Identity", in the order in which it is read."""
    parts: list[Block] = [f"Identity: {sentence(status_words(found))}", ""]
    for group in found.groups[:MOST_GROUPS]:
        parts += _group_lines(group)
    parts += [side_by_side(_bar(found.no_standard_probability), "no series in the tables"), ""]
    parts += [_candidates_table(found, with_provenance=with_provenance), ""]
    for candidate in _shown_in_full(found):
        heading = f"Evidence for {_named(candidate)} ({candidate.limits.standard}):"
        parts += [heading, _evidence_table(candidate, inches=inches), ""]
    parts += [indented(sentence(note, inches=inches), 0) for note in found.notes]
    if any(candidate.limits.unverified for candidate in found.candidates[:MOST_CANDIDATES]):
        parts.append(unverified_note("limits or sizes"))
    return [*parts, "", indented(f"Caution: {CAUTION}", 0)]


def brief_identity(found: Identification, measured: str, *, asks_for_origin: bool) -> list[Item]:
    """The answer, the sizes ``measured``, which classes and how likely, and what would settle it."""
    if found.status == "no_match":
        own = " ".join(map(sentence, found.notes[:2]))
        return [Item(own or f"Identity: {sentence(status_words(found))}"), Item(measured, 1)]
    items = [Item(f"Identity: {sentence(status_words(found))}"), Item(measured, 1)]
    for number, group in enumerate(found.groups[:MOST_GROUPS]):
        members = ", ".join(_named(candidate) for candidate in group.members[:MOST_CANDIDATES])
        more = len(group.members) - MOST_CANDIDATES
        fits = "" if group.holds else " (outside its limits)"
        text = f"{members}{f' and {more} more' if more > 0 else ''}{fits}"
        items.append(Item(Paragraph(text, f"{format_probability(group.probability):>10}  "), 10 * number))
    if found.no_standard_probability >= WORTH_SAYING:
        none = Paragraph("no series in the tables", f"{format_probability(found.no_standard_probability):>10}  ")
        items.append(Item(none))
    facts = found.groups[0].told_apart_by if found.groups and len(found.groups[0].members) > 1 else ()
    items += [
        Item(Paragraph(sentence(fact), "- settled by " if not n else "- "), 5 + 10 * n) for n, fact in enumerate(facts)
    ]
    if asks_for_origin:
        items.append(Item("Origin and year of the instrument would tell more: say --origin CC and --made YEAR."))
    if any(candidate.limits.unverified for group in found.groups[:MOST_GROUPS] for candidate in group.members):
        items.append(Item(UNVERIFIED))
    return items


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
