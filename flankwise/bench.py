"""The bench: what maps pixels to millimetres, and what is to be doubted of a picture taken on it."""

from __future__ import annotations

import math
import os
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any

from flankwise.amounts import Amount, in_degrees, in_mm
from flankwise.reasons import sentence
from threads.shared.file_name import plain_name
from threads.shared.refusal import Reason

if TYPE_CHECKING:
    from calib.calibration import Calibration
    from vision.pictures.picture import Picture
    from vision.shared.plane import PlaneMap

Path = str | os.PathLike[str]
Gauges = tuple[Path, Amount] | Iterable[tuple[Path, Amount]] | None
"""A picture and the size that it shows, or several of them."""

PATCH_RELATIVE_U = 0.05
"""Standard uncertainty of a cone from patch and distance: millimetres read off a rule, a figure of the workshop."""

KNOWN = ("major", "shank")
"""What of a part may be measured by hand to give its picture a scale."""


@dataclass(frozen=True)
class Bench:
    """A calibrated bench, or a scale given by hand.

    Attributes:
        plane: what maps pixels to the plane of the part.
        file: where its calibration is kept; empty where it is not.
        doubts: what a person should know of it before measuring, such as that nobody checked it for long.
    """

    plane: PlaneMap
    file: str = ""
    doubts: tuple[Reason, ...] = field(default=(), repr=False)

    def save(self, path: Path) -> None:
        """Write the calibration file, replacing one that is there. Raises Refused; TypeError for a scale by hand."""
        from calib.file import save_calibration

        save_calibration(self.calibration, path, sentence)

    def to_dict(self) -> dict[str, Any]:
        """The calibration file as an object, schema ``flankwise/calibration/1``. Raises TypeError as ``save``."""
        from calib.file import calibration_document

        return calibration_document(self.calibration, sentence)

    @property
    def calibration(self) -> Calibration:
        """What ``plane`` is where gauges stand behind it. Raises TypeError for a scale given by hand."""
        calibration = _calibration_of(self.plane)
        if calibration is None:
            raise TypeError("a scale given by hand is no calibration: no gauge stands behind it")
        return calibration

    def with_focus_locked(self) -> Bench:
        """The same, of a camera whose focus is said to be as it was for the gauges."""
        calibration = _calibration_of(self.plane)
        if calibration is None or calibration.focus_locked:
            return self
        return replace(self, plane=replace(calibration, focus_locked=True))

    def remarks(self, picture: Picture) -> tuple[Reason, ...]:
        """Refuse a picture that does not belong to this bench; else what is to be doubted of one taken on it.

        The one place where size and camera of a picture and the age of the calibration are looked at. Raises Refused
        (calibration_picture_size).
        """
        calibration = _calibration_of(self.plane)
        if calibration is None:
            return self.doubts
        from calib.file import check_picture_size
        from calib.remarks import camera_remarks

        check_picture_size(calibration, picture, plain_name(self.file) if self.file else "The current bench")
        return (*camera_remarks(calibration, picture.path), *self.doubts)

    def remarks_on_file(self, path: Path) -> tuple[Reason, ...]:
        """What the head of a picture file says of its camera that the calibration contradicts: soon read."""
        from calib.remarks import camera_remarks

        return camera_remarks(self.plane, os.fspath(path))

    def remarks_on_source(self, camera: str, size: tuple[int, int], *, colourless: bool = False) -> tuple[Reason, ...]:
        """What is to be said of live pictures before any is measured: another camera or size than the gauges had.

        ``camera``: its name, "" where nobody knows it; ``size``: width and height, px; ``colourless``: the pictures
        are grey in a colour format.
        """
        from calib.remarks import source_remarks

        return source_remarks(self.plane, camera, size, colourless=colourless)

    def __str__(self) -> str:
        from threads.shared.formatting import format_quantity
        from threads.shared.quantity import Quantity

        scale, offset = (float(self.plane.covariance[i, i]) ** 0.5 for i in (0, 1))
        behind = f"calibration {self.plane.id}" if self.plane.traceable else "no gauge stands behind it"
        return "\n".join(
            (
                f"{format_quantity(Quantity(self.plane.um_per_px, scale, 'um'))} a pixel, {behind}",
                f"edge offset {format_quantity(Quantity(self.plane.edge_offset_px, offset, 'px'))}",
                *(f"warning: {sentence(reason)}" for reason in (*getattr(self.plane, "warnings", ()), *self.doubts)),
            )
        )


def bench_of(plane: PlaneMap, file: Path = "") -> Bench:
    """The bench with this mapping, and what its age and its last check give to doubt."""
    calibration = _calibration_of(plane)
    if calibration is None:
        return Bench(plane, os.fspath(file))
    from calib.last_check import last_check

    return Bench(plane, os.fspath(file), last_check(calibration).warnings)


def scaled_by_hand(um_per_px: float) -> Bench:
    """A bench whose scale, µm a pixel, somebody says: no gauge stands behind it."""
    from vision.shared.plane import FixedScale

    return Bench(FixedScale(um_per_px))


def load_bench(path: Path) -> Bench:
    """The bench whose calibration file is at ``path``. Raises Refused for a file that cannot be used."""
    from calib.file import load_calibration

    return bench_of(load_calibration(path), path)


