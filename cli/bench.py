"""The bench that a command was given, and what it measures on it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from cli.errors import CommandLineError
from cli.lengths import parse_length

if TYPE_CHECKING:
    from cli.own_gauge import OwnGauges
    from flankwise.bench import Bench
    from flankwise.part import Part

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


def bench_of(calibration: str | None, um_per_px: float | None, *, focus_locked: bool = False) -> Bench | None:
    """The bench of the calibration file or of the scale given by hand, µm a pixel; None where neither was.

    Raises RefusalError for a calibration file that cannot be used.
    """
    from flankwise.bench import load_bench, scaled_by_hand

    if um_per_px is not None:
        return scaled_by_hand(um_per_px)
    bench = None if calibration is None else load_bench(calibration)
    return bench.with_focus_locked() if bench is not None and focus_locked else bench


def measured(
    picture: str, calibration: str | None, um_per_px: float | None, own: OwnGauges | None = None, **options: Any
) -> Part:
    """``flankwise.measure`` on the bench of the options, with the gauges in the picture. Raises RefusalError."""
    from flankwise.measuring import measure

    gauges = {} if own is None else own.options
    return measure(picture, bench_of(calibration, um_per_px), **gauges, **options)
