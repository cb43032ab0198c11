"""What a measurement looks like, kept to be drawn again: ridges folded onto one, outlines, and where they lie.

The numbers of a measurement stand in its document; this is what the eye wants to see of it. It is kept beside the
pictures like a thumbnail (``keep``), because it can be made again from the picture and the calibration
(``drawing_again``), which takes as long as measuring.
"""

from __future__ import annotations

import hashlib
import io
import json
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np
import numpy.typing as npt

from records.measured_again import measured_again
from records.shrunken import Cut, Shrunken, cut_to, shrunken
from threads.measured.axial_profile import AxialProfile, profile_of
from threads.measured.measured_document import quantity_from_dict
from threads.measured.thread import MeasuredThread
from threads.shared.whole_file import write_whole
from vision.result.dimensions import DRAWN, Dimension, dimensions
from vision.result.folded import Folded, fold

if TYPE_CHECKING:
    from vision.result.measurement import Measurement

Array = npt.NDArray[np.float64]

_MAGIC = b"flankwise/drawing/3\n"
"""Before the hash of the rest: a damaged drawing is made again, and so is one of version 1, without dimensions."""
_BEFORE = b"flankwise/drawing/1\n", b"flankwise/drawing/2\n"

_MOST_POINTS = 1200
_MOST_EDGE = 500
_MOST_BYTES = 5_000_000
_ARRAYS = ("s", "r", "out", "along", "upper_ridge", "edges", "dirt", "corners", "outline")


@dataclass(frozen=True, eq=False)
class Drawing:
    """What is drawn of one measurement.

    Attributes:
        folded: the ridges, see ``vision.result.folded``; fewer points than were measured.
        edges: (2, n, 2) upper and lower edge of the fitted thread in the picture, px.
        dirt: (n, 2) edge points that were left out, px.
        corners: (4, 2) corners of the box round the part, px.
        outline: (n, 3) along the axis from the left, height of the upper and of the lower edge over the axis, mm; NaN
            where an edge is not in view.
        um_per_px: scale of the picture.
        picture_size: width and height, px.
        dimensions: what is always drawn of ``vision.result.dimensions``; none in a drawing kept by version 1.
        photograph: the picture cut and shrunken for a data sheet: decoding it anew takes 20 ms a sheet. None in a
            drawing kept by version 1 or 2.
    """

    folded: Folded
    edges: Array
    dirt: Array
    corners: Array
    outline: Array
    um_per_px: float
    picture_size: tuple[int, int]
    dimensions: tuple[Dimension, ...] = ()
    photograph: Shrunken | None = None


def drawing_of(measurement: Measurement) -> Drawing:
    """What is kept of ``measurement`` to be drawn."""
    from vision.part.axis_view import profile_of as outline_of
    from vision.result.fitted_outline import fitted_outline

    edges = fitted_outline(measurement)
    corners = np.array(measurement.part.corners_px, dtype=np.float64)
    view = measurement.part.view
    outline = np.empty((0, 3))
    if view is not None:
        ends = [(view.points[:, i].min(), view.points[:, i].max()) for i in (0, 1)]
        corners = view.frame.to_picture(np.array([[u, w] for u in ends[0] for w in ends[1]]))
        profile = outline_of(view)
        along = (profile.u - profile.u[0]) / view.cos_tilt
        outline = view.px_mm * np.stack([along, profile.upper, profile.lower], axis=1)
    picture, drawn = measurement.picture, tuple(one for one in dimensions(measurement) if one.quantity in DRAWN)
    size = picture.width_px, picture.height_px
    return Drawing(
        folded=_fewer(fold(measurement)),
        edges=np.array([_thinned(edge, _MOST_EDGE) for edge in edges]),
        dirt=_thinned(measurement.solution.rejected_xy.reshape(-1, 2), _MOST_EDGE),
        corners=corners,
        outline=outline,
        um_per_px=measurement.plane.um_per_px,
        picture_size=size,
        dimensions=drawn,
        photograph=shrunken(picture.light, cut_to(size, corners, drawn)) if picture.light.size else None,
    )


def without_picture(thread: MeasuredThread) -> Folded:
    """The section of a measured thread alone, where no drawing of it is to be had."""
    nothing = np.empty(0)
    return Folded(profile_of(thread), nothing, nothing, np.empty(0, dtype=np.bool_), nothing, nothing, 0)


def drawing_found(
    content: bytes | None, picture: Path | None, document: dict[str, Any], calibration: str | None
) -> tuple[Drawing | None, bytes | None]:
    """The drawing that was kept as ``content``, or one made again, and then its bytes too; None where there is none."""
    try:
        before = None if content is None else from_bytes(content)
    except ValueError:
        before = None
    if before is not None and before.dimensions:
        return before, None
    again = None if picture is None else drawing_again(picture, document, calibration)
    return (before, None) if again is None else (again, to_bytes(again))


