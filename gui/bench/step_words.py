"""The steps of setting up a bench in words: their names, and what is to be done."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication

from gui.bench.laying import ALIGNMENT, CHECK, DISTANCE, FOCUS, LIGHT, MASK, PINS


def names() -> dict[str, str]:
    """What each step is called."""
    return {
        LIGHT: QCoreApplication.translate("BenchSteps", "Light"),
        FOCUS: QCoreApplication.translate("BenchSteps", "Focus"),
        ALIGNMENT: QCoreApplication.translate("BenchSteps", "Alignment"),
        DISTANCE: QCoreApplication.translate("BenchSteps", "Distance"),
        MASK: QCoreApplication.translate("BenchSteps", "Mask"),
        PINS: QCoreApplication.translate("BenchSteps", "Pins"),
        CHECK: QCoreApplication.translate("BenchSteps", "Check"),
    }


def tasks() -> dict[str, str]:
    """What is to be done in each step."""
    return {
        LIGHT: QCoreApplication.translate(
            "BenchSteps",
            "Lay one pin in the V-block. Switch the light pad behind it on and every lamp beside it off: they make "
            "edges shine.",
        ),
        FOCUS: QCoreApplication.translate(
            "BenchSteps",
            "Move the lens until the outline of the pin is sharp. Then lock the focus, if the camera lets you.",
        ),
        ALIGNMENT: QCoreApplication.translate(
            "BenchSteps",
            "The pin lies along the picture, with light on both sides. Turn camera or block until it is straight.",
        ),
        DISTANCE: QCoreApplication.translate(
            "BenchSteps",
            "How far is the front of the lens from the pin? A telecentric lens has no distance: it shows near and "
            "far alike.",
        ),
        MASK: QCoreApplication.translate(
            "BenchSteps",
            "Mask the pad to a small patch in the middle of the view, far behind the part. Say how wide it is and "
            "how far away: what the edges mirror of it is then put right.",
        ),
        PINS: QCoreApplication.translate(
            "BenchSteps",
            "Two pins of clearly different diameter tell the scale and the edge offset apart. All in the plane in "
            "which the parts' axes will lie, nothing moved between.",
        ),
        CHECK: QCoreApplication.translate(
            "BenchSteps", "A third pin, if you have one, shows whether the calibration is right."
        ),
    }