def calibrate(
    pins: Gauges = None,
    stage_micrometer: Gauges = None,
    grid: Gauges = None,
    *,
    pin_u95: Amount | None = None,
    division_u95: Amount | None = None,
    grid_u95: Amount | None = None,
    light_cone: Amount | None = None,
    light_patch: Amount | None = None,
    light_distance: Amount | None = None,
    working_distance: Amount | None = None,
    focus_locked: bool = False,
    lens_opening: float | None = None,
) -> Bench:
    """Find scale, edge offset and lens of a bench from pictures of gauges.

    Args:
        pins: pictures of gauge pins, each with its diameter; two clearly different ones tell most.
        stage_micrometer: pictures of rulings, each with the distance of neighbouring ones.
        grid: pictures of a chessboard or a grid of dots, each with the side of a square or the distance of the dots.
        pin_u95: expanded uncertainty (k = 2) of the pins; where it is not given one is assumed, and a warning says so.
        division_u95: the same of the distance between any two rulings.
        grid_u95: the same of the distance between any two points of a grid.
        light_cone: half cone of the backlight as seen from the part; or else
        light_patch: the diameter of the lit patch behind the part, and
        light_distance: how far it is behind it.
        working_distance: from the lens to the part; ``"telecentric"`` (or infinite) for a lens that has none.
        focus_locked: the focus was set before the first gauge and stays as it is; else U95 allows for 0.1 % of every
            length.
        lens_opening: numerical aperture of the lens at the part; of an f-number N and a magnification m it is
            m / (2 N (1 + m)).

    Returns:
        The bench. ``bench.save("bench.json")`` keeps it.

    Raises Refused for pictures that show no such gauge or contradict each other, ValueError for what is no length.
    """
    from calib.bench import calibrate_bench

    cone, u_cone = light_of(light_cone, light_patch, light_distance)
    distance = None
    if working_distance is not None:
        far = str(working_distance).strip().lower() in {"telecentric", "inf"}
        distance = math.inf if far else in_mm(working_distance, "working_distance")
    return bench_of(
        calibrate_bench(
            pins=_read(pins, "pin"),
            stage_micrometers=_read(stage_micrometer, "division"),
            grids=_read(grid, "pitch"),
            pin_u95_mm=None if pin_u95 is None else in_mm(pin_u95, "pin_u95"),
            division_u95_mm=None if division_u95 is None else in_mm(division_u95, "division_u95"),
            grid_u95_mm=None if grid_u95 is None else in_mm(grid_u95, "grid_u95"),
            light_cone_deg=cone,
            light_cone_u_deg=u_cone,
            working_distance_mm=distance,
            focus_locked=focus_locked,
            lens_opening=lens_opening,
            light_patch_mm=None if light_patch is None else in_mm(light_patch, "light_patch"),
            light_distance_mm=None if light_distance is None else in_mm(light_distance, "light_distance"),
        )
    )


def light_of(cone: Amount | None, patch: Amount | None, distance: Amount | None) -> tuple[float | None, float]:
    """Half cone of the light and its standard uncertainty, degrees; None where nobody said.

    Raises ValueError where it was said twice or by half.
    """
    if cone is not None:
        if patch is not None or distance is not None:
            raise ValueError("light_cone and light_patch say the same thing twice: give one of them")
        return in_degrees(cone, "light_cone"), 0.0
    if patch is None and distance is None:
        return None, 0.0
    if patch is None or distance is None:
        raise ValueError("light_patch and light_distance go together")
    from vision.model.grazing import half_cone

    found = half_cone(in_mm(patch, "light_patch"), in_mm(distance, "light_distance"))
    return found, PATCH_RELATIVE_U * found


def with_own_gauges(
    bench: Bench | None,
    picture: Picture,
    part: int | None,
    pin: tuple[float, float] | None,
    known: Mapping[str, float],
    known_u95_mm: float,
) -> tuple[Bench, int | None]:
    """The bench that gauges in the part's own picture make, with ``bench`` if there is one; and the part to measure.

    Args:
        bench: that of other gauges.
        picture: of the part.
        part: its number among several.
        pin: diameter and U95, mm, of a pin that lies beside the part.
        known: sizes of the part measured by hand, mm, by what they are of (``KNOWN``).
        known_u95_mm: of these.

    Raises Refused as ``calib.own_gauge`` does.
    """
    from calib.own_gauge import known_size, pin_beside

    found = None if bench is None else _calibration_of(bench.plane)
    if pin is not None:
        found, part = pin_beside(picture, *pin, found, part)
    for what, size in known.items():
        found = known_size(picture, what, size, known_u95_mm, found, part)
    assert found is not None
    if bench is None:
        return Bench(found, doubts=found.warnings), part
    more = found.warnings[len(bench.calibration.warnings) :]
    return Bench(found, bench.file, (*bench.doubts, *more)), part


def _calibration_of(plane: PlaneMap) -> Calibration | None:
    """``plane`` where gauges stand behind it; calib is loaded only if it is no scale given by hand."""
    from vision.shared.plane import FixedScale

    if isinstance(plane, FixedScale):
        return None
    from calib.calibration import Calibration

    return plane if isinstance(plane, Calibration) else None


def _read(given: Gauges, what: str) -> list[tuple[Picture, float]]:
    from vision.pictures.picture import read_picture

    each = [given] if isinstance(given, tuple) and len(given) == 2 and not isinstance(given[0], tuple) else given or ()
    return [(read_picture(path), in_mm(size, f"the {what} of {plain_name(path)}")) for path, size in each]
