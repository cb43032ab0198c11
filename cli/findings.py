"""A measured thread as a person reads it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from cli.tables import Table, plain_table
from flankwise.reasons import sentence
from threads.shared.formatting import format_quantity
from threads.shared.quantity import Quantity
from threads.shared.quantity_words import QUANTITIES

if TYPE_CHECKING:
    from threads.measured.thread import MeasuredThread
    from vision.result.measurement import Measurement
    from vision.shared.plane import PlaneMap


SHORT = ("pitch", "threads_per_inch", "major_diameter", "pitch_diameter", "minor_diameter", "included_angle")
"""What an identification shows of the measurement."""


def heading(measurement: Measurement, *, inches: bool = False) -> list[str]:
    """What was measured, what stands behind the scale, and where along the part the diameters hold."""
    thread = measurement.thread
    starts = "1 start" if thread.starts == 1 else f"{thread.starts} starts"
    hand = "hand not determined" if thread.hand == "not determined" else f"{thread.hand} hand"
    shown = measurement.picture.path
    if measurement.pictures:
        shown = f"{len(measurement.pictures)} pictures of one part"
    if thread.internal:
        shown += ", a cast, read as the hole it came from"
    return [
        f"{shown}: {thread.threads_in_view} threads in view, {hand}, {starts}",
        f"scale {_scale(measurement.plane)}",
        *([] if measurement.pictures else [_where(measurement, inches=inches)]),
    ]


def _where(measurement: Measurement, *, inches: bool) -> str:
    """Where along the part the diameters hold."""
    middle, distance = "diameters hold in the middle of the thread in view", measurement.part.middle_from_free_end
    if distance is None:
        return middle
    return f"{middle}, {format_quantity(Quantity(distance, 0.0, 'mm'), inches=inches)} from the free end"


def measured_table(measurement: Measurement, *, inches: bool, only: tuple[str, ...] | None = None) -> Table:
    """Every quantity with its U95, of the axial section and as read off the shadow."""
    thread: MeasuredThread = measurement.thread
    table = plain_table(
        "", "axial section", "as read off the shadow", whole=("axial section", "as read off the shadow")
    )
    for name, words in QUANTITIES:
        quantity: Quantity | None = getattr(thread, name)
        if (only is not None and name not in only) or (name == "lead" and thread.starts == 1):
            continue
        shadow = measurement.shadow.get(name)
        as_shadow = "" if shadow is None else format_quantity(shadow, inches=inches)
        table.add_row(words, format_quantity(quantity, inches=inches), as_shadow)
    return table


def quality_lines(measurement: Measurement) -> list[str]:
    """How good the picture was, and every warning."""
    quality = measurement.quality
    left_out = f"{100 * quality.rejected_edge_fraction:.0f} % of them left out (dust, hair, damage)"
    fit = f"edges fit the thread to {quality.residual_rms_px:.2f} px (RMS); {left_out}"
    return [fit, *(f"warning: {sentence(warning)}" for warning in quality.warnings)]


def _scale(plane: PlaneMap) -> str:
    covariance = plane.covariance
    scale = Quantity(plane.um_per_px, float(covariance[0, 0]) ** 0.5, "um")
    offset = Quantity(plane.edge_offset_px, float(covariance[1, 1]) ** 0.5, "px")
    behind = f"calibration {plane.id}" if plane.traceable else f"{plane.id}: no gauge stands behind it"
    return f"{format_quantity(scale)} a pixel, edge offset {format_quantity(offset)} ({behind})"
