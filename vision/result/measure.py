"""Picture in, measured thread out."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from threads.measured.thread import Covariance
from threads.shared.quantity import Quantity
from threads.shared.refusal import Reason, RefusalError
from vision.fit.budget import Budget, make_budget
from vision.fit.focus_along import focus_doubt
from vision.fit.form_fit import FormFit, fit_form, form_doubts, form_errors
from vision.fit.lens_blur import through_lens
from vision.fit.plain_reading import plain_reading
from vision.fit.quantities import COVARIANCE_NAMES, NAMES, quantities, sensitivity
from vision.fit.rejected import RejectedRun, burnt_runs, check_what_is_left, dirt_doubt, rejected_runs
from vision.fit.ridges import ridge_errors
from vision.fit.soft_flanks import allowing_for_soft_flanks, relit
from vision.fit.solve import Solution, solve
from vision.fit.wear import Wear, find_wear, unworn, wear_doubts
from vision.locate.detection import (
    NOTHING_BY_HAND,
    ByHand,
    DetectedPart,
    between_ends,
    detect,
    doubts_by_hand,
    unmasked,
)
from vision.locate.frame import Frame
from vision.locate.threaded import ThreadedLength, find_threaded_length, mask_direction
from vision.model.grazing import Mirror, mirror_of
from vision.model.shadow import INDEX
from vision.outline.edge_light import EdgeLight, light_doubts
from vision.outline.edges import EdgePoints
from vision.outline.silhouette import Silhouette, own_blur
from vision.part.lengths import Ruler
from vision.part.part_outline import PartOutline, describe_part, near_border
from vision.part.threaded_lengths import numbered_thread
from vision.part.whole_part import with_sections
from vision.pictures.picture import LINEAR_LIGHT, Picture
from vision.result.doubts import doubts
from vision.result.limits import LIMITS
from vision.result.measured_thread import hand_of, thread_of
from vision.result.measurement import Measurement, Quality
from vision.shared.plane import PlaneMap

Array = npt.NDArray[np.float64]

MOST_TILT_DEG = 12.0  # the closed form of the shadow errs by 0.1 px there


def measure_picture(
    picture: Picture,
    plane: PlaneMap,
    *,
    part: int | None = None,
    hand: str | None = None,
    starts: int | None = None,
    number: int | None = None,
    surface: str | None = None,
) -> Measurement:
    """Measure the thread in ``picture``.

    Args:
        picture: as read by ``vision.pictures.picture.read_picture``.
        plane: the calibrated bench.
        part: which part, numbered from left to right from 1, when several are in view.
        hand: "right" or "left" if a person has looked at the part; a shadow does not show it.
        starts: starts of the thread if a person has counted them.
        number: which thread of the part, from the left, from 1; if None, the clearest one.
        surface: "bright", "dull" or "black" if a person has said so (``vision.model.grazing.SURFACES``).

    Raises RefusalError with one of the codes that find_silhouette, find_threaded_length and solve name, or
    out_of_focus, saturated, glare, not_a_thread, too_dirty, too_few_threads, tilted.
    """
    return measure_detected(detect(picture, part=part), plane, hand=hand, starts=starts, number=number, surface=surface)


def measure_detected(
    detected: DetectedPart,
    plane: PlaneMap,
    *,
    hand: str | None = None,
    starts: int | None = None,
    number: int | None = None,
    by_hand: ByHand = NOTHING_BY_HAND,
    surface: str | None = None,
) -> Measurement:
    """As ``measure_picture``, of a part already detected; ``by_hand`` holds a person's corrections.

    Raises RefusalError as ``measure_picture``, and ends_too_near.
    """
    picture, silhouette = detected.picture, detected.silhouette
    found = _fit_thread(detected, plane, by_hand, starts, number, surface)
    edges, points, solution, form = found.edges, found.points, found.solution, found.form
    mm = solution.seen.px_mm
    x = solution.fit.x
    part_outline = _part_around(found, (picture.width_px, picture.height_px))
    middle = (solution.start + solution.end) / 2
    right = part_outline.free_end_right
    count = solution.seen.starts
    values = quantities(x, middle, right, count)
    open_forms = [quantities(other, middle, right, count) for other in solution.other_forms]
    by_parameter = sensitivity(x, middle, right, count)
    budget = make_budget(solution, plane, values, by_parameter, found.mirror, open_forms)
    ridges = ridge_errors(solution, form)
    seen_hand = hand_of(solution, budget)
    measured = thread_of(solution, values, budget, ridges, hand or seen_hand)
    part_outline = with_sections(
        part_outline, edges, points, solution, measured, Ruler(plane, mm, x[INDEX["nearness"]], found.mirror)
    )
    like = {n: q for n in NAMES if isinstance(q := getattr(measured, n), Quantity)}
    shadow = plain_reading(x, middle, solution.seen.centre, like, free_end_right=right, starts=count)
    warnings = doubts(silhouette, solution, plane, measured, part_outline, found.mirror)
    if hand is not None and seen_hand not in (hand, "not determined"):
        warnings += (Reason("hand_disagrees", hand=seen_hand),)
    soft = focus_doubt(edges, solution, silhouette.presmooth_px)
    leaning = dirt_doubt(solution, by_parameter[NAMES.index("pitch_diameter")], measured.pitch_diameter.u95)
    light = light_doubts(found.light, blurred=solution.lens.reaches_round_crests)
    warnings = (*doubts_by_hand(detected, by_hand), *warnings, *light, *found.hidden, *leaning, *soft)
    quality = _quality(silhouette, solution, (*warnings, *wear_doubts(found.wear, right), *form_doubts(form)))
    return Measurement(
        picture,
        plane,
        measured,
        shadow,
        budget.terms,
        part_outline,
        quality,
        solution,
        _by_source(budget),
        mirror=found.mirror,
        surface=surface,
        form=form_errors(form, ridges),
        form_fit=form,
        wear=found.wear,
        rejected=_left_out(found, plane),
    )


@dataclass(frozen=True, eq=False)
class _Fitted:
    """The thread fitted to a detected part.

    Attributes:
        edges, points: edge points beside light that is not burnt out, and where they are without the lens (px).
        burnt: the others.
        light: the light at all edge points.
        mirror: what of the mirrored light is known.
        solution: the fit, without worn stretches and without bend or drunkenness that is plain to see.
        hidden: warnings about what dirt hides, and light that is not as stated.
    """

    edges: EdgePoints
    points: Array
    burnt: EdgePoints
    light: EdgeLight
    mirror: Mirror
    solution: Solution
    wear: Wear
    form: FormFit
    hidden: tuple[Reason, ...]


def _fit_thread(
    detected: DetectedPart,
    plane: PlaneMap,
    by_hand: ByHand,
    starts: int | None,
    number: int | None,
    surface: str | None,
) -> _Fitted:
    picture, silhouette = detected.picture, detected.silhouette
    edges, light = unmasked(detected, by_hand)
    burnt, edges = edges.select(light.burnt), edges.select(~light.burnt)
    points = plane.undistort(edges.xy)
    thread = find_threaded_length(points, mask_direction(silhouette.region), edges.normal)
    if number is not None:
        thread = numbered_thread(points, edges.normal, thread, number)
    _check_thread(thread, edges, silhouette)
    mirror = mirror_of(plane, surface, thread.crest * plane.um_per_px / 1000)
    kept, thread = between_ends(edges.xy, thread, by_hand)
    noise = _edge_noise(edges, silhouette)
    size = (picture.width_px, picture.height_px)
    solution = solve(edges.select(kept), points[kept], thread, plane, size, noise, mirror, starts)
    solution = replace(solution, chosen=kept[solution.chosen])
    solution = through_lens(silhouette, edges, solution, coded=picture.tone != LINEAR_LIGHT)
    wear = find_wear(solution) if _is_thread(solution, thread) else unworn(solution)
    form = fit_form(wear.sound)
    solution = form.straight if form.plain_to_see else wear.sound
    _check_fit(solution, thread)
    hidden = check_what_is_left(solution, float(light.shining.mean()))
    of_fit = edges.select(solution.chosen)
    seen, differs = allowing_for_soft_flanks(mirror, of_fit, solution, silhouette.presmooth_px, plane.lens_opening)
    solution = relit(solution, mirror, seen)
    return _Fitted(edges, points, burnt, light, seen, solution, wear, form, (*differs, *hidden))


def _part_around(found: _Fitted, size: tuple[int, int]) -> PartOutline:
    """The part's outline in the frame of the fitted axis; ``size`` of the picture (width, height), px."""
    solution = found.solution
    mm, x, frame = solution.seen.px_mm, solution.fit.x, solution.frame
    return describe_part(
        found.points,
        near_border(found.edges.xy, size),
        # w points up while angles turn clockwise on the screen
        Frame((frame.origin[0] / mm, frame.origin[1] / mm), frame.angle - float(x[INDEX["rotation"]])),
        mm,
        solution.start / mm,
        solution.end / mm,
        x[INDEX["crest"]] / mm,
        x[INDEX["pitch"]] / mm,
    )


