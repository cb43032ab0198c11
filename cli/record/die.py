"""``flankwise record die`` and ``dies``: the workshop's dies and taps, and what each really cuts."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from cli import options
from cli.errors import CommandLineError
from cli.output import show, write_json
from cli.record.paper import Language, PaperSize, read_language, read_paper
from cli.register import RegisterFile, Who, opened, part_number

if TYPE_CHECKING:
    from cli.tables import Block
    from flankwise.cutting import DiesAnswer
    from threads.cutting.die_choice import DieState

LABELS = (".png", ".pdf")


def die(
    name: Annotated[str, typer.Argument(metavar="NAME", help="What the die is called: '4-40 split die no. 2'.")],
    cuts: Annotated[str | None, typer.Option("--cuts", metavar="THREAD", help="The thread it is for: 4-40.")] = None,
    tap: Annotated[bool, typer.Option("--tap", help="It is a tap.")] = False,
    remark: Annotated[str | None, typer.Option("--remark", metavar="TEXT", help="What else there is to say.")] = None,
    create: Annotated[bool, typer.Option("--create", help="Even if its name is nearly that of another.")] = False,
    output: Annotated[
        str | None, typer.Option("-o", "--output", metavar="FILE", help="Draw its label: .png or .pdf.")
    ] = None,
    language: Language = "en",
    register: RegisterFile = None,
    who: Who = None,
    unit: options.Unit = "mm",
    as_json: options.Json = False,
) -> None:
    """File a die or a tap; of one on file show what it cuts.

    'flankwise record replacement PART PICTURE --die NAME' adds what it cut, 'flankwise record dies' lists all.
    """
    spoken = read_language(language, unit)
    inches = spoken.inches
    if not name.strip():
        raise CommandLineError("the die has no name")
    target = None if output is None else Path(output)
    if target is not None and target.suffix.lower() not in LABELS:
        raise CommandLineError(f"-o {output}: the name must end in .png or .pdf")
    thread = None if cuts is None else thread_typed(cuts)
    from cli.refusals import refusals_reported
    from records.dies import file_die, state_of
    from records.lookup import die_called

    with refusals_reported(as_json=as_json):
        file = opened(register, create=True)
        filed, taken = "", 0
        with file.reading() as connection:
            number = die_called(connection, name)
        if number is None or thread is not None or tap or remark is not None:
            kind = "tap" if tap else "die"
            with file.writing(who) as writing:
                number, taken = file_die(writing, name, kind=kind, cuts=thread, remark=remark, create=create)
            filed = "filed: "
        with file.reading() as connection:
            state = state_of(connection, number)
        if target is not None:
            from records.die_label import die_label_drawn
            from threads.shared.whole_file import write_whole

            try:
                write_whole(target, die_label_drawn(state, target.suffix.lower()[1:], spoken))
            except OSError as error:
                raise CommandLineError(f"-o {output} cannot be written: {error.strerror}") from error
    if as_json:
        status = "filed" if filed else "on file"
        write_json({"schema": "flankwise/die/1", "status": status, **state.to_dict(), "file": output})
        return
    adopted = [f"{taken} replacement{'s' if taken > 1 else ''} on file named it: its cuts"] if taken else []
    drawn = [f"drawn in {output}"] if output else []
    first, *told = _told(state, inches=inches)
    show(f"{filed}{first}", *told, *adopted, *drawn)


def dies(
    part: Annotated[
        str | None, typer.Option("--for", metavar="PART", help="Which comes nearest to this part on file.")
    ] = None,
    hole: Annotated[
        str | None, typer.Option("--hole", metavar="CLASS", help="With --for, the class of the hole it goes into.")
    ] = None,
    hole_part: Annotated[
        str | None, typer.Option("--hole-part", metavar="PART", help="With --for, the hole on file it goes into.")
    ] = None,
    engagement: Annotated[
        str | None, typer.Option("--engagement", metavar="LENGTH", help="With --for, over which threads engage.")
    ] = None,
    sheet: Annotated[
        str | None, typer.Option("--sheet", metavar="FILE.pdf", help="Write a sheet of all dies to pin to the wall.")
    ] = None,
    paper: PaperSize = "a4",
    language: Language = "en",
    register: RegisterFile = None,
    unit: options.Unit = "mm",
    as_json: options.Json = False,
) -> None:
    """List the dies and taps with what each cuts; with --for, which comes nearest to a part, the best first."""
    spoken = read_language(language, unit)
    inches = spoken.inches
    number = None if part is None else part_number(part)
    if number is None and not (hole is hole_part is engagement is None):
        raise CommandLineError("--hole, --hole-part and --engagement go with --for PART")
    if hole is not None and hole_part is not None:
        raise CommandLineError("--hole and --hole-part say the same thing twice: give one of them")
    tapped = None if hole_part is None else part_number(hole_part)
    if number is not None and sheet is not None:
        raise CommandLineError("--sheet lists all dies: leave out --for")
    limits = length = None
    if hole is not None:
        from cli.play import limits_of_class

        limits = limits_of_class(hole, internal=True)
    if engagement is not None:
        from cli.lengths import parse_length

        length = parse_length(engagement, "--engagement")
    target = None
    if sheet is not None:
        from cli.target import file_to_write

        target = file_to_write("--sheet", sheet, (".pdf",))
        read_paper(paper)
    from cli.refusals import refusals_reported
    from records.letterhead import letterhead

    with refusals_reported(as_json=as_json):
        file = opened(register)
        head = letterhead(file) if target is not None else ()
        from records.dies import dies_for_part, into_hole, states_on_file

        into = limits if tapped is None else into_hole(file, tapped)
        with file.reading() as connection:
            if number is None:
                states, answer = states_on_file(connection), None
            else:
                states, answer = (), dies_for_part(connection, number, hole=into, engagement_mm=length)
    if target is not None:
        from records.die_sheet import die_sheet
        from threads.shared.whole_file import write_whole

        try:
            write_whole(target, die_sheet(states, spoken, paper=paper, head=head))
        except OSError as error:
            raise CommandLineError(f"--sheet {sheet} cannot be written: {error.strerror}") from error
    if as_json:
        listed = {"schema": "flankwise/dies/1", "part": None, "dies": [one.to_dict() for one in states]}
        write_json(listed if answer is None else answer.to_dict(number or 0))
        return
    if answer is None:
        show(*_listed(states, inches=inches), *([f"written: {target}"] if target else []))
    else:
        show(*_nearest(answer, number or 0, inches=inches))


def thread_typed(text: str, option: str = "--cuts") -> str:
    """The thread that a die is for, as typed. Raises CommandLineError for one that is not known."""
    from flankwise.reasons import message
    from threads.hole.classes import hole_thread
    from threads.standards.designation import UnknownDesignationError

    try:
        return hole_thread(text).name
    except UnknownDesignationError as error:
        raise CommandLineError(f"{option}: {message(error)}") from error


def _told(state: DieState, *, inches: bool) -> list[str]:
    from flankwise.reasons import sentence
    from threads.cutting.die_words import what_it_cuts, what_was_learnt

    told = (what_it_cuts(state), *what_was_learnt(state))
    return [f"{state.die.kind} {state.die.name}", *(f"  {sentence(one, inches=inches)}" for one in told)]


def _listed(states: tuple[DieState, ...], *, inches: bool) -> list[Block]:
    if not states:
        return ["no dies on file: flankwise record die NAME"]
    from cli.tables import plain_table
    from threads.shared.formatting import format_difference, format_quantity

    table = plain_table(
        "die", "kind", "for", "cuts", "next cut", "spread", "setting", right=("cuts",), whole=("next cut",)
    )
    for one in states:
        cut, spread = "", ""
        if one.learnt is not None and one.next_cut is not None:
            cut = format_quantity(one.next_cut, inches=inches)
            spread = format_difference(one.learnt.scatter.mean, "mm", inches=inches)
        setting = one.die.cuts[-1].setting if one.die.cuts else None
        table.add_row(
            one.die.name, one.die.kind, one.die.says or "", str(len(one.die.cuts)), cut, spread, setting or ""
        )
    return [table]


def _nearest(answer: DiesAnswer, part: int, *, inches: bool) -> list[Block]:
    if not answer.choices:
        return [f"no die on file for part {part}: flankwise record die NAME"]
    from cli.tables import Paragraph, plain_table
    from flankwise.reasons import sentence
    from threads.measured.form_errors import in_micrometres
    from threads.shared.formatting import format_probability, format_quantity

    def share(p: float | None) -> str:
        return "–" if p is None else format_probability(p)

    table = plain_table("die", "next cut", "off", "enters", "conforms", "alike", whole=("next cut", "off"))
    for one in answer.choices:
        off = one.difference
        small = None if off is None else off if inches else in_micrometres(off)
        cut = "–" if one.state.next_cut is None else format_quantity(one.state.next_cut, inches=inches)
        each = (share(one.enters), share(one.conforms), share(one.feels))
        table.add_row(one.state.die.name, cut, "–" if small is None else format_quantity(small, inches=inches), *each)
    notes = (Paragraph(sentence(one.note, inches=inches), f"{one.state.die.name}: ") for one in answer.choices)
    return [
        f"for part {part}, the nearest first; off: larger than it; alike: feels as it does",
        "",
        table,
        "",
        *notes,
    ]
