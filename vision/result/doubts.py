"""Warnings of one measurement: what could make its numbers doubtful."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from threads.measured.thread import MeasuredThread
from threads.shared.quantity import COVERAGE_FACTOR
from threads.shared.refusal import Reason
from vision.fit.solve import Solution
from vision.model.grazing import Mirror
from vision.model.shadow import INDEX
from vision.outline.silhouette import Silhouette, own_blur
from vision.part.part_outline import PartOutline
from vision.result.limits import LIMITS
from vision.shared.plane import PlaneMap


def doubts(
    silhouette: Silhouette,
    solution: Solution,
    plane: PlaneMap,
    thread: MeasuredThread,
    part: PartOutline,
    mirror: Mirror,
) -> tuple[Reason, ...]:
    """The warnings of one measurement; ``mirror`` is what was allowed for mirrored light."""
    return (
        *_of_the_bench(plane, mirror, thread),
        *_of_the_outline(thread, solution),
        *_of_the_light(silhouette, solution),
        *_of_the_lie(thread, part),
        *_of_the_thread(thread, solution),
        *_of_the_form(thread),
    )


def _of_the_bench(plane: PlaneMap, mirror: Mirror, thread: MeasuredThread) -> Iterator[Reason]:
    if not plane.traceable:
        yield Reason("scale_by_hand")
    if not mirror.stated:
        yield Reason("light_cone_unknown", cone_deg=mirror.cone_deg)
    if plane.refocus_u > 0:
        allowed, most = COVERAGE_FACTOR * plane.refocus_u, LIMITS.refocused
        change = most * thread.pitch_diameter.value
        yield Reason("focus_not_locked", percent=100 * allowed, most_percent=100 * most, change=change)


def _of_the_outline(thread: MeasuredThread, solution: Solution) -> Iterator[Reason]:
    if thread.threads_in_view < LIMITS.few_threads:
        yield Reason("few_threads", threads=thread.threads_in_view)
    if solution.residual_rms_px > LIMITS.large_scatter:
        yield Reason("poor_fit", misfit_px=solution.residual_rms_px)
    if solution.rejected > LIMITS.much_rejected:
        yield Reason("dirty_outline", percent=100 * solution.rejected)


def _of_the_light(silhouette: Silhouette, solution: Solution) -> Iterator[Reason]:
    focus = own_blur(solution.edge_blur / solution.seen.px_mm, silhouette.presmooth_px)
    if focus > LIMITS.soft:
        yield Reason("soft_focus", width_px=2.56 * focus)
    lens = solution.lens
    if not lens.is_gaussian:
        if lens.widest > LIMITS.astigmatic:
            yield Reason("lens_blur.direction", times=lens.widest)
        elif lens.smeared > LIMITS.smeared:
            yield Reason("lens_blur.coma")
        elif abs(lens.tail) > LIMITS.halo:
            yield Reason("lens_blur.halo", percent=100 * abs(lens.tail))
    if silhouette.contrast < LIMITS.faint:
        yield Reason("low_contrast")
    if silhouette.clipped > LIMITS.burnt:
        yield Reason("partly_saturated", percent=100 * silhouette.clipped)


def _of_the_lie(thread: MeasuredThread, part: PartOutline) -> Iterator[Reason]:
    tilt = thread.axis_tilt.value
    if abs(tilt) > LIMITS.tilted_deg:
        yield Reason("tilted", tilt_deg=abs(tilt))
    if part.free_end == "not in view":
        yield Reason("free_end_unseen")


def _of_the_thread(thread: MeasuredThread, solution: Solution) -> Iterator[Reason]:
    if thread.hand == "not determined":
        yield Reason("hand_not_determined")
    if not solution.starts_clear:
        yield Reason("starts_not_shown")
    if thread.starts > 1:
        yield Reason("several_starts", starts=thread.starts)
    root, crest = (float(np.abs(solution.fit.jacobian[INDEX[name]]).sum()) for name in ("root", "crest"))
    if root < LIMITS.hidden_root * crest:
        yield Reason("root_hidden")


def _of_the_form(thread: MeasuredThread) -> Iterator[Reason]:
    if thread.crest_width is None:
        yield Reason("crest_rounded")
    if thread.root_width is None:
        yield Reason("root_rounded")
    if thread.flat_crest is None:
        yield Reason("crest_not_resolved")
    if thread.flat_root is None:
        yield Reason("root_not_resolved")
