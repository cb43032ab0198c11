"""Where the sections of a part begin and end: the marks between which their lengths are taken."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import numpy as np

from vision.part.axis_view import AxisView, Profile
from vision.part.limits import LIMITS
from vision.part.marks import Mark, face_near, faces_of, tip
from vision.part.piece_fit import FittedPiece
from vision.part.profile_pieces import TAPERED
from vision.part.sections import Cut, ThreadSpan

_RUNS_OUT_PITCHES = 0.25  # standard uncertainty of where a thread runs out
_BLUR_REACH = 4.0  # px: so far blur rounds a corner
_END_FACE = 0.15  # of the radius there: a smaller face at the very end is dust, or the tip of a point
_NEAR_END_PX = 250.0  # from an end within which its face is looked for


def section_marks(view: AxisView, profile: Profile, cuts: list[Cut], fits: dict[int, FittedPiece | None]) -> list[Mark]:
    """The ends of the part and the places between its sections, from left to right."""
    marks = [_end_mark(view, profile, cuts[0].thread, right=False)]
    for a, b in pairwise(cuts):
        marks.append(_between(view, a, b, fits))
    marks.append(_end_mark(view, profile, cuts[-1].thread, right=True))
    return marks


def _end_mark(view: AxisView, profile: Profile, thread: ThreadSpan | None, *, right: bool) -> Mark:
    u = float(profile.u[-1 if right else 0])
    if not view.in_view[1 if right else 0]:
        return Mark(u, 1.0, 1 if right else -1, 0.0)
    near = np.abs(view.points[:, 0] - u) < LIMITS.face_window
    tallest = float(np.abs(view.points[near, 1]).max(initial=0.0))
    bulge = float(np.abs(view.oblique[near]).max(initial=0.0)) * tallest
    face = face_near(view, u, _BLUR_REACH + bulge, outward=1 if right else -1)
    if face is None or face.rise < _END_FACE * tallest:
        # dust or a hair stands out there, or it is a point: then there is no face near by
        face = _largest_face(view, profile, _END_FACE * tallest, right=right)
    if face is None:
        return tip(view, right=right)
    if thread is not None and face.radius > thread.root:
        # the groove runs out through the rim: its radius is anywhere from the root's to the face's
        lean = float(np.abs(view.oblique[near]).mean())
        return replace(face, noise=float(np.hypot(face.noise, lean * (face.radius - thread.root) / np.sqrt(3))))
    return face


def _largest_face(view: AxisView, profile: Profile, least: float, *, right: bool) -> Mark | None:
    """Of the faces near the end that are ``least`` or more high the highest, if what is beyond it is not the part's.

    The part's own point stands on both sides of the axis alike, dust and hair do not.
    """
    side = 1 if right else -1
    u = float(profile.u[-1 if right else 0])
    near = [f for f in faces_of(view) if f.outward == side and abs(f.u - u) < _NEAR_END_PX and f.rise >= least]
    face = max(near, key=lambda f: f.rise, default=None)
    if face is None:
        return None
    beyond = side * (profile.u - face.u) > _BLUR_REACH
    middle = (profile.upper[beyond] + profile.lower[beyond]) / 2
    alike = float(np.mean(np.abs(middle) < LIMITS.face_height[0] * face.radius)) if middle.size else 0.0
    return None if alike > LIMITS.face_height[1] else face


def _between(view: AxisView, a: Cut, b: Cut, fits: dict[int, FittedPiece | None]) -> Mark:
    """The face, the corner or the run-out between two neighbours."""
    p = a.pieces[-1] if a.pieces else None
    q = b.pieces[0] if b.pieces else None
    left, right = a.end if p is None else p.end, b.start if q is None else q.start
    if a.thread is not None or b.thread is not None:
        # the profile ends at the face of the thread or a few pixels before it
        gap = (left + right) / 2 + (_BLUR_REACH / 2 if q is None else -_BLUR_REACH / 2)
    else:
        gap = (left + right) / 2
    fa, fb = (None if x is None else fits.get(id(x)) for x in (p, q))
    radii = [f.radius_at(gap) for f in (fa, fb) if f is not None]
    reach = abs(right - left) / 2 + 1.5 * _BLUR_REACH
    near = np.abs(view.points[:, 0] - gap) < reach + LIMITS.corner_window
    tallest = float(np.abs(view.points[near, 1]).max(initial=0.0))
    reach += float(np.abs(view.oblique[near]).max(initial=0.0)) * tallest
    # the corner of two lines is what is meant unless the profile jumps there
    jumps = len(radii) < 2 or abs(radii[0] - radii[1]) > LIMITS.corner_jump
    known = radii + [c.thread.crest for c in (a, b) if c.thread is not None]
    rim = max((r for r in known if r < tallest + 2), default=0.0)
    if jumps and (face := face_near(view, gap, reach, rim=rim)) is not None:
        return face
    least = np.radians(LIMITS.corner_angle_deg)
    if fa is not None and fb is not None and abs(np.arctan(fa.slope) - np.arctan(fb.slope)) > least:
        u = gap + (fb.radius_at(gap) - fa.radius_at(gap)) / (fa.slope - fb.slope)
        if abs(u - gap) < LIMITS.corner_near + reach:
            noise = np.hypot(fa.radius_noise_at(u), fb.radius_noise_at(u)) / abs(fa.slope - fb.slope)
            return Mark(float(u), float(noise), 0, 0.0)
    thread = a.thread or b.thread
    if thread is not None:
        point = fb if a.thread is not None else fa
        if point is not None and abs(point.slope) > TAPERED and (a.kind == "point" or b.kind == "point"):
            u = point.middle + (thread.crest - point.radius) / point.slope
            return Mark(float(u), float(point.radius_noise_at(u) / abs(point.slope)), 0, 0.0)
        return Mark(gap, _RUNS_OUT_PITCHES * thread.pitch, 0, 0.0)
    return Mark(gap, max(abs(right - left) / np.sqrt(12), 1.0), 0, 0.0)
