"""The whole part round a measured thread: its outline cut into sections, each measured."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import numpy.typing as npt

from threads.measured.thread import MeasuredThread
from vision.fit.solve import Solution
from vision.model.shadow import INDEX
from vision.outline.edges import EdgePoints
from vision.part.axis_view import AxisView, along_axis, profile_of
from vision.part.lengths import Ruler
from vision.part.part_outline import PartOutline
from vision.part.section_sizes import MeasuredSpan, measure_sections
from vision.part.sections import ThreadSpan, cut_sections
from vision.part.threaded_lengths import further_threads

Array = npt.NDArray[np.float64]


def with_sections(
    part: PartOutline, edges: EdgePoints, undistorted: Array, solution: Solution, thread: MeasuredThread, ruler: Ruler
) -> PartOutline:
    """``part`` with its sections.

    Args:
        part: the outline as described before.
        edges: edge points of the whole part.
        undistorted: (n, 2) their positions with the lens distortion taken out, px.
        solution: the fitted thread.
        thread: its quantities.
        ruler: what turns pixels into lengths.
    """
    in_view = part.ends[0].in_view, part.ends[1].in_view
    view = along_axis(edges, undistorted, solution, ruler.plane.edge_offset_px, in_view)
    return sections_of_view(part, view, fitted_span(solution), thread, ruler)


def fitted_span(solution: Solution) -> ThreadSpan:
    """The fitted thread as a span in px."""
    mm, x = solution.seen.px_mm, solution.fit.x
    return ThreadSpan(
        solution.start / mm,
        solution.end / mm,
        float(x[INDEX["pitch"]]) / mm,
        float(x[INDEX["crest"]]) / mm,
        float(x[INDEX["root"]]) / mm,
    )


def sections_of_view(
    part: PartOutline,
    view: AxisView,
    span: ThreadSpan,
    thread: MeasuredThread,
    ruler: Ruler,
    others: Sequence[MeasuredSpan] = (),
) -> PartOutline:
    """``part`` with the sections of an outline that lies in the frame of its axis.

    ``span`` and ``thread`` are the thread that is measured, ``others`` further threads of the part that were fitted.
    """
    profile = profile_of(view)
    spans = further_threads(view, profile, span)
    cuts = cut_sections(profile, spans, view.in_view)
    main = MeasuredSpan(spans[0], thread, part.free_end_right)
    sections, overall = measure_sections(view, profile, cuts, main, ruler, others)
    return replace(part, sections=sections, overall=overall, view=view)
