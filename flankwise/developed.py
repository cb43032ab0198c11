"""Whether a picture was developed as those of the gauges: tone, blur, sharpening; put right or widened where not."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from threads.shared.refusal import Reason, RefusalError

if TYPE_CHECKING:
    from flankwise.bench import Bench
    from vision.locate.detection import DetectedPart
    from vision.outline.sharpness import Sharpness
    from vision.pictures.picture import Picture

_BLUR_ALIKE = (0.72, 1.4)
"""Blur of the part's edges over that of the gauges'; flanks are a little softer than pins."""
_LEAST_BLUR_PX = 0.35  # by which they differ at least
_LEAST_OFFSET_PX = 0.05  # less does not matter, whichever way it goes
_LEAST_MOVED_PX = 0.1  # the same of what another sharpening moves the edges by
_HALO_ALIKE = 0.05  # of the contrast by which light beside the edges may differ
_OF_HALO = 0.5  # blurs by which an edge lies off for a whole contrast of it (judgement)


def in_their_tone(picture: Picture, bench: Bench) -> tuple[Picture, Bench, tuple[Reason, ...]]:
    """The same of a whole picture with parts in it, by the first that can be seen."""
    from calib.calibration import Calibration
    from vision.locate.detection import detect

    if not isinstance(bench.plane, Calibration) or not bench.plane.pictures.tone:
        return picture, bench, ()
    try:
        first = detect(picture, part=1)
    except RefusalError:  # what is refused is said of each part
        return picture, bench, ()
    detected, bench, said = like_the_gauges(first, bench, 1)
    return detected.picture, bench, said


def like_the_gauges(
    detected: DetectedPart, bench: Bench, part: int | None
) -> tuple[DetectedPart, Bench, tuple[Reason, ...]]:
    """The part as it is seen in the gauges' tone, the bench with what is left to doubt, and what to say.

    Nothing where its calibration does not know how its pictures were developed. Raises RefusalError as ``detect``.
    """
    from vision.shared.plane import FixedScale

    if isinstance(bench.plane, FixedScale):
        return detected, bench, ()
    from calib.calibration import Calibration
    from calib.picture_kind import matched
    from vision.locate.detection import detect
    from vision.outline.sharpness import sharpness_of
    from vision.pictures.picture import LINEAR_LIGHT

    calibration = bench.plane
    if not isinstance(calibration, Calibration) or not calibration.pictures.tone:
        return detected, bench, ()
    kind = calibration.pictures
    seen = sharpness_of(detected.silhouette, detected.edges)
    found = matched(kind, detected.picture, seen)
    if found.picture is not detected.picture:
        detected = detect(found.picture, part=part)
        seen = sharpness_of(detected.silhouette, detected.edges)
    said: list[Reason] = []
    shift, u = found.shift_px, found.half_px / math.sqrt(3)
    if not found.certain:
        gauges = _words(kind.file_kind, kind.read_as, kind.bit_depth)
        said.append(Reason("tone_differs", part=_of(detected.picture), gauges=gauges, px=2 * found.half_px))
    elif kind.sharpness is not None:
        coded = detected.picture.tone != LINEAR_LIGHT
        moved = _moved_by_sharpening(kind.sharpness, seen) if coded else 0.0
        more, said = _sharpness(kind.sharpness, seen, calibration.edge_offset_px, moved)
        shift, u = moved / 2, math.hypot(more, moved / math.sqrt(12))
    if not said and u == 0:
        return detected, bench, ()
    covariance = calibration.covariance.copy()
    covariance[1, 1] += u**2
    widened = replace(calibration, edge_offset_px=calibration.edge_offset_px + shift, covariance=covariance)
    return detected, replace(bench, plane=widened), tuple(said)


def _moved_by_sharpening(gauges: Sharpness, part: Sharpness) -> float:
    """How far outward, px, the edges of a picture in coded values lie if its blur differs by its sharpening.

    Sharpening leaves the middle between the codes of pad and part where it is. Half the light lies outside it by a part
    of the blur, and moves with that. A blur that differs by the focus, before the values were coded, moves nothing.
    """
    from calib.picture_kind import tone_shift
    from vision.pictures.picture import LINEAR_LIGHT, SRGB_LIGHT

    outside = tone_shift(1.0, part.bright, max(part.dark, 0.0), read=SRGB_LIGHT, true=LINEAR_LIGHT)
    return outside * (part.blur_px - gauges.blur_px)


def _sharpness(gauges: Sharpness, part: Sharpness, offset_px: float, moved_px: float) -> tuple[float, list[Reason]]:
    """What another blur or halo does to the edge offset than ``moved_px`` (px, standard uncertainty), what to say.

    The offset grows with the blur where it comes from the camera's idea of half the light.
    """
    said, u = [], 0.0
    if (gauges.bright - gauges.dark) * (part.bright - part.dark) < 0 and abs(offset_px) > _LEAST_OFFSET_PX:
        # what spreads from bright into dark, or is sharpened, moves the edge of a bright part the other way
        said.append(Reason("sharpness_differs.ground", px=abs(2 * offset_px)))
        u = abs(offset_px)
    ratio = part.blur_px / max(gauges.blur_px, 1e-3)
    low, high = _BLUR_ALIKE
    other = not low < ratio < high and abs(part.blur_px - gauges.blur_px) > _LEAST_BLUR_PX
    if other:
        u = math.hypot(u, offset_px * (ratio - 1))
    if other or abs(moved_px) > _LEAST_MOVED_PX:
        said.append(Reason("sharpness_differs.blur", part_px=part.blur_px, gauges_px=gauges.blur_px))
    halo = max(abs(part.overshoot - gauges.overshoot), abs(part.undershoot - gauges.undershoot))
    if halo > _HALO_ALIKE:
        said.append(Reason("sharpness_differs.halo", percent=100 * halo))
        u = math.hypot(u, _OF_HALO * halo * part.blur_px)
    return u, said


def _of(picture: Picture) -> str:
    return _words(picture.kind, picture.tone, picture.bit_depth)


def _words(kind: str, tone: str, bits: int) -> str:
    return ", ".join(word for word in (kind.upper(), tone, f"{bits} bit" if bits else "") if word)
