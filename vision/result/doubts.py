"""Warnings of one measurement: what could make its numbers doubtful."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from threads.measured.thread import MeasuredThread
from threads.shared.refusal import Reason
from vision.fit.solve import Solution
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
    cone_deg: float,
) -> tuple[Reason, ...]:
    """The warnings of one measurement; ``cone_deg`` is the half cone allowed for when the bench does not state it."""
    return (
        *_of_the_bench(plane, cone_deg),
        *_of_the_outline(thread, solution),
        *_of_the_light(silhouette, solution),
        *_of_the_lie(thread, part),
        *_of_the_thread(thread, solution),
        *_of_the_form(thread),
    )


def _of_the_bench(plane: PlaneMap, cone_deg: float) -> Iterator[Reason]:
    if not plane.traceable:
        yield Reason("scale_by_hand", "The scale was given by hand: no gauge stands behind these sizes.")
    if plane.light_cone_deg is None:
        yield Reason(
            "light_cone_unknown",
            f"Nobody said how wide the light is: U95 allows for polished flanks in a half cone of {cone_deg:.1f} deg. "
            "Mask the pad to a small patch and calibrate with --light-cone to narrow it.",
        )


def _of_the_outline(thread: MeasuredThread, solution: Solution) -> Iterator[Reason]:
    if thread.threads_in_view < LIMITS.few_threads:
        yield Reason("few_threads", f"Only {thread.threads_in_view} threads in view: 6 or more give a firmer answer.")
    if solution.residual_rms_px > LIMITS.large_scatter:
        yield Reason(
            "poor_fit",
            f"The outline misses the fitted thread by {solution.residual_rms_px:.2f} px: lens distortion, dirt or a "
            "damaged thread.",
        )
    if solution.rejected > LIMITS.much_rejected:
        yield Reason(
            "dirty_outline",
            f"{100 * solution.rejected:.0f} % of the outline was set aside as dirt or damage: clean the part.",
        )


def _of_the_light(silhouette: Silhouette, solution: Solution) -> Iterator[Reason]:
    focus = own_blur(solution.edge_blur / solution.seen.px_mm, silhouette.presmooth_px)
    if focus > LIMITS.soft:
        yield Reason(
            "soft_focus", f"The edges are {2.56 * focus:.0f} px wide: sharper focus gives smaller uncertainties."
        )
    if silhouette.contrast < LIMITS.faint:
        yield Reason("low_contrast", "Background and part differ little in light: expose longer.")
    if silhouette.clipped > LIMITS.burnt:
        yield Reason(
            "partly_saturated", f"{100 * silhouette.clipped:.0f} % of the background is at full white: expose shorter."
        )


def _of_the_lie(thread: MeasuredThread, part: PartOutline) -> Iterator[Reason]:
    tilt = thread.axis_tilt.value
    if abs(tilt) > LIMITS.tilted_deg:
        yield Reason(
            "tilted", f"The axis is tilted by {abs(tilt):.1f} deg toward or away from the camera: lay the part flat."
        )
    if part.free_end == "not in view":
        yield Reason(
            "free_end_unseen", "No free end in view: left and right flank are named as if it pointed right (or down)."
        )


def _of_the_thread(thread: MeasuredThread, solution: Solution) -> Iterator[Reason]:
    if thread.hand == "not determined":
        yield Reason(
            "hand_not_determined",
            "A shadow does not show whether a thread is right-hand or left-hand: look at the part.",
        )
    if not solution.starts_clear:
        yield Reason(
            "starts_not_shown",
            "This shadow does not show whether the thread has one start or three; it is read with one. Count the ends "
            "of the ridges at the tip and say --starts if there is more than one.",
        )
    if thread.starts > 1:
        yield Reason("several_starts", f"The thread has {thread.starts} starts: its lead is {thread.starts} pitches.")
    root, crest = (float(np.abs(solution.fit.jacobian[INDEX[name]]).sum()) for name in ("root", "crest"))
    if root < LIMITS.hidden_root * crest:
        yield Reason("root_hidden", "The flanks hide the root: the minor diameter is smaller than what can be seen.")


def _of_the_form(thread: MeasuredThread) -> Iterator[Reason]:
    if thread.crest_width is None:
        yield Reason("crest_rounded", "The crest is rounded: its radius is given instead of a width.")
    if thread.root_width is None:
        yield Reason("root_rounded", "The root is rounded: its radius is given instead of a width.")
    if thread.flat_crest is None:
        yield Reason("crest_not_resolved", "The crest is too narrow in this picture to tell flat from rounded.")
    if thread.flat_root is None:
        yield Reason("root_not_resolved", "The root is too narrow in this picture to tell flat from rounded.")
