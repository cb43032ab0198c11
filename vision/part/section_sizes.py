"""The sizes of a part's sections, each with its U95: what is needed to make the part again."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from threads.measured.thread import MeasuredThread
from threads.shared.quantity import Quantity
from vision.part.axis_view import AxisView, Profile
from vision.part.chamfer import thread_chamfer
from vision.part.lengths import Ruler
from vision.part.marks import Mark
from vision.part.piece_fit import FittedPiece, fit_piece
from vision.part.profile_pieces import TAPERED
from vision.part.section_marks import section_marks
from vision.part.sections import Cut, ThreadSpan
from vision.part.slot import find_slot

Array = npt.NDArray[np.float64]

_CONE_LENGTH = 0.15  # of the radius: a shorter cone is a broken edge
_UNFITTED_PITCH = 0.004  # of it, standard uncertainty of a pitch read without a fit
_UNFITTED_PX = 1.5  # standard uncertainty of a diameter read without a fit

_STANDS_OUT = 1.05
"""Of the radius of a head's longest piece: where another is larger, that is not the head's diameter. Workshop
assumption: knurls and burrs stand out less."""


@dataclass(frozen=True)
class Section:
    """One section of the part (mm, degrees); None where the picture does not give it.

    Attributes:
        kind: "thread", "head", "shoulder", "point", "undercut", "shank" or "unclear".
        form: "thread", "cylinder", "cone", "round" or "unclear".
        start, end: along the axis from the left end of what is in view.
        length: None where the picture cuts the section off.
        diameter: of a cylinder; of a head the largest; of a thread the major diameter.
        taper: change of the diameter along the axis, positive where it grows from start to end.
        straightness: width of the zone that holds its middle line.
        cone_angle: included angle of a point, of the cone under a head, or of a conical section.
        chamfer_angle, chamfer_length: angle from the axis and axial length of the chamfer at its outer end.
        slot_width, slot_depth: of a slot seen end-on.
        pitch: of a thread.
        cut_off: whether the picture's border cuts it off.
        measured: of a thread: whether it is the one that the measurement is about.
        fitted: of a thread: whether its helix was fitted, here or in another picture of the part.
    """

    kind: str
    form: str
    start: float
    end: float
    length: Quantity | None = None
    diameter: Quantity | None = None
    taper: Quantity | None = None
    straightness: Quantity | None = None
    cone_angle: Quantity | None = None
    chamfer_angle: Quantity | None = None
    chamfer_length: Quantity | None = None
    slot_width: Quantity | None = None
    slot_depth: Quantity | None = None
    pitch: Quantity | None = None
    cut_off: bool = False
    measured: bool = False
    fitted: bool = False

    def to_dict(self) -> dict[str, object]:
        """Plain data for JSON."""
        out: dict[str, object] = {"kind": self.kind, "form": self.form, "from": self.start, "to": self.end}
        for name in SIZES:
            q: Quantity | None = getattr(self, name)
            out[name] = None if q is None else q.to_dict()
        out["cut_off"] = self.cut_off
        if self.kind == "thread":
            out["measured"] = self.measured
            out["fitted"] = self.fitted
        return out


SIZES = ("length", "diameter", "taper", "straightness", "cone_angle", "chamfer_angle", "chamfer_length", "slot_width",
         "slot_depth", "pitch")  # fmt: skip


@dataclass(frozen=True)
class MeasuredSpan:
    """A fitted thread among the spans, and the direction in which its taper is stated."""

    span: ThreadSpan
    thread: MeasuredThread
    free_end_right: bool

    def is_at(self, span: ThreadSpan) -> bool:
        """Whether ``span`` is this thread, as far as it was seen."""
        return min(self.span.end, span.end) - max(self.span.start, span.start) > 0.5 * (span.end - span.start)


def measure_sections(
    view: AxisView,
    profile: Profile,
    cuts: list[Cut],
    main: MeasuredSpan,
    ruler: Ruler,
    others: Sequence[MeasuredSpan] = (),
) -> tuple[tuple[Section, ...], Quantity | None]:
    """The sections with their sizes, and the overall length where both ends are in view.

    ``main`` is the thread that the measurement is about, ``others`` are threads of the part that were fitted too.
    """
    fits = {id(p): fit_piece(view, p) for c in cuts for p in c.pieces if not p.round}
    marks = section_marks(view, profile, cuts, fits)
    zero = marks[0].u
    sections = []
    for k, cut in enumerate(cuts):
        begin, end = marks[k], marks[k + 1]
        cut_off = (k == 0 and not view.in_view[0]) or (k == len(cuts) - 1 and not view.in_view[1])
        length = None if cut_off else distance(begin, end, view, ruler)
        along = view.px_mm / view.cos_tilt
        base = Section(
            cut.kind, "thread", (begin.u - zero) * along, (end.u - zero) * along, length, cut_off=cut_off
        )  # fmt: skip
        last = k == len(cuts) - 1
        outer = end if last and view.in_view[1] else begin if k == 0 and view.in_view[0] else None
        if cut.thread is not None:
            fitted = next((m for m in (main, *others) if m.span is cut.thread or m.is_at(cut.thread)), None)
            base = replace(base, measured=fitted is main, fitted=fitted is not None)
            sections.append(_thread(base, cut, fitted, view, ruler, outer, right=last))
        elif cut.kind == "unclear":
            sections.append(replace(base, form="unclear"))
        else:
            sections.append(_plain(base, cut, fits, view, ruler, outer, right=last and outer is end))
    overall = distance(marks[0], marks[-1], view, ruler) if all(view.in_view) else None
    return tuple(sections), overall


def distance(a: Mark, b: Mark, view: AxisView, ruler: Ruler) -> Quantity:
    """From one mark to another along the axis."""
    sides = float(b.outward - a.outward) if a.outward and b.outward else float(b.outward or -a.outward)
    noise = float(np.sqrt(a.noise**2 + b.noise**2 + view.joint_noise(a.u, b.u) ** 2))
    length = ruler.length((b.u - a.u) / view.cos_tilt, noise, sides)
    # a polished face turned to the camera looks cut back: what that may do either way
    changes = [m.mirrored * by * view.px_mm for m, by in ((a, -a.outward), (b, b.outward)) if 2 * m.lean < ruler.cone]
    longer, shorter = sum(c for c in changes if c > 0), sum(c for c in changes if c < 0)
    return replace(length, one_sided=longer if longer > -shorter else shorter)


def _thread(
    base: Section,
    cut: Cut,
    fitted: MeasuredSpan | None,
    view: AxisView,
    ruler: Ruler,
    outer: Mark | None,
    *,
    right: bool,
) -> Section:
    span = cut.thread
    assert span is not None
    out = base
    if fitted is not None:
        t = fitted.thread
        sign = -1.0 if fitted.free_end_right else 1.0
        out = replace(
            out, diameter=t.major_diameter, pitch=t.pitch,
            taper=Quantity(sign * t.taper.value, t.taper.standard_uncertainty, t.taper.unit),
        )  # fmt: skip
    else:
        # as the outline shows it at first sight: neither its helix nor the blur at its crests is fitted
        out = replace(
            out,
            diameter=ruler.diameter(2 * span.crest, 0.5),
            pitch=ruler.length(span.pitch / view.cos_tilt, _UNFITTED_PITCH * span.pitch, 0.0),
        )
    if outer is None:
        return out
    found = thread_chamfer(view, span, outer.u, right=right and outer.outward > 0)
    if found is None:
        return out
    angle = float(np.degrees(np.arctan(abs(found.slope) * view.cos_tilt)))
    noise = float(np.degrees(found.slope_noise / (1 + found.slope**2)))
    corner = found.middle + (span.crest - found.radius) / found.slope
    length = abs(corner - outer.u) / view.cos_tilt
    length_noise = np.hypot(found.radius_noise_at(corner) / abs(found.slope), outer.noise)
    return replace(
        out, chamfer_angle=_angle(angle, noise, ruler), chamfer_length=ruler.length(length, float(length_noise), 1.0)
    )


def _plain(
    base: Section,
    cut: Cut,
    fits: dict[int, FittedPiece | None],
    view: AxisView,
    ruler: Ruler,
    outer: Mark | None,
    *,
    right: bool,
) -> Section:
    main = cut.main
    assert main is not None
    fit = fits.get(id(main))
    out = replace(base, form="round" if main.round else "cylinder")
    largest = max(p.largest for p in cut.pieces)
    narrow = cut.kind == "head" and fit is not None and largest > _STANDS_OUT * fit.radius  # a countersunk head's neck
    if fit is not None and not main.round:
        if narrow:
            out = replace(out, form="cone")
        elif abs(fit.slope) < TAPERED:
            out = replace(
                out,
                diameter=ruler.diameter(2 * fit.radius, 2 * fit.radius_noise, fit.flare),
                taper=_taper(fit, view),
                straightness=Quantity(fit.bend * view.px_mm, fit.bend_noise * view.px_mm, "mm"),
            )
        else:
            out = replace(out, form="cone")
    cone = _cone(cut, fits)
    if out.diameter is None and cut.kind in ("head", "shoulder"):
        # a sharp rim is seen too small, one drawn on to the face is too large where the rim is rounded
        sharp = cone.radius_at(outer.u) if narrow and cone is not None and outer is not None else largest
        half = max(sharp - largest, 0.0)
        out = replace(out, diameter=ruler.diameter(2 * largest + half, float(np.hypot(_UNFITTED_PX, half / 3**0.5))))
    if cone is not None:
        out = replace(out, cone_angle=_cone_angle(cone, view, ruler))
    if outer is None:
        return out
    if cut.chamfer is not None:
        chamfer = fit_piece(view, cut.chamfer)
        if chamfer is not None and fit is not None:
            out = _with_chamfer(out, chamfer, fit, outer, view, ruler)
    if cut.kind in ("head", "shank"):
        low, high = sorted((outer.u, cut.start if right else cut.end))
        radius = fit.radius if fit is not None else max(p.largest for p in cut.pieces)
        slot = find_slot(view, low, high, radius, right=right)
        if slot is not None:
            width = ruler.length(slot.width, slot.width_noise, -2.0)
            depth = None
            if slot.floor is not None:
                depth = distance(slot.floor, outer, view, ruler) if right else distance(outer, slot.floor, view, ruler)
            out = replace(
                out,
                slot_width=Quantity(width.value, width.standard_uncertainty, "mm", slot.askew * view.px_mm),
                slot_depth=depth,
            )
    return out


def _taper(fit: FittedPiece, view: AxisView) -> Quantity:
    # both edges lean by the scatter of each; a hundredth of a pixel over the length is what the edge finder leaves
    grain = 0.01 / max(fit.end - fit.start, 1.0)
    return Quantity(2000 * fit.slope * view.cos_tilt, 2000 * float(np.hypot(fit.slope_noise, grain)), "um/mm")


def _cone(cut: Cut, fits: dict[int, FittedPiece | None]) -> FittedPiece | None:
    """The longest straight conical piece of a section."""
    thick = max(p.largest for p in cut.pieces)
    cones = [p for p in cut.pieces if not p.round and abs(p.slope) > TAPERED and p.length > _CONE_LENGTH * thick]
    longest = max(cones, key=lambda p: p.length, default=None)
    return None if longest is None else fits.get(id(longest))


def _cone_angle(fit: FittedPiece, view: AxisView, ruler: Ruler) -> Quantity:
    half = float(np.arctan(abs(fit.slope) * view.cos_tilt))
    return _angle(2 * float(np.degrees(half)), 2 * float(np.degrees(fit.slope_noise / (1 + fit.slope**2))), ruler, half)


def _angle(degrees: float, noise: float, ruler: Ruler, half: float = np.pi / 4) -> Quantity:
    """An angle of an edge; light mirrored by the cone makes it lean by its part of the radius."""
    lean = np.degrees(np.sin(half) * np.cos(half)) * 2
    return Quantity(degrees, float(np.hypot(noise, np.hypot(lean * ruler.mirror.round_u, 0.01))), "deg")


def _with_chamfer(
    section: Section, chamfer: FittedPiece, body: FittedPiece, outer: Mark, view: AxisView, ruler: Ruler
) -> Section:
    corner = body.middle + (chamfer.radius_at(body.middle) - body.radius) / (body.slope - chamfer.slope)
    noise = np.hypot(
        np.hypot(chamfer.radius_noise_at(corner), body.radius_noise_at(corner)) / abs(chamfer.slope), outer.noise
    )
    angle = float(np.degrees(np.arctan(abs(chamfer.slope) * view.cos_tilt)))
    return replace(
        section,
        chamfer_angle=_angle(angle, float(np.degrees(chamfer.slope_noise / (1 + chamfer.slope**2))), ruler),
        chamfer_length=ruler.length(abs(outer.u - corner) / view.cos_tilt, float(noise), 1.0),
    )
