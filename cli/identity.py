"""An identification as a person reads it: the groups, their candidates, the evidence, what would tell them apart."""

from __future__ import annotations

from typing import TYPE_CHECKING

from cli.tables import CAUTION, UNVERIFIED_MARK, plain_table, unverified_note
from threads.formatting import format_length, format_probability, format_quantity

if TYPE_CHECKING:
    from rich.console import RenderableType
    from rich.table import Table

    from threads.candidate import Candidate
    from threads.grouping import Group
    from threads.identify import Identification

BAR_LENGTH = 20
MOST_CANDIDATES = 8
MOST_GROUPS = 4
WORDS = ((0.95, "nearly certain"), (0.75, "likely"), (0.45, "even"), (0.2, "possible"), (0.05, "unlikely"))
STATUS_WORDS = {
    "identified": "identified",
    "ambiguous": "ambiguous: more than one thread fits, see what tells them apart",
    "no_match": "fits no series in the tables",
}


def identity_parts(found: Identification, *, inches: bool, with_provenance: bool) -> list[RenderableType]:
    """Everything under the heading "Identity", in the order in which it is read."""
    parts: list[RenderableType] = [f"Identity: {STATUS_WORDS[found.status]}", ""]
    for group in found.groups[:MOST_GROUPS]:
        parts += _group_lines(group)
    parts.append(f"  {_bar(found.no_standard_probability)}  no series in the tables")
    parts.append("")
    parts += [_candidates_table(found, with_provenance=with_provenance), ""]
    for candidate in _shown_in_full(found):
        parts += [f"Evidence for {_named(candidate)}:", _evidence_table(candidate, inches=inches), ""]
    parts += list(found.notes)
    if any(candidate.limits.unverified for candidate in found.candidates[:MOST_CANDIDATES]):
        parts.append(unverified_note("limits or sizes"))
    return [*parts, "", f"Caution: {CAUTION}"]


def _group_lines(group: Group) -> list[str]:
    members = ", ".join(_named(candidate) for candidate in group.members)
    fits = "" if group.holds else "  (outside its limits)"
    return [f"  {_bar(group.probability)}  {members}{fits}", f"      told apart by {group.told_apart_by}"]


def _bar(probability: float) -> str:
    """A probability as a length, a number and a word."""
    filled = round(BAR_LENGTH * probability)
    bar = "█" * filled + "░" * (BAR_LENGTH - filled)
    return f"{bar} {format_probability(probability):>9} {_word(probability)}"


def _word(probability: float) -> str:
    return next((word for least, word in WORDS if probability >= least), "very unlikely").ljust(14)


def _named(candidate: Candidate) -> str:
    return f"{candidate.designation} {UNVERIFIED_MARK}" if candidate.limits.unverified else candidate.designation


def _candidates_table(found: Identification, *, with_provenance: bool) -> Table:
    head = ["candidate", "probability", "from the measurement alone", "origin and year"] if with_provenance else []
    head = head or ["candidate", "probability"]
    table = plain_table(*head, "if so, the part is", "standard", right=tuple(head[1:3]))
    for candidate in found.candidates[:MOST_CANDIDATES]:
        row = [_named(candidate), format_probability(candidate.probability)]
        if with_provenance:
            row += [format_probability(candidate.probability_measurement_only), candidate.provenance.says]
        table.add_row(*row, candidate.condition, candidate.limits.standard)
    return table


def _shown_in_full(found: Identification) -> list[Candidate]:
    """The first of each of the two most probable groups, or the nearest candidate where there is no group."""
    firsts = [group.members[0] for group in found.groups[:2]]
    return firsts or list(found.candidates[:1])


def _evidence_table(candidate: Candidate, *, inches: bool) -> Table:
    table = plain_table("", "measured", "low", "high", "verdict", right=("low", "high"))
    for evidence in candidate.evidence:
        in_degrees = evidence.measured.unit == "deg"
        low, high = (
            "none" if limit is None else f"{limit:.2f}°" if in_degrees else format_length(limit, inches=inches)
            for limit in (evidence.low, evidence.high)
        )
        words = evidence.quantity.replace("_", " ")
        table.add_row(words, format_quantity(evidence.measured, inches=inches), low, high, evidence.verdict)
    return table
