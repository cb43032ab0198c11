"""A thread held against another part instead of a class: is it like the original, within a tolerance about it?

The zone of each diameter lies evenly about the original's own. How wide it is says the class that the original belongs
to; without one it is the workshop's own band (``workshop_band``: pitch diameter 0.12 p + 0.03 mm, major diameter
0.25 p + 0.02 mm). Limits that were measured are uncertain themselves: the guard bands are those of the difference of
the two parts, in which what both pictures have in common does not count (``compare``).
"""

from __future__ import annotations

from threads.judge.check import Check, pitch_and_angles
from threads.judge.compare import Common, Comparison, compare
from threads.judge.judgement import NOT_LIMITED, Judgement, Reach, judged, overall
from threads.measured.thread import MeasuredThread
from threads.measured.virtual_pitch_diameter import flanks_of, tabulated_pitch, virtual_pitch_diameter
from threads.shared.quantity import Quantity
from threads.shared.refusal import Reason
from threads.standards.limits import Band, Limits


def check_against_part(
    thread: MeasuredThread,
    reference: MeasuredThread,
    *,
    name: str,
    like: Limits | None = None,
    common: Common | None = None,
    ends_known: bool = True,
    engagement_mm: float | None = None,
) -> Check:
    """Hold ``thread`` against the measured part ``reference``.

    Args:
        thread: the new part.
        reference: the original, with its uncertainties.
        name: of the original, to be shown.
        like: the class whose tolerances apply; None: the workshop's band.
        common: covariances that both pictures share, reference first; None: nothing.
        ends_known: whether both pictures show which way the part points (see ``compare.compare``).
        engagement_mm: as for ``check.check``.

    Raises:
        threads.judge.compare.CompareError: a screw and a hole.
    """
    found = compare(reference, thread, common=common, ends_known=ends_known)
    thread = found.replacement
    flanks = flanks_of(None, (reference.flank_angle_left.value + reference.flank_angle_right.value) / 2)
    pitch = tabulated_pitch(reference.pitch.value, flanks) or reference.pitch.value
    virtual = virtual_pitch_diameter(thread, pitch_mm=pitch, engagement_mm=engagement_mm)
    major, effective, minor = _tolerances(reference, like)
    nominal = (reference.pitch.value, reference.flank_angle_left.value, reference.flank_angle_right.value)
    low, high = _about(virtual.quantity, found, "virtual_pitch_diameter", effective)
    judgements = (
        _diameter(found, "major_diameter", major),
        _diameter(found, "pitch_diameter", effective),
        _diameter(found, "minor_diameter", minor),
        judged(
            "virtual_pitch_diameter",
            virtual.quantity,
            low if thread.internal else None,
            None if thread.internal else high,
            reach=_reach(found, "virtual_pitch_diameter"),
        ),
        *pitch_and_angles(thread, nominal, effective, virtual),
        _root(thread, reference),
    )
    return Check(name, None, overall(judgements), judgements, virtual, thread)


def _tolerances(reference: MeasuredThread, like: Limits | None) -> tuple[float, float, float | None]:
    """Widths of the zones of major, pitch and minor diameter, mm."""
    pitch = reference.pitch.value
    ours = (0.25 * pitch + 0.02, 0.12 * pitch + 0.03)
    if like is None:
        return (*ours, None)
    major, effective = _width(like.major), _width(like.pitch_diameter)
    return (ours[0] if major is None else major, ours[1] if effective is None else effective, _width(like.minor))


def _width(band: Band) -> float | None:
    return None if band.low is None or band.high is None else band.high - band.low


def _about(measured: Quantity, found: Comparison, name: str, tolerance: float) -> tuple[float, float]:
    """Limits evenly about the reference: the measured value less its difference from it."""
    middle = measured.value - found.differences[name].value
    return middle - tolerance / 2, middle + tolerance / 2


def _diameter(found: Comparison, name: str, tolerance: float | None) -> Judgement:
    measured: Quantity = getattr(found.replacement, name)
    reach = _reach(found, name)
    if tolerance is None:
        return judged(name, measured, None, None, reach=reach)
    return judged(name, measured, *_about(measured, found, name, tolerance), reach=reach)


def _reach(found: Comparison, name: str) -> Reach:
    """How far the true difference may lie from the measured one: the light may have taken something off either."""
    plain = "pitch_diameter" if name == "virtual_pitch_diameter" else name
    new, old = (float(getattr(part, plain).one_sided) for part in (found.replacement, found.original))
    return Reach(
        u=found.differences[name].standard_uncertainty,
        below=max(old, 0.0) + max(-new, 0.0),
        above=max(new, 0.0) + max(-old, 0.0),
    )


def _root(thread: MeasuredThread, reference: MeasuredThread) -> Judgement:
    """The shape of the root is reported, not judged: that of the original may be wear."""
    words = {True: "flat", False: "rounded", None: "not resolved"}
    one, two = words[thread.flat_root], words[reference.flat_root]
    measured = thread.root_radius if thread.flat_root is False else thread.root_width
    why = Reason("judged.root_alike", here=one) if one == two else Reason("judged.root_differs", here=one, there=two)
    return Judgement("root_form", measured, None, None, NOT_LIMITED, reason=why)
