"""Overlapping pictures of one long part joined: order, joints, sections over the whole length, and its thread.

The pictures are taken by moving the part along under the camera. Each pair of neighbours is laid over each other where
both show the same stretch; the joints' uncertainties enter every length that spans them. The thread is measured in each
picture that shows it, and joined (vision/several/joined.py).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Any

import numpy as np
import numpy.typing as npt

from threads.shared.quantity import Quantity
from threads.shared.refusal import RefusalError
from vision.part.axis_view import AxisView, Joint, profile_of
from vision.part.lengths import Ruler
from vision.part.part_outline import End
from vision.part.section_sizes import MeasuredSpan, Section
from vision.part.sections import ThreadSpan
from vision.part.whole_part import fitted_span, sections_of_view
from vision.pictures.picture import Picture
from vision.result.measurement import Measurement
from vision.several.joined import join
from vision.several.joint import Registration, register
from vision.several.shots import Shot, displacement, find_chain, take_shots
from vision.shared.plane import PlaneMap

Array = npt.NDArray[np.float64]

MOST_PICTURES = 8  # orders of so many can all be tried
_SAME_PITCH = 0.01  # relative: pictures of one thread
_BREAK_PITCHES = 2.0  # between two lengths of one thread


@dataclass(frozen=True)
class StitchedJoint:
    """Two neighbours joined.

    Attributes:
        left, right: the pictures, counted from 1 as they were given.
        moved: by how much the part was moved between them.
        overlap: stretch of the part that both show, mm.
        ridges: ridges that fixed it, 0 where other edges did.
        misfit_px: root mean square distance of the outlines in the overlap.
        turn_deg: how much the part lay turned against the left picture.
    """

    left: int
    right: int
    moved: Quantity
    overlap: float
    ridges: int
    misfit_px: float
    turn_deg: float

    def to_dict(self) -> dict[str, Any]:
        """Plain data for JSON."""
        return {
            "left": self.left,
            "right": self.right,
            "moved": self.moved.to_dict(),
            "overlap": {"value": self.overlap, "unit": "mm"},
            "ridges": self.ridges,
            "misfit_px": self.misfit_px,
            "turn": {"value": self.turn_deg, "unit": "deg"},
        }


@dataclass(frozen=True, eq=False)
class Stitched:
    """A part longer than the field.

    Attributes:
        measurement: of the thread, joined over the pictures that show it; its ``part`` is the whole part.
        pictures: all pictures, in the order given.
        order: their numbers from left to right.
        joints: between neighbours, from left to right.
    """

    measurement: Measurement
    pictures: tuple[Picture, ...]
    order: tuple[int, ...]
    joints: tuple[StitchedJoint, ...]

    def to_dict(self) -> dict[str, Any]:
        """The JSON object of ``measure --stitch --json``: that of a measurement, with pictures, order and joints."""
        out = self.measurement.to_dict()
        shares = {p["path"]: p for p in out.get("pictures", [])}
        out["pictures"] = [
            {"path": p.path, "sha256": p.sha256, "width_px": p.width_px, "height_px": p.height_px}
            | shares.get(p.path, {})
            for p in self.pictures
        ]
        out["order"] = list(self.order)
        out["joints"] = [joint.to_dict() for joint in self.joints]
        return out


def stitch(
    pictures: Sequence[Picture], planes: Sequence[PlaneMap], *, moved_mm: Sequence[float] | None = None
) -> Stitched:
    """Join overlapping pictures of one long part.

    Args:
        pictures: two to ``MOST_PICTURES`` of them, in any order; with ``moved_mm`` from left to right along the part.
        planes: the calibrated bench of each.
        moved_mm: how far the part was moved before the second and each further picture, mm, to half a pitch or so: it
            settles which turn of a thread is which.

    Raises RefusalError: what measuring a picture raises; same_picture_twice, no_thread, no_overlap, joint_ambiguous,
    different_scale, not_the_same_part. Raises ValueError for too few or too many pictures or moves.
    """
    if not 2 <= len(pictures) <= MOST_PICTURES or (moved_mm is not None and len(moved_mm) != len(pictures) - 1):
        raise ValueError(f"two to {MOST_PICTURES} pictures, and one move less")
    if len({p.sha256 for p in pictures}) < len(pictures):
        raise RefusalError("same_picture_twice")
    shots = take_shots(pictures, planes)
    chain, shifts = find_chain(shots, moved_mm)
    registered = [
        register(
            shots[i].view, shots[j].view, shift, (shots[i].measured, shots[j].measured),
            (shots[i].picture.path, shots[j].picture.path),
        )
        for (i, j), shift in zip(pairwise(chain), shifts, strict=True)
    ]  # fmt: skip
    return _joined(shots, chain, registered, planes)


def _joined(
    shots: list[Shot], chain: list[int], registered: list[Registration], planes: Sequence[PlaneMap]
) -> Stitched:
    measured = [(i, shots[i].measured) for i in chain if shots[i].measured is not None]
    best = max((m for _, m in measured if m is not None), key=lambda m: m.thread.threads_in_view)
    same = [m for _, m in measured if m is not None and _is_same(m, best)]
    main = join(same, [0.0] * len(same)) if len(same) > 1 else best
    base = next(i for i in chain if shots[i].measured is best)
    view, places = _joined_view(shots, chain, registered)
    span = _whole_span(shots, chain, places, best)
    plane = planes[base]
    ruler = Ruler(plane, view.px_mm, view.nearness / view.px_mm, best.mirror)
    others = [
        MeasuredSpan(_at(fitted_span(m.solution), places[k]), m.thread, m.part.free_end_right)
        for k, i in enumerate(chain)
        if (m := shots[i].measured) is not None and not _is_same(m, best)
    ]
    part = sections_of_view(best.part, view, span, main.thread, ruler, others)
    xs, profile = view.points[:, 0], profile_of(view)
    part = replace(
        part,
        overall_length=float(np.ptp(xs)) * view.px_mm,
        largest_diameter=float(np.nanmax(profile.upper - profile.lower)) * view.px_mm,
        free_end=next((m.part.free_end for m in same if m.part.free_end != "not in view"), best.part.free_end),
        ends=_ends(part.sections, view.in_view),
    )
    joints = tuple(
        _joint(shots, pair, r, ruler, view) for pair, r in zip(pairwise(chain), registered, strict=True)
    )  # fmt: skip
    return Stitched(replace(main, part=part), tuple(s.picture for s in shots), tuple(i + 1 for i in chain), joints)


def _ends(sections: tuple[Section, ...], in_view: tuple[bool, bool]) -> tuple[End, End]:
    """What lies beyond the thread on either side, from the sections."""
    k = next(i for i, s in enumerate(sections) if s.measured)

    def end(beyond: tuple[Section, ...], *, seen: bool) -> End:
        if not beyond:
            return End("free end" if seen else "cut off", 0.0, None, seen)
        diameters = [s.diameter.value for s in beyond if s.diameter is not None]
        thick = any(s.kind in ("head", "shoulder") for s in beyond)
        length = max(s.end for s in beyond) - min(s.start for s in beyond)
        return End("shoulder" if thick else "shank", length, max(diameters, default=None), seen)

    return end(sections[:k], seen=in_view[0]), end(sections[k + 1 :], seen=in_view[1])


def _at(span: ThreadSpan, shift: float) -> ThreadSpan:
    return replace(span, start=span.start + shift, end=span.end + shift)


def _whole_span(shots: list[Shot], chain: list[int], places: list[float], best: Measurement) -> ThreadSpan:
    """The thread over all pictures that show it without a break."""
    spans = []
    for k, i in enumerate(chain):
        m = shots[i].measured
        if m is not None and _is_same(m, best):
            spans.append((m is best, _at(fitted_span(m.solution), places[k])))
    whole = next(s for is_best, s in spans if is_best)
    for _, s in spans + spans:  # twice: a neighbour may only touch after another one has been added
        if max(s.start, whole.start) - min(s.end, whole.end) < _BREAK_PITCHES * whole.pitch:
            whole = replace(whole, start=min(s.start, whole.start), end=max(s.end, whole.end))
    return whole


def _is_same(m: Measurement, best: Measurement) -> bool:
    return abs(m.thread.pitch.value / best.thread.pitch.value - 1) < _SAME_PITCH


def _joined_view(shots: list[Shot], chain: list[int], registered: list[Registration]) -> tuple[AxisView, list[float]]:
    """All outlines in the frame of the leftmost one, each up to the middle of its overlaps; and where each begins."""
    parts: list[tuple[Array, Array, Array]] = []
    joints: list[Joint] = []
    shift, across, turn = 0.0, 0.0, 0.0
    places = [0.0]
    bounds = [-np.inf]
    moved: list[Array] = []
    for k, i in enumerate(chain):
        if k > 0:
            r = registered[k - 1]
            across += r.across + (turn * r.shift)
            turn += r.turn
            shift += r.shift
            places.append(shift)
        points = shots[i].view.points + np.array([shift, 0.0])
        points[:, 1] += across + turn * points[:, 0]
        if k > 0:
            bounds.append((float(moved[-1][:, 0].max()) + float(points[:, 0].min())) / 2)
            joints.append(Joint(bounds[-1], registered[k - 1].shift_u))
        moved.append(points)
    bounds.append(np.inf)
    for k, i in enumerate(chain):
        keep = (moved[k][:, 0] >= bounds[k]) & (moved[k][:, 0] < bounds[k + 1])
        view = shots[i].view
        parts.append((moved[k][keep], view.normal[keep], view.oblique[keep]))
    first = shots[chain[0]].view
    lean = max((s.view for s in shots), key=lambda v: v.nearness)
    return (
        replace(
            first,
            points=np.concatenate([p[0] for p in parts]),
            normal=np.concatenate([p[1] for p in parts]),
            oblique=np.concatenate([p[2] for p in parts]),
            oblique_u=max(s.view.oblique_u for s in shots),
            cos_tilt=min(s.view.cos_tilt for s in shots),
            nearness=lean.nearness,
            blur_px=max(s.view.blur_px for s in shots),
            in_view=(first.in_view[0], shots[chain[-1]].view.in_view[1]),
            joints=tuple(joints),
        ),
        places,
    )


def _joint(
    shots: list[Shot], pair: tuple[int, int], found: Registration, ruler: Ruler, view: AxisView
) -> StitchedJoint:
    left, right = (shots[i].view for i in pair)
    overlap = float(left.points[:, 0].max()) - float(right.points[:, 0].min()) - found.shift
    return StitchedJoint(
        pair[0] + 1,
        pair[1] + 1,
        ruler.length(displacement(left, right, found.shift), found.shift_u, 0.0),
        overlap * view.px_mm,
        found.ridges,
        found.misfit,
        float(np.degrees(found.turn)),
    )
