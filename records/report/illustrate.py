"""The pictures of one data sheet: the photograph cut to the part, and the one-thread view over the zones.

This is most of the work of a report; it takes plain data and gives plain data, so that several processes share it.
"""

from __future__ import annotations

import io
import json
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import numpy.typing as npt

from flankwise.reasons import message
from records.drawing import Drawing, drawing_found, without_picture
from records.figures.report_view import report_view
from threads.measured.measured_document import thread_from_dict
from threads.shared.refusal import RefusalError
from threads.standards.limits import Limits
from vision.pictures.picture import read_picture

Array = npt.NDArray[np.float64]

_MOST_WIDE = 900
_ROOM = 0.06
_TONE = (255 * np.linspace(0.0, 1.0, 4096) ** (1 / 2.2) + 0.5).astype(np.uint8)
_QUALITY = 88
_RULES_MM = (0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0)
_RULES_IN = (0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0)


@dataclass(frozen=True)
class Wanted:
    """What is to be illustrated.

    Attributes:
        uid: of the measurement.
        picture: the original file, ``document`` the text of the measurement's, ``calibration`` that of its bench.
        drawing: as it was kept, see ``records.drawing``.
        limits: of the classes whose zones are drawn.
        shape: width over height of the photograph's place. ``size``: of the figure, inches.
    """

    uid: str
    picture: str | None
    document: str
    calibration: str | None
    drawing: bytes | None
    limits: tuple[Limits, ...]
    inches: bool
    shape: float
    size: tuple[float, float]


@dataclass(frozen=True, eq=False)
class Photograph:
    """A photograph, JPEG, with what is drawn over it in its pixels (x right, y down).

    ``rule``: length in pixels and words of a measure to compare with.
    """

    content: bytes
    width: int
    height: int
    edges: tuple[Array, ...] = ()
    dirt: tuple[tuple[float, float], ...] = ()
    rule: tuple[float, str] | None = None


@dataclass(frozen=True, eq=False)
class Illustration:
    """The pictures of one sheet, JPEG. ``made``: the drawing, where it had to be made; ``remarks``: what is missing."""

    uid: str
    photograph: Photograph | None
    figure: bytes | None
    made: bytes | None
    remarks: tuple[str, ...]


def illustrate(wanted: Wanted) -> Illustration:
    """Make the pictures of one sheet; what cannot be made is left out, and said in the remarks."""
    document = json.loads(wanted.document)
    picture = None if wanted.picture is None else Path(wanted.picture)
    drawing, made = drawing_found(wanted.drawing, picture, document, wanted.calibration)
    remarks = []
    if drawing is None and document.get("status") == "measured":
        remarks.append("The edge points of this measurement could not be brought back: its section is drawn alone.")
    photograph = None
    if picture is not None:
        try:
            photograph = photograph_of(picture, drawing, wanted.shape, inches=wanted.inches)
        except RefusalError as refusal:
            remarks.append(f"The picture cannot be shown: {message(refusal)}")
    thread = thread_from_dict(document)
    folded = without_picture(thread) if drawing is None else drawing.folded
    figure = report_view(folded, wanted.limits, thread.pitch_diameter, wanted.size, inches=wanted.inches)
    return Illustration(wanted.uid, photograph, figure, made, tuple(remarks))


def nothing_drawn(wanted: Wanted) -> Illustration:
    """In place of an illustration whose process was ended."""
    return Illustration(wanted.uid, None, None, None, ("The pictures of this sheet could not be made.",))


def photograph_of(path: Path, drawing: Drawing | None, shape: float, *, inches: bool) -> Photograph:
    """The picture at ``path``, cut to the part to the shape wanted, with the fitted outline over it.

    Raises RefusalError where it cannot be read.
    """
    from PIL import Image

    light = read_picture(path).light
    left, top, right, bottom = _cut(light.shape, None if drawing is None else drawing.corners, shape)
    steps = (np.clip(light[top:bottom, left:right], 0.0, 1.0) * (_TONE.size - 1)).astype(np.uint16)
    image = Image.fromarray(_TONE[steps])
    factor = min(1.0, _MOST_WIDE / image.width)
    if factor < 1:
        image = image.resize((round(image.width * factor), round(image.height * factor)), Image.Resampling.BOX)
    content = io.BytesIO()
    image.save(content, "JPEG", quality=_QUALITY)
    if drawing is None:
        return Photograph(content.getvalue(), image.width, image.height)
    corner = np.array([left - 0.5, top - 0.5])
    edges = tuple((edge - corner) * factor for edge in drawing.edges)
    dirt = tuple((float(x), float(y)) for x, y in (drawing.dirt - corner) * factor)
    rule = _rule(drawing.um_per_px / factor, image.width, inches=inches)
    return Photograph(content.getvalue(), image.width, image.height, edges, dirt, rule)


def _cut(size: tuple[int, ...], corners: Array | None, shape: float) -> tuple[int, int, int, int]:
    """Left, top, right and bottom of what is shown: the part with some room, as near to ``shape`` as the picture is."""
    height, width = size[:2]
    low, high = np.zeros(2), np.array([width, height], dtype=np.float64)
    if corners is not None and corners.size:
        room = _ROOM * max(width, height)
        low = np.maximum(corners.min(axis=0) - room, 0)
        high = np.minimum(corners.max(axis=0) + room, high)
        for i, ratio in ((0, shape), (1, 1 / shape)):
            limit = (width, height)[i]
            more = max(ratio * (high[1 - i] - low[1 - i]) - (high[i] - low[i]), 0.0)
            low[i], high[i] = low[i] - more / 2, high[i] + more / 2
            if low[i] < 0:
                low[i], high[i] = 0.0, min(high[i] - low[i], limit)
            elif high[i] > limit:
                low[i], high[i] = max(low[i] - (high[i] - limit), 0.0), float(limit)
    left, top = (int(v) for v in np.floor(low))
    right, bottom = (int(v) for v in np.ceil(high))
    return left, top, min(max(right, left + 2), width), min(max(bottom, top + 2), height)


def _rule(um_per_px: float, width: int, *, inches: bool) -> tuple[float, str]:
    """The longest round length that takes at most a quarter of the width."""
    px = um_per_px / 1000 / (25.4 if inches else 1)
    rules = _RULES_IN if inches else _RULES_MM
    length = max((rule for rule in rules if rule / px < width / 4), default=rules[0])
    return length / px, f"{length:g} {'in' if inches else 'mm'}"
