"""The textbook pipeline: what a reader of an image-processing book would build in an afternoon, for comparison.

One global threshold (Otsu), the outline by marching squares, rotation by principal axes and then by the crests, a
straight line through each flank, crest and root as the mean height in the middle of ridge and groove. The scale comes
from two gauge pins read in the same way, so that the bias of the threshold is taken out. It works carefully, but it
takes the shadow for the axial section (no helix correction), the picture for sharp (no blur) and the light for even.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import atan, cos, degrees, hypot, sin

import numpy as np
import numpy.typing as npt
from skimage.filters import gaussian, threshold_otsu
from skimage.measure import find_contours, label, regionprops

Array = npt.NDArray[np.float64]

_MIDDLE = 0.025  # of a pitch, to each side: where the height of crest and root is taken
_FLANK = 0.25  # of the depth, to each side of half depth: where a flank is taken as straight


@dataclass(frozen=True)
class TextbookThread:
    """What the pipeline reads, in mm and degrees.

    ``axis_deg`` is the direction along the axis from which "left" and "right" are told (left flank first, right flank
    farther along), from x toward y, always within 90 degrees of x: the pipeline does not look for the free end.
    """

    pitch_diameter: float
    major_diameter: float
    minor_diameter: float
    pitch: float
    flank_angle_left: float
    flank_angle_right: float
    crest_width: float
    root_width: float
    axis_deg: float
    ridges: int


@dataclass(frozen=True)
class _Side:
    """One edge of the shadow: each ridge's lines u = c + m h, rising (left) and falling (right) flank, px."""

    number: npt.NDArray[np.int64]
    left: Array  # (n, 2) c and m
    right: Array
    crests: Array  # (n, 2) u and height
    roots: Array


