"""What a person calls the measured quantities, in the order in which they are shown."""

from __future__ import annotations

QUANTITIES = (
    ("pitch", "pitch"),
    ("lead", "lead"),
    ("threads_per_inch", "threads per inch"),
    ("major_diameter", "major diameter"),
    ("pitch_diameter", "pitch diameter"),
    ("minor_diameter", "minor diameter"),
    ("virtual_pitch_diameter", "virtual pitch diameter"),
    ("included_angle", "included angle"),
    ("flank_angle_left", "flank angle, left"),
    ("flank_angle_right", "flank angle, right"),
    ("crest_width", "crest width"),
    ("root_width", "root width"),
    ("crest_radius", "crest radius"),
    ("root_radius", "root radius"),
    ("taper", "taper"),
    ("axis_tilt", "tilt of the axis"),
    ("lead_angle", "lead angle"),
)
"""What is shown, in this order: field of MeasuredThread, words."""


def worded(*names: str) -> tuple[tuple[str, str], ...]:
    """These fields, each with its words, in the order given."""
    words = dict(QUANTITIES)
    return tuple((name, words[name]) for name in names)


OF_SECTIONS = (
    ("taper", "taper"),
    ("straightness", "straight within"),
    ("cone_angle", "cone"),
    ("chamfer_angle", "chamfer"),
    ("chamfer_length", "chamfer length"),
    ("slot_width", "slot width"),
    ("slot_depth", "slot depth"),
)
"""What a section of a part may have beside its length and diameter: field of ``vision.part.sections.Section``,
words."""