def _left_out(found: _Fitted, plane: PlaneMap) -> tuple[RejectedRun, ...]:
    """Runs of edge points that do not count, and why."""
    shining = found.light.shining[~found.light.burnt]
    return (
        *rejected_runs(found.wear.first, found.solution, found.wear.worn, found.edges, shining),
        *burnt_runs(found.solution, found.burnt, plane.undistort(found.burnt.xy)),
    )


def _by_source(budget: Budget) -> dict[str, Covariance]:
    rows = [NAMES.index(n) for n in COVARIANCE_NAMES]
    return {name: Covariance(COVARIANCE_NAMES, c[np.ix_(rows, rows)]) for name, c in budget.by_source.items()}


def _edge_noise(edges: EdgePoints, silhouette: Silhouette) -> float:
    """Scatter of edge points that the noise of the smoothed picture gives, px."""
    return float(silhouette.grain / silhouette.contrast / np.median(edges.steepness))


def _check_thread(thread: ThreadedLength, edges: EdgePoints, silhouette: Silhouette) -> None:
    blur = own_blur(float(np.median(edges.blur_px)), silhouette.presmooth_px)
    if blur > LIMITS.blurred * thread.pitch:
        raise RefusalError("out_of_focus.too_fine", width_px=2.56 * blur, pitch_px=thread.pitch)
    turn = abs((2 * thread.lower_shift) % 1.0 - 0.5)
    few, turned_few = LIMITS.turned_few
    if turn < (
        turned_few if thread.threads < few else LIMITS.turned
    ):  # the edges of a thread alternate or face each other
        raise RefusalError("not_a_thread.edges")


