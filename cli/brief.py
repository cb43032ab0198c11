"""What is printed without ``--full``: the verdict first, and fifteen lines at most."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Annotated

import typer

from cli.output import lines_of, show
from cli.tables import Block, unverified_note
from flankwise.reasons import sentence

if TYPE_CHECKING:
    from vision.result.measurement import Measurement

Full = Annotated[bool, typer.Option("--full", help="Print everything; else the answer in fifteen lines.")]

MOST_LINES = 15

WORTH_ASKING = 0.36
"""Share of the variance: U95 would be 0.8 of what it is without it."""

BRIEF_CAUTION = "Caution: where it carries load, pressure or people, have it checked with gauges."

UNVERIFIED = unverified_note("limits or sizes").partition(";")[0]

LIGHT, FOCUS = "light_cone_unknown", "focus_not_locked"
STANDING = {
    LIGHT: "light",
    FOCUS: "focus",
    "hand_not_determined": "hand",
    "free_end_unseen": "free end",
    "scale_by_hand": "scale",
}
"""Warnings that come with most pictures, by code, in one or two words: they share one line."""

SHAPES = {
    "crest_rounded": "crest rounded",
    "root_rounded": "root rounded",
    "crest_not_resolved": "crest too narrow to tell flat from round",
    "root_not_resolved": "root too narrow to tell flat from round",
}
"""Warnings that state a shape: they join that line."""


@dataclass(frozen=True)
class Item:
    """A piece of a short answer.

    ``weight``: where there is no room, what weighs most is left out first; 0 always stays.
    """

    block: Block
    weight: int = 0
    is_warning: bool = False


def show_brief(items: Iterable[Item], asks: str = "") -> None:
    """Print ``items`` in their order, as many as fifteen lines hold.

    The last line says what it ``asks`` for (of ``missing``) and how to see the rest.
    """
    kept = list(items)
    left_out = 0
    while sum(len(lines_of(item.block)) for item in kept) >= MOST_LINES and any(item.weight for item in kept):
        heaviest = max(item.weight for item in kept)
        last = max(i for i, item in enumerate(kept) if item.weight == heaviest)
        left_out += kept.pop(last).is_warning
    more = "1 warning more, and all numbers" if left_out == 1 else f"{left_out} warnings more, and all numbers"
    show(*(item.block for item in kept), f"{asks}{more if left_out else 'All numbers'}: --full")


def missing(measurements: Sequence[Measurement], *options: str) -> str:
    """Begin the last line: the ``options`` that were not given and would tell more, and the surface of the part.

    Empty where nothing would. The surface is asked for where nobody stated it and the light that the part mirrors is
    so much of the U95 of a pitch diameter that stating it would take a fifth of that away.
    """
    asked = [*options]
    if any(one.surface is None and _light_share(one) > WORTH_ASKING for one in measurements):
        asked.append("--surface NAME" if asked else "--surface bright, dull or black")
    return f"Would tell more: {', '.join(asked)}. " if asked else ""


def _light_share(measurement: Measurement) -> float:
    """The share of the variance of the pitch diameter that comes from light mirrored by an unknown surface."""
    from vision.fit.budget import MIRRORED_BY_FLANKS

    terms = measurement.budget.get("pitch_diameter", ())
    light = sum(term.u**2 for term in terms if term.source == MIRRORED_BY_FLANKS)
    return light / max(sum(term.u**2 for term in terms), light, 1e-30)


def doubts(measurements: Sequence[tuple[str, Measurement]], *, inches: bool) -> list[Item]:
    """The warnings that are new, a line each, then one line for the standing ones.

    ``measurements``: each with the words that say which it is, where there are several.
    """
    said: dict[str, list[str]] = {}
    for name, measurement in measurements:
        for warning in measurement.quality.warnings:
            if warning.code not in STANDING and warning.code not in SHAPES:
                said.setdefault(sentence(warning, inches=inches), []).append(name)
    items = []
    for number, (message, names) in enumerate(said.items()):
        whose = "" if len(names) == len(measurements) else f"{' and '.join(names)}: "
        items.append(Item(f"warning: {whose}{message}", 1 + number, is_warning=True))
    line = standing_line([measurement for _, measurement in measurements], inches=inches)
    return [*items, Item(line)] if line else items


def standing_line(measurements: Sequence[Measurement], *, inches: bool) -> str:
    """What is not known in most pictures, with its effect, and the shapes; empty where there is nothing."""
    codes = {warning.code for measurement in measurements for warning in measurement.quality.warnings}
    unknown = []
    if LIGHT in codes:
        unknown.append(f"light{_effect_of_light(measurements, inches=inches)}")
    if FOCUS in codes:
        unknown.append(f"focus{_effect_of_focus(measurements, inches=inches)}")
    no_effect = [STANDING[code] for code in ("hand_not_determined", "free_end_unseen") if code in codes]
    if no_effect:
        unknown.append(f"{' and '.join(no_effect)} (0 {'in' if inches else 'µm'})")
    if "scale_by_hand" in codes:
        unknown.append("scale (by hand, no gauge)")
    shapes = [words for code, words in SHAPES.items() if code in codes]
    parts = [f"Not known: {', '.join(unknown)}"] if unknown else []
    if shapes:
        parts.append(f"{shapes[0][0].upper()}{', '.join(shapes)[1:]}")
    return "".join(f"{part}. " for part in parts).rstrip()


def _effect_of_light(measurements: Sequence[Measurement], *, inches: bool) -> str:
    """What of the U95 of the pitch diameter is from light that its flanks mirror, where the cone is not known."""
    from threads.shared.formatting import format_difference
    from threads.shared.quantity import COVERAGE_FACTOR
    from vision.fit.budget import CONE, MIRRORED_BY_FLANKS

    most = 0.0
    for measurement in measurements:
        terms = measurement.budget.get("pitch_diameter", ())
        squares = sum(term.u**2 for term in terms if term.source in (MIRRORED_BY_FLANKS, CONE))
        most = max(most, COVERAGE_FACTOR * squares**0.5)
    return f" (± {format_difference(most, 'mm', inches=inches)})" if most else ""


def _effect_of_focus(measurements: Sequence[Measurement], *, inches: bool) -> str:
    """By how much a lens that was refocused may change the pitch diameter, as U95 has it already."""
    from threads.shared.formatting import format_difference
    from threads.shared.quantity import COVERAGE_FACTOR
    from vision.fit.budget import REFOCUS

    terms = (term for one in measurements for term in one.budget.get("pitch_diameter", ()) if term.source == REFOCUS)
    most = COVERAGE_FACTOR * max((term.u for term in terms), default=0.0)
    return f" (up to {format_difference(most, 'mm', inches=inches)})" if most else ""


def name_of(measurement: Measurement) -> str:
    """The picture, without its folders, or how many there are."""
    from threads.shared.file_name import plain_name

    several = len(measurement.pictures)
    return f"{several} pictures of one part" if several else plain_name(measurement.picture.path)


def sizes(measurement: Measurement, *, inches: bool) -> list[Item]:
    """Pitch, diameters and angle of the axial section, and how well the edges fit."""
    from cli.tables import plain_table
    from threads.shared.formatting import format_quantity

    thread = measurement.thread

    def written(name: str) -> str:
        return format_quantity(getattr(thread, name), inches=inches)

    table = plain_table("", "", "")
    lead = "" if thread.starts == 1 else f", lead {written('lead')}"
    table.add_row("pitch", written("pitch"), f"{written('threads_per_inch')}{lead}")
    table.add_row("major diameter", written("major_diameter"))
    table.add_row("pitch diameter", written("pitch_diameter"), f"virtual {written('virtual_pitch_diameter')}")
    table.add_row("minor diameter", written("minor_diameter"))
    flanks = f"flanks {written('flank_angle_left')}, {written('flank_angle_right')}"
    table.add_row("included angle", written("included_angle"), flanks)
    left_out = f"{100 * measurement.quality.rejected_edge_fraction:.0f} % of them left out"
    fit = f"Edges fit the thread to {measurement.quality.residual_rms_px:.2f} px (RMS), {left_out}."
    return [Item(table), Item(fit, 50)]
