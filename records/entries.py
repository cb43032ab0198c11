"""What is on file, as plain data: the rows of the register with their places put together."""

from __future__ import annotations

import json
from dataclasses import dataclass, field
from typing import Any

from threads.measured.measured_document import MeasurementDocumentError, possible_thread
from threads.measured.thread import MeasuredThread
from threads.shared.refusal import RefusalError


@dataclass(frozen=True)
class Instrument:
    """An instrument. ``made``: first and last year in which it can have been made; ``country``: ISO 3166 alpha-2."""

    id: int
    uid: str
    name: str
    maker: str | None
    model: str | None
    serial: str | None
    made: tuple[int, int] | None
    country: str | None
    owner_note: str | None


@dataclass(frozen=True)
class Job:
    """A job; ``instrument`` is the id of the one it is about, ``owner`` whose that is."""

    id: int
    uid: str
    name: str
    instrument: int | None
    about: str | None
    added: str
    owner: str | None = None


@dataclass(frozen=True)
class Position:
    """Where a screw belongs on an instrument; ``place``: its turn in lists and reports."""

    id: int
    uid: str
    instrument: int
    name: str
    place: int


@dataclass(frozen=True)
class FiledPicture:
    """A picture on file; where its file is: ``Register.store.original(sha256, suffix)``."""

    id: int
    uid: str
    sha256: str
    suffix: str
    file_name: str
    bytes: int
    width_px: int
    height_px: int
    added: str
    shows: str | None


@dataclass(frozen=True)
class FiledIdentification:
    """An identification; ``document``: that of ``identify --json`` without the measurement, and what was ``given``.

    ``says``: the answer in a few words.
    """

    id: int
    uid: str
    measurement: int
    status: str
    says: str
    designation: str | None
    probability: float | None
    document: dict[str, Any] = field(repr=False)
    added: str
    who: str


@dataclass(frozen=True)
class FiledCheck:
    """A check; ``document``: that of ``check --json`` without the measurement."""

    id: int
    uid: str
    measurement: int
    against: str
    verdict: str
    document: dict[str, Any] = field(repr=False)
    added: str
    who: str


@dataclass(frozen=True)
class FiledMeasurement:
    """A measurement; ``text`` is the JSON of its document.

    ``picture`` and ``calibration`` are ids; ``calibration_name`` is what the calibration's file calls itself.
    """

    id: int
    uid: str
    part: int
    picture: int | None
    calibration: int | None
    calibration_name: str | None
    measured: str
    who: str
    version: str
    withdrawn: bool
    text: str = field(repr=False)
    identifications: tuple[FiledIdentification, ...] = ()
    checks: tuple[FiledCheck, ...] = ()

    @property
    def document(self) -> dict[str, Any]:
        """The object of ``measure --json``."""
        document: dict[str, Any] = json.loads(self.text)
        return document

    @property
    def thread(self) -> MeasuredThread:
        """The measured thread, with its covariance.

        Raises RefusalError (measurement_damaged) where it can be that of no screw: older versions took such in.
        """
        try:
            return possible_thread(self.document)
        except (ValueError, RecursionError) as error:
            reason = error.reasons[0] if isinstance(error, MeasurementDocumentError) else str(error)
            raise RefusalError("measurement_damaged", measurement=self.id, part=self.part, why=reason) from error

    @property
    def identification(self) -> FiledIdentification | None:
        """The latest."""
        return self.identifications[-1] if self.identifications else None


@dataclass(frozen=True)
class FiledDie:
    """A die or tap (``kind``) of the workshop; ``cuts``: the thread it is for, as far as somebody said."""

    id: int
    uid: str
    name: str
    kind: str
    cuts: str | None
    remark: str | None
    withdrawn: bool


@dataclass(frozen=True)
class Replacement:
    """A replacement made for a part; ``made_part``: the id of the new screw, where it is on file.

    ``die``: what somebody wrote of the die; ``cut_by``: the id of the die, where it is on file.
    """

    id: int
    uid: str
    part: int
    made_part: int | None
    made: str
    die: str | None
    setting: str | None
    stock: str | None
    remark: str | None
    who: str
    withdrawn: bool
    cut_by: int | None = None


@dataclass(frozen=True)
class FiledTrial:
    """A screw that was tried in a hole; lengths in mm.

    ``screw``: the part, where it is on file; else ``name``, and ``text``, the JSON of its measurement. ``turns``: after
    how many it stopped. ``movement``: whole travel from side to side at ``overhang`` from the mouth.
    """

    id: int
    uid: str
    screw: int | None
    name: str | None
    tried: str
    outcome: str
    turns: float | None
    movement: float | None
    movement_u95: float | None
    overhang: float | None
    remark: str | None
    who: str
    withdrawn: bool
    text: str | None = field(repr=False, default=None)


@dataclass(frozen=True)
class FiledHole:
    """What makes a part a tapped hole: its thread, over which length screws engage, its depth (mm), the trials."""

    id: int
    uid: str
    thread: str
    engagement: float
    depth: float | None
    trials: tuple[FiledTrial, ...]


@dataclass(frozen=True)
class Note:
    """A note on a part, an instrument or a job."""

    id: int
    uid: str
    text: str
    added: str
    who: str
    withdrawn: bool


@dataclass(frozen=True)
class Correction:
    """One value that was set right: what it was before, who changed it, when and why."""

    id: int
    uid: str
    table: str
    row_uid: str
    column: str
    before: Any
    after: Any
    added: str
    who: str
    why: str | None


@dataclass(frozen=True)
class Part:
    """A part with everything on file about it; measurements and pictures oldest first, withdrawn ones included.

    ``hole``: where it is a tapped hole in which screws are tried.
    """

    id: int
    uid: str
    name: str | None
    instrument: Instrument | None
    position: Position | None
    job: Job | None
    added: str
    who: str
    withdrawn: bool
    pictures: tuple[FiledPicture, ...]
    measurements: tuple[FiledMeasurement, ...]
    replacements: tuple[Replacement, ...]
    notes: tuple[Note, ...]
    corrections: tuple[Correction, ...]
    hole: FiledHole | None = None

    @property
    def measurement(self) -> FiledMeasurement | None:
        """The one that counts: the latest that was not withdrawn."""
        return next((m for m in reversed(self.measurements) if not m.withdrawn), None)

    @property
    def picture(self) -> FiledPicture | None:
        """The picture of the measurement that counts, or the latest one."""
        measured = None if self.measurement is None else self.measurement.picture
        found = next((p for p in self.pictures if p.id == measured), None)
        return found or (self.pictures[-1] if self.pictures else None)
