"""How the gauges' pictures were developed: tone, kind of file, depth, sharpness; and whether a part's was the same.

Gauges and part in the same tone do no harm whatever the tone is: the edge offset holds it. In different ones the edge
lies elsewhere by half a blur and more. Of files that state no tone the levels of the light decide: pad and part are as
bright as with the gauges in one tone only, where neither light nor exposure was changed.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from typing import Any

import numpy as np

from calib.scale import OFFSET_U_PX
from threads.shared.normal import ndtri
from vision.outline.sharpness import Sharpness
from vision.pictures.picture import LINEAR_LIGHT, SRGB_LIGHT, STATED, Picture, retoned
from vision.pictures.tone import SRGB, srgb_code

FITTED = "fitted"
"""The tone of gauges whose files state none, as their own edges show it: linear, where the rule says srgb."""

COHERENT_U_PX = 0.25
"""Standard uncertainty of an assumed edge offset in partly coherent light (seen on benchmarks/blur.py)."""
_COHERENT = 0.03  # of the contrast by which light beside an edge is brighter than the pad
_BRIGHT_ALIKE, _DARK_ALIKE = 0.04, 0.012
"""Relative to the pad: by how much its level and that of the part vary from picture to picture, standard deviation."""
_CERTAIN = 9.0  # difference of the two squared distances from which one tone is certain
_SAME = 12.0  # squared distance up to which levels are the same


@dataclass(frozen=True)
class PictureKind:
    """Of the gauges: ``tone`` linear, srgb, stated or fitted; kind of file; bits; sharpness of the pins' edges."""

    tone: str = ""
    file_kind: str = ""
    bit_depth: int = 0
    sharpness: Sharpness | None = None

    @property
    def read_as(self) -> str:
        """The tone in which they were read."""
        return LINEAR_LIGHT if self.tone == FITTED else self.tone

    def to_dict(self) -> dict[str, Any]:
        """The keys of the calibration file."""
        return {**asdict(self), "sharpness": None if self.sharpness is None else self.sharpness.to_dict()}


NO_KIND = PictureKind()


def kind_from_dict(data: Mapping[str, Any]) -> PictureKind:
    """The inverse; files without these keys know nothing. Raises KeyError, TypeError or ValueError for nonsense."""
    told = data.get("sharpness")
    sharpness = None
    if told is not None:
        sharpness = Sharpness(*(float(told[name]) for name in ("blur_px", "overshoot", "undershoot", "bright", "dark")))
        if not all(math.isfinite(value) for value in asdict(sharpness).values()):
            raise ValueError("no sharpness")
    return PictureKind(
        str(data.get("tone") or ""), str(data.get("file_kind") or ""), int(data.get("bit_depth") or 0), sharpness
    )


def kind_of(pictures: Sequence[Picture], sharpness: Sequence[Sharpness], *, fitted: bool) -> PictureKind:
    """Of the pictures of gauges, and the sharpness of those that are pins."""
    first = pictures[0]
    mean = None
    if sharpness:
        mean = Sharpness(*(float(v) for v in np.mean([list(asdict(s).values()) for s in sharpness], axis=0)))
    return PictureKind(FITTED if fitted else first.tone, first.kind, first.bit_depth, mean)


def tone_shift(blur_px: float, bright: float, dark: float, *, read: str, true: str) -> float:
    """How far outside an edge of this blur is found, px, that is read in one tone and was coded in the other.

    ``bright`` and ``dark`` are the light of pad and part as read; the blur is that of the light.
    """
    if read == true or not bright > dark >= 0:
        return 0.0
    code = srgb_code if read == SRGB_LIGHT else SRGB.curves[0]
    low, high, half = (float(np.asarray(code(np.array(v)))) for v in (dark, bright, (bright + dark) / 2))
    share = min(max((half - low) / (high - low), 0.01), 0.99)
    return float(blur_px * ndtri(share))


def partly_coherent(sharpness: Sequence[Sharpness]) -> bool:
    """Whether light beside the edges is brighter than the pad, and not darker than the part inside.

    The light then comes from a narrower cone than the lens takes in.
    """
    over, under = (float(np.mean([getattr(s, name) for s in sharpness])) for name in ("overshoot", "undershoot"))
    return over > _COHERENT and under < over / 2


def offset_assumed(sharpness: Sequence[Sharpness], *, tone_unclear: bool) -> tuple[float, float]:
    """The edge offset to be assumed where gauges of one size do not tell it, px, and its standard uncertainty.

    In partly coherent light the edge lies off by up to half a pixel. In an unclear tone it lies anywhere between both.
    """
    if not sharpness:
        return 0.0, OFFSET_U_PX
    u = COHERENT_U_PX if partly_coherent(sharpness) else OFFSET_U_PX
    if not tone_unclear:
        return 0.0, u
    each = [tone_shift(s.blur_px, s.bright, s.dark, read=SRGB_LIGHT, true=LINEAR_LIGHT) for s in sharpness]
    shift = float(np.mean(each))
    return shift / 2, math.hypot(u, shift / math.sqrt(12))


@dataclass(frozen=True)
class Matched:
    """A part's picture in the tone of the gauges: what to read, and how far its edges may lie off, px, each way.

    ``certain``: nothing is to be doubted. ``shift_px``: of the middle; ``half_px``: half of what is possible.
    """

    picture: Picture
    certain: bool = True
    shift_px: float = 0.0
    half_px: float = 0.0


def matched(kind: PictureKind, picture: Picture, sharpness: Sharpness) -> Matched:
    """``picture``, read in its own tone with these levels of light, as the gauges' tone asks for it."""
    if not kind.tone or picture.tone == kind.read_as:
        return Matched(picture)
    if STATED in (picture.tone, kind.tone) or not picture.colourless:
        # what a file states is so, and colours are srgb: the other one may still be what the rule says
        other = kind.read_as if picture.tone == STATED else picture.tone
        if kind.sharpness is None or other == STATED or _distance(kind.sharpness, sharpness) < _SAME:
            return Matched(picture)
        return _doubtful(picture, sharpness, read=LINEAR_LIGHT, true=SRGB_LIGHT)
    if kind.sharpness is not None:
        as_read = _distance(kind.sharpness, sharpness)
        curve = srgb_code if kind.read_as == LINEAR_LIGHT else SRGB.curves[0]
        levels = [float(np.asarray(curve(np.array(v)))) for v in (sharpness.bright, max(sharpness.dark, 0.0))]
        like_gauges = _distance(kind.sharpness, Sharpness(sharpness.blur_px, 0.0, 0.0, *levels))
        if like_gauges < _SAME and as_read - like_gauges > _CERTAIN:
            return Matched(retoned(picture, kind.read_as))
        if as_read < _SAME and like_gauges - as_read > _CERTAIN:
            return Matched(picture)
    return _doubtful(picture, sharpness, read=picture.tone, true=kind.read_as)


def _distance(one: Sharpness, other: Sharpness) -> float:
    """Squared distance of two pairs of levels in standard deviations."""
    pad = max(one.bright, 1e-3)
    return float(
        ((other.bright - one.bright) / (_BRIGHT_ALIKE * pad)) ** 2
        + ((other.dark - one.dark) / (_DARK_ALIKE * pad)) ** 2
    )


def _doubtful(picture: Picture, sharpness: Sharpness, *, read: str, true: str) -> Matched:
    shift = tone_shift(sharpness.blur_px, sharpness.bright, max(sharpness.dark, 0.0), read=read, true=true)
    return Matched(picture, certain=False, shift_px=shift / 2, half_px=abs(shift) / 2)
