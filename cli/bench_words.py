"""A calibration in words, for a person."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from calib.calibration import REFOCUS_U
from cli.light import Cone, cone_words, light_table
from cli.output import show
from cli.tables import Block, Table, plain_table
from flankwise.reasons import sentence
from threads.shared.formatting import format_quantity
from threads.shared.quantity import COVERAGE_FACTOR, Quantity

if TYPE_CHECKING:
    from calib.calibration import Calibration


_REFOCUS = f"{100 * COVERAGE_FACTOR * REFOCUS_U:g} % of every length (--focus-locked)"


def show_calibration(found: Calibration, target: Path, *, inches: bool) -> None:
    """Print scale, edge offset, lens, cone, the gauges with their residuals, and the warnings."""
    distance = found.working_distance_mm
    show(
        f"scale        {format_quantity(scale_of(found))} a pixel",
        f"edge offset  {format_quantity(offset_of(found))} (an edge found lies that far outside the dark part)",
        f"lens         {_lens(found)}",
        f"light cone   {_cone(found)}",
        *([f"distance     {format_quantity(Quantity(distance, 0.0, 'mm'), inches=inches)}"] if distance else []),
        f"focus        {'locked' if found.focus_locked else f'not said to be locked: U95 allows for {_REFOCUS}'}",
        f"valid for    pictures of {found.picture_width_px} x {found.picture_height_px} px",
        "",
        _gauges(found, inches=inches),
        "",
        *_light(found),
        *(f"warning: {sentence(warning)}" for warning in found.warnings),
        f"written to {target} (calibration {found.id})",
    )


def scale_of(found: Calibration) -> Quantity:
    """Micrometres a pixel."""
    return Quantity(found.um_per_px, found.um_per_px_u95 / COVERAGE_FACTOR, "um")


def offset_of(found: Calibration) -> Quantity:
    """The edge offset, px."""
    return Quantity(found.edge_offset_px, found.edge_offset_px_u95 / COVERAGE_FACTOR, "px")


def _lens(found: Calibration) -> str:
    from calib.lens import corner_shift_px

    if found.lens["model"] == "none":
        return "no distortion taken out"
    shift = corner_shift_px(found.lens, found.picture_width_px, found.picture_height_px)
    return f"{found.lens['model']} distortion taken out: {shift:+.1f} px in the corners of the picture"


def _cone(found: Calibration) -> str:
    if found.light_cone_deg is None:
        return "not given"
    if not found.light_cone_found:
        return cone_words(Cone(found.light_cone_deg, found.light_cone_u_deg))
    cone = format_quantity(Quantity(found.light_cone_deg, found.light_cone_u_deg, "deg"))
    return f"{cone} (found: round gauges against flat ones; true if all lay in one plane of focus)"


def _light(found: Calibration) -> list[Block]:
    """What the light takes from a polished thread, where its cone is known."""
    if not found.light_cone_deg:
        return []
    cone = Cone(found.light_cone_deg, found.light_cone_u_deg)
    return [light_table(cone, round_gauges=found.round_gauges), ""]


def _gauges(found: Calibration, *, inches: bool) -> Table:
    table = plain_table(
        "gauge", "picture", "nominal", "in the picture", "residual", right=("in the picture", "residual")
    )
    for gauge in found.gauges:
        nominal = Quantity(gauge.nominal_mm, gauge.u95_mm / COVERAGE_FACTOR, "mm")
        text = format_quantity(nominal, inches=inches)
        if gauge.steps > 1:
            whole = Quantity(gauge.nominal_mm * gauge.steps, nominal.standard_uncertainty, "mm")
            text = f"{gauge.steps} steps, {format_quantity(whole, inches=inches)}"
        table.add_row(
            gauge.what,
            gauge.picture,
            text,
            f"{gauge.diameter_px * gauge.steps:.3f} px",
            f"{gauge.residual_um:+.2f} µm",
        )
    return table
