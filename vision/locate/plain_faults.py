"""What is plainly wrong with a picture where no part stands out: too few pixels, or nearly all of it out of focus."""

from __future__ import annotations

from typing import Any

import numpy as np
import numpy.typing as npt

from threads.shared.refusal import Reason
from vision.locate.threaded import MIN_PITCH_PX
from vision.pictures.picture import Picture
from vision.shared.opencv import cv2

F32 = npt.NDArray[np.float32]

_SMALL_PX = 640  # longer side: a part that fills it shows ten threads of 60 px at most
_TILE = 48  # px: sharpness is judged on tiles of so many
_CONTRAST = 0.25  # of that of the whole picture: tiles with less show no edge
_LEAST_TILES = 20  # with structure: fewer do not tell sharp from blurred
_SOFT_PX = 12.0
"""Edges so wide (their step over their steepest slope, 2.5 standard deviations of the blur) are out of focus.
Photographs of screws in focus have 4 to 7, drawn wood 6, a photograph with a shallow depth of field 18."""


def plain_faults(picture: Picture) -> tuple[Reason, ...]:
    """What stands in the way whatever the light: no reason where nothing does."""
    out = []
    if max(picture.width_px, picture.height_px) < _SMALL_PX:
        out.append(
            Reason("too_coarse.picture", width_px=picture.width_px, height_px=picture.height_px, least_px=MIN_PITCH_PX)
        )
    width = _edge_width_px(picture.light)
    if width > _SOFT_PX:
        out.append(Reason("out_of_focus.most", width_px=width))
    return tuple(out)


def _edge_width_px(light: F32) -> float:
    """Median width of the strongest edge of each tile that has one, px; 0 where too few have."""
    shades = cv2.GaussianBlur(np.sqrt(np.clip(light, 0, 1)).astype(np.float32), (0, 0), 1.0)
    slope = np.hypot(cv2.Sobel(shades, cv2.CV_32F, 1, 0, scale=1 / 8), cv2.Sobel(shades, cv2.CV_32F, 0, 1, scale=1 / 8))
    step = np.ptp(_tiles(shades), axis=1)
    steepest = np.percentile(_tiles(slope), 99, axis=1)
    edge = (step > _CONTRAST * np.ptp(shades)) & (steepest > 0)
    return float(np.median(step[edge] / steepest[edge])) if edge.sum() >= _LEAST_TILES else 0.0


def _tiles(values: npt.NDArray[Any]) -> npt.NDArray[Any]:
    """(n, _TILE^2) the square tiles of an image, what is left over at its right and lower border cut off."""
    rows, columns = values.shape[0] // _TILE, values.shape[1] // _TILE
    cut = values[: rows * _TILE, : columns * _TILE].reshape(rows, _TILE, columns, _TILE)
    return np.asarray(cut.transpose(0, 2, 1, 3).reshape(rows * columns, _TILE * _TILE))
