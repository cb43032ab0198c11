"""The thread of a standard form, to be drawn: crest and root exactly as ``threads.rules.forms`` has them."""

from __future__ import annotations

from sample_images.scene import Thread
from threads.rules.forms import FORMS, addendum


def thread_of_form(
    name: str,
    major_mm: float,
    pitch_mm: float,
    *,
    below_mm: float = 0.0,
    off_deg: tuple[float, float] = (0.0, 0.0),
    hand: str = "right",
) -> Thread:
    """The basic thread of a form: flats sharp, roundings tangent to the flanks, the ridge half a pitch wide at E.

    Args:
        name: key of ``threads.rules.forms.FORMS``.
        major_mm: basic major diameter.
        pitch_mm: pitch.
        below_mm: by how much all three diameters are smaller than basic.
        off_deg: what the left and the right flank angle are off; crest and root lines stay where they are.
        hand: ``"right"`` or ``"left"``.

    A crest or root without a flat is drawn as one arc between the flanks, whose radius follows from the flanks if these
    are off; one with a flat and a rounding (UNR) has its corners rounded with the form's radius.
    """
    form = FORMS[name]
    major = major_mm - below_mm
    return Thread(
        major_mm=major,
        pitch_diameter_mm=major - 2 * addendum(form) * pitch_mm,
        minor_mm=major - 2 * form.basic_depth * pitch_mm,
        pitch_mm=pitch_mm,
        half_angle_left_deg=form.flank_angle_deg + off_deg[0],
        half_angle_right_deg=form.flank_angle_deg + off_deg[1],
        crest="radius" if form.crest_radius and not form.crest_flat else "flat",
        crest_corner_radius_mm=(form.crest_radius or 0.0) * pitch_mm if form.crest_flat else 0.0,
        root="radius" if form.root_radius and not form.root_flat else "flat",
        root_corner_radius_mm=(form.root_radius or 0.0) * pitch_mm if form.root_flat else 0.0,
        hand=hand,
    )
