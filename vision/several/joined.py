"""Several pictures of one part, at several rotations or exposures, joined into one measurement.

Edge noise and local form average out over the pictures; gauges, lens, light and temperature, which they have in common,
do not. Laying the part anew, and its being oval, show in how the pictures scatter and are then in the budget.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import numpy as np
import numpy.typing as npt

from threads.measured.thread import Covariance, MeasuredThread
from threads.measured.virtual_pitch_diameter import virtual_pitch_diameter
from threads.shared.quantity import Quantity
from threads.shared.refusal import Reason, RefusalError
from vision.fit.budget import BudgetTerm
from vision.fit.quantities import MM_PER_INCH, UNITS
from vision.result.measurement import Measurement, Quality
from vision.result.picture_share import PictureShare
from vision.several.joined_form import join_form
from vision.several.limits import LIMITS
from vision.several.rotations import Rotations, find_rotations
from vision.several.weighted_mean import DECIDING, SIGNIFICANT, Mean, Stack, weighted_mean

Array = npt.NDArray[np.float64]

OWN_SOURCES = ("edge noise and form", "edge finder and local form")
"""Lines of the budget that differ from picture to picture; all others are taken as common to the pictures of a part."""
_JOINED = (*DECIDING, "crest_width", "root_width", "taper")
_SAME_PART = {"pitch": 0.003, "major_diameter": 0.04, "pitch_diameter": 0.04}
"""What form may add to the difference of two pictures of one part: of the pitch itself, of the pitch for diameters."""
_SAME_PART_K = 4.0  # standard uncertainties by which pictures of one part may differ, beside its form


def join(measurements: Sequence[Measurement], turned: Sequence[float] | None = None) -> Measurement:
    """Join pictures of one part. One picture is given back as it is.

    Args:
        measurements: of the same part, each from another picture.
        turned: how far the part was turned about its axis in each picture, degrees, clockwise as seen from the head
            toward the free end. Without it the turn is found from the ridges where the free end is in view.

    The result carries the picture, the part's outline and the single ridges of the picture with most threads in view.

    Raises RefusalError: same_picture_twice; not_the_same_part when pitch, major or pitch diameter differ by more than
    four standard uncertainties and what form may do (0.3 % of the pitch; 4 % of the pitch on a diameter), or hand or
    starts differ. Raises ValueError when there is nothing to join or ``turned`` is of another length.
    """
    if not measurements or (turned is not None and len(turned) != len(measurements)):
        raise ValueError("as many turns as pictures, and at least one picture")
    if len(measurements) == 1:
        return measurements[0]
    _check_pictures(measurements)
    stack = _stack(measurements)
    _check_same_part(stack, measurements)
    turns = find_rotations(measurements, turned)
    hand = _hand(measurements, turns)
    mean = weighted_mean(stack)
    best = max(measurements, key=lambda m: m.thread.threads_in_view)
    thread = _thread(measurements, best, stack, mean, hand)
    form, doubts = join_form(measurements, turns, stack.values, stack.own, stack.names)
    own_u = np.sqrt(np.maximum(np.einsum("kii->ki", stack.own), 1e-24))
    return replace(
        best,
        thread=thread,
        shadow=_shadow(measurements, best, thread),
        budget=_budget(best, thread, mean, stack.names),
        quality=_quality(measurements, thread, mean, turns, doubts),
        by_source={
            name: Covariance(thread.covariance.order, _padded(c, len(thread.covariance.order)))
            for name, c in mean.by_source.items()
        },
        form=form,
        pictures=tuple(
            PictureShare(
                path=m.picture.path,
                sha256=m.picture.sha256,
                width_px=m.picture.width_px,
                height_px=m.picture.height_px,
                calibration_id=m.plane.id,
                turn=turns.turns[i],
                quantities={n: getattr(m.thread, n) for n in DECIDING},
                departure={
                    n: float((stack.values[i, j] - mean.values[j]) / own_u[i, j]) for j, n in enumerate(stack.names)
                },
                form=m.form,
            )
            for i, m in enumerate(measurements)
        ),
        agreement=mean.agreement,
    )


def is_same_part(one: Measurement, other: Measurement) -> bool:
    """Whether two pictures may show one part, by what ``join`` asks of them."""
    try:
        _check_same_part(_stack((one, other)), (one, other))
    except RefusalError:
        return False
    return True


def _check_pictures(measurements: Sequence[Measurement]) -> None:
    seen: dict[str, str] = {}
    for m in measurements:
        if m.picture.sha256 in seen:
            raise RefusalError("same_picture_twice.picture", picture=m.picture.path, same=seen[m.picture.sha256])
        seen[m.picture.sha256] = m.picture.path


def _stack(measurements: Sequence[Measurement]) -> Stack:
    names = tuple(n for n in _JOINED if all(getattr(m.thread, n) is not None for m in measurements))
    reference = next((m for m in measurements if m.part.free_end != "not in view"), measurements[0])
    values, own, by_source, common = [], [], [], []
    for m in measurements:
        order = _order(m, reference, names)
        signs = np.array([-1.0 if n == "taper" and order != names else 1.0 for n in names])
        values.append(signs * [getattr(m.thread, n).value for n in order])
        turn = np.outer(signs, signs)
        blocks = {name: turn * c.of(order) for name, c in m.by_source.items()}
        by_source.append({name: blocks[name] for name in OWN_SOURCES if name in blocks})
        common.append({name: c for name, c in blocks.items() if name not in OWN_SOURCES})
        own.append(np.sum(list(by_source[-1].values()), axis=0))
    return Stack(
        names,
        np.array(values),
        np.array(own),
        _stacked(by_source),
        _stacked(common),
        tuple(m.plane.id for m in measurements),
    )


def _stacked(pictures: list[dict[str, Array]]) -> dict[str, Array]:
    """Each source's covariances of all pictures, (k, n, n); zero where a picture does not have the source."""
    sources = list(dict.fromkeys(name for picture in pictures for name in picture))
    zero = np.zeros_like(next(iter(pictures[0].values())))
    return {name: np.array([picture.get(name, zero) for picture in pictures]) for name in sources}


