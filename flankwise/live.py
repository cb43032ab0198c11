"""What a camera sees, measured frame by frame: numbers that narrow while a part lies still, and what turning it shows.

Each frame is measured as ``flankwise.measure`` does. Frames in which nothing moved are averaged first, as for a picture
that is taken. That takes away their noise and nothing else: scale, edge offset, light and the part's own form stay in
U95 however long one waits.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from flankwise.measuring import measure
from threads.shared.quantity import COVERAGE_FACTOR
from threads.shared.refusal import RefusalError
from vision.fit.budget import NOISE_AND_FORM
from vision.pictures.averaged import MOST_FRAMES, Averaging, picture_of
from vision.result.fitted_outline import fitted_outline
from vision.several.joined import is_same_part
from vision.several.turning import AllRound, Side, all_round, side_of

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt

    from flankwise.bench import Bench
    from flankwise.part import Part
    from threads.shared.quantity import Quantity
    from vision.fit.budget import BudgetTerm
    from vision.pictures.live_frame import Frame

SHOWN = ("pitch", "major_diameter", "pitch_diameter", "minor_diameter")
_EMPTY = frozenset({"no_part", "no_thread", "saturated.white"})
"""Codes of refusal between two parts: what is seen next is another one, or the same laid down anew."""
_STEP_DEG = 6.0  # of a turn: of each step the newest side is kept
_BLURRED = 1.3  # times the blur of the first side: the part moved while the frame was exposed


@dataclass(frozen=True, eq=False)
class Reading:
    """What is known after one more frame.

    Attributes:
        part: as measured in the mean of ``frames`` frames; None where it was refused.
        refusal: why; None where it was measured.
        frames: in which nothing moved.
        number: how many parts were seen so far, this one included; 0 before the first.
        before: the part before this one, as it was measured last.
        steady_u95: by the name of the quantity, what of its U95 does not go with more frames, in its unit.
        sides: what of the part was seen while it was turned.
        all_round: run-out and ovality from these.
        outline: the fitted outline of both edges, (n, 2) px each.
    """

    part: Part | None
    refusal: RefusalError | None
    frames: int
    number: int
    before: Part | None
    steady_u95: dict[str, float]
    sides: tuple[Side, ...]
    all_round: AllRound | None
    outline: tuple[npt.NDArray[np.float64], ...]


class LiveReadings:
    """Frames of one source in, readings out; it keeps the sum of the frames, not the frames."""

    def __init__(self, bench: Bench) -> None:
        self._bench = bench
        self._averaging = Averaging(MOST_FRAMES)
        self._number = 0
        self._first: Part | None = None
        self._last: Part | None = None
        self._before: Part | None = None
        self._sides: dict[int, Side] = {}
        self._gone = False

    def read(self, frame: Frame) -> Reading:
        """Measure one more frame. A part that cannot be measured is no error: the reading says why."""
        if not self._averaging.add(frame):
            self._averaging = Averaging(MOST_FRAMES)
            self._averaging.add(frame)
        mean = self._averaging.mean()
        try:
            part = measure(picture_of(mean), self._bench)
        except RefusalError as refusal:
            self._gone = self._gone or _nothing_there(refusal)
            return Reading(None, refusal, mean.frames, self._number, self._before, {}, (), None, ())
        self._note(part)
        sides = tuple(self._sides.values())
        found = part.measurement
        known = {name: getattr(part.thread, name) for name in SHOWN}
        steady = {name: _steady(q, found.budget[name]) for name, q in known.items() if q is not None}
        return Reading(
            part,
            None,
            mean.frames,
            self._number,
            self._before,
            steady,
            sides,
            all_round(sides) if sides else None,
            fitted_outline(found),
        )

    def _note(self, part: Part) -> None:
        """Which part it is, and which side of it."""
        if self._first is None or self._gone or not is_same_part(self._first.measurement, part.measurement):
            self._number, self._before, self._first = self._number + 1, self._last, part
            self._gone, self._sides = False, {}
        self._last = part
        side = side_of(part.measurement, self._first.measurement)
        blur, sharp = part.measurement.quality.focus, self._first.measurement.quality.focus
        if side is not None and blur <= _BLURRED * sharp:
            self._sides[round(side.turn.angle.value / _STEP_DEG) % round(360 / _STEP_DEG)] = side


def _steady(quantity: Quantity, terms: tuple[BudgetTerm, ...]) -> float:
    """What stays of its U95 without the line of the budget that frames average."""
    rest = sum(term.u**2 for term in terms if not term.one_sided and term.source != NOISE_AND_FORM)
    return COVERAGE_FACTOR * math.sqrt(rest) + abs(quantity.one_sided)


def _nothing_there(refusal: RefusalError) -> bool:
    return any(reason.code in _EMPTY or reason.key in _EMPTY for reason in refusal.reasons)
