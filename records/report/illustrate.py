"""The pictures of one data sheet: the photograph cut to the part, and what the one-thread view is drawn from.

This is most of the work of a report; it takes plain data and gives plain data, so that several processes share it.
"""

from __future__ import annotations

import io
import json
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
import numpy.typing as npt

from records.drawing import Drawing, drawing_found, kept, without_picture
from records.figures.part_view import rule_within
from records.report.dimensioned import moved
from records.report.ridge import RidgeView
from threads.measured.measured_document import thread_from_dict
from threads.shared.formatting import MM_PER_INCH
from threads.shared.refusal import Reason, RefusalError
from threads.standards.limits import Limits
from vision.pictures.picture import read_picture
from vision.result.dimensions import Dimension

Array = npt.NDArray[np.float64]

_MOST_WIDE = 900
_ROOM = 0.06
_TONE = (255 * np.linspace(0.0, 1.0, 4096) ** (1 / 2.2) + 0.5).astype(np.uint8)
_QUALITY = 88
_STRAIGHT = 0.15  # px of a picture 900 px wide: a hundredth of a millimetre on paper
_ROOM_TEXT = 0.11
"""Of the larger side, beyond the lines of dimensions, for their texts."""


@dataclass(frozen=True)
class Wanted:
    """What is to be illustrated.

    Attributes:
        uid: of the measurement.
        picture: the original file, ``document`` the text of the measurement's, ``calibration`` that of its bench.
        folder: of the pictures, where the drawing may be kept, see ``records.drawing``.
        limits: of the classes whose zones are drawn.
        shape: width over height of the photograph's place.
    """

    uid: str
    picture: str | None
    document: str
    calibration: str | None
    folder: Path
    limits: tuple[Limits, ...]
    inches: bool
    shape: float


@dataclass(frozen=True, eq=False)
class Photograph:
    """A photograph, JPEG, with what is drawn over it in its pixels (x right, y down).

    ``rule``: length in pixels and words of a measure to compare with. ``dimensions``: as in ``vision.result``.
    """

    content: bytes
    width: int
    height: int
    edges: tuple[Array, ...] = ()
    dirt: tuple[tuple[float, float], ...] = ()
    rule: tuple[float, str] | None = None
    dimensions: tuple[Dimension, ...] = ()
    inches: bool = False


@dataclass(frozen=True, eq=False)
class Illustration:
    """The pictures of one sheet.

    ``figure``: of a thread what it is drawn from, of a hole JPEG. ``made``: the drawing, where it had to be made;
    ``remarks``: what is missing.
    """

    uid: str
    photograph: Photograph | None
    figure: RidgeView | bytes | None
    made: bytes | None
    remarks: tuple[Reason, ...]


def illustrate(wanted: Wanted) -> Illustration:
    """Make the pictures of one sheet; what cannot be made is left out, and said in the remarks."""
    document = json.loads(wanted.document)
    picture = None if wanted.picture is None else Path(wanted.picture)
    drawing, made = drawing_found(kept(wanted.folder, wanted.uid), picture, document, wanted.calibration)
    remarks = []
    if drawing is None and document.get("status") == "measured":
        remarks.append(Reason("sheet.edges_lost"))
    photograph = None
    if picture is not None:
        try:
            photograph = photograph_of(picture, drawing, wanted.shape, inches=wanted.inches)
        except RefusalError as refusal:
            remarks.append(Reason("sheet.picture_unseen", why=refusal.reasons[0]))
    thread = thread_from_dict(document)
    folded = without_picture(thread) if drawing is None else drawing.folded
    nothing = np.empty(0)  # a job of many parts keeps only what is drawn
    folded = replace(folded, out=nothing, along=nothing)
    figure = RidgeView(folded, wanted.limits, thread.pitch_diameter)
    return Illustration(wanted.uid, photograph, figure, made, tuple(remarks))


def nothing_drawn(wanted: Wanted) -> Illustration:
    """In place of an illustration whose process was ended."""
    return Illustration(wanted.uid, None, None, None, (Reason("sheet.pictures_lost"),))


