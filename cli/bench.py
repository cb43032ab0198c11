"""The picture and the mapping to the object plane that a command was given."""

from __future__ import annotations

from typing import TYPE_CHECKING

from cli.errors import CommandLineError
from cli.lengths import parse_length

if TYPE_CHECKING:
    from cli.hand import Seen
    from cli.own_gauge import OwnGauges
    from threads.shared.refusal import Reason
    from vision.pictures.picture import Picture
    from vision.result.measurement import Measurement
    from vision.shared.plane import PlaneMap

CREDIBLE_UM_PER_PX = (0.02, 500.0)
"""Finer than light resolves, coarser than any thread allows: a slip of the pen."""


def scale_of(calibration: str | None, scale: str | None, own: OwnGauges | None = None) -> float | None:
    """The scale given by hand in µm a pixel, None where a calibration file or a gauge in the picture was named instead.

    Raises CommandLineError where neither or both were given, or the scale is not a length or not credible.
    """
    if own is not None and own.given:
        if scale is not None:
            raise CommandLineError(
                "--scale has no uncertainty to be weighed: leave it out beside --pin-beside and --known"
            )
        return None
    if calibration is not None and scale is not None:
        raise CommandLineError("--calibration and --scale say the same thing twice: give one of them")
    if scale is not None:
        um_per_px = 1000 * parse_length(scale.strip().removesuffix("/px"), "--scale")
        finest, coarsest = CREDIBLE_UM_PER_PX
        if not finest <= um_per_px <= coarsest:
            raise CommandLineError(
                f"--scale {scale!r} cannot be the length of a pixel: from {finest:g}um to {coarsest:g}um is credible"
            )
        return um_per_px
    if calibration is None:
        pin = "" if own is None else "; or lay a pin beside the part and give --pin-beside DIAMETER"
        raise CommandLineError(
            "how large is a pixel? Give --calibration CAL.json, made with 'flankwise calibrate' from pictures of gauge "
            f"pins, or --scale with the length of a pixel, such as 4.00um{pin}"
        )
    return None


def measured(
    picture_path: str,
    calibration: str | None,
    um_per_px: float | None,
    part: int | None,
    own: OwnGauges | None = None,
    number: int | None = None,
    seen: Seen | None = None,
) -> Measurement:
    """Read the picture, load the calibration unless a scale in µm a pixel is given, and measure the thread.

    ``number`` says which thread, where the part has several, ``seen`` what is known of its hand and starts.

    Raises RefusalError for a picture or calibration file that cannot be used.
    """
    from vision.pictures.picture import read_picture
    from vision.result.measure import measure_picture

    picture = read_picture(picture_path)
    plane = plane_of(picture, calibration, um_per_px) if calibration or um_per_px else None
    doubts: tuple[Reason, ...] = ()
    if own is not None and own.given:
        from calib.calibration import Calibration
        from cli.own_gauge import calibrated_by

        plane, part = calibrated_by(own, picture, plane if isinstance(plane, Calibration) else None, part)
        doubts = plane.warnings if calibration is None else ()
    if calibration is not None:
        from calib.remarks import camera_remarks

        doubts = (*doubts, *camera_remarks(plane, picture.path))
    if plane is None:
        raise CommandLineError("how large is a pixel? Give --calibration CAL.json or --scale LENGTH")
    hand, starts = (None, None) if seen is None else (seen.hand, seen.starts)
    found = measure_picture(picture, plane, part=part, number=number, hand=hand, starts=starts)
    if seen is not None:
        doubts = (*doubts, *seen.warnings)
    return found.with_warnings(doubts)


def plane_of(picture: Picture, calibration: str | None, um_per_px: float | None) -> PlaneMap:
    """What maps pixels to the plane of the part: the scale given by hand, or the calibration file.

    Raises RefusalError for a calibration that cannot be used with ``picture``.
    """
    if um_per_px is not None or calibration is None:
        from vision.shared.plane import FixedScale

        return FixedScale(um_per_px=um_per_px if um_per_px is not None else 0.0)
    from calib.file import load_calibration

    return load_calibration(calibration, picture=picture)
