"""Errors of form, and what each picture of a part says, as a person reads them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from cli.tables import Block, Table, plain_table
from threads.measured.form_errors import in_micrometres
from threads.shared.formatting import format_length, format_probability, format_quantity

if TYPE_CHECKING:
    from vision.result.measurement import Measurement

_ROWS = (
    ("cumulative_pitch_error", "cumulative pitch error"),
    ("axis_bend", "bend of the axis"),
    ("drunkenness_seen", "drunkenness, this side"),
    ("drunkenness", "drunkenness"),
    ("ovality_pitch_diameter", "ovality, pitch diameter"),
    ("ovality_major_diameter", "ovality, major diameter"),
)
_OF_PICTURES = ("pitch", "major_diameter", "pitch_diameter", "minor_diameter")


def form_parts(measurement: Measurement, *, inches: bool) -> list[Block]:
    """The errors of form, an empty list where there are none to show."""
    form = measurement.form
    if form is None:
        return []
    table = plain_table("errors of form", "", whole=("",))
    for name, words in _ROWS:
        quantity = getattr(form, name)
        if name == "drunkenness_seen" and form.drunkenness is not None:
            continue
        if quantity is None:
            continue
        at_least = "at least " if form.ovality_at_least and name.startswith("ovality") else ""
        table.add_row(
            words, at_least + format_quantity(quantity if inches else in_micrometres(quantity), inches=inches)
        )
    return [table, f"over {format_length(round(form.length_mm, 2), inches=inches)} of thread in view"]


def pictures_table(measurement: Measurement, *, inches: bool) -> Table:
    """What each picture alone says."""
    heads = ("picture", "turned", *(name.replace("_", " ") for name in _OF_PICTURES))
    table = plain_table(*heads, right=heads[1:], whole=heads[1:])
    for picture in measurement.pictures:
        turned = "not known" if picture.turn is None else f"{picture.turn.angle.value:.0f}°"
        if picture.turn is not None and not picture.turn.stated and picture.turn.angle.standard_uncertainty > 0:
            turned += " either way"
        cells = (format_quantity(picture.quantities[name], inches=inches) for name in _OF_PICTURES)
        table.add_row(picture.path, turned, *cells)
    return table


def _chance(probability: float) -> str:
    return format_probability(min(max(probability, 1e-9), 1 - 1e-9))


def agreement_line(measurement: Measurement) -> str:
    """How well the pictures agree."""
    agreement = measurement.agreement
    if agreement is None:
        return ""
    return (
        f"the pictures agree with chi squared {agreement.chi_squared:.1f} on {agreement.degrees_of_freedom} degrees of "
        f"freedom (by their own uncertainties; chance gives more in {_chance(agreement.probability)} of cases)"
    )
