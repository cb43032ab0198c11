"""One part on the bench: its picture, how it is to be read, and what was found."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
import numpy.typing as npt

from calib.calibration import Calibration
from calib.file import check_picture_size
from calib.remarks import camera_remarks
from threads.identify import Identification, identify
from vision.fitted_outline import fitted_outline
from vision.folded import Folded, fold
from vision.measure import measure_picture
from vision.measurement import Measurement
from vision.picture import Picture, read_picture
from vision.plane import PlaneMap
from vision.refusal import Reason, RefusalError

Array = npt.NDArray[np.float64]


@dataclass(frozen=True)
class Choices:
    """What a person said about a part and its picture.

    Attributes:
        name: what the part is called.
        part: which part in view, numbered from the left from 1; None where there is one.
        hand: "right" or "left" where somebody looked; starts: where somebody counted.
        origin: two letters of the instrument's country. made: years from, to. series: only these.
    """

    name: str = ""
    part: int | None = None
    hand: str | None = None
    starts: int | None = None
    origin: str | None = None
    made: tuple[int, int] | None = None
    series: tuple[str, ...] | None = None


@dataclass(frozen=True, eq=False)
class Piece:
    """A part as it lies there.

    ``measurement`` and what follows from it are None where the picture was refused for ``reasons``.
    ``filed``: its number in the register once it is on file.
    """

    path: str
    choices: Choices
    picture: Picture | None = None
    measurement: Measurement | None = None
    identification: Identification | None = None
    folded: Folded | None = None
    outline: tuple[Array, Array] | None = None
    reasons: tuple[Reason, ...] = ()
    filed: int | None = None

    @property
    def name(self) -> str:
        return self.choices.name or Path(self.path).stem.replace("_", " ")


def measure_piece(path: str, plane: PlaneMap | None, choices: Choices, picture: Picture | None = None) -> Piece:
    """Read (unless ``picture`` was read before), measure and identify; a refusal stands in the piece.

    ``plane`` None: no bench is in force; the picture is read only.
    """
    piece = Piece(path, choices, picture)
    try:
        read = read_picture(path) if picture is None else picture
        piece = replace(piece, picture=read)
        if plane is None:
            return piece
        measurement = _measured(read, plane, choices)
    except RefusalError as refusal:
        return replace(piece, reasons=refusal.reasons)
    piece = replace(
        piece, measurement=measurement, folded=fold(measurement), outline=fitted_outline(measurement), reasons=()
    )
    return identified(piece, choices)


def identified(piece: Piece, choices: Choices) -> Piece:
    """The piece with the identification that origin, year and series of ``choices`` give; nothing is measured."""
    if piece.measurement is None:
        return replace(piece, choices=choices)
    found = identify(piece.measurement.thread, origin=choices.origin, made=choices.made, series=choices.series)
    return replace(piece, choices=choices, identification=found)


def _measured(picture: Picture, plane: PlaneMap, choices: Choices) -> Measurement:
    if isinstance(plane, Calibration):
        check_picture_size(plane, picture, "The bench in force")
    found = measure_picture(picture, plane, part=choices.part, hand=choices.hand, starts=choices.starts)
    doubts = camera_remarks(plane, picture.path) if isinstance(plane, Calibration) else ()
    if not doubts:
        return found
    return replace(found, quality=replace(found.quality, warnings=(*found.quality.warnings, *doubts)))