def _check_fit(solution: Solution, thread: ThreadedLength, most_rejected: float = LIMITS.rejected) -> None:
    p = solution.parameters
    mm = solution.seen.px_mm
    rms = solution.fit.scale / mm
    # a fit that goes astray can make the grooves far deeper than they are
    depth = min((p.crest - p.root) / mm, thread.crest - thread.root)
    if rms > max(LIMITS.scatter[0], LIMITS.scatter[1] * depth) or solution.rejected > most_rejected:
        raise RefusalError("not_a_thread.misfit", misfit_px=rms, percent=100 * solution.rejected)
    tilt = float(np.degrees(np.arcsin(np.clip(p.tilt, -1, 1))))
    if abs(tilt) > MOST_TILT_DEG:
        raise RefusalError("tilted.refused", tilt_deg=abs(tilt), most_deg=MOST_TILT_DEG)
    least = LIMITS.least_height * p.pitch
    low, high = LIMITS.pitch_agrees
    sane = 0 < p.root < p.pitch_radius - least < p.crest - 2 * least and low < p.pitch / (thread.pitch * mm) < high
    right, left = np.degrees(p.flank_right), np.degrees(p.flank_left)
    (narrow, wide), (least_flank, most_apart) = LIMITS.included_angle, LIMITS.flank_angle
    sane = sane and narrow <= right + left <= wide
    if not sane or min(right, left) < least_flank or abs(right - left) > most_apart:
        raise RefusalError("not_a_thread.flanks")
    if p.crest - p.root > p.pitch or p.root < LIMITS.deepest * p.crest:
        raise RefusalError("not_a_thread.deep")
    if (p.crest - p.root) < LIMITS.shallowest * p.pitch:
        raise RefusalError("not_a_thread.shallow")
    if solution.seen.starts * p.pitch > LIMITS.longest_lead * p.pitch_radius:
        raise RefusalError("not_a_thread.lead")
    if p.pitch > LIMITS.coarsest * 2 * p.pitch_radius:
        raise RefusalError("not_a_thread.pitch")
    if solution.end - solution.start < LIMITS.least_whole * p.pitch:
        raise RefusalError("too_few_threads.whole", threads=(solution.end - solution.start) / p.pitch)


def _is_thread(solution: Solution, thread: ThreadedLength) -> bool:
    """Whether it is worth while to look for wear; most of one flank may be worn away."""
    try:
        _check_fit(solution, thread, most_rejected=LIMITS.rejected_worn)
    except RefusalError:
        return False
    return True


def _quality(silhouette: Silhouette, solution: Solution, warnings: tuple[Reason, ...]) -> Quality:
    return Quality(
        own_blur(solution.edge_blur / solution.seen.px_mm, silhouette.presmooth_px),
        silhouette.contrast,
        solution.residual_rms_px,
        solution.rejected,
        silhouette.noise,
        warnings,
    )
