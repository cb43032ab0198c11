"""A tapped hole on file as Fit uses it: filing it, trying screws in it, reading it; each a plain call for a worker."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from flankwise.holes import HoleAnswer, movement_of
from gui.register.deeds import Back, opened
from threads.hole.trial import HoleError, Trial, TriedScrew
from threads.shared.refusal import RefusalError
from threads.standards.designation import UnknownDesignationError

if TYPE_CHECKING:
    from records.entries import FiledHole
    from threads.measured.thread import MeasuredThread
    from vision.result.measurement import Measurement


@dataclass(frozen=True, eq=False)
class Tried:
    """A hole on file in the slot. ``answer``: None where no screw has gone in yet. ``engagement``: mm."""

    number: int
    text: str
    hole: FiledHole
    answer: HoleAnswer | None

    @property
    def engagement(self) -> float:
        return self.hole.engagement


@dataclass(frozen=True)
class NewHole:
    """A hole as it was typed, lengths in mm."""

    thread: str
    engagement: float
    depth: float | None
    name: str
    instrument: str


@dataclass(frozen=True, eq=False)
class TriedNow:
    """The screw that is tried: a part on file by its number, else by its measurement."""

    name: str
    thread: MeasuredThread
    filed: int | None
    measurement: Measurement | None


@dataclass(frozen=True)
class NewTrial:
    """What came of a trial as it was said, lengths in mm; ``u95``: of the movement, None: by how it was written."""

    outcome: str
    turns: float | None = None
    movement: float | None = None
    u95: float | None = None
    overhang: float = 0.0


def read_tried(file: str | None, number: int) -> Tried:
    """A hole on file with what its trials say. Raises RefusalError."""
    from records.filed_part import part_words
    from records.holes import hole_of, judge_filed_hole
    from records.reading import read_part

    try:
        with opened(file).reading() as connection:
            part = read_part(connection, number)
            return Tried(number, part_words(part), hole_of(part), judge_filed_hole(connection, number))
    except (HoleError, UnknownDesignationError) as error:
        raise RefusalError(*error.reasons) from error


def file_hole(file: str | None, new: NewHole) -> Tried:
    """File a hole as a part of its own. Raises RefusalError for what cannot be."""
    from records.documenting import Place
    from records.holes import file_hole as filed

    place = Place(instrument=new.instrument or None, name=new.name or None)
    try:
        number, _ = filed(opened(file, create=True), place, new.thread, engagement=new.engagement, depth=new.depth)
    except (HoleError, UnknownDesignationError) as error:
        raise RefusalError(*error.reasons) from error
    return read_tried(file, number)


def add_trial(file: str | None, number: int, screw: TriedNow, new: NewTrial) -> Back:
    """Try a screw in the hole: a trial more on file. Raises RefusalError for what cannot be."""
    from flankwise.reasons import sentence
    from records.holes import add_trial as added
    from threads.shared.plain_json import plain

    movement = None if new.movement is None else movement_of(new.movement, new.u95)
    tried = TriedScrew(screw.name, screw.name, screw.thread)
    trial = Trial(tried, new.outcome, new.turns, movement, new.overhang)
    document = None
    if screw.filed is None:
        if screw.measurement is None:
            raise RefusalError("trial_unmeasured", name=screw.name)
        document = plain(screw.measurement.to_dict(), sentence)
    try:
        with opened(file).writing() as writing:
            return Back("trials", added(writing, number, trial, screw=screw.filed, document=document))
    except HoleError as error:
        raise RefusalError(*error.reasons) from error
