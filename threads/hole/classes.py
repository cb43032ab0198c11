"""Which classes a tapped hole of a thread can have, and how likely each is before anything is tried.

A thread is what one tap cuts, whatever the table (``thread_share.same_thread``). The classes of one series share as
common practice has it, the series as common as they are on a bench (``commonness``). A hole of a class lies anywhere in
its zone, every size alike. A hole of *no class* is one of a class that has worn since, one cut with a worn tap, or
anything in reach. The shares and spreads here are workshop assumptions without a published source.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache

import numpy as np
import numpy.typing as npt

from threads.identify.commonness import weights_of
from threads.identify.thread_share import same_thread, thread_name
from threads.own.own_folder import Edition, edition
from threads.shared.normal import ndtr
from threads.standards.designation import Designation, UnknownDesignationError, designation_of, parse
from threads.standards.limits import Limits, limits_of
from threads.standards.series import entries

Array = npt.NDArray[np.float64]

CLASS_SHARE = {
    "1B": 0.05, "2B": 0.80, "3B": 0.15, "1": 0.15, "2": 0.55, "3": 0.30,
    "4H": 0.05, "5H": 0.10, "6H": 0.75, "7H": 0.05, "6G": 0.05,
}  # fmt: skip
"""How common the classes of holes of one size are; one not named counts ``OTHER_CLASS``, an only class all."""
OTHER_CLASS = 0.05
NO_CLASS = 0.20
"""Share of tapped holes that no class describes, in old work."""
WORN, TIGHT, ANY = 0.65, 0.10, 0.25
"""What holes of no class are: worn wider, cut too narrow by a worn tap, of any size in reach."""
WEAR, TAP_WEAR = 0.030, 0.008
"""Mean growth of a worn hole, and mean of what a worn tap leaves standing, exponential, mm of pitch diameter."""
BELOW, ABOVE = 0.25, 0.40
"""So far below the least and above the greatest size of the classes a hole is looked for, in heights of thread: wider,
it holds a screw by its crests only."""

_EDGE = 0.0005  # the limits of a zone are rounded to half a micrometre at best: soft edges, mm
_NEAR_PITCH, _NEAR_MAJOR = 0.01, 0.05  # relative, mm: entries worth a closer look


@dataclass(frozen=True)
class HoleThread:
    """The thread of a hole.

    ``name``: as people say it. ``limits``: its classes as a nut, the most common first. ``share``: of each, 1 in all.
    """

    name: str
    limits: tuple[Limits, ...]
    share: tuple[float, ...]
    left_hand: bool = False

    @property
    def pitch(self) -> float:
        return self.limits[0].pitch

    @property
    def form(self) -> str:
        return self.limits[0].form

    @property
    def height(self) -> float:
        """Of the engaged thread, crest to root, mm."""
        return (self.limits[0].basic_major - self.limits[0].basic_minor) / 2

    @property
    def span(self) -> tuple[float, float]:
        """Least and greatest pitch diameter of all classes, mm."""
        zones = zones_of(self)
        return float(zones[:, 0].min()), float(zones[:, 1].max())

    @property
    def reach(self) -> tuple[float, float]:
        """Between which pitch diameters a hole of this thread is looked for, mm."""
        low, high = self.span
        return low - BELOW * self.height, high + ABOVE * self.height


def hole_thread(text: str) -> HoleThread:
    """The thread written as ``text``: a designation with or without its class, or a size that says the thread alone.

    Raises:
        UnknownDesignationError: it is not known, or is one of several threads.

    >>> [one.designation for one in hole_thread("4-40").limits][:2]
    ['4-40 UNC-2B', '4-40 NC-2']
    """
    read = _read(text)
    return _thread(read.entry.series, read.entry.size, read.left_hand, edition())


def _read(text: str) -> Designation:
    try:
        return parse(text, internal=True)
    except UnknownDesignationError as error:
        same = _one_thread(error.nearest) if error.reasons[0].key == "unknown_designation.no_series" else None
        if same is not None:
            return replace(same, left_hand=text.strip().upper().endswith("LH"))
        try:
            return parse(text)  # the class of a screw says the thread as well
        except UnknownDesignationError:
            raise error from None


def _one_thread(names: tuple[str, ...]) -> Designation | None:
    """The first of several readings, where all of them are one thread."""
    read = [parse(name, internal=True) for name in names]
    limits = [limits_of(one) for one in read]
    return read[0] if read and all(same_thread(limits[0], other) for other in limits[1:]) else None


@cache
def _thread(series: str, size: str, left_hand: bool, _edition: Edition) -> HoleThread:
    own = next(one for one in entries(series) if one.size == size)
    base = limits_of(designation_of(own, own.internal_classes[0], internal=True))
    found: list[tuple[Limits, float]] = []
    near = [
        one
        for one in entries()
        if abs(one.pitch_mm / own.pitch_mm - 1) < _NEAR_PITCH and abs(one.major_mm - own.major_mm) < _NEAR_MAJOR
    ]
    weights = weights_of(dict.fromkeys(one.series for one in near))
    for entry in near:
        limits = [limits_of(designation_of(entry, name, internal=True)) for name in entry.internal_classes]
        limits = [one for one in limits if same_thread(one, base) and None not in _zone(one)]
        whole = sum(CLASS_SHARE.get(one.thread_class, OTHER_CLASS) for one in limits)
        for one in limits:
            share = CLASS_SHARE.get(one.thread_class, OTHER_CLASS) / whole
            found.append((one, share * weights[entry.series].on_bench))
    if not found:
        raise UnknownDesignationError(f"{size} {series}", "no_series", ())
    found.sort(key=lambda item: -item[1])
    total = sum(weight for _, weight in found)
    name = _name(found[0][0]) + (" LH" if left_hand else "")
    return HoleThread(name, tuple(one for one, _ in found), tuple(w / total for _, w in found), left_hand)


def _name(limits: Limits) -> str:
    """How people say it, as far as that is read as this thread again: 1/4-20 is Whitworth's, too."""
    for name in (thread_name(limits), f"{limits.size} {limits.series}"):
        try:
            if same_thread(limits_of(_read(name)), limits):
                return name
        except UnknownDesignationError:
            continue
    return limits.designation


