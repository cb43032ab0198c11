"""One part on the bench: its picture, how it is to be read, and what was found."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt

from calib.calibration import Calibration
from calib.sample_calibration import MARK, check_sample, is_sample
from flankwise.amounts import in_mm
from flankwise.bench import Bench, bench_of, with_own_gauges
from flankwise.identifying import identify
from flankwise.judging_instrument import InstrumentAnswer
from flankwise.measuring import PIN_U95, measure
from flankwise.part import Part
from gui.levels import Bytes, levels_of_light
from gui.samples import sample_hashes
from gui.thinned import thinned
from records.series_on_file import series_on_file
from threads.identify.identification import Identification
from threads.identify.stated import Stated, stated
from threads.shared.file_name import plain_name
from threads.shared.refusal import Reason, RefusalError
from threads.workshop.answer import Answer
from vision.locate.detection import DetectedPart, detect
from vision.pictures.picture import Picture, read_picture
from vision.result.fitted_outline import fitted_outline
from vision.result.folded import Folded, fold
from vision.result.measurement import Measurement
from vision.shared.plane import PlaneMap

Array = npt.NDArray[np.float64]

_UNSEEN_PX = 0.03
_NO_LIGHT = np.empty((0, 0), np.float32)

SMALL_PX = 240
"""The picture in a list is at most so wide and high: twice what is drawn, for screens of high resolution."""


@dataclass(frozen=True)
class Choices:
    """What a person said about a part and its picture.

    Attributes:
        name: what the part is called.
        part: which part in view, numbered from the left from 1; None where there is one.
        hand: "right" or "left" where somebody looked; starts: where somebody counted.
        pin_beside: diameter, mm, of a gauge pin that lies beside the part.
        surface: "bright", "dull" or "black" where somebody looked.
        ends, masks: what was set right in the picture (``vision.locate.detection.ByHand``).
        origin: two letters of the instrument's country. made: years from, to. series: only these.
        instrument: name of the instrument on file whose other screws count; None: the part by itself.
        stated: what a document or a person says of the thread: what, by whom, its weight. source: where that stands.
    """

    name: str = ""
    part: int | None = None
    hand: str | None = None
    starts: int | None = None
    pin_beside: float | None = None
    surface: str | None = None
    ends: tuple[tuple[float, float], tuple[float, float]] | None = None
    masks: tuple[tuple[float, float, float, float], ...] = ()
    origin: str | None = None
    made: tuple[int, int] | None = None
    series: tuple[str, ...] | None = None
    instrument: str | None = None
    stated: tuple[str, str, float] | None = None
    source: str = ""

    @property
    def statement(self) -> Stated | None:
        """What is stated, read; it was read before it was chosen."""
        return None if self.stated is None else stated(*self.stated)


@dataclass(frozen=True, eq=False)
class Piece:
    """A part as it lies there.

    ``levels`` is the picture made ready for the screen, ``looked`` what was seen of the part; neither is there, and
    ``picture`` has no light, where the piece is ``slim``. ``small`` is the picture for a list.
    ``measurement`` and what follows from it are None where the picture was refused for ``reasons``.
    ``bench_doubts``: what speaks for another bench or scale where no thread fits.
    ``filed``: its number in the register once it is on file. ``own_plane``: what maps its pixels where that is not the
    current bench, such as the calibration that it was filed with.
    """

    path: str
    choices: Choices
    picture: Picture | None = None
    levels: tuple[Bytes, ...] = ()
    looked: DetectedPart | None = None
    measurement: Measurement | None = None
    identification: Identification | None = None
    answer: Answer | None = None
    bench_doubts: tuple[Reason, ...] = ()
    folded: Folded | None = None
    outline: tuple[Array, Array] | None = None
    reasons: tuple[Reason, ...] = ()
    filed: int | None = None
    own_plane: PlaneMap | None = None
    small: Bytes | None = None

    @property
    def name(self) -> str:
        return self.choices.name or Path(self.path).stem.replace("_", " ")

    @property
    def decoded(self) -> bool:
        """Whether the picture is there with its light."""
        return self.picture is not None and self.picture.light.size > 0


def slim(piece: Piece) -> Piece:
    """The results of ``piece`` without the decoded picture: a picture of 24 megapixels takes 100 MB, they take 1 MB."""
    if not piece.decoded:
        return piece
    assert piece.picture is not None
    picture = replace(piece.picture, light=_NO_LIGHT)
    measurement = None if piece.measurement is None else replace(piece.measurement, picture=picture)
    return replace(piece, picture=picture, levels=(), looked=None, measurement=measurement)


def with_picture(measurement: Measurement) -> Measurement:
    """``measurement`` with its picture read again, where ``slim`` let it go. Raises as ``filled``."""
    if measurement.picture.light.size:
        return measurement
    return replace(measurement, picture=_read_again(measurement.picture.path, measurement.picture.sha256))


def _read_again(path: str, sha256: str) -> Picture:
    picture = read_picture(path)
    if picture.sha256 != sha256:
        raise picture_changed(path)
    return picture


def filled(piece: Piece) -> Piece:
    """``piece`` with its picture read again.

    Raises RefusalError: picture_changed where the file is no longer the one that was measured, and what
    ``read_picture`` raises.
    """
    if piece.decoded:
        return piece
    picture = read_picture(piece.path) if piece.picture is None else _read_again(piece.path, piece.picture.sha256)
    measurement = None if piece.measurement is None else replace(piece.measurement, picture=picture)
    return replace(piece, picture=picture, measurement=measurement, **_for_the_screen(picture))


def picture_changed(path: str) -> RefusalError:
    """What is said of a picture whose file was replaced by another."""
    return RefusalError("picture_changed.on_card", name=plain_name(path))


def _for_the_screen(picture: Picture) -> dict[str, Any]:
    levels = levels_of_light(picture.light)
    return {"levels": levels, "small": next((one for one in levels if max(one.shape) <= SMALL_PX), levels[-1])}


def measure_piece(
    path: str, plane: PlaneMap | None, choices: Choices, before: Piece | None = None, register: str | None = None
) -> Piece:
    """Read, measure and identify; a refusal stands in the piece.

    ``plane`` None: there is no bench; the picture is read only. ``before`` is the same picture as it was measured
    last: what was read and seen then is not done again. ``register``: the file, None for the usual one.
    """
    piece = Piece(path, choices) if before is None else replace(before, choices=choices, reasons=())
    try:
        piece = filled(piece)
        if plane is None:
            return _unmeasured(piece, ())
        assert piece.picture is not None
        bench, part = _bench(piece.picture, plane, choices)
        if piece.looked is None or before is None or not _same_part(choices, before.choices):
            piece = replace(piece, looked=detect(piece.picture, part=part))
        assert piece.looked is not None
        measurement = _measured(piece.looked, plane, bench, choices, part)
    except RefusalError as refusal:
        return _unmeasured(piece, refusal.reasons)
    upper, lower = fitted_outline(measurement)
    outline = thinned(upper, _UNSEEN_PX), thinned(lower, _UNSEEN_PX)
    piece = replace(piece, measurement=measurement, folded=fold(measurement), outline=outline)
    return identified(piece, choices, register)


def unknown(piece: Piece) -> Piece:
    """``piece`` without what was found in its picture."""
    return replace(
        piece, measurement=None, identification=None, answer=None, bench_doubts=(), folded=None, outline=None
    )


def _unmeasured(piece: Piece, reasons: tuple[Reason, ...]) -> Piece:
    return replace(unknown(piece), reasons=reasons)


def identified(piece: Piece, choices: Choices, register: str | None = None) -> Piece:
    """The piece with the identification that ``choices`` and what is on file give; nothing is measured."""
    if piece.measurement is None:
        return replace(piece, choices=choices)
    told = identify(
        Part(piece.measurement),
        origin=choices.origin,
        made=choices.made,
        series=choices.series,
        on_file=series_on_file(register),
        stated=choices.statement,
        instrument=_others(piece.measurement, choices, register),
    )
    return replace(piece, choices=choices, identification=told.found, answer=told.answer, bench_doubts=told.doubts)


def _same_part(one: Choices, other: Choices) -> bool:
    """Whether both say the same part; with a pin beside it the part is the other one in view."""
    return one.part == other.part and (one.pin_beside is None) == (other.pin_beside is None)


def _bench(picture: Picture, plane: PlaneMap, choices: Choices) -> tuple[Bench, int | None]:
    """The bench, sharpened by a pin beside the part, and the number of the part. Raises RefusalError."""
    bench = bench_of(plane)
    if choices.pin_beside is None:
        return bench, choices.part
    known = bench if isinstance(plane, Calibration) else None
    return with_own_gauges(known, picture, choices.part, (choices.pin_beside, in_mm(PIN_U95, "pin")), {}, 0.0)


def _others(measurement: Measurement, choices: Choices, register: str | None) -> InstrumentAnswer | None:
    """The other screws of the instrument, judged together; None where there are none, or no longer."""
    if choices.instrument is None:
        return None
    from records.instrument import others_on_file

    try:
        return others_on_file(register, choices.instrument, sha256=measurement.picture.sha256)
    except RefusalError:
        return None


def _measured(looked: DetectedPart, plane: PlaneMap, bench: Bench, choices: Choices, part: int | None) -> Measurement:
    sample = is_sample(plane)
    check_sample(plane, looked.picture, sample_hashes() if sample else ())
    found = measure(
        looked,
        bench,
        part=part,
        surface=choices.surface,
        hand=choices.hand,
        starts=choices.starts,
        ends=choices.ends,
        masks=choices.masks,
    ).measurement
    return found.with_warnings((MARK,)) if sample else found