def read_thread(light: npt.NDArray[np.float32], um_per_px: float, edge_offset_px: float = 0.0) -> TextbookThread:
    """Measure the thread in a picture.

    Args:
        light: (height, width) linear light.
        um_per_px: the scale.
        edge_offset_px: how far this pipeline sees edges outside of where they are.

    Raises:
        ValueError: no regular row of ridges was found on both edges.
    """
    points, angle = _outline(light)
    u, upper, lower = _edges(points, angle)
    for _ in range(3):
        inner = slice(len(u) // 10, len(u) - len(u) // 10)
        angle -= atan(np.polyfit(u[inner], (upper + lower)[inner] / 2, 1)[0])
        u, upper, lower = _edges(points, angle)
    for _ in range(2):
        middle = float(np.median(upper + lower)) / 2
        sides = [_read_side(u, upper - middle), _read_side(u, middle - lower)]
        slopes = [np.polyfit(side.crests[:, 0], side.crests[:, 1], 1)[0] for side in sides]
        angle -= atan((slopes[0] - slopes[1]) / 2)
        u, upper, lower = _edges(points, angle)
    middle = float(np.median(upper + lower)) / 2
    sides = [_read_side(u, upper - middle), _read_side(u, middle - lower)]
    return _thread(sides, um_per_px, edge_offset_px, degrees(angle))


def pin_diameter_px(light: npt.NDArray[np.float32]) -> float:
    """Diameter of a plain pin in pixels: the distance of the two straight lines through its edges."""
    points, angle = _outline(light)
    u, upper, lower = _edges(points, angle)
    for _ in range(3):
        angle -= atan(np.polyfit(u, (upper + lower) / 2, 1)[0])
        u, upper, lower = _edges(points, angle)
    return float(np.mean(upper - lower))


def scale_from_pins(diameters_px: Sequence[float], diameters_mm: Sequence[float]) -> tuple[float, float]:
    """Micrometres a pixel and edge offset in pixels, by the straight line through two or more pins."""
    slope, constant = np.polyfit(np.asarray(diameters_mm) * 1e3, diameters_px, 1)
    return float(1 / slope), float(constant / 2)


def _outline(light: npt.NDArray[np.float32]) -> tuple[Array, float]:
    """(n, 2) outline points x, y and the direction of the part's long axis, within 90 degrees of x (radians)."""
    smooth = gaussian(light, 1.0)
    level = float(threshold_otsu(smooth))
    dark = smooth < level
    border = np.concatenate([dark[0], dark[-1], dark[:, 0], dark[:, -1]])
    part = ~dark if border.mean() > 0.5 else dark
    largest = max(regionprops(label(part)), key=lambda region: region.area)
    contours = find_contours(smooth, level)
    longest = max(len(contour) for contour in contours)
    points = np.concatenate([contour for contour in contours if len(contour) > longest / 4])[:, ::-1]
    # regionprops gives the angle between the rows' direction and the long axis of the moments (principal axes).
    angle = np.pi / 2 - largest.orientation
    return points, float((angle + np.pi / 2) % np.pi - np.pi / 2)


def _edges(points: Array, angle: float) -> tuple[Array, Array, Array]:
    """Heights of upper and lower edge over the axis, one node a pixel, where both are in view; heights grow upward."""
    c, s = cos(angle), sin(angle)
    along, across = points[:, 0] * c + points[:, 1] * s, points[:, 0] * s - points[:, 1] * c
    middle = (np.quantile(across, 0.02) + np.quantile(across, 0.98)) / 2
    found = []
    for own in (across > middle, across <= middle):
        if np.count_nonzero(own) < 100:
            raise ValueError("the part does not have two edges in view")
        cell = np.floor(along[own]).astype(np.int64)
        first = int(cell.min())
        count = np.bincount(cell - first)
        with np.errstate(invalid="ignore"):
            mean_u = np.bincount(cell - first, along[own]) / count
            mean_v = np.bincount(cell - first, across[own]) / count
        found.append((mean_u[count > 0], mean_v[count > 0]))
    start = max(u[0] for u, _ in found)
    stop = min(u[-1] for u, _ in found)
    nodes = np.arange(np.ceil(start), stop)
    if len(nodes) < 50:
        raise ValueError("the two edges are not in view side by side")
    return nodes, np.interp(nodes, *found[0]), np.interp(nodes, *found[1])


def _read_side(u: Array, height: Array) -> _Side:
    """Ridges of one edge: the longest regular row of crossings of half depth, its two ends left out."""
    level = (np.quantile(height, 0.1) + np.quantile(height, 0.9)) / 2
    row = _regular_row(u, height, level)
    # Shank and chamfer no longer count: half depth is that of the row itself.
    between = (u >= row[0]) & (u <= row[-1])
    top, bottom = np.quantile(height[between], 0.95), np.quantile(height[between], 0.05)
    level = (top + bottom) / 2
    row = _regular_row(u, height, level)
    pitch = float(np.median(np.diff(row)))
    on_flank = np.abs(height - level) < _FLANK * (top - bottom)
    left, right, crests, roots, numbers = [], [], [], [], []
    for number, start in enumerate(row[1:-1]):  # where the ridge's left flank has just passed half depth
        inside = (u >= start) & (u <= start + pitch)
        falls = np.flatnonzero(inside & (height < level))
        if not len(falls):
            continue
        fall = u[falls[0]]
        lines = []
        for at in (start, fall):
            near = on_flank & (np.abs(u - at) < pitch / 4)
            if np.count_nonzero(near) < 4:
                break
            slope, constant = np.polyfit(height[near], u[near], 1)
            lines.append((constant, slope))
        ridge, groove = (start + fall) / 2, (start + fall - pitch) / 2
        crest, root = np.abs(u - ridge) <= _MIDDLE * pitch + 1, np.abs(u - groove) <= _MIDDLE * pitch + 1
        if len(lines) < 2 or not crest.any() or not root.any():
            continue
        left.append(lines[0])
        right.append(lines[1])
        crests.append((ridge, height[crest].mean()))
        roots.append((groove, height[root].mean()))
        numbers.append(number)
    if len(numbers) < 3:
        raise ValueError("fewer than three whole ridges")
    return _Side(np.array(numbers), np.array(left), np.array(right), np.array(crests), np.array(roots))


def _regular_row(u: Array, height: Array, level: float) -> Array:
    """The places where the edge has just risen above ``level``: the longest row of them with even gaps."""
    rise = u[np.flatnonzero((height[:-1] <= level) & (height[1:] > level)) + 1]
    if len(rise) < 5:
        raise ValueError("fewer than five ridges")
    gaps = np.diff(rise)
    regular = np.abs(gaps - np.median(gaps)) < 0.15 * np.median(gaps)
    turns = np.flatnonzero(np.diff(np.concatenate([[False], regular, [False]]).astype(int)))
    if not len(turns):
        raise ValueError("the ridges do not stand in a regular row")
    first, stop = max(zip(turns[::2], turns[1::2], strict=True), key=lambda run: int(run[1] - run[0]))
    return np.asarray(rise[first : stop + 1])


def _thread(sides: list[_Side], um_per_px: float, offset: float, axis_deg: float) -> TextbookThread:
    """The numbers from the lines of both sides; medians over the ridges, since one may be damaged or half in view."""
    # Flank angles against the normal of the axis; the lower edge has the same left and right.
    run_left = float(np.mean([np.median(side.left[:, 1]) for side in sides]))
    run_right = float(np.mean([np.median(-side.right[:, 1]) for side in sides]))
    left, right = atan(run_left), atan(run_right)
    slopes = []
    for side in sides:
        for lines, crest in ((side.left, side.crests), (side.right, side.crests)):
            at = lines[:, 0] + lines[:, 1] * crest[:, 1].mean() / 2
            slopes.append(np.polyfit(side.number, at, 1)[0])
    pitch = float(np.mean(slopes))
    narrower = offset * (hypot(1, run_left) + hypot(1, run_right))  # an edge offset widens each ridge by so much
    pitch_radii, crest_radii, root_radii = [], [], []
    for side in sides:
        # The ridge is half a pitch wide at the height where constant + slope * height = pitch / 2.
        constant = float(np.median(side.right[:, 0] - side.left[:, 0])) - narrower
        pitch_radii.append((constant - pitch / 2) / (run_left + run_right))
        crest_radii.append(float(np.median(side.crests[:, 1])) - offset)
        root_radii.append(float(np.median(side.roots[:, 1])) - offset)
    pitch_diameter, major, minor = sum(pitch_radii), sum(crest_radii), sum(root_radii)
    mm = um_per_px * 1e-3
    run = (run_left + run_right) / 2
    return TextbookThread(
        pitch_diameter=pitch_diameter * mm,
        major_diameter=major * mm,
        minor_diameter=minor * mm,
        pitch=pitch * mm,
        flank_angle_left=degrees(left),
        flank_angle_right=degrees(right),
        crest_width=(pitch / 2 - (major - pitch_diameter) * run) * mm,
        root_width=(pitch / 2 - (pitch_diameter - minor) * run) * mm,
        axis_deg=axis_deg,
        ridges=min(len(side.number) for side in sides),
    )
