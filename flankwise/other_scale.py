"""Whether a thread that fits nothing would fit if the picture had another scale: the bench may be the wrong one."""

from __future__ import annotations

from typing import TYPE_CHECKING

from threads.shared.refusal import Reason

if TYPE_CHECKING:
    from flankwise.part import Part

ROUND_FACTORS = (2.0, 0.5, 4.0, 0.25, 10.0, 0.1, 25.4, 1 / 25.4)
"""What a picture made smaller or larger, a slip of the decimal point, or inches for millimetres do to the scale."""
SAME_SCALE = 0.002
"""Relative: a bench whose scale is nearer than this explains nothing."""
MOST_BENCHES = 20
"""So many of the latest benches of the history are tried."""


def other_scale(part: Part) -> tuple[Reason, ...]:
    """Another bench of the history, or a round factor, by which the part would be a known thread; none: no reason.

    A hint and no proof: among some thousand threads one may fit by chance.
    """
    from calib.history import history
    from threads.identify.identification import IDENTIFIED, identify
    from threads.measured.rescaled import rescaled

    scale = part.measurement.plane.um_per_px
    tried: list[float] = []
    for entry in list(reversed(history()))[:MOST_BENCHES]:
        factor = entry.um_per_px / scale
        if abs(factor - 1) < SAME_SCALE or any(abs(factor / known - 1) < SAME_SCALE for known in tried):
            continue
        tried.append(factor)
        found = identify(rescaled(part.thread, factor))
        if found.status == IDENTIFIED:
            return (
                Reason("bench_doubt.other_bench", file=entry.file, day=entry.when[:10], name=found.threads[0].name),
            )
    for factor in ROUND_FACTORS:
        found = identify(rescaled(part.thread, factor))
        if found.status == IDENTIFIED:
            return (Reason("bench_doubt.factor", factor=f"{factor:.3g}", name=found.threads[0].name),)
    return ()