def drawing_again(picture: Path, document: dict[str, Any], calibration: str | None) -> Drawing | None:
    """Measure ``picture`` once more and return its drawing; None where it does not come out as ``document`` says.

    As ``records.measured_again.measured_again``.
    """
    found = measured_again(picture, document, calibration)
    return None if found is None else drawing_of(found)


def to_bytes(drawing: Drawing) -> bytes:
    """The drawing as a file."""
    folded = drawing.folded
    arrays = {
        "s": folded.s, "r": folded.r, "out": folded.out, "along": folded.along, "upper_ridge": folded.upper,
        "edges": drawing.edges, "dirt": drawing.dirt, "corners": drawing.corners, "outline": drawing.outline,
    }  # fmt: skip
    about = {
        "section": vars(folded.section),
        "ridges": folded.ridges,
        "um_per_px": drawing.um_per_px,
        "picture_size": drawing.picture_size,
        "dimensions": [_plain(one) for one in drawing.dimensions],
    }
    packed: dict[str, npt.NDArray[Any]] = {
        name: a if a.dtype == np.bool_ else a.astype(np.float32) for name, a in arrays.items()
    }
    if drawing.photograph is not None:
        about["cut"] = vars(drawing.photograph.cut)
        packed["photograph"] = np.frombuffer(drawing.photograph.content, dtype=np.uint8)
    packed["about"] = np.frombuffer(json.dumps(about).encode(), dtype=np.uint8)
    content = io.BytesIO()
    np.savez_compressed(content, allow_pickle=False, **packed)
    return _MAGIC + hashlib.sha256(content.getvalue()).digest() + content.getvalue()


def from_bytes(content: bytes) -> Drawing:
    """The inverse of ``to_bytes``. Raises ValueError for anything else, damaged ones included."""
    start = len(_MAGIC) + hashlib.sha256().digest_size
    magic, digest, packed = content[: len(_MAGIC)], content[len(_MAGIC) : start], content[start:]
    if magic not in (_MAGIC, *_BEFORE) or hashlib.sha256(packed).digest() != digest:
        raise ValueError("not a drawing, or a damaged one")
    with np.load(io.BytesIO(packed), allow_pickle=False) as file:
        about = json.loads(file["about"].tobytes())
        a = {name: file[name] for name in _ARRAYS}
        photograph = Shrunken(file["photograph"].tobytes(), Cut(**about["cut"])) if "cut" in about else None
    number = {name: array.astype(np.float64) for name, array in a.items()}
    folded = Folded(
        section=AxialProfile(**about["section"]),
        s=number["s"],
        r=number["r"],
        upper=a["upper_ridge"].astype(np.bool_),
        out=number["out"],
        along=number["along"],
        ridges=int(about["ridges"]),
    )
    return Drawing(
        folded=folded,
        edges=number["edges"],
        dirt=number["dirt"],
        corners=number["corners"],
        outline=number["outline"],
        um_per_px=float(about["um_per_px"]),
        picture_size=(int(about["picture_size"][0]), int(about["picture_size"][1])),
        dimensions=tuple(_dimension(one) for one in about.get("dimensions", ())),
        photograph=photograph,
    )


def _plain(one: Dimension) -> dict[str, Any]:
    arrays = {name: getattr(one, name).round(3).tolist() for name in ("line", "text_at", "away")}
    extensions = [piece.round(3).tolist() for piece in one.extensions]
    return {"quantity": one.quantity, "value": one.value.to_dict(), **arrays, "extensions": extensions}


def _dimension(plain: dict[str, Any]) -> Dimension:
    line, text_at, away = (np.array(plain[name], dtype=np.float64) for name in ("line", "text_at", "away"))
    extensions = tuple(np.array(piece, dtype=np.float64) for piece in plain["extensions"])
    return Dimension(plain["quantity"], quantity_from_dict(plain["value"]), line, extensions, text_at, away)


def drawing_path(folder: Path, uid: str) -> Path:
    """Where the drawing of the measurement ``uid`` is kept; ``folder`` is that of the pictures."""
    return folder / "drawings" / uid[:2] / f"{uid}.drawing"


def keep(folder: Path, uid: str, content: bytes) -> bool:
    """Keep a drawing (``to_bytes``) of the measurement ``uid``; False where the folder cannot be written."""
    path = drawing_path(folder, uid)
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        write_whole(path, content)
    except (OSError, ValueError):
        return False
    return True


def kept(folder: Path, uid: str) -> bytes | None:
    """The drawing of the measurement ``uid`` as it was kept, None where there is none."""
    path = drawing_path(folder, uid)
    try:
        return path.read_bytes() if path.stat().st_size <= _MOST_BYTES else None
    except OSError:
        return None


def _fewer(folded: Folded) -> Folded:
    step = max(1, -(-folded.s.size // _MOST_POINTS))
    return Folded(
        folded.section, folded.s[::step], folded.r[::step], folded.upper[::step], folded.out[::step],
        folded.along[::step], folded.ridges,
    )  # fmt: skip


def _thinned(points: Array, most: int) -> Array:
    return points[:: max(1, -(-len(points) // most))]
