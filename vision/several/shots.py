"""The pictures of one long part: what each shows, which follows which, and how far apart they were taken."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise, permutations

import numpy as np
import numpy.typing as npt

from threads.shared.refusal import RefusalError
from vision.model.grazing import mirror_of
from vision.model.shadow import INDEX
from vision.part.axis_view import AxisView, Profile, profile_of
from vision.part.plain_view import view_plain
from vision.pictures.picture import Picture
from vision.result.measure import measure_picture
from vision.result.measurement import Measurement
from vision.several.limits import LIMITS
from vision.several.overlap import Candidate, candidates
from vision.shared.plane import PlaneMap

Array = npt.NDArray[np.float64]

_NO_THREAD = ("no_thread", "not_a_thread", "too_few_threads")
_MOVED_PX = 6.0  # by which a stated move may be off
_MOVED_PITCHES = 0.45  # the same with a thread: less than half a pitch settles which turn is which


@dataclass(frozen=True, eq=False)
class Shot:
    """One picture: its outline along the axis, and its thread where it shows one."""

    picture: Picture
    view: AxisView
    profile: Profile
    measured: Measurement | None


def take_shots(pictures: Sequence[Picture], planes: Sequence[PlaneMap]) -> list[Shot]:
    """Each picture measured, or only its outline taken where it shows no thread.

    Raises RefusalError: what measuring a picture raises, with its path; no_thread where none of them shows one;
    different_scale.
    """
    measured: list[Measurement | None] = []
    refusal: RefusalError | None = None
    for picture, plane in zip(pictures, planes, strict=True):
        try:
            measured.append(measure_picture(picture, plane))
        except RefusalError as error:
            if error.reasons[0].code not in _NO_THREAD:
                raise RefusalError(*(reason.at(picture.path) for reason in error.reasons)) from error
            refusal = error
            measured.append(None)
    if refusal is not None and not any(measured):
        raise refusal
    tilt, nearness = _lie([m for m in measured if m is not None])
    shots = []
    for picture, plane, m in zip(pictures, planes, measured, strict=True):
        if m is not None and m.part.view is not None:
            view = m.part.view
        else:
            mirror = mirror_of(plane)
            px_mm = plane.um_per_px / 1000 * (1 - mirror.scale_excess)
            view = view_plain(picture, plane, px_mm, tilt, nearness * px_mm)
        shots.append(Shot(picture, view, profile_of(view), m))
    sizes = [s.view.px_mm for s in shots]
    if max(sizes) / min(sizes) > 1 + LIMITS.same_scale:
        raise RefusalError("different_scale.calibrations")
    return shots


def _lie(measured: list[Measurement]) -> tuple[float, float]:
    """Sine of the tilt, and 1 / distance of the camera (1/mm), as the pictures with a thread have them."""
    x = np.array([m.solution.fit.x for m in measured])
    return float(np.mean(x[:, INDEX["tilt"]])), float(np.mean(x[:, INDEX["nearness"]]))


def find_chain(shots: list[Shot], moved_mm: Sequence[float] | None) -> tuple[list[int], list[float]]:
    """The pictures from left to right, and the shift from each to the next, px.

    Raises RefusalError: no_overlap, joint_ambiguous.
    """
    n = len(shots)
    found: dict[tuple[int, int], list[Candidate]] = {}
    for i in range(n):
        for j in range(n):
            # the part goes on between neighbours
            if i != j and not shots[i].view.in_view[1] and not shots[j].view.in_view[0]:
                here = _candidates(shots[i], shots[j])
                if moved_mm is not None:
                    here = _as_moved(here, (i, j), moved_mm, shots)
                if here:
                    found[i, j] = here
    if moved_mm is not None:
        orders: list[tuple[int, ...]] = [tuple(range(n))]
    else:
        orders = list(permutations(range(n)))
    chains = [order for order in orders if all(pair in found for pair in pairwise(order))]
    if not chains:
        raise RefusalError("no_overlap" if moved_mm is None else "no_overlap.moved")

    # as many clear joints as possible, then the best fit
    def doubt(order: tuple[int, ...]) -> tuple[int, float]:
        joints = [found[pair] for pair in pairwise(order)]
        return sum(len(joint) > 1 for joint in joints), sum(joint[0].misfit for joint in joints)

    best = min(chains, key=doubt)
    for i, j in pairwise(best):
        if len(found[i, j]) > 1:
            step = float(np.diff(sorted(c.shift for c in found[i, j])).min()) * shots[i].view.px_mm
            raise RefusalError(
                "joint_ambiguous",
                first=shots[i].picture.path,
                second=shots[j].picture.path,
                ways=len(found[i, j]),
                step_mm=step,
            )
    return list(best), [found[p][0].shift for p in pairwise(best)]


def _candidates(left: Shot, right: Shot) -> list[Candidate]:
    depth = 0.0
    near = False
    for m in (left.measured, right.measured):
        if m is not None:
            x = m.solution.fit.x
            depth = max(depth, float(x[INDEX["crest"]] - x[INDEX["root"]]) / m.solution.seen.px_mm)
            near = near or abs(float(x[INDEX["nearness"]])) > LIMITS.near_camera
    return candidates(left.profile, right.profile, depth=depth, near=near)


def _as_moved(
    here: list[Candidate], pair: tuple[int, int], moved_mm: Sequence[float], shots: list[Shot]
) -> list[Candidate]:
    """Of the candidates the one that agrees with how far the part was moved, if any."""
    if abs(pair[0] - pair[1]) != 1:
        return []
    shot = shots[pair[0]]
    expected = abs(moved_mm[min(pair)]) / shot.view.px_mm
    reach = _MOVED_PX
    if shot.measured is not None:
        reach = max(reach, _MOVED_PITCHES * shot.measured.thread.pitch.value / shot.view.px_mm)
    off = {c: abs(abs(displacement(shot.view, shots[pair[1]].view, c.shift)) - expected) for c in here}
    return sorted((c for c in here if off[c] < reach), key=lambda c: off[c])[:1]


def displacement(left: AxisView, right: AxisView, shift: float) -> float:
    """How far the part was moved along its axis in the picture, px."""
    middle = (float(left.points[:, 0].max()) + float(right.points[:, 0].min()) + shift) / 2
    a = left.frame.to_picture(np.array([[middle, 0.0]]))[0]
    b = right.frame.to_picture(np.array([[middle - shift, 0.0]]))[0]
    return float((a - b) @ np.array([np.cos(left.frame.angle), np.sin(left.frame.angle)]))
