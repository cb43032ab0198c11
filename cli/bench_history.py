"""``flankwise calibrate --verify`` and ``--history``: whether the bench still holds, and how it did so far."""

from __future__ import annotations

from dataclasses import asdict
from typing import TYPE_CHECKING

from cli.output import show, write_json
from cli.refusals import refusals_reported
from cli.tables import plain_table
from flankwise.reasons import sentence
from threads.shared.formatting import format_quantity
from threads.shared.quantity import COVERAGE_FACTOR, Quantity

if TYPE_CHECKING:
    from calib.history import Entry


def show_verification(
    picture: str, diameter_mm: float, calibration: str, pin_u95_mm: float, *, inches: bool, as_json: bool
) -> None:
    """Measure the pin, note the outcome in the history, and say it; a bench that has changed is refused."""
    from threads.shared.refusal import RefusalError

    with refusals_reported(as_json=as_json):
        from calib.history import note_verification
        from calib.verification import verify_bench
        from flankwise.bench import load_bench
        from threads.shared.file_name import plain_name
        from vision.pictures.picture import read_picture

        pin = read_picture(picture)
        bench = load_bench(calibration).calibration
        found = verify_bench(bench, pin, diameter_mm, pin_u95_mm=pin_u95_mm)
        note_verification(bench, found, plain_name(calibration))
        difference = Quantity(found.difference_um, found.difference_u95_um / COVERAGE_FACTOR, "um")
        if not found.holds:
            raise RefusalError(
                "bench_changed.check", size_mm=diameter_mm, difference=difference, times=found.normalised_error
            )
    if as_json:
        write_json(found.to_dict())
        return
    measured = Quantity(found.measured_mm, difference.standard_uncertainty / 1000, "mm")
    show(
        f"pin         {format_quantity(Quantity(diameter_mm, pin_u95_mm / COVERAGE_FACTOR, 'mm'), inches=inches)}",
        f"measured    {format_quantity(measured, inches=inches)}",
        f"difference  {format_quantity(difference)}, {found.normalised_error:.2f} of what the uncertainties allow",
        "",
        *(f"warning: {sentence(warning)}" for warning in found.warnings),
        f"The bench holds (calibration {found.calibration_id}, {found.age_days:.0f} days old).",
    )


def show_history(*, as_json: bool) -> None:
    """Print the calibrations and verifications noted so far, oldest first."""
    from calib.history import history

    entries = history()
    if as_json:
        write_json({"schema": "flankwise/bench_history/1", "entries": [asdict(entry) for entry in entries]})
        return
    if not entries:
        show("No calibration has been noted yet.")
        return
    table = plain_table(
        "when (UTC)", "calibration", "scale", "edge offset", "", whole=("when (UTC)", "scale", "edge offset")
    )
    for entry in entries:
        table.add_row(
            entry.when[:16].replace("T", " "),
            entry.id,
            format_quantity(Quantity(entry.um_per_px, entry.um_per_px_u95 / COVERAGE_FACTOR, "um")),
            format_quantity(Quantity(entry.edge_offset_px, entry.edge_offset_px_u95 / COVERAGE_FACTOR, "px")),
            _outcome(entry),
        )
    show(table)


def _outcome(entry: Entry) -> str:
    """What happened, in a few words."""
    if entry.difference_um is None or entry.difference_u95_um is None:
        return f"{entry.file}, from {entry.gauges}"
    off = Quantity(entry.difference_um, entry.difference_u95_um / COVERAGE_FACTOR, "um")
    return f"{'holds' if entry.holds else 'CHANGED'}: {entry.gauges} measures {format_quantity(off)} different"