def _zone(limits: Limits) -> tuple[float | None, float | None]:
    return limits.pitch_diameter.low, limits.pitch_diameter.high


def zones_of(thread: HoleThread) -> Array:
    """(n, 2) least and greatest pitch diameter of each class, mm."""
    return np.array([_zone(one) for one in thread.limits], np.float64)


def prior_of(thread: HoleThread, sizes: Array) -> Array:
    """(n + 1, m) probability of each class, and of none, at each of m pitch diameters; it sums to 1.

    ``sizes``: (m,) evenly spaced, mm.
    """
    low, high = zones_of(thread).T[:, :, None]
    share = np.array(thread.share)[:, None]
    of_class = (ndtr((sizes - low) / _EDGE) - ndtr((sizes - high) / _EDGE)) / (high - low)
    worn = (_lost(sizes - low, WEAR) - _lost(sizes - high, WEAR)) / (high - low)
    tight = (_lost(high - sizes, TAP_WEAR) - _lost(low - sizes, TAP_WEAR)) / (high - low)
    step = sizes[1] - sizes[0]
    none = np.sum(share * (WORN * worn + TIGHT * tight), axis=0) + ANY / (step * sizes.size)
    prior = np.vstack([(1 - NO_CLASS) * share * of_class, NO_CLASS * none])
    return np.asarray(prior / prior.sum())


def _lost(x: Array, mean: float) -> Array:
    """P(exponential of this mean < x)."""
    return np.asarray(-np.expm1(-np.maximum(x, 0.0) / mean))
