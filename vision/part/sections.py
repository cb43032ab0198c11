"""The part cut into sections along its axis, and what each of them is.

The rules, in this order (D is the thread's major diameter as seen, all of them plain on purpose):

- thread: the outline repeats there. Incomplete threads at a chamfer or a run-out belong to it, up to the first plain
  length of three quarters of a pitch or the first shoulder.
- head: what is thicker than D by more than a twelfth, up to an end of the part that is in view, with its dome or cone.
- shoulder: as thick, but between others or cut off by the picture. A face parts a shoulder from a head.
- point: what follows a thread up to an end in view and is thinner than the root of the thread, or narrows to less than
  half of where it begins. A cone that narrows less is the chamfer of its neighbour and no section.
- undercut: plain, next to a thread, no longer than it is thick, and no thicker than the root of the thread.
- shank: any other plain length.
- unclear: a length of half of D or more that no plain profile follows: damage, a knurl, too few threads to measure.

A length under 0.15 D is no section unless faces bound it on both sides or it ends the part.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from vision.part.axis_view import Profile
from vision.part.limits import LIMITS
from vision.part.profile_pieces import SHORTEST_PX, TAPERED, Piece, find_pieces

Array = npt.NDArray[np.float64]

_THICKER = 1.08  # of the crest: a shoulder
_THICKER_PX = 2.0  # and by so much
_PLAIN_PITCHES = 0.75  # a plain length beside a thread
_INCOMPLETE_PITCHES = 2.5  # of incomplete threads at a run-out
_UNCLEAR = 1.0  # in radii of the thread
_LEAST_LENGTH = 0.15  # of the diameter: a shorter section is part of its neighbour
_FACE_PX = 6.0  # by which the radius jumps at a face, corners rounded by blur left aside


KINDS = ("thread", "head", "shoulder", "point", "undercut", "shank", "unclear")
"""What a section of a part may be."""


@dataclass(frozen=True)
class ThreadSpan:
    """A threaded length: where its full threads are, and its sizes (px)."""

    start: float
    end: float
    pitch: float
    crest: float
    root: float


@dataclass(frozen=True)
class Cut:
    """A section before it is measured (px along u).

    Attributes:
        kind: one of ``KINDS``.
        start, end: between its neighbours; on a thread incomplete threads are included.
        pieces: the plain pieces it is made of, none for a thread.
        thread: the span of a thread.
        chamfer: the piece that is the chamfer at its outer end.
    """

    kind: str
    start: float
    end: float
    pieces: tuple[Piece, ...] = ()
    thread: ThreadSpan | None = None
    chamfer: Piece | None = None

    @property
    def main(self) -> Piece | None:
        """The longest straight piece that is a cylinder or nearly; else the longest one."""
        cylinders = [p for p in self.pieces if not p.round and abs(p.slope) < TAPERED]
        return max(cylinders or self.pieces, key=lambda p: p.length, default=None)


def cut_sections(profile: Profile, threads: list[ThreadSpan], in_view: tuple[bool, bool]) -> list[Cut]:
    """The sections from left to right.

    Args:
        profile: both edges along the axis.
        threads: the threaded lengths, at least one, the measured one first.
        in_view: which ends of the outline (-u, +u) are ends of the part.
    """
    spans = sorted(threads, key=lambda t: t.start)
    plain = profile.radius.copy()
    for t in spans:
        plain[(profile.u >= t.start) & (profile.u <= t.end)] = np.nan
    pieces = find_pieces(profile.u, plain)
    first, last = float(profile.u[0]), float(profile.u[-1])
    cuts: list[Cut] = []
    before = first
    for i, t in enumerate(spans):
        stop = spans[i + 1].start if i + 1 < len(spans) else last
        left = [p for p in pieces if before <= p.start and p.end <= t.start + 2]
        right = [p for p in pieces if t.end - 2 <= p.start and p.end <= stop + 2]
        begins = max((p.end for p in left if _stands_alone(p, t)), default=before)
        ends = min((p.start for p in right if _stands_alone(p, t)), default=stop)
        # what is incomplete of a thread does not reach far
        begins, ends = (
            max(begins, t.start - _INCOMPLETE_PITCHES * t.pitch),
            min(ends, t.end + _INCOMPLETE_PITCHES * t.pitch),
        )
        cuts.append(Cut("thread", begins, ends, thread=t))
        before = cuts[-1].end
    free = [p for p in pieces if not any(c.start - 1 < (p.start + p.end) / 2 < c.end + 1 for c in cuts)]
    return _named(free, cuts, threads[0], (first, last), in_view)


def _stands_alone(piece: Piece, thread: ThreadSpan) -> bool:
    """Whether a plain piece beside a thread is more than a bit of an incomplete thread."""
    if abs(piece.slope) < TAPERED and not piece.round and piece.largest < thread.root - _THICKER_PX:
        return True  # no thread is cut as deep
    thick = piece.largest > LIMITS.thicker_piece * thread.crest + _THICKER_PX
    return thick or piece.length >= _PLAIN_PITCHES * thread.pitch


def _named(
    pieces: list[Piece], cuts: list[Cut], main: ThreadSpan, ends: tuple[float, float], in_view: tuple[bool, bool]
) -> list[Cut]:
    """Threads and plain pieces as named sections in order."""
    out: list[Cut] = []
    bounds = sorted(cuts, key=lambda c: c.start)
    gaps = [ends[0], *[b for c in bounds for b in (c.start, c.end)], ends[1]]
    for i in range(0, len(gaps), 2):
        here = [p for p in pieces if gaps[i] - 1 <= p.start and p.end <= gaps[i + 1] + 1]
        left = bounds[i // 2 - 1] if i > 0 else None
        right = bounds[i // 2] if i // 2 < len(bounds) else None
        if here:
            found = _between(here, left, right, main, in_view)
            # what no piece follows between the outermost piece and the end (a dome, a blurred corner) belongs to it
            if left is None and found[0].start - ends[0] < _UNCLEAR * main.crest:
                found[0] = replace(found[0], start=ends[0])
            if right is None and ends[1] - found[-1].end < _UNCLEAR * main.crest:
                found[-1] = replace(found[-1], end=ends[1])
            out += found
        if right is not None:
            out.append(right)
    return _with_thread_chamfers(_with_unclear(out, main, ends), in_view)


def _with_unclear(cuts: list[Cut], main: ThreadSpan, ends: tuple[float, float]) -> list[Cut]:
    """Long gaps between sections, and between them and the ends, become sections of their own."""
    out: list[Cut] = []
    reached = ends[0]
    for cut in [*cuts, Cut("end", ends[1], ends[1])]:
        if cut.start - reached > _UNCLEAR * main.crest:
            out.append(Cut("unclear", reached, cut.start))
        if cut.kind != "end":
            out.append(cut)
        reached = cut.end
    return out


def _between(
    pieces: list[Piece], left: Cut | None, right: Cut | None, main: ThreadSpan, in_view: tuple[bool, bool]
) -> list[Cut]:
    """The sections of one plain length between two threads, or between a thread and an end."""
    thick = [p.largest > _THICKER * main.crest + _THICKER_PX for p in pieces]
    outer_left, outer_right = left is None, right is None
    groups: list[list[Piece]] = []
    for i, p in enumerate(pieces):
        dome = (outer_right and not any(thick[i:]) and i > 0 and thick[i - 1] and _narrows(pieces[i:], right=True)) or (
            outer_left and not any(thick[: i + 1]) and any(thick) and _narrows(pieces[: i + 1], right=False)
            and i + 1 < len(pieces)
        )  # fmt: skip
        if dome:
            thick[i] = True
        if groups and thick[i] and thick[i - 1] and abs(p.radius_start - pieces[i - 1].radius_end) < _FACE_PX:
            groups[-1].append(p)
        else:
            groups.append([p])
    cuts = []
    for k, group in enumerate(groups):
        first, last = outer_left and k == 0, outer_right and k == len(groups) - 1
        seen = (first and in_view[0]) or (last and in_view[1])
        big = max(p.largest for p in group) > _THICKER * main.crest + _THICKER_PX
        before = left if k == 0 else None
        after = right if k == len(groups) - 1 else None
        if big:
            kind = "head" if seen else "shoulder"
        else:
            kind = _slim_kind(group[0], before, after, ends_part=seen, points_right=last)
        cuts.append(Cut(kind, group[0].start, group[-1].end, tuple(group)))
    return _with_chamfers(_without_slivers(cuts, main, outer_left, outer_right), outer_left, outer_right, in_view)


def _narrows(pieces: list[Piece], *, right: bool) -> bool:
    """Whether the pieces narrow toward the end of the part all the way."""
    return all((p.slope < -TAPERED) if right else (p.slope > TAPERED) for p in pieces)


def _slim_kind(piece: Piece, before: Cut | None, after: Cut | None, *, ends_part: bool, points_right: bool) -> str:
    """Of a plain piece that is not thicker than the thread; ``before`` and ``after`` are the threads it touches."""
    touching = [c.thread for c in (before, after) if c is not None and c.thread is not None]
    radius = max(piece.radius_start, piece.radius_end)
    if ends_part:
        inner, outer = (
            (piece.radius_start, piece.radius_end) if points_right else (piece.radius_end, piece.radius_start)
        )
        is_thin = any(radius < t.root + 1 for t in touching)
        return "point" if outer < 0.5 * inner or is_thin else "shank"
    if any(radius < t.root + LIMITS.point_radius * (t.crest - t.root) for t in touching) and piece.length <= 2 * radius:
        return "undercut"
    return "shank"


def _without_slivers(cuts: list[Cut], main: ThreadSpan, outer_left: bool, outer_right: bool) -> list[Cut]:
    """Short lengths between others (fillets, blurred corners) go to the neighbour that is more alike."""
    out: list[Cut] = []
    for i, cut in enumerate(cuts):
        ends_part = (i == 0 and outer_left) or (i == len(cuts) - 1 and outer_right)
        p = cut.pieces[0]
        is_short = cut.kind in ("shank", "undercut") and p.length < _LEAST_LENGTH * 2 * main.crest
        if is_short and not ends_part and not _stands_out(cuts, i):
            continue
        out.append(cut)
    return out or cuts[:1]


def _stands_out(cuts: list[Cut], i: int) -> bool:
    """Whether faces bound a section on both sides: it jumps against both neighbours, threads counting as that."""
    p = cuts[i].pieces[0]
    if abs(p.slope) > TAPERED:
        return False
    for j, mine, theirs in ((i - 1, p.radius_start, "radius_end"), (i + 1, p.radius_end, "radius_start")):
        if 0 <= j < len(cuts):
            q = cuts[j].pieces[-1 if j < i else 0]
            if abs(mine - getattr(q, theirs)) < _FACE_PX:
                return False
    return p.length >= SHORTEST_PX


def _with_chamfers(cuts: list[Cut], outer_left: bool, outer_right: bool, in_view: tuple[bool, bool]) -> list[Cut]:
    """Cones that narrow an end in view a little are chamfers: of their own section's pieces, or of the next one."""
    for at_left in (True, False):
        if not ((outer_left and in_view[0]) if at_left else (outer_right and in_view[1])):
            continue
        k = 0 if at_left else -1
        end = cuts[k]
        p = end.pieces[k]
        inner, outer = (p.radius_end, p.radius_start) if at_left else (p.radius_start, p.radius_end)
        is_chamfer = not p.round and abs(p.slope) > TAPERED and 0.5 * inner <= outer < inner
        if not is_chamfer or p.length > LIMITS.chamfer_length * inner:
            continue
        if len(end.pieces) > 1:
            rest = end.pieces[1:] if at_left else end.pieces[:-1]
            cuts[k] = replace(end, pieces=rest, chamfer=p)
        elif len(cuts) > 1:
            neighbour = cuts[k + 1] if at_left else cuts[k - 1]
            merged = replace(
                neighbour, start=min(neighbour.start, end.start), end=max(neighbour.end, end.end), chamfer=p
            )
            cuts = [merged, *cuts[2:]] if at_left else [*cuts[:-2], merged]
    return cuts


def _with_thread_chamfers(cuts: list[Cut], in_view: tuple[bool, bool]) -> list[Cut]:
    """A lone cone between a thread and the end that narrows no further than half is the thread's chamfer."""
    for at_left in (True, False):
        if len(cuts) < 2 or not in_view[0 if at_left else 1]:
            continue
        end, neighbour = (cuts[0], cuts[1]) if at_left else (cuts[-1], cuts[-2])
        if neighbour.kind != "thread" or end.kind not in ("shank", "point") or len(end.pieces) != 1:
            continue
        p = end.pieces[0]
        inner, outer = (p.radius_end, p.radius_start) if at_left else (p.radius_start, p.radius_end)
        if not p.round and abs(p.slope) > TAPERED and outer >= 0.5 * inner:
            merged = replace(
                neighbour, start=min(neighbour.start, end.start), end=max(neighbour.end, end.end), chamfer=p
            )
            cuts = [merged, *cuts[2:]] if at_left else [*cuts[:-2], merged]
    return cuts
