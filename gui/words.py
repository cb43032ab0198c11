"""Words that several parts of the window use."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QT_TRANSLATE_NOOP, QCoreApplication

from calib.sample_calibration import is_sample
from threads.shared.formatting import format_quantity
from threads.shared.quantity import Quantity

if TYPE_CHECKING:
    from flankwise.bench import Bench

QUANTITIES = (
    QT_TRANSLATE_NOOP("quantity", "pitch"),
    QT_TRANSLATE_NOOP("quantity", "lead"),
    QT_TRANSLATE_NOOP("quantity", "threads per inch"),
    QT_TRANSLATE_NOOP("quantity", "major diameter"),
    QT_TRANSLATE_NOOP("quantity", "pitch diameter"),
    QT_TRANSLATE_NOOP("quantity", "minor diameter"),
    QT_TRANSLATE_NOOP("quantity", "virtual pitch diameter"),
    QT_TRANSLATE_NOOP("quantity", "included angle"),
    QT_TRANSLATE_NOOP("quantity", "flank angle, left"),
    QT_TRANSLATE_NOOP("quantity", "flank angle, right"),
    QT_TRANSLATE_NOOP("quantity", "crest width"),
    QT_TRANSLATE_NOOP("quantity", "root width"),
    QT_TRANSLATE_NOOP("quantity", "crest radius"),
    QT_TRANSLATE_NOOP("quantity", "root radius"),
    QT_TRANSLATE_NOOP("quantity", "taper"),
    QT_TRANSLATE_NOOP("quantity", "tilt of the axis"),
    QT_TRANSLATE_NOOP("quantity", "lead angle"),
)
"""Those of ``threads.shared.quantity_words``, listed for whoever translates."""


def quantity_word(words: str) -> str:
    """The words of ``threads.shared.quantity_words`` in the current language."""
    return QCoreApplication.translate("quantity", words)


def bench_words(bench: Bench | None) -> str:
    """Which bench is current, in one line."""
    if bench is None:
        return QCoreApplication.translate("bench", "no calibration: calibrate the bench, or open one")
    u = float(bench.plane.covariance[0, 0]) ** 0.5
    scale = format_quantity(Quantity(bench.plane.um_per_px, u, "um"))
    if not bench.plane.traceable:
        return QCoreApplication.translate("bench", "scale by hand {scale} a pixel, no gauge behind it").format(
            scale=scale
        )
    if is_sample(bench.plane):
        return QCoreApplication.translate("bench", "sample calibration, for the tour alone: {scale} a pixel").format(
            scale=scale
        )
    return QCoreApplication.translate("bench", "calibration {name}: {scale} a pixel").format(
        name=bench.plane.id, scale=scale
    )


def caution() -> str:
    """What stands wherever somebody might rely on an answer."""
    return QCoreApplication.translate(
        "caution",
        "Where a thread carries load, pressure or people, do not rely on this: have it checked with gauges by someone "
        "qualified, and keep to local codes.",
    )
