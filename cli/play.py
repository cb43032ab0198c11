"""``flankwise play``: how loose a screw will feel in a tapped hole, beside the original."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Annotated, Any

import typer

from cli import options
from cli.bench import measured, scale_of
from cli.brief import BRIEF_CAUTION, UNVERIFIED, Full, Item, doubts, missing, show_brief
from cli.errors import CommandLineError
from cli.filed_part import filed_hole
from cli.hole import MovementU95, ReadWith
from cli.lengths import parse_length
from cli.measure import Picture
from cli.movement import show_clearance
from cli.output import show, write_json
from cli.own_gauge import Known, KnownU95, PinBeside, PinU95, own_gauges
from cli.register import RegisterFile, part_number
from cli.shrinkage import Shrinkage, ShrinkageU95, read_shrinkage
from cli.trial_options import part_of
from flankwise.measuring import KNOWN_U95, PIN_U95
from flankwise.reasons import message, sentence
from flankwise.words import CAUTION

if TYPE_CHECKING:
    from cli.tables import Block
    from flankwise.part import Part
    from flankwise.playing import Played
    from threads.standards.limits import Limits
    from threads.workshop.predicted_play import Feel, Play


def play(
    picture: Picture,
    engagement: Annotated[
        str, typer.Option("--engagement", metavar="LENGTH", help="Over which length full threads engage.")
    ],
    calibration: options.CalibrationFile = None,
    focus_locked: options.FocusLocked = False,
    scale: options.Scale = None,
    pin_beside: PinBeside = None,
    pin_u95: PinU95 = PIN_U95,
    known: Known = None,
    known_u95: KnownU95 = KNOWN_U95,
    hole: Annotated[
        str | None, typer.Option("--hole", metavar="DESIGNATION", help="The tapped hole, such as '4-40 NC-2'.")
    ] = None,
    hole_cast: Annotated[
        str | None, typer.Option("--hole-cast", metavar="PICTURE", help="A picture of a cast of the hole.")
    ] = None,
    hole_part: Annotated[
        str | None, typer.Option("--hole-part", metavar="PART", help="The hole on file, from a cast or from trials.")
    ] = None,
    hole_tried: Annotated[
        str | None, typer.Option("--hole-tried", metavar="HOLE.json", help="The hole as 'flankwise hole' found it.")
    ] = None,
    movement: Annotated[
        str | None,
        typer.Option(
            "--movement", metavar="LENGTH", help="How far it travels from side to side in --hole: its clearance."
        ),
    ] = None,
    read_with: ReadWith = None,
    movement_u95: MovementU95 = None,
    shrinkage: Shrinkage = None,
    shrinkage_u95: ShrinkageU95 = None,
    overhang: Annotated[
        str | None,
        typer.Option("--overhang", metavar="LENGTH", help="From the mouth of the hole to the end that is felt."),
    ] = None,
    original: Annotated[
        str | None, typer.Option("--original", metavar="PICTURE", help="A picture of the screw that was there before.")
    ] = None,
    original_class: Annotated[
        str | None,
        typer.Option("--original-class", metavar="DESIGNATION", help="What the original was when it was new."),
    ] = None,
    hole_calibration: Annotated[
        str | None, typer.Option("--hole-calibration", metavar="CAL.json", help="That of the cast, if another.")
    ] = None,
    original_calibration: Annotated[
        str | None, typer.Option("--original-calibration", metavar="CAL.json", help="That of the original, if another.")
    ] = None,
    surface: options.Surface = None,
    part: options.Part = None,
    register: RegisterFile = None,
    draws: Annotated[int, typer.Option("--draws", min=100, max=1_000_000, help="Number of draws.")] = 10_000,
    full: Full = False,
    seed: Annotated[int, typer.Option("--seed", min=0, help="The same seed gives the same result.")] = 1,
    unit: options.Unit = "mm",
    as_json: options.Json = False,
) -> None:
    """Predict the play of a screw in a tapped hole: clearance, backlash, tilt, and how far its end moves."""
    inches = options.reads_inches(unit)
    surface = options.read_surface(surface)
    own = own_gauges(pin_beside, pin_u95, known, known_u95)
    um_per_px = scale_of(calibration, scale, own)
    if [hole, hole_cast, hole_part, hole_tried].count(None) != 3:
        raise CommandLineError(
            "which hole? Give one of --hole DESIGNATION, --hole-cast PICTURE, --hole-part PART, --hole-tried HOLE.json"
        )
    filed = None if hole_tried is None else part_of(hole_tried)
    number = filed if hole_part is None else part_number(hole_part)
    if (hole_calibration and not hole_cast) or (original_calibration and not original):
        raise CommandLineError("--hole-calibration goes with --hole-cast, --original-calibration with --original")
    shrunk = read_shrinkage(shrinkage, shrinkage_u95, cast=hole_cast is not None, goes_with="--hole-cast")
    engagement_mm = parse_length(engagement, "--engagement")
    told: dict[str, Any] = {"focus_locked": focus_locked}
    if movement is not None:
        if hole is None or overhang is None or original or original_class:
            raise CommandLineError("--movement goes with --hole THREAD and --overhang, and without --original")
        show_clearance(
            partial(measured, picture, calibration, um_per_px, own, part=part, surface=surface, **told), hole, movement,
            read_with=read_with, movement_u95=movement_u95, overhang=overhang, engagement_mm=engagement_mm,
            inches=inches, as_json=as_json,
        )  # fmt: skip
        return
    overhang_mm = None if overhang is None else parse_length(overhang, "--overhang")
    in_zone = None if hole is None else limits_of_class(hole, internal=True)
    when_new = None if original_class is None else limits_of_class(original_class, internal=False)
    from cli.refusals import refusals_reported
    from flankwise.holes import load_hole
    from flankwise.measuring import as_hole
    from flankwise.playing import play as put_together
    from threads.workshop.drawn_thread import NoZoneError
    from threads.workshop.play import PlayError

    with refusals_reported(as_json=as_json):
        on_file = None if number is None else filed_hole(register, number)
        tried = None if hole_tried is None or filed is not None else load_hole(hole_tried)
        screw = measured(picture, calibration, um_per_px, own, part=part, surface=surface, **told)
        before = measured(original, original_calibration or calibration, um_per_px, **told) if original else None
        cast = measured(hole_cast, hole_calibration or calibration, um_per_px, **told) if hole_cast else None
        held = in_zone or on_file or tried or (cast and as_hole(cast, shrunk))
    assert held is not None
    try:
        played = put_together(
            screw,
            held,
            engagement_mm,
            overhang=overhang_mm,
            original=before,
            original_class=when_new,
            draws=draws,
            seed=seed,
        )
    except (PlayError, NoZoneError) as error:
        raise CommandLineError(message(error)) from error
    if as_json:
        write_json(played.to_dict())
        return
    if full:
        _show(played, inches=inches)
    else:
        _show_brief(played, inches=inches)


def limits_of_class(designation: str, *, internal: bool) -> Limits:
    """The limits of a class of screws or holes. Raises CommandLineError for one that is not known."""
    from flankwise.judging import limits_named
    from threads.standards.designation import UnknownDesignationError

    try:
        return limits_named(designation, internal=internal)
    except UnknownDesignationError as error:
        raise CommandLineError(message(error)) from error


def _show(played: Played, *, inches: bool) -> None:
    from cli.tables import UNVERIFIED_MARK, indented, side_by_side, source_lines
    from flankwise.part import Part
    from flankwise.reference import Reference
    from threads.shared.formatting import format_length
    from threads.workshop.play_words import sentences
    from threads.workshop.predicted_play import LIMITS

    found, limits = played.found, played.limits
    mark = f" {UNVERIFIED_MARK}" if any(one.unverified for one in limits) else ""
    hole = f"a {found.hole}{mark} hole" if found.by_class else f"the tried hole {found.hole}"
    if isinstance(played.hole, Reference):
        hole = f"the hole on file as {played.hole.name}"
    elif isinstance(played.hole, Part):
        hole = f"the hole of which {played.hole.path} is a cast"
    pictures = [one for one in (played.screw, played.original, played.hole) if isinstance(one, Part)]
    engaged = format_length(found.engagement, inches=inches)
    sources: list[str] = []
    if limits:
        both = "; ".join(dict.fromkeys(one.source for one in limits))
        sources = [*source_lines(both, unverified=any(one.unverified for one in limits)), ""]
    warnings = _warnings(pictures)
    show(
        f"{pictures[0].path} in {hole}, engaged over {engaged}",
        "",
        _table(found, inches=inches),
        "",
        *_below_zero(found),
        *(indented(sentence(one, inches=inches), 0) for one in sentences(found)),
        "",
        *_cost(found, inches=inches),
        *(indented(text, 0) for text in warnings),
        *([""] if warnings else []),
        side_by_side("Method:", " ".join(map(sentence, found.method))),
        *(side_by_side("-", sentence(one)) for one in LIMITS),
        "",
        *sources,
        indented(f"Caution: {CAUTION}", 0),
    )


def _show_brief(played: Played, *, inches: bool) -> None:
    """What will be felt, beside the other screws, and the numbers."""
    from flankwise.part import Part
    from threads.workshop.play_words import sentences

    found, there = played.found, (("screw", played.screw), ("original", played.original), ("cast", played.hole))
    parts = [(name, one.measurement) for name, one in there if isinstance(one, Part)]
    brief = [
        *(Item(sentence(one, inches=inches)) for one in sentences(found)),
        Item(_table(found, inches=inches), 40),
        *(Item(line, 30) for line in (*_below_zero(found)[:1], *_cost(found, inches=inches)[:1])),
        *doubts(parts, inches=inches),
        *([Item(UNVERIFIED)] if any(one.unverified for one in played.limits) else []),
        Item(BRIEF_CAUTION),
    ]
    show_brief(brief, missing([measurement for _, measurement in parts]))


def _table(found: Play, *, inches: bool) -> Block:
    from cli.tables import plain_table
    from threads.shared.formatting import format_length, format_probability
    from threads.workshop.play_words import is_held_off, written

    screws = [("this screw", found.screw), *((sentence(one.what), one.feel) for one in found.beside)]
    heads = [head for name, _ in screws for head in (name, "95 %")]
    table = plain_table("", *heads, right=tuple(name for name, _ in screws), whole=("", "95 %"))
    out = f", {format_length(found.overhang, inches=inches)} out" if found.overhang else ", at the mouth"
    for words, name in (
        ("radial clearance", "radial_clearance"),
        ("axial backlash", "axial_backlash"),
        ("tilt", "tilt"),
        (f"movement{out}", "end_movement"),
    ):
        cells: list[str] = []
        for _, feel in screws:
            shut = is_held_off(feel) and not (feel.pair.meshes and name == "radial_clearance")
            cells += ("none", "") if shut else written(getattr(feel, name), inches=inches)
        table.add_row(words, *cells)
    chances = [format_probability(feel.enters) if feel.pair.meshes else "no pair" for _, feel in screws]
    table.add_row("enters", *(cell for chance in chances for cell in (chance, "")))
    firsts = [_touches(feel) if feel.pair.meshes else [] for _, feel in screws]
    for row in range(max(map(len, firsts), default=0)):
        cells = [cell for each in firsts for cell in (each[row] if row < len(each) else ("", ""))]
        table.add_row("" if row else "touches first", *cells)
    return table


def _below_zero(found: Play) -> list[str]:
    feels = (found.screw, *(one.feel for one in found.beside))
    if all(feel.radial_clearance.low95 >= 0 for feel in feels if feel.pair.meshes):
        return []
    return ["A clearance below zero: by so much it is too tight to enter.", ""]


def _touches(feel: Feel) -> list[tuple[str, str]]:
    """What touches first, and how likely, the likeliest first."""
    from threads.shared.formatting import format_probability

    shares = sorted(feel.touches_first.items(), key=lambda item: -item[1])
    return [(name, format_probability(share)) for name, share in shares if share > 0]


def _cost(found: Play, *, inches: bool) -> list[str]:
    from threads.workshop.play_words import written

    if not found.screw.pair.meshes:
        return []
    pitch, angle = (written(one, inches=inches)[0] for one in (found.screw.pitch_loss, found.screw.angle_loss))
    return [f"Errors of pitch take {pitch}, those of flank angles {angle} off the diameters' difference.", ""]


def _warnings(pictures: list[Part]) -> list[str]:
    where: dict[str, list[str]] = {}
    for part in pictures:
        for warning in part.warnings:
            where.setdefault(sentence(warning), []).append(part.path)
    return [f"warning: {', '.join(paths)}: {message}" for message, paths in where.items()]
