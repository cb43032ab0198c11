"""One part on the bench: its picture, how it is to be read, and what was found."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
import numpy.typing as npt

from calib.calibration import Calibration
from calib.file import check_picture_size
from calib.remarks import camera_remarks
from gui.levels import Bytes, levels_of_light
from gui.thinned import thinned
from threads.identify.identification import Identification, identify
from threads.shared.refusal import Reason, RefusalError
from vision.locate.looked import ByHand, Looked, look
from vision.pictures.picture import Picture, read_picture
from vision.result.fitted_outline import fitted_outline
from vision.result.folded import Folded, fold
from vision.result.measure import measure_looked
from vision.result.measurement import Measurement
from vision.shared.plane import PlaneMap

Array = npt.NDArray[np.float64]

_UNSEEN_PX = 0.03


@dataclass(frozen=True)
class Choices:
    """What a person said about a part and its picture.

    Attributes:
        name: what the part is called.
        part: which part in view, numbered from the left from 1; None where there is one.
        hand: "right" or "left" where somebody looked; starts: where somebody counted.
        ends, masks: what was set right in the picture (``vision.locate.looked.ByHand``).
        origin: two letters of the instrument's country. made: years from, to. series: only these.
    """

    name: str = ""
    part: int | None = None
    hand: str | None = None
    starts: int | None = None
    ends: tuple[tuple[float, float], tuple[float, float]] | None = None
    masks: tuple[tuple[float, float, float, float], ...] = ()
    origin: str | None = None
    made: tuple[int, int] | None = None
    series: tuple[str, ...] | None = None


@dataclass(frozen=True, eq=False)
class Piece:
    """A part as it lies there.

    ``levels`` is the picture made ready for the screen, ``looked`` what was seen of the part.
    ``measurement`` and what follows from it are None where the picture was refused for ``reasons``.
    ``filed``: its number in the register once it is on file. ``own_plane``: what maps its pixels where that is not the
    bench in force, such as the calibration that it was filed with.
    """

    path: str
    choices: Choices
    picture: Picture | None = None
    levels: tuple[Bytes, ...] = ()
    looked: Looked | None = None
    measurement: Measurement | None = None
    identification: Identification | None = None
    folded: Folded | None = None
    outline: tuple[Array, Array] | None = None
    reasons: tuple[Reason, ...] = ()
    filed: int | None = None
    own_plane: PlaneMap | None = None

    @property
    def name(self) -> str:
        return self.choices.name or Path(self.path).stem.replace("_", " ")


def measure_piece(path: str, plane: PlaneMap | None, choices: Choices, before: Piece | None = None) -> Piece:
    """Read, measure and identify; a refusal stands in the piece.

    ``plane`` None: no bench is in force; the picture is read only. ``before`` is the same picture as it was measured
    last: what was read and seen then is not done again.
    """
    piece = Piece(path, choices) if before is None else replace(before, choices=choices, reasons=())
    try:
        if piece.picture is None:
            picture = read_picture(path)
            piece = replace(piece, picture=picture, levels=levels_of_light(picture.light))
        if plane is None:
            return _unmeasured(piece, ())
        if piece.looked is None or before is None or before.choices.part != choices.part:
            assert piece.picture is not None
            piece = replace(piece, looked=look(piece.picture, part=choices.part))
        assert piece.looked is not None
        measurement = _measured(piece.looked, plane, choices)
    except RefusalError as refusal:
        return _unmeasured(piece, refusal.reasons)
    upper, lower = fitted_outline(measurement)
    outline = thinned(upper, _UNSEEN_PX), thinned(lower, _UNSEEN_PX)
    piece = replace(piece, measurement=measurement, folded=fold(measurement), outline=outline)
    return identified(piece, choices)


def _unmeasured(piece: Piece, reasons: tuple[Reason, ...]) -> Piece:
    return replace(piece, measurement=None, identification=None, folded=None, outline=None, reasons=reasons)


def identified(piece: Piece, choices: Choices) -> Piece:
    """The piece with the identification that origin, year and series of ``choices`` give; nothing is measured."""
    if piece.measurement is None:
        return replace(piece, choices=choices)
    found = identify(piece.measurement.thread, origin=choices.origin, made=choices.made, series=choices.series)
    return replace(piece, choices=choices, identification=found)


def _measured(looked: Looked, plane: PlaneMap, choices: Choices) -> Measurement:
    if isinstance(plane, Calibration):
        check_picture_size(plane, looked.picture, "The bench in force")
    by_hand = ByHand(choices.ends, choices.masks)
    found = measure_looked(looked, plane, hand=choices.hand, starts=choices.starts, by_hand=by_hand)
    return found.with_warnings(camera_remarks(plane, looked.picture.path))
