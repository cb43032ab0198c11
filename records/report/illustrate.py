"""The pictures of one data sheet: the photograph cut to the part, and what the one-thread view is drawn from.

This is most of the work of a report; it takes plain data and gives plain data, so that several processes share it.
"""

from __future__ import annotations

import json
import zlib
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt

from records.drawing import Drawing, drawing_found, from_bytes, kept, to_bytes, without_picture
from records.figures.part_view import rule_within
from records.report.dimensioned import moved
from records.report.ridge import RidgeView
from records.shrunken import MOST_WIDE, PHOTO_SHAPE, Shrunken, cut_to, shrunken
from threads.measured.measured_document import thread_from_dict
from threads.shared.formatting import MM_PER_INCH
from threads.shared.refusal import Reason, RefusalError
from threads.standards.limits import Limits
from vision.pictures.picture import read_picture
from vision.result.dimensions import Dimension
from vision.shared.polyline import simplified

Array = npt.NDArray[np.float64]

_NOWHERE = np.empty((0, 2))
_STRAIGHT = 0.15  # px of a picture 900 px wide: a hundredth of a millimetre on paper


@dataclass(frozen=True)
class Wanted:
    """What is to be illustrated.

    Attributes:
        uid: of the measurement.
        picture: the original file, ``document`` the text of the measurement's, packed (zlib): hundreds wait in memory,
            ``calibration`` that of its bench.
        folder: of the pictures, where the drawing may be kept, see ``records.drawing``.
        limits: of the classes whose zones are drawn.
    """

    uid: str
    picture: str | None
    document: bytes
    calibration: str | None
    folder: Path
    limits: tuple[Limits, ...]
    inches: bool


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
    document = json.loads(zlib.decompress(wanted.document))
    picture = None if wanted.picture is None else Path(wanted.picture)
    drawing, made = drawing_found(kept(wanted.folder, wanted.uid), picture, document, wanted.calibration)
    remarks = []
    if drawing is None and document.get("status") == "measured":
        remarks.append(Reason("sheet.edges_lost"))
    photograph = None
    if picture is not None:
        try:
            shown = _cut_out(picture, drawing)
            photograph = _drawn_over(shown, drawing, inches=wanted.inches)
            if drawing is not None and drawing.photograph is None:  # of an earlier version: kept for the next time
                made = to_bytes(replace(drawing, photograph=shown))
        except RefusalError as refusal:
            remarks.append(Reason("sheet.picture_unseen", why=refusal.reasons[0]))
    return _illustration(wanted, document, drawing, photograph, made, remarks)


def illustrated_before(wanted: Wanted) -> Illustration | None:
    """The pictures of a sheet of which all was kept when it was filed; None where something is to be made."""
    content = kept(wanted.folder, wanted.uid)
    try:
        drawing = None if content is None else from_bytes(content)
    except ValueError:
        return None
    if drawing is None or drawing.photograph is None or wanted.picture is None or not Path(wanted.picture).is_file():
        return None
    photograph = _drawn_over(drawing.photograph, drawing, inches=wanted.inches)
    return _illustration(wanted, json.loads(zlib.decompress(wanted.document)), drawing, photograph)


def _illustration(
    wanted: Wanted,
    document: dict[str, Any],
    drawing: Drawing | None,
    photograph: Photograph | None,
    made: bytes | None = None,
    remarks: Sequence[Reason] = (),
) -> Illustration:
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
    path: Path, drawing: Drawing | None, shape: float, *, inches: bool, most_wide: int = MOST_WIDE
) -> Photograph:
    """The picture at ``path``, cut to the part to the shape wanted, with the fitted outline and its dimensions over it.

    Where dimensions stand beyond the picture, there is white paper. Raises RefusalError where it cannot be read.
    """
    return _drawn_over(_cut_out(path, drawing, shape, most_wide), drawing, inches=inches)


def _cut_out(path: Path, drawing: Drawing | None, shape: float = PHOTO_SHAPE, most_wide: int = MOST_WIDE) -> Shrunken:
    if drawing is not None and drawing.photograph is not None and shape == PHOTO_SHAPE and path.is_file():
        return drawing.photograph
    picture = read_picture(path)
    corners, dimensions = (_NOWHERE, ()) if drawing is None else (drawing.corners, drawing.dimensions)
    size = picture.width_px, picture.height_px
    return shrunken(picture.light, cut_to(size, corners, dimensions, shape=shape, most_wide=most_wide))


def _drawn_over(shown: Shrunken, drawing: Drawing | None, *, inches: bool) -> Photograph:
    cut, (width, height) = shown.cut, shown.cut.size
    if drawing is None:
        return Photograph(shown.content, width, height)
    corner = np.array([cut.left - 0.5, cut.top - 0.5])
    px = drawing.um_per_px / cut.factor / 1000 / (MM_PER_INCH if inches else 1)
    rule = rule_within(px * width / 4, inches=inches)
    return Photograph(
        shown.content,
        width,
        height,
        edges=tuple(_without_straight((edge - corner) * cut.factor) for edge in drawing.edges),
        dirt=tuple((float(x), float(y)) for x, y in (drawing.dirt - corner) * cut.factor),
        rule=(rule / px, f"{rule:g} {'in' if inches else 'mm'}"),
        dimensions=moved(drawing.dimensions, corner, cut.factor),
        inches=inches,
    )


def _without_straight(line: Array) -> Array:
    """The line (n, 2) without the points that lie on it anyway, to ``_STRAIGHT`` px."""
    return simplified(line[np.isfinite(line).all(axis=1)], _STRAIGHT)
