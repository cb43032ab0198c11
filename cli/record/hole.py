"""``flankwise record hole`` and ``trial``: a tapped hole as a part on file, and the screws that are tried in it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Any

import typer

from cli import options
from cli.brief import Full
from cli.errors import CommandLineError
from cli.hole import OUTCOMES, MovementU95, ReadWith, reading_u95, show_hole, thread_called, trial_of
from cli.lengths import parse_length
from cli.output import show, write_json
from cli.record.note import parse_day
from cli.register import PartNumber, RegisterFile, Who, opened, part_number
from cli.trial_options import Typed, part_of, read_movement, read_turns, read_way
from flankwise.reasons import message

if TYPE_CHECKING:
    from cli.tables import Block
    from flankwise.holes import HoleAnswer
    from records.entries import FiledHole
    from threads.hole.trial import TriedScrew


def hole(
    thread: Annotated[str, typer.Argument(metavar="THREAD", help="The hole's thread: '4-40', 'M2.5', '4 BA'.")],
    engagement: Annotated[
        str, typer.Option("--engagement", metavar="LENGTH", help="Over which length screws engage in it.")
    ],
    depth: Annotated[str | None, typer.Option("--depth", metavar="LENGTH", help="How deep it is.")] = None,
    name: Annotated[str | None, typer.Option("--name", metavar="WORDS", help="What it is: 'index arm post'.")] = None,
    instrument: Annotated[
        str | None, typer.Option("--instrument", metavar="NAME", help="The instrument it is in; a new one is made.")
    ] = None,
    position: Annotated[
        str | None, typer.Option("--position", metavar="NAME", help="Where on the instrument; a new one is made.")
    ] = None,
    job: Annotated[str | None, typer.Option("--job", metavar="NAME", help="The job; a new one is made.")] = None,
    part_id: Annotated[
        str | None, typer.Option("--part-id", metavar="PART", help="This part on file is the hole, such as its cast.")
    ] = None,
    another: Annotated[bool, typer.Option("--another", help="One more part at a position that has one.")] = False,
    create: Annotated[
        bool, typer.Option("--create", help="Make new names even if they are nearly those of others.")
    ] = False,
    register: RegisterFile = None,
    who: Who = None,
    as_json: options.Json = False,
) -> None:
    """File a tapped hole as a part of its own; screws that are tried in it are added with 'record trial'."""
    of = thread_called(thread)
    length = parse_length(engagement, "--engagement")
    deep = None if depth is None else parse_length(depth, "--depth")
    number = None if part_id is None else part_number(part_id)
    if number is not None and any((instrument, position, job, another)):
        raise CommandLineError("--part-id says where it belongs already: give no --instrument, --position or --job")
    from cli.refusals import refusals_reported
    from records.documenting import Place
    from records.holes import file_hole
    from threads.hole.trial import HoleError, check_hole

    try:
        check_hole(of, length, deep)
    except HoleError as error:
        raise CommandLineError(message(error)) from error
    place = Place(
        instrument=instrument, position=position, job=job, part=number, name=name, another=another, create=create
    )
    with refusals_reported(as_json=as_json):
        part, made = file_hole(opened(register, create=True), place, of.name, engagement=length, depth=deep, who=who)
    if as_json:
        write_json({"schema": "flankwise/filed/1", "status": "filed", "part": part, "made": list(made)})
    else:
        show(*(f"new: {one}" for one in made), f"hole {of.name} filed as part {part}")


def trial(
    hole: PartNumber,
    screw: Annotated[
        str, typer.Argument(metavar="SCREW", help="The screw: its number on file, or a picture to be measured.")
    ],
    went_in: Annotated[bool, typer.Option("--went-in", help="It went all the way in by hand.")] = False,
    stopped: Annotated[bool, typer.Option("--stopped", help="It did not go in.")] = False,
    turns: Annotated[
        str | None, typer.Option("--turns", metavar="NUMBER", help="With --stopped: after so many turns.")
    ] = None,
    moved: Annotated[
        str | None, typer.Option("--moved", metavar="LENGTH", help="It went in and travelled this from side to side.")
    ] = None,
    overhang: Annotated[
        str | None,
        typer.Option("--overhang", metavar="LENGTH", help="With --moved: from the mouth to where it was read."),
    ] = None,
    read_with: ReadWith = None,
    movement_u95: MovementU95 = None,
    calibration: options.CalibrationFile = None,
    scale: options.Scale = None,
    tried: Annotated[str | None, typer.Option("--tried", metavar="DAY", help="When: 2026-11-25; else today.")] = None,
    remark: Annotated[str | None, typer.Option("--remark", metavar="TEXT", help="What else there is to say.")] = None,
    register: RegisterFile = None,
    who: Who = None,
    full: Full = False,
    unit: options.Unit = "mm",
    as_json: options.Json = False,
) -> None:
    """Add a screw that was tried in a hole on file, and say how large the hole is now."""
    inches = options.reads_inches(unit)
    number = part_number(hole)
    part = int(screw) if screw.strip().isdigit() else part_of(screw)
    typed = _typed(screw, part, went_in, stopped, turns, moved, overhang)
    u95 = reading_u95(read_with, movement_u95)
    day = None if tried is None else parse_day(tried, "--tried")
    from cli.refusals import refusals_reported
    from records.holes import add_trial, filed_screw, judge_filed_hole
    from threads.hole.trial import HoleError

    with refusals_reported(as_json=as_json):
        file = opened(register)
        measured, document = (None, None) if part is not None else _measured(screw, calibration, scale)
        try:
            with file.writing(who) as writing:
                one = measured if part is None else filed_screw(writing.connection, part)
                assert one is not None
                tried_so = trial_of(typed, one, u95)
                added = add_trial(writing, number, tried_so, screw=part, document=document, remark=remark, tried=day)
            with file.reading() as connection:
                found = judge_filed_hole(connection, number)
        except HoleError as error:
            raise CommandLineError(message(error)) from error
    if as_json:
        status = {"schema": "flankwise/trial/1", "status": "filed", "part": number, "trial": added}
        write_json({**status, "hole": None if found is None else found.to_dict()})
    else:
        show_trial(added, number, found, full=full, inches=inches)


def show_trial(added: int, number: int, found: HoleAnswer | None, *, full: bool, inches: bool) -> None:
    """Print what was filed, and the hole as it is known now."""
    line = f"trial {added} filed with part {number}"
    if found is None:
        show(line, "No screw has gone in yet: the size of the hole is not known. Try a smaller one.")
    else:
        show_hole(found, full=full, inches=inches, more=[line])


def hole_blocks(hole: FiledHole, found: HoleAnswer | None, *, inches: bool) -> list[Block]:
    """What is known of a hole on file: its thread and lengths, its size by the trials, and each of them."""
    from cli.hole import trials_table
    from threads.shared.formatting import format_length

    deep = "" if hole.depth is None else f", {format_length(hole.depth, inches=inches)} deep"
    head = f"hole {hole.thread}, screws engage over {format_length(hole.engagement, inches=inches)}{deep}"
    if found is None:
        return [head, "no screw has gone in yet"]
    return ["", head, *found.sentences(inches=inches), "", trials_table(found.found, inches=inches), ""]


def trial_lines(hole: FiledHole) -> list[str]:
    """Each trial with its number, by which it can be withdrawn."""
    lines = []
    for one in hole.trials:
        screw = f"part {one.screw}" if one.screw is not None else one.name
        said = f" ({one.remark})" if one.remark else ""
        state = ", withdrawn" if one.withdrawn else ""
        lines.append(f"trial {one.id} {one.tried} {one.who}: {screw} {OUTCOMES[one.outcome]}{said}{state}")
    return lines


def _typed(
    screw: str,
    part: int | None,
    went_in: bool,
    stopped: bool,
    turns: str | None,
    moved: str | None,
    overhang: str | None,
) -> Typed:
    if (went_in, stopped, moved is not None).count(True) != 1:
        raise CommandLineError("what came of it? Give one of --went-in, --stopped, --moved LENGTH --overhang LENGTH")
    if turns is not None and not stopped:
        raise CommandLineError("--turns goes with --stopped")
    if (moved is None) != (overhang is None):
        raise CommandLineError("--moved and --overhang go together: how far it travelled, and where that was read")
    if moved is None or overhang is None:
        outcome = "went_in" if went_in else "stopped"
        return Typed(screw, part, outcome, turns=None if turns is None else read_turns(turns))
    way, own = read_movement(moved)
    return Typed(screw, part, "moved", movement=way, movement_u95=own, overhang=read_way(overhang, "--overhang"))


def _measured(picture: str, calibration: str | None, scale: str | None) -> tuple[TriedScrew, dict[str, Any]]:
    from cli.bench import measured, scale_of
    from flankwise.holes import tried_screw

    part = measured(picture, calibration, scale_of(calibration, scale))
    return tried_screw(part), part.to_dict()
