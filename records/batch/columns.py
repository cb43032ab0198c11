"""The columns of a file of results, and the row of one picture.

Lengths are mm and angles degrees, whatever the unit on the screen; the unit stands in the name of the column.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime

from flankwise.reasons import sentence
from records.cells import number_cell, text_cell
from threads.identify.identification import Identification
from threads.shared.quantity import Quantity
from vision.result.measurement import Measurement

MEASURED, REFUSED, FAILED = "measured", "refused", "failed"

_OF_PICTURE = ("picture", "sha256", "calibration", "settings", "status", "code", "message", "version", "when")
_QUANTITIES = (
    ("pitch", "mm"),
    ("lead", "mm"),
    ("threads_per_inch", ""),
    ("major_diameter", "mm"),
    ("pitch_diameter", "mm"),
    ("minor_diameter", "mm"),
    ("virtual_pitch_diameter", "mm"),
    ("included_angle", "deg"),
    ("flank_angle_left", "deg"),
    ("flank_angle_right", "deg"),
    ("crest_width", "mm"),
    ("root_width", "mm"),
    ("crest_radius", "mm"),
    ("root_radius", "mm"),
    ("taper", "um_per_mm"),
    ("axis_tilt", "deg"),
    ("lead_angle", "deg"),
)
_OF_IDENTITY = (
    "identity", "designation", "probability", "probability_measurement_only", "condition", "group", "group_probability",
    "told_apart_by", "from_memory",
)  # fmt: skip


def head(*, identify: bool) -> tuple[str, ...]:
    """The names of the columns."""
    numbers = [name for quantity, unit in _QUANTITIES for name in _names(quantity, unit)]
    of_thread = ("hand", "starts", "threads_in_view", *numbers, "residual_rms_px", "focus_px", "contrast", "warnings")
    return (*_OF_PICTURE, *of_thread, *(_OF_IDENTITY if identify else ()))


@dataclass(frozen=True)
class Refused:
    """Why there is no measurement, as it stands in the row."""

    code: str
    message: str


def cells(
    picture: str,
    sha256: str,
    calibration: str,
    settings: str,
    version: str,
    found: Measurement | Refused,
    identity: Identification | None = None,
    *,
    identify: bool = False,
    status: str = REFUSED,
) -> tuple[str, ...]:
    """The row of one picture.

    Args:
        picture: its name in the file, see ``work.name_in_results``.
        sha256: of the file.
        calibration: id of the bench.
        settings: key of how it was measured.
        version: of the program.
        found: the measurement, or why there is none; ``status`` says of which kind that is.
        identity: where it was asked for.
        identify: whether the file has the columns for it.
        status: ``REFUSED`` or ``FAILED``; only with a ``Refused``.
    """
    measured = isinstance(found, Measurement)
    code, message = ("", "") if isinstance(found, Measurement) else (found.code, found.message)
    row = [picture, *(text_cell(text) for text in (sha256, calibration, settings))]
    now = datetime.now(UTC).isoformat(timespec="seconds").replace("+00:00", "Z")
    row += [MEASURED if measured else status, text_cell(code), text_cell(message), text_cell(version), now]
    row += _thread_cells(found) if isinstance(found, Measurement) else [""] * (len(head(identify=False)) - len(row))
    if identify:
        row += [""] * len(_OF_IDENTITY) if identity is None else _identity_cells(identity)
    return tuple(row)


def _thread_cells(measurement: Measurement) -> list[str]:
    thread, quality = measurement.thread, measurement.quality
    row = [text_cell(thread.hand), str(thread.starts), str(thread.threads_in_view)]
    for name, _ in _QUANTITIES:
        quantity: Quantity | None = getattr(thread, name)
        row += ["", ""] if quantity is None else [number_cell(quantity.value), number_cell(quantity.u95)]
    row += [number_cell(number) for number in (quality.residual_rms_px, quality.focus, quality.contrast)]
    return [*row, text_cell(" ".join(dict.fromkeys(warning.code for warning in quality.warnings)))]


def _identity_cells(found: Identification) -> list[str]:
    best = found.candidates[0] if found.candidates and found.status != "no_match" else None
    group = found.groups[0] if found.groups and best is not None else None
    row = [text_cell(found.status)]
    if best is None:
        row += [""] * 4
    else:
        chances = number_cell(best.probability), number_cell(best.probability_measurement_only)
        row += [text_cell(best.designation), *chances, text_cell(best.condition)]
    if group is None:
        row += [""] * 3
    else:
        members = ", ".join(candidate.designation for candidate in group.members)
        row += [
            text_cell(members),
            number_cell(group.probability),
            text_cell("; ".join(map(sentence, group.told_apart_by))),
        ]
    named = group.members if group is not None else (best,) if best is not None else ()
    return [*row, "yes" if any(one.limits.unverified for one in named) else "no" if named else ""]


def _names(quantity: str, unit: str) -> tuple[str, str]:
    ending = f"_{unit}" if unit else ""
    return f"{quantity}{ending}", f"{quantity}_u95{ending}"
