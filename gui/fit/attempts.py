"""The attempts at a replacement, and the calls that a worker makes for them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from flankwise.cutting import CuttingError, CutToFit, fit, measured_cut
from gui.fit.held import Held, Hole, OfClass, class_limits
from gui.fit.trials import Tried
from threads.cutting.die_choice import DIE
from threads.cutting.die_words import what_it_cuts, what_was_learnt
from threads.shared.refusal import Reason, RefusalError
from threads.standards.limits import Limits
from threads.workshop.drawn_thread import TriedHole

if TYPE_CHECKING:
    from records.report.spoken import Spoken


@dataclass(frozen=True, eq=False)
class Attempt:
    """A screw that was cut; ``setting``: how the die was set, as typed; ``filed``: its number once it is on file."""

    held: Held
    setting: str = ""
    filed: int | None = None


def fitted_to(target: Hole | str, attempts: Sequence[Attempt]) -> CutToFit:
    """Where the attempts stand against an original, a hole, or the class that was typed.

    Raises RefusalError: an unknown class, an attempt that is another thread or a hole.
    """
    aim: Held | Limits | TriedHole
    if isinstance(target, Held):
        aim = target
    elif isinstance(target, Tried):
        if target.answer is None:
            raise RefusalError("hole_without_trials", part=target.number)
        aim = replace(target.answer.as_tried, name=target.text)
    else:
        aim = target.limits if isinstance(target, OfClass) else class_limits(target)
    cuts = [measured_cut(one.held.reference, one.setting or None) for one in attempts]
    try:
        if isinstance(aim, Held):
            return fit(measured_cut(aim.reference), cuts, name=aim.name)
        return fit(aim, cuts)
    except CuttingError as error:
        raise RefusalError(*error.reasons) from error


@dataclass(frozen=True)
class KnownTool:
    """A die on file: its name, and what is to be said of it, the line of its label first."""

    name: str
    says: tuple[Reason, ...]


def dies_at_hand(file: str | None, part: int | None) -> tuple[KnownTool, ...]:
    """The dies on file, the nearest to ``part`` first, where that is a screw on file. Raises RefusalError."""
    from gui.register.deeds import opened
    from records.dies import dies_for_part, states_on_file
    from records.reading import read_part
    from records.register_path import register_path

    if not register_path(file).exists():
        return ()
    with opened(file).reading() as connection:
        original = None if part is None else read_part(connection, part).measurement
        if part is None or original is None or original.thread.internal:
            states = [one for one in states_on_file(connection) if one.die.kind == DIE]
            return tuple(KnownTool(one.die.name, (what_it_cuts(one), *what_was_learnt(one))) for one in states)
        choices = dies_for_part(connection, part).choices
    return tuple(KnownTool(one.state.die.name, (what_it_cuts(one.state), one.note)) for one in choices)


def die_on_paper(file: str | None, name: str, path: str, spoken: Spoken) -> str:
    """Write the label of a die into ``path``, or with "" the sheet of all dies; ``path`` again. Raises OSError too."""
    from gui.register.deeds import opened
    from records.die_label import die_label_drawn
    from records.die_sheet import die_sheet
    from records.dies import states_on_file
    from records.letterhead import letterhead
    from threads.shared.whole_file import write_whole

    register = opened(file)
    with register.reading() as connection:
        states = states_on_file(connection)
    if name:
        state = next((one for one in states if one.die.name.casefold() == name.casefold()), None)
        if state is None:
            raise RefusalError("no_such_name.none", what="die or tap", name=name)
        content = die_label_drawn(state, "png" if path.lower().endswith(".png") else "pdf", spoken)
    else:
        content = die_sheet(states, spoken, head=letterhead(register))
    write_whole(Path(path), content)
    return path


def file_attempts(file: str | None, part: int, die: str, attempts: Sequence[Attempt]) -> tuple[Attempt, ...]:
    """File the attempts that are not on file as replacements for ``part``, cut by ``die``; a new name is filed, too.

    Raises RefusalError: name_alike and others; what was filed before stays filed.
    """
    from gui.register.deeds import opened
    from records.dies import file_die
    from records.lookup import die_called
    from records.replacing import file_replacement

    register = opened(file, create=True)
    with register.writing() as writing:
        if die and die_called(writing.connection, die) is None:
            file_die(writing, die, kind="die", cuts=None, remark=None)
    done = []
    for one in attempts:
        number = one.filed
        if number is None:
            known, measurement = one.held.filed, one.held.measurement
            filed = file_replacement(
                register, part, measurement=measurement if known is None else None, made_part=known, die=die or None,
                setting=one.setting or None,
            )  # fmt: skip
            number = filed.made_part
        done.append(Attempt(one.held, one.setting, number))
    return tuple(done)
