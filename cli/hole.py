"""``flankwise hole``: how large a tapped hole is, from the screws that go in, stop, or shake in it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Annotated

import typer

from cli import options
from cli.brief import BRIEF_CAUTION, Full, Item, doubts, show_brief
from cli.errors import CommandLineError
from cli.lengths import parse_length
from cli.output import show, write_json
from cli.register import RegisterFile, opened
from cli.trial_options import TrialOptions, Typed, typed_trials
from flankwise.reasons import message, sentence
from flankwise.words import CAUTION

if TYPE_CHECKING:
    from cli.tables import Block
    from flankwise.holes import HoleAnswer
    from flankwise.part import Part
    from threads.hole.classes import HoleThread
    from threads.hole.found_hole import FoundHole
    from threads.hole.trial import Trial, TriedScrew

COMMAND_CLASS = TrialOptions

OUTCOMES = {"went_in": "went in", "stopped": "stopped", "moved": "moved"}

ReadWith = Annotated[
    str | None,
    typer.Option("--read-with", metavar="ruler|feeler|indicator", help="What movements were read with."),
]
MovementU95 = Annotated[
    str | None, typer.Option("--movement-u95", metavar="LENGTH", help="U95 of the movements, if known.")
]


def hole(
    thread: Annotated[str, typer.Argument(metavar="THREAD", help="The hole's thread: '4-40', 'M2.5', '4 BA'.")],
    engagement: Annotated[
        str, typer.Option("--engagement", metavar="LENGTH", help="Over which length full threads engage.")
    ],
    calibration: options.CalibrationFile = None,
    scale: options.Scale = None,
    went_in: Annotated[
        list[str] | None,
        typer.Option("--went-in", metavar="PICTURE ...", help="Screws that went in, also 'part N' of the register."),
    ] = None,
    stopped: Annotated[
        list[str] | None, typer.Option("--stopped", metavar="PICTURE ...", help="Screws that did not go in.")
    ] = None,
    stopped_after: Annotated[
        list[str] | None,
        typer.Option("--stopped-after", metavar="PICTURE TURNS", help="One that stopped after so many turns."),
    ] = None,
    moved: Annotated[
        list[str] | None,
        typer.Option(
            "--moved",
            metavar="PICTURE MOVEMENT OVERHANG",
            help="One that went in and shook: whole travel from side to side, and how far from the mouth it was read.",
        ),
    ] = None,
    read_with: ReadWith = None,
    movement_u95: MovementU95 = None,
    depth: Annotated[str | None, typer.Option("--depth", metavar="LENGTH", help="How deep the hole is.")] = None,
    output: Annotated[
        str | None, typer.Option("--output", "-o", metavar="HOLE.json", help="Write the hole, for play --hole-tried.")
    ] = None,
    force: Annotated[bool, typer.Option("--force", help="Replace the file if there is one.")] = False,
    register: RegisterFile = None,
    full: Full = False,
    unit: options.Unit = "mm",
    as_json: options.Json = False,
) -> None:
    """How large a tapped hole is, from the measured screws that go in, stop, or shake in it."""
    inches = options.reads_inches(unit)
    engagement_mm = parse_length(engagement, "--engagement")
    depth_mm = None if depth is None else parse_length(depth, "--depth")
    typed = typed_trials(went_in or [], stopped or [], stopped_after or [], moved or [])
    if not typed:
        raise CommandLineError("which screws were tried? Give --went-in PICTURE, --stopped PICTURE or --moved")
    u95 = reading_u95(read_with, movement_u95)
    of = thread_called(thread)
    target = None
    if output is not None:
        from cli.target import file_to_write

        target = file_to_write("-o", output, (".json",))
        if target.exists() and not force:
            raise CommandLineError(f"-o {output} exists already: choose another name, or say --force")
    from cli.refusals import refusals_reported
    from flankwise.holes import judged_hole
    from threads.hole.trial import HoleError

    with refusals_reported(as_json=as_json):
        screws, at_hand, parts = _screws(typed, calibration, scale, register, of)
    trials = [trial_of(one, screws[one.picture], u95) for one in typed]
    try:
        found = judged_hole(of, trials, engagement=engagement_mm, depth=depth_mm, at_hand=at_hand)
    except HoleError as error:
        raise CommandLineError(message(error)) from error
    if target is not None:
        try:
            found.save(target)
        except OSError as error:
            raise CommandLineError(f"-o {output} cannot be written: {error.strerror}") from error
    if as_json:
        write_json(found.to_dict())
        return
    unknown = doubts([(part.path, part.measurement) for part in parts], inches=inches)
    show_hole(found, full=full, inches=inches, more=[f"written to {output}"] if output else [], unknown=unknown)


def thread_called(text: str) -> HoleThread:
    """The thread of a hole as typed. Raises CommandLineError."""
    from threads.hole.classes import hole_thread
    from threads.standards.designation import UnknownDesignationError

    try:
        return hole_thread(text)
    except UnknownDesignationError as error:
        raise CommandLineError(message(error)) from error


def reading_u95(read_with: str | None, movement_u95: str | None) -> float | None:
    """U95 of movements, mm; None: by how they are written. Raises CommandLineError."""
    from threads.hole.trial import READ_WITH

    if movement_u95 is not None:
        return parse_length(movement_u95, "--movement-u95")
    if read_with is None:
        return None
    if read_with not in READ_WITH:
        raise CommandLineError(f"--read-with {read_with!r} is not one of {', '.join(READ_WITH)}")
    return READ_WITH[read_with]


def trial_of(typed: Typed, screw: TriedScrew, u95: float | None) -> Trial:
    """A trial as typed, of the screw meant; ``u95``: of movements without one of their own, mm."""
    from flankwise.holes import movement_of
    from threads.hole.trial import Trial

    if typed.movement is None:
        return Trial(screw, typed.outcome, typed.turns)
    known = typed.movement_u95 if typed.movement_u95 is not None else u95
    return Trial(screw, typed.outcome, movement=movement_of(typed.movement, known), overhang=typed.overhang)


def _screws(
    typed: list[Typed], calibration: str | None, scale: str | None, register: str | None, of: HoleThread
) -> tuple[Mapping[str, TriedScrew], list[TriedScrew], list[Part]]:
    """Every screw by what was typed for it, those on file that could be tried next, and what was measured now."""
    from cli.bench import measured, scale_of
    from flankwise.holes import tried_screw

    screws: dict[str, TriedScrew] = {}
    at_hand: list[TriedScrew] = []
    pictures = [one.picture for one in typed if one.part is None]
    um_per_px = scale_of(calibration, scale) if pictures else None
    if len(pictures) < len(typed) or register is not None:
        from records.holes import filed_screw, screws_at_hand

        with opened(register).reading() as connection:
            screws = {one.picture: filed_screw(connection, one.part) for one in typed if one.part is not None}
            at_hand = screws_at_hand(connection, of)
    parts = [measured(picture, calibration, um_per_px) for picture in dict.fromkeys(pictures)]
    screws |= {picture: tried_screw(part) for picture, part in zip(dict.fromkeys(pictures), parts, strict=True)}
    return screws, at_hand, parts


def show_hole(
    answer: HoleAnswer,
    *,
    full: bool,
    inches: bool,
    more: Sequence[str] = (),
    unknown: Sequence[Item] = (),
) -> None:
    """Print a hole: the size first, then its class, what contradicts, what to make, what to try next.

    ``more``: lines on what was done besides; ``unknown``: warnings of the pictures that were measured.
    """
    from threads.hole.hole_words import class_words, make_words, next_words, size_words

    found = answer.found

    def said(*reasons: object) -> list[str]:
        return [sentence(one, inches=inches) for one in reasons]  # type: ignore[arg-type]

    contradictions = [f"warning: {text}" for text in said(*(one.cause for one in found.trials if one.cause))]
    if not full:
        show_brief([
            Item(said(size_words(found))[0]),
            *(Item(text) for text in said(*class_words(found))),
            *(Item(text, 5, is_warning=True) for text in contradictions),
            Item(trials_table(found, inches=inches), 30),
            *(Item(text) for text in said(make_words(found), next_words(found))),
            *(Item(text) for text in more),
            *unknown,
            Item(BRIEF_CAUTION),
        ])  # fmt: skip
        return
    from cli.tables import indented

    show(
        *(indented(text, 0) for text in (*said(size_words(found), *class_words(found)), *contradictions)),
        "",
        trials_table(found, inches=inches),
        "",
        _classes(found, inches=inches),
        "",
        *(indented(text, 0) for text in (*said(make_words(found)), f"Why: {said(found.to_make.why)[0]}.")),
        *(indented(text, 0) for text in said(next_words(found))),
        *([""] if more or unknown else []),
        *more,
        *(item.block for item in unknown),
        "",
        indented(f"Caution: {CAUTION}", 0),
    )


def trials_table(found: FoundHole, *, inches: bool) -> Block:
    """The trials, smallest screw first."""
    from cli.tables import plain_table
    from threads.hole.hole_words import trial_words
    from threads.shared.formatting import format_probability, format_quantity
    from threads.shared.quantity import COVERAGE_FACTOR, Quantity

    table = plain_table("screw", "pitch diameter", "outcome", "expected", right=("pitch diameter", "expected"))
    for one in sorted(found.trials, key=lambda one: one.size):
        size = format_quantity(Quantity(one.size, one.u95 / COVERAGE_FACTOR, "mm"), inches=inches)
        table.add_row(
            one.trial.screw.name,
            size,
            sentence(trial_words(one.trial), inches=inches),
            format_probability(one.expected),
        )
    return table


def _classes(found: FoundHole, *, inches: bool) -> Block:
    from cli.tables import plain_table
    from threads.shared.formatting import format_lengths, format_probability

    table = plain_table("class", "probability", "from", "to", right=("probability", "from", "to"))
    for one in found.classes:
        low, high = format_lengths([one.low, one.high], inches=inches)
        table.add_row(one.designation, format_probability(one.probability), low, high)
    table.add_row("no class", format_probability(found.no_class), "", "")
    return table
