"""Scale, edge offset and cone of the light by pins alone, rulings alone, both, and a chessboard, against the truth.

    python -m benchmarks.calibration

reads the gauge pictures of ``tests/pictures``, which another renderer drew, and prints a line for each mix of gauges.
The gauges are taken as known to 0.2 um (U95).
"""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

from calib.bench import calibrate_bench
from calib.calibration import Calibration
from vision.pictures.picture import read_picture

FOLDER = Path(__file__).parents[1] / "tests" / "pictures"
U95_MM = 0.0002
ARGUMENTS = {"pin": ("pins", "diameter_mm"), "stage_micrometer": ("stage_micrometers", "division_mm")}
ARGUMENTS["chessboard"] = ("grids", "square_mm")
MIXES = (
    ("pin",),
    ("stage_micrometer",),
    ("chessboard",),
    ("pin", "stage_micrometer"),
    ("pin", "chessboard"),
    ("pin", "stage_micrometer", "chessboard"),
)


def calibrated(
    truth: dict[str, dict[str, Any]], camera: str, mix: tuple[str, ...], distance: float
) -> Calibration | None:
    """The calibration of ``camera`` by the gauges in ``mix``; None where there is no picture of one of them."""
    given: dict[str, Any] = {}
    for kind in mix:
        argument, size = ARGUMENTS[kind]
        some = [(n, t) for n, t in truth.items() if t["camera"] == camera and t["kind"] == kind]
        if not some:
            return None
        given[argument] = [(read_picture(FOLDER / name), t[size]) for name, t in some]
    return calibrate_bench(
        focus_locked=True,
        **given,
        pin_u95_mm=U95_MM,
        division_u95_mm=U95_MM,
        grid_u95_mm=U95_MM,
        working_distance_mm=distance,
    )


def main() -> None:
    """Print the table."""
    truth = json.loads((FOLDER / "truth.json").read_text(encoding="utf-8"))
    print(
        f"{'camera, gauges':42s} {'scale error, ppm':>18s} {'offset, px (true: 0)':>22s} {'cone found, deg':>18s}  true"
    )
    for camera in sorted({t["camera"] for t in truth.values()}):
        about = [t for t in truth.values() if t["camera"] == camera]
        scale = about[0]["um_per_px"]
        cone = next(t["light_half_cone_deg"] for t in about if "light_half_cone_deg" in t)
        distance = next((t["working_distance_mm"] for t in about if t.get("working_distance_mm")), math.inf)
        for mix in MIXES:
            found = calibrated(truth, camera, mix, distance)
            if found is None:
                continue
            told = found.light_cone_deg
            cone_text = "" if told is None else f"{told:.2f} ± {2 * found.light_cone_u_deg:.2f}"
            print(
                f"{camera + ': ' + ' + '.join(mix):42s}"
                f" {1e6 * (found.um_per_px / scale - 1):+9.0f} ± {1e6 * found.um_per_px_u95 / scale:5.0f}"
                f"  {found.edge_offset_px:+13.3f} ± {found.edge_offset_px_u95:.3f} {cone_text:>18s}  {cone:g}"
            )


if __name__ == "__main__":
    main()