def photograph_of(
    path: Path, drawing: Drawing | None, shape: float, *, inches: bool, most_wide: int = _MOST_WIDE
) -> Photograph:
    """The picture at ``path``, cut to the part to the shape wanted, with the fitted outline and its dimensions over it.

    Where dimensions stand beyond the picture, there is white paper. Raises RefusalError where it cannot be read.
    """
    from PIL import Image

    from vision.shared.opencv import cv2

    light = read_picture(path).light
    left, top, right, bottom = _cut(light.shape, drawing, shape)
    x, y = slice(max(left, 0), max(right, 0)), slice(max(top, 0), max(bottom, 0))
    shown, seen = np.ones((bottom - top, right - left), np.float32), light[y, x]
    down, across = y.start - top, x.start - left
    shown[down : down + seen.shape[0], across : across + seen.shape[1]] = seen
    factor = min(1.0, most_wide / shown.shape[1])
    if factor < 1:  # light is averaged, not its tone: an edge keeps its place
        size = most_wide, max(round(shown.shape[0] * factor), 1)
        shown = np.asarray(cv2.resize(shown, size, interpolation=cv2.INTER_AREA), np.float32)
    steps = (np.clip(shown, 0.0, 1.0) * (_TONE.size - 1)).astype(np.uint16)
    image = Image.fromarray(_TONE[steps])
    content = io.BytesIO()
    image.save(content, "JPEG", quality=_QUALITY)
    if drawing is None:
        return Photograph(content.getvalue(), image.width, image.height)
    corner = np.array([left - 0.5, top - 0.5])
    px = drawing.um_per_px / factor / 1000 / (MM_PER_INCH if inches else 1)
    rule = rule_within(px * image.width / 4, inches=inches)
    return Photograph(
        content.getvalue(),
        image.width,
        image.height,
        edges=tuple(_without_straight((edge - corner) * factor) for edge in drawing.edges),
        dirt=tuple((float(x), float(y)) for x, y in (drawing.dirt - corner) * factor),
        rule=(rule / px, f"{rule:g} {'in' if inches else 'mm'}"),
        dimensions=moved(drawing.dimensions, corner, factor),
        inches=inches,
    )


def _without_straight(line: Array) -> Array:
    """The line (n, 2) without the points that lie on it anyway, to ``_STRAIGHT`` px."""
    from vision.shared.opencv import cv2

    line = line[np.isfinite(line).all(axis=1)]
    if len(line) < 3:
        return line
    return np.asarray(cv2.approxPolyDP(line.astype(np.float32), _STRAIGHT, False)[:, 0], np.float64)


def _cut(size: tuple[int, ...], drawing: Drawing | None, shape: float) -> tuple[int, int, int, int]:
    """Left, top, right and bottom of what is shown: the part with its dimensions, as near to ``shape`` as can be.

    Only dimensions reach beyond the picture.
    """
    height, width = size[:2]
    whole = np.array([width, height], dtype=np.float64)
    low, high = np.zeros(2), whole
    if drawing is not None and drawing.corners.size:
        room = _ROOM * whole.max()
        low = np.maximum(drawing.corners.min(axis=0) - room, 0)
        high = np.minimum(drawing.corners.max(axis=0) + room, whole)
        if drawing.dimensions:
            lines, room = np.vstack([one.line for one in drawing.dimensions]), _ROOM_TEXT * whole.max()
            low, high = np.minimum(low, lines.min(axis=0) - room), np.maximum(high, lines.max(axis=0) + room)
        least, most = np.minimum(low, 0), np.maximum(high, whole)
        for i, ratio in ((0, shape), (1, 1 / shape)):
            more = max(ratio * (high[1 - i] - low[1 - i]) - (high[i] - low[i]), 0.0)
            low[i], high[i] = low[i] - more / 2, high[i] + more / 2
            if low[i] < least[i]:
                low[i], high[i] = least[i], min(high[i] + least[i] - low[i], most[i])
            elif high[i] > most[i]:
                low[i], high[i] = max(low[i] - (high[i] - most[i]), least[i]), most[i]
    left, top = (int(v) for v in np.floor(low))
    right, bottom = (int(v) for v in np.ceil(high))
    return left, top, max(right, left + 2), max(bottom, top + 2)
