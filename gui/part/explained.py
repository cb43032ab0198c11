"""What each number of a thread is, where it comes from, and when to doubt it: shown as its tip."""

from __future__ import annotations

from PySide6.QtCore import QT_TRANSLATE_NOOP, QCoreApplication

SAYS = {
    "pitch": QT_TRANSLATE_NOOP(
        "explained",
        "Distance from one ridge to the next, along the axis. From all ridges in view, on both edges. "
        "Doubt it where few threads are in view, or where the scale is by hand.",
    ),
    "lead": QT_TRANSLATE_NOOP(
        "explained",
        "What one turn moves a nut: the pitch times the starts. Doubt it where the starts were not counted.",
    ),
    "threads_per_inch": QT_TRANSLATE_NOOP("explained", "25.4 mm over the pitch. Doubt it where you doubt the pitch."),
    "major_diameter": QT_TRANSLATE_NOOP(
        "explained",
        "Over the crests. From the crests of both edges. Doubt it where crests are worn or burred, or the edges soft.",
    ),
    "pitch_diameter": QT_TRANSLATE_NOOP(
        "explained",
        "Where ridge and groove are equally wide: what decides the fit. From the flanks of both edges, corrected for "
        "edge offset and helix. Doubt it where dirt lies on a flank, or no gauge stands behind the scale.",
    ),
    "minor_diameter": QT_TRANSLATE_NOOP(
        "explained",
        "Over the roots. From the roots of both edges. Doubt it where dirt or the helix hides the root.",
    ),
    "virtual_pitch_diameter": QT_TRANSLATE_NOOP(
        "explained",
        "The pitch diameter, and what errors of pitch and angles add to it: what a nut feels. Doubt it where you doubt "
        "one of these.",
    ),
    "included_angle": QT_TRANSLATE_NOOP(
        "explained",
        "Between the two flanks of a ridge. From straight lines along all flanks. Doubt it where flanks are worn or "
        "few pixels long.",
    ),
    "flank_angle_left": QT_TRANSLATE_NOOP(
        "explained",
        "Between the left flank and a line across the axis. From all left flanks. Doubt it where the light comes from "
        "one side.",
    ),
    "flank_angle_right": QT_TRANSLATE_NOOP(
        "explained",
        "Between the right flank and a line across the axis. From all right flanks. Doubt it where the light comes "
        "from one side.",
    ),
    "crest_width": QT_TRANSLATE_NOOP(
        "explained", "Of the flat on a ridge. From the crests of both edges. Doubt it where crests are worn or round."
    ),
    "root_width": QT_TRANSLATE_NOOP(
        "explained", "Of the flat in a groove. From the roots of both edges. Doubt it where dirt lies in the grooves."
    ),
    "crest_radius": QT_TRANSLATE_NOOP(
        "explained", "Of a rounded crest. From the crests of both edges. Doubt it where blur rounds them as well."
    ),
    "root_radius": QT_TRANSLATE_NOOP(
        "explained", "Of a rounded root. From the roots of both edges. Doubt it where blur rounds them as well."
    ),
    "taper": QT_TRANSLATE_NOOP(
        "explained",
        "How much the pitch diameter changes along the axis. From the ridges one by one. Doubt it where few are in "
        "view.",
    ),
    "axis_tilt": QT_TRANSLATE_NOOP(
        "explained", "How far the part lies turned in the picture. It is taken out of all other numbers."
    ),
    "lead_angle": QT_TRANSLATE_NOOP(
        "explained", "Of the helix at the pitch diameter: from the lead and the pitch diameter. Doubt it as these."
    ),
}


def explained(quantity: str) -> str:
    """The tip of that quantity; "" of one that nobody explained."""
    said = QCoreApplication.translate("explained", str(SAYS[quantity])) if quantity in SAYS else ""
    u95 = QCoreApplication.translate("explained", "± is U95: in 95 of 100 cases the true value lies within it.")
    return f"{said} {u95}" if said else ""