def _order(m: Measurement, reference: Measurement, names: tuple[str, ...]) -> tuple[str, ...]:
    """The names, left and right flank exchanged where a picture without a free end shows the part the other way round.

    Only a clear answer counts: the flanks agree better by three standard uncertainties.
    """
    if m.part.free_end != "not in view" or m is reference:
        return names
    both = ("flank_angle_left", "flank_angle_right")
    mine, theirs = (np.array([getattr(t, n).value for n in both]) for t in (m.thread, reference.thread))
    u = np.array([np.hypot(getattr(m.thread, n).standard_uncertainty, getattr(reference.thread, n).standard_uncertainty)
                  for n in both])  # fmt: skip
    as_named, exchanged = (float(np.sum(((v - theirs) / u) ** 2)) for v in (mine, mine[::-1]))
    if exchanged > as_named - LIMITS.exchanged:
        return names
    swap = {both[0]: both[1], both[1]: both[0]}
    return tuple(swap.get(n, n) for n in names)


def _check_same_part(stack: Stack, measurements: Sequence[Measurement]) -> None:
    pitch = float(np.median(stack.values[:, stack.names.index("pitch")]))
    for name, share in _SAME_PART.items():
        j = stack.names.index(name)
        x, u2 = stack.values[:, j], stack.own[:, j, j]
        low, high = int(np.argmin(x)), int(np.argmax(x))
        allowed = _SAME_PART_K * float(np.sqrt(u2[low] + u2[high])) + share * pitch
        if x[high] - x[low] > allowed:
            raise RefusalError(
                "not_the_same_part.size",
                what=name.replace("_", " "),
                low_mm=x[low],
                low_picture=measurements[low].picture.path,
                high_mm=x[high],
                high_picture=measurements[high].picture.path,
            )
    for key, found in (
        ("not_the_same_part.hand", {m.thread.hand for m in measurements} - {"not determined"}),
        ("not_the_same_part.starts", {m.thread.starts for m in measurements}),
    ):
        if len(found) > 1:
            raise RefusalError(key)


def _hand(measurements: Sequence[Measurement], turns: Rotations) -> str:
    seen = {m.thread.hand for m in measurements} - {"not determined"}
    return seen.pop() if seen else turns.hand


def _padded(matrix: Array, size: int) -> Array:
    out = np.zeros((size, size))
    out[: matrix.shape[0], : matrix.shape[0]] = matrix
    return out


def _thread(
    measurements: Sequence[Measurement], best: Measurement, stack: Stack, mean: Mean, hand: str
) -> MeasuredThread:
    names = stack.names
    threads = [m.thread for m in measurements]
    tilts = np.array([t.axis_tilt.value for t in threads])
    tilt_u = float(np.sqrt(np.mean([t.axis_tilt.standard_uncertainty**2 for t in threads]) / len(threads)))
    covariance = _padded(mean.covariance, len(names) + 1)
    covariance[-1, -1] = tilt_u**2
    q: dict[str, Any] = dict.fromkeys(_JOINED)
    for j, name in enumerate(names):
        bounds: list[float] = [getattr(t, name).one_sided for t in threads]
        bound = max(bounds, key=abs)
        q[name] = Quantity(float(mean.values[j]), float(np.sqrt(covariance[j, j])), UNITS[name], bound)
    thread = replace(
        best.thread,
        hand=hand,
        axis_tilt=Quantity(float(tilts.mean()), tilt_u, "deg"),
        crest_radius=_radius([t.crest_radius for t in threads]),
        root_radius=_radius([t.root_radius for t in threads]),
        flat_crest=_agreed([t.flat_crest for t in threads]),
        flat_root=_agreed([t.flat_root for t in threads]),
        covariance=Covariance((*names, "axis_tilt"), covariance),
        **q,
        **_derived(names, mean.values, mean.covariance, best.thread.starts),
    )
    return replace(thread, virtual_pitch_diameter=virtual_pitch_diameter(thread).quantity)


