"""Whole pages: what ``--figure`` writes, and what a report is made of. Each is to be pinned to the wall."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from pathlib import PurePath
from typing import TYPE_CHECKING

from flankwise.reasons import sentence
from flankwise.words import CAUTION
from records.figures.class_bars import SIGNS, Bar, check_bars, draw_bars, draw_differences
from records.figures.findings import write_findings, write_probabilities
from records.figures.part_view import draw_part
from records.figures.residual_view import draw_pitch_errors, draw_residuals, height_magnification
from records.figures.style import GREY, PLAIN, Scale, new_figure, scale_of, times
from records.figures.thread_view import Zone, draw_flank, draw_overlay, draw_thread, magnification, zones_of
from threads.identify.identification import Identification
from threads.identify.told_apart import limits_told_apart
from threads.judge.check import Check
from threads.judge.compare import Comparison
from threads.judge.judgement import NOT_LIMITED
from threads.measured.thread import MeasuredThread
from threads.shared.formatting import format_probability, format_quantity
from threads.shared.refusal import Reason
from threads.standards.limits import Limits
from vision.result.folded import Folded, fold
from vision.result.measurement import Measurement

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

VERDICTS = {"conforms": "conforms", "does_not_conform": "does not conform", "cannot_tell": "cannot tell"}
FOLDED_NOTE = (
    "Each edge point stands where the fitted helix casts it from, as far off the section as it lay from the fitted "
    "shadow."
)
UNVERIFIED_NOTE = "† limits or sizes from memory, unverified; not checked against the printed standard."
_LEFT, _RIGHT = 0.115, 0.955
_MOST_CLASSES = 6
_MOST_HEAD = 68
"""Letters of a headline; longer ones are printed smaller."""
_SHOWN = (
    ("major_diameter", "major diameter"),
    ("pitch_diameter", "pitch diameter"),
    ("virtual_pitch_diameter", "virtual pitch diameter"),
    ("minor_diameter", "minor diameter"),
)


def measurement_page(measurement: Measurement, *, inches: bool = False) -> Figure:
    """The part with its outline and its dimensions, the one-thread view, residuals and errors of pitch."""
    figure, scale, folded = new_figure(), scale_of(inches=inches), fold(measurement)
    _head(figure, _name(measurement), _what(measurement.thread))
    draw_part(_part_axes(figure, (0.68, 0.915)), measurement, scale)
    write_findings(figure, measurement.thread, (0.585, 0.90, 0.913), inches=inches)
    view = figure.add_axes((_LEFT, 0.33, _RIGHT - _LEFT, 0.29))
    draw_thread(view, folded, (), scale)
    _thread_title(view, folded, scale)
    view.legend(loc="upper right", markerscale=2)
    residuals = figure.add_axes((_LEFT, 0.195, _RIGHT - _LEFT, 0.075))
    draw_residuals(residuals, folded, scale)
    residuals.set_title(f"What is left beside the fit, magnified {times(height_magnification(residuals, scale))}")
    residuals.set_xlabel("")
    residuals.legend(loc="lower right", bbox_to_anchor=(1.0, 0.95), ncols=2, markerscale=3)
    pitch = figure.add_axes((_LEFT, 0.09, _RIGHT - _LEFT, 0.07))
    solution = measurement.solution
    toward = 1.0 if measurement.part.free_end_right else -1.0
    draw_pitch_errors(pitch, measurement.thread.per_thread, scale, length=solution.end - solution.start, toward=toward)
    pitch.set_xlim(residuals.get_xlim())
    _foot(figure, measurement, [FOLDED_NOTE])
    return figure


def identification_page(measurement: Measurement, found: Identification, *, inches: bool = False) -> Figure:
    """The part, its one-thread view over the zones of the candidates, and the limits of each class as bars."""
    figure, scale, folded = new_figure(), scale_of(inches=inches), fold(measurement)
    _head(figure, _name(measurement), _answer(found))
    draw_part(_part_axes(figure, (0.70, 0.915)), measurement, scale)
    limits = [candidate.limits for candidate in found.candidates][:_MOST_CLASSES]
    zones = zones_of(limits_told_apart(found))
    looks = {zone.name: zone.look for zone in zones}
    chances = [
        (_marked(one.limits), one.probability, looks.get(_marked(one.limits)))
        for one in found.candidates[:_MOST_CLASSES]
    ]
    chances.append(("no series in the tables", found.no_standard_probability, None))
    write_probabilities(figure, chances, (0.62, 0.93, 0.913))
    _thread_and_flank(figure, measurement, folded, zones, scale, (0.385, 0.645))
    names = [_marked(one) for one in limits]
    for (quantity, words), (left, right) in zip(_SHOWN[:2], ((0.185, 0.54), (0.60, 0.955)), strict=True):
        axes = figure.add_axes((left, 0.105, right - left, 0.165))
        bars = [
            Bar(name, one.major if quantity == "major_diameter" else one.pitch_diameter, looks.get(name, PLAIN))
            for name, one in zip(names, limits, strict=True)
        ]
        draw_bars(axes, bars, getattr(measurement.thread, quantity), words, scale)
        if quantity != "major_diameter":
            axes.set_yticklabels([])
    notes = ["Bars: least to greatest limit; line and grey band: measured value and U95.", FOLDED_NOTE]
    _foot(figure, measurement, [*notes, *_unverified(limits)])
    return figure


def check_page(measurement: Measurement, found: Check, advice: Sequence[Reason], *, inches: bool = False) -> Figure:
    """The verdict, the part, its thread over the zone, every limit as a bar with guard bands, and what to do."""
    figure, scale, folded = new_figure(), scale_of(inches=inches), fold(measurement)
    limits = [] if found.limits is None else [found.limits]
    against = found.against if not limits else _marked(limits[0])
    sign = SIGNS[found.verdict]
    _head(figure, f"{_name(measurement)} against {against}", f"{sign} {VERDICTS[found.verdict]}")
    draw_part(_part_axes(figure, (0.715, 0.915)), measurement, scale)
    zones = zones_of(limits)
    view = figure.add_axes((_LEFT, 0.485, 0.41, 0.165))
    draw_thread(view, folded, zones, scale)
    view.set_anchor("NW")
    _thread_title(view, folded, scale)
    _flank(figure, (0.66, 0.725, 0.28, 0.19), folded, zones, scale, measurement)
    figure.legend(*view.get_legend_handles_labels(), loc="upper left", bbox_to_anchor=(0.60, 0.63), markerscale=2)
    shown = [(name, words) for name, words in _SHOWN if found.of(name).verdict != NOT_LIMITED]
    top, step = 0.395, 0.066
    for row, (name, words) in enumerate(shown):
        one = found.of(name)
        assert one.measured is not None
        axes = figure.add_axes((_LEFT, top - row * step, 0.52, 0.026))
        draw_bars(axes, [check_bars(one)], one.measured, words, scale)
        axes.set_xlabel("")
        figure.text(0.67, top + 0.013 - row * step, f"{SIGNS[one.verdict]} {VERDICTS[one.verdict]}", va="center")
        reason = textwrap.fill(sentence(one.why, inches=inches), 38)
        figure.text(0.67, top - row * step, reason, fontsize=7.5, color=GREY, va="top")
    y = top - len(shown) * step + 0.03
    rest = [found.of(name) for name in ("pitch", "flank_angle_left", "flank_angle_right", "root_form")]
    lines = [
        f"{SIGNS[one.verdict]} {one.quantity.replace('_', ' ')} {format_quantity(one.measured, inches=inches)}: "
        f"{sentence(one.why, inches=inches)}"
        for one in rest
    ]
    y = _paragraphs(figure, y, lines, size=7.5)
    _paragraphs(figure, y - 0.008, [f"• {sentence(one, inches=inches)}" for one in advice], size=9.0)
    bars = f"Bars ({scale.name}): least to greatest limit, guard bands white; line and grey band: value and U95."
    _foot(figure, measurement, [bars, FOLDED_NOTE, *_unverified(limits)])
    return figure


def comparison_page(
    original: Measurement,
    replacement: Measurement,
    found: Comparison,
    advice: Sequence[Reason],
    *,
    inches: bool = False,
) -> Figure:
    """Both parts, their threads laid over each other, the differences with their U95, and what to change."""
    figure, scale = new_figure(), scale_of(inches=inches)
    one, two = _name(original), _name(replacement)
    differs = f"{len(found.significant)} of {len(found.differences)} dimensions differ" if found.significant else ""
    _head(figure, f"{one} and {two}", differs or "no significant difference")
    for part, words, left in ((original, "The original", 0.07), (replacement, "The replacement", 0.535)):
        picture = figure.add_axes((left, 0.725, 0.42, 0.19))
        picture.set_anchor("NW")
        picture.set_title(words)
        draw_part(picture, part, scale)
    view = figure.add_axes((_LEFT, 0.455, _RIGHT - _LEFT, 0.225))
    view.set_anchor("NW")
    folded = fold(original), fold(replacement)
    draw_overlay(view, *folded, ("original", "replacement"), scale, turned=found.turned)
    view.set_title(f"One ridge of each laid over the other, magnified {times(magnification(view, scale))} on A4")
    view.legend(loc="upper left", bbox_to_anchor=(1.02, 0.95))
    rows = [
        (name.replace("_", " "), quantity, name in found.significant)
        for name, quantity in found.differences.items()
        if quantity.unit == "mm" and name != "lead"
    ]
    axes = figure.add_axes((0.24, 0.245, 0.70, 0.14))
    draw_differences(axes, rows, scale, threshold=found.threshold)
    axes.set_title("Differences with U95; beyond the grey bar they are significant")
    _paragraphs(figure, 0.195, [f"• {sentence(one, inches=inches)}" for one in advice], size=9.0)
    _foot(figure, original, [FOLDED_NOTE])
    return figure


def _thread_and_flank(
    figure: Figure,
    measurement: Measurement,
    folded: Folded,
    zones: Sequence[Zone],
    scale: Scale,
    reach: tuple[float, float],
) -> None:
    """The one-thread view on the left, the magnified flank beside it."""
    low, high = reach
    view = figure.add_axes((_LEFT, low, 0.53, high - low))
    draw_thread(view, folded, zones, scale)
    view.set_anchor("NW")
    _thread_title(view, folded, scale)
    _flank(figure, (0.71, low, 0.25, high - low), folded, zones, scale, measurement)
    handles, labels = view.get_legend_handles_labels()
    box = view.get_position()
    figure.legend(handles, labels, loc="upper left", bbox_to_anchor=(_LEFT, box.y0 - 0.032), ncols=2, markerscale=2)


def _flank(
    figure: Figure,
    place: tuple[float, float, float, float],
    folded: Folded,
    zones: Sequence[Zone],
    scale: Scale,
    measurement: Measurement,
) -> None:
    close = figure.add_axes(place)
    draw_flank(close, folded, zones, scale, measurement.thread.pitch_diameter)
    close.set_anchor("NW")
    close.set_xlabel(f"along the axis, {scale.name}")
    close.set_ylabel("")
    close.locator_params(nbins=4)
    close.set_title(f"right flank, {times(magnification(close, scale))}", fontsize=8.5, fontweight="normal")


def _thread_title(axes: Axes, folded: Folded, scale: Scale) -> None:
    axes.set_title(f"{folded.ridges} ridges folded onto one, magnified {times(magnification(axes, scale))} on A4")


def _part_axes(figure: Figure, reach: tuple[float, float]) -> Axes:
    axes = figure.add_axes((_LEFT - 0.05, reach[0], 0.50, reach[1] - reach[0]))
    axes.set_anchor("NW")
    axes.set_title("The part, with the fitted thread on it")
    return axes


def _head(figure: Figure, left: str, right: str) -> None:
    size = 12.5 * min(1.0, _MOST_HEAD / max(len(left), 1))
    figure.text(_LEFT - 0.05, 0.972, left, fontsize=size, fontweight="bold", va="center")
    figure.text(_LEFT - 0.05, 0.951, right, fontsize=10.5, va="center")


def _foot(figure: Figure, measurement: Measurement, notes: Sequence[str]) -> None:
    plane = measurement.plane
    behind = f"calibration {plane.id}" if plane.traceable else f"{plane.id}: no gauge stands behind it"
    lines = [*notes, f"Scale: {behind}. ± is U95 (k = 2). {CAUTION}"]
    text = "\n".join(line for note in lines for line in textwrap.wrap(note, 165))
    figure.text(_LEFT - 0.05, 0.012, text, fontsize=6.8, color=GREY, va="bottom", linespacing=1.25)


def _paragraphs(figure: Figure, y: float, lines: Sequence[str], *, size: float) -> float:
    """Write ``lines`` from ``y`` down, broken to the width of the page; returns where they end."""
    wide = int(1060 / size)
    height = size * 1.42 / 72 / figure.get_figheight()
    for line in lines:
        pieces = textwrap.wrap(line, wide, subsequent_indent="   ")
        figure.text(_LEFT - 0.05, y, "\n".join(pieces), fontsize=size, va="top", linespacing=1.3)
        y -= height * len(pieces)
    return y


def _name(measurement: Measurement) -> str:
    return PurePath(measurement.picture.path).stem.replace("_", " ")


def _what(thread: MeasuredThread) -> str:
    hand = "hand not determined" if thread.hand == "not determined" else f"{thread.hand}-hand"
    starts = "1 start" if thread.starts == 1 else f"{thread.starts} starts"
    kind = "thread of a hole, from its cast" if thread.internal else "screw thread"
    return f"{kind}: {thread.threads_in_view} threads in view, {starts}, {hand}"


def _answer(found: Identification) -> str:
    if found.status == "no_match" or not found.groups:
        return "fits no series in the tables"
    group = found.groups[0]
    names = [_marked(candidate.limits) for candidate in group.members]
    more = f" and {len(names) - 3} more" if len(names) > 3 else ""
    return f"{', '.join(names[:3])}{more}: {format_probability(group.probability)}"


def _marked(limits: Limits) -> str:
    return f"{limits.designation} †" if limits.unverified else limits.designation


def _unverified(limits: Sequence[Limits]) -> list[str]:
    return [UNVERIFIED_NOTE] if any(one.unverified for one in limits) else []
