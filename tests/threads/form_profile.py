"""The basic external profile of a form, point by point, from its flats, roundings and flank angle."""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt

from threads.rules.forms import Form, addendum


def axial_profile(form: Form, major_mm: float, pitch_mm: float, points: int = 400) -> npt.NDArray[np.float64]:
    """The basic external profile in the axial section, over one pitch.

    Args:
        form: one of ``FORMS``.
        major_mm: major diameter, mm.
        pitch_mm: pitch, mm.
        points: number of evenly spaced points; the corners of the profile are added to them.

    Returns:
        (n, 2) array of (z, r) in mm, z ascending from -p/2 to +p/2, the middle of the ridge at z = 0, n >= ``points``.
    """
    # Rounded and mirrored, so that a corner that coincides with an even point is not counted twice on one side.
    half = np.unique(np.round(np.abs([*np.linspace(-0.5, 0.5, points), *_corners(form)]), 12))
    z = np.unique(np.concatenate([-half, half]))
    return np.column_stack([z * pitch_mm, major_mm / 2 - depth_at(form, z) * pitch_mm])


def depth_at(form: Form, z: npt.ArrayLike) -> npt.NDArray[np.float64]:
    """Depth below the crest at axial distance ``z`` from the middle of a ridge, both in multiples of the pitch.

    The profile is: crest flat, crest rounding (tangent to flat and flank), straight flank, root rounding, root flat.
    """
    u = np.abs(np.mod(np.asarray(z, dtype=np.float64) + 0.5, 1.0) - 0.5)
    crest_centre, crest_end, root_start, root_centre = _corners(form)
    crest_radius, root_radius = form.crest_radius or 0.0, form.root_radius or 0.0
    slope = 1 / math.tan(math.radians(form.flank_angle_deg))
    depth = addendum(form) + (u - 0.25) * slope
    on_crest, on_root = u < crest_end, u > root_start
    crest_u = np.clip(u - crest_centre, 0.0, crest_radius)
    root_u = np.clip(root_centre - u, 0.0, root_radius)
    depth = np.where(on_crest, crest_radius - np.sqrt(crest_radius**2 - crest_u**2), depth)
    return np.where(on_root, form.basic_depth - root_radius + np.sqrt(root_radius**2 - root_u**2), depth)


def _corners(form: Form) -> tuple[float, float, float, float]:
    """Ends of crest flat, crest rounding, flank and root rounding: distance from the ridge's middle over the pitch."""
    cos = math.cos(math.radians(form.flank_angle_deg))
    crest, root = form.crest_radius or 0.0, form.root_radius or 0.0
    crest_centre = form.crest_flat / 2
    root_centre = 0.5 - form.root_flat / 2
    return crest_centre, crest_centre + crest * cos, root_centre - root * cos, root_centre