def _derived(names: tuple[str, ...], values: Array, covariance: Array, starts: int) -> dict[str, Any]:
    """Quantities that follow from the joined ones."""
    out: dict[str, Any] = {}
    for name, (value, row) in _derivatives(names, values, starts).items():
        out[name] = Quantity(value, float(np.sqrt(row @ covariance @ row)), UNITS[name])
    return out


def _derivatives(names: tuple[str, ...], values: Array, starts: int) -> dict[str, tuple[float, Array]]:
    """Value of each derived quantity and its derivatives (n,) by the joined ones."""
    at = {name: i for i, name in enumerate(names)}
    unit = np.eye(len(names))
    pitch, diameter = values[at["pitch"]], values[at["pitch_diameter"]]
    slope = starts * pitch / (np.pi * diameter)
    by_slope = np.degrees(1 / (1 + slope**2)) * slope
    left, right = at["flank_angle_left"], at["flank_angle_right"]
    return {
        "lead": (float(starts * pitch), starts * unit[at["pitch"]]),
        "threads_per_inch": (float(MM_PER_INCH / pitch), -MM_PER_INCH / pitch**2 * unit[at["pitch"]]),
        "included_angle": (float(values[left] + values[right]), unit[left] + unit[right]),
        "lead_angle": (
            float(np.degrees(np.arctan(slope))),
            by_slope * (unit[at["pitch"]] / pitch - unit[at["pitch_diameter"]] / diameter),
        ),
    }


def _radius(radii: Sequence[Quantity | None]) -> Quantity | None:
    """Mean of the pictures that show a radius; its uncertainty is not averaged down, lens and blur being common."""
    known = [r for r in radii if r is not None]
    if len(known) < len(radii):
        return None
    u = max(float(np.mean([r.standard_uncertainty for r in known])), float(np.std([r.value for r in known])))
    return replace(known[0], value=float(np.mean([r.value for r in known])), standard_uncertainty=u)


def _agreed(found: Sequence[bool | None]) -> bool | None:
    return found[0] if len(set(found)) == 1 else None


def _shadow(measurements: Sequence[Measurement], best: Measurement, thread: MeasuredThread) -> dict[str, Quantity]:
    """The plain reading: the joined value and by how much the shadow differs from it, on average."""
    out = {}
    for name in best.shadow:
        joined = getattr(thread, name)
        pairs = [(m.shadow.get(name), getattr(m.thread, name)) for m in measurements]
        excess = [s.value - own.value for s, own in pairs if s is not None and own is not None]
        if joined is not None and len(excess) == len(measurements):
            out[name] = replace(joined, value=joined.value + float(np.mean(excess)), one_sided=0.0)
    return out


def _budget(
    best: Measurement, thread: MeasuredThread, mean: Mean, names: tuple[str, ...]
) -> dict[str, tuple[BudgetTerm, ...]]:
    """The lines of each quantity; those of radii and tilt, which are not joined by weights, are the best picture's."""
    rows = dict(zip(names, np.eye(len(names)), strict=True))
    rows |= {name: row for name, (_, row) in _derivatives(names, mean.values, thread.starts).items()}
    out = {}
    for name, terms in best.budget.items():
        row = rows.get(name)
        if row is None:
            out[name] = terms
            continue
        lines = [(s, float(np.sqrt(np.clip(row @ c @ row, 0.0, None)))) for s, c in mean.by_source.items()]
        out[name] = (
            *(BudgetTerm(source, u, UNITS[name]) for source, u in lines if u > 1e-12),
            *(replace(t, u=getattr(thread, name).one_sided) for t in terms if t.one_sided),
        )
    return out


def _quality(
    measurements: Sequence[Measurement],
    thread: MeasuredThread,
    mean: Mean,
    turns: Rotations,
    doubts: tuple[Reason, ...],
) -> Quality:
    """The worst of all pictures, and every warning once."""
    all_of = [m.quality for m in measurements]
    warnings = {w.code: w for quality in reversed(all_of) for w in reversed(quality.warnings)}
    if thread.hand != "not determined":
        warnings.pop("hand_not_determined", None)
    more = list(doubts)
    if mean.agreement.probability < SIGNIFICANT:
        more.append(Reason("pictures_scatter"))
    if len({m.plane.id for m in measurements}) > 1:
        more.append(Reason("several_calibrations"))
    if turns.disagree:
        more.append(Reason("turns_disagree"))
    return Quality(
        focus=max(q.focus for q in all_of),
        contrast=min(q.contrast for q in all_of),
        residual_rms_px=max(q.residual_rms_px for q in all_of),
        rejected_edge_fraction=max(q.rejected_edge_fraction for q in all_of),
        noise=max(q.noise for q in all_of),
        warnings=(*warnings.values(), *more),
    )
