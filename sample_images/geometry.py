"""The shadow of the part: the true surface is projected and its outermost points are searched for numerically.

No closed formula of the helicoid's shadow is used. The surface point at (z, phi) of radius R(z, phi) is projected
(telecentric or pinhole, axis tilted); for each place u along the axis in the picture all phi on a grid are tried, z is
solved so that the point lands on u, and the best phi is narrowed down by golden section. End faces and steps are
projected as curves. So the renderer can be used to test a fit that does use closed formulas.

In the plane of the axis u runs along the picture of the axis toward the free end and v across it, from the centre of
the picture, both in mm; phi = 0 is the edge at +v. Seen toward the free end, phi turns clockwise (right-handed about
the axis), so a right-hand thread has R(z, phi) = section(z - lead phi / 2 pi).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import atan, ceil, cos, hypot, inf, isinf, pi, radians, sin, tan

import numpy as np
import numpy.typing as npt

from sample_images.imperfections import imperfect
from sample_images.scene import Cone, Scene, SecondThread
from sample_images.section import section_of
from sample_images.wear import worn_radius

Array = npt.NDArray[np.float64]
# Radius of a piece at (z, phi), both arrays of the same shape.
Radius = Callable[[Array, Array], Array]

_GOLDEN = (5**0.5 - 1) / 2
_TINY_MM = 1e-9  # beside a step, the node just before and the node just after it


@dataclass(frozen=True)
class View:
    """How the axis lies: tilt (radians); how far it passes from the centre, camera distance, z at the centre (mm).

    ``aside`` are the slopes (along u and v) at which the place of the lens that looks lies beside its middle.
    """

    tilt: float
    across: float
    distance: float
    z_centre: float
    aside: tuple[float, float] = (0.0, 0.0)

    def ray(self, u: Array, sin_phi: Array) -> tuple[Array, Array]:
        """(a, b): the point of radius r at angle phi that lands on ``u`` has z = a + b r."""
        q = u / self.distance - self.aside[0]
        s, c = sin(self.tilt), cos(self.tilt)
        scale = c + q * s
        return self.z_centre + u / scale, sin_phi * ((q * c - s) / scale)

    def project(self, z: Array, r: Array, phi: Array) -> tuple[Array, Array]:
        """(u, v) of surface points."""
        s, c = sin(self.tilt), cos(self.tilt)
        along = z - self.z_centre
        behind = r * np.sin(phi) * c - along * s
        enlarge = 1 / (1 + behind / self.distance)
        u, v = along * c + r * np.sin(phi) * s, r * np.cos(phi) + self.across
        return (u + self.aside[0] * behind) * enlarge, (v + self.aside[1] * behind) * enlarge


@dataclass(frozen=True)
class Piece:
    """A length of the part between two planes z = start and z = stop, with its radius function.

    ``reach`` is how far from the plane of the axis (radians) the outermost point of its surface can lie.
    """

    start: float
    stop: float
    radius: Radius
    largest: float
    reach: float


@dataclass(frozen=True)
class Outline:
    """The shadow's two edges as height functions, in mm: ``low`` <= v <= ``high`` at each ``u`` (equal shapes).

    ``steps`` are the u of end faces and shoulders, where the height jumps or bends hard.
    """

    u: Array
    high: Array
    low: Array
    steps: Array


def view_of(scene: Scene) -> View:
    """The view of a scene; z is 0 at the free end and negative in the part."""
    mm_per_px = scene.camera.um_per_px * 1e-3
    camera = scene.camera
    return View(radians(scene.tilt_deg), scene.offset_px * mm_per_px, camera.distance_mm, -scene.view_mm, camera.aside)


def pieces_of(scene: Scene, u_reach: float) -> list[Piece]:
    """The pieces of the part, from the free end back; the picture reaches ``u_reach`` mm from its centre."""
    pieces = []
    # A pinhole off the axis looks at each point like a tilted telecentric lens: part of how far phi can go.
    aside = scene.camera.aside
    oblique = abs(radians(scene.tilt_deg)) + u_reach / scene.camera.distance_mm + abs(aside[0])
    sideways = (0.0 if isinf(scene.camera.distance_mm) else u_reach / scene.camera.distance_mm) + abs(aside[1])
    start = 0.0
    if scene.thread:
        start = -scene.length_mm
        pieces.append(_thread_piece(scene, oblique, sideways))
    for step in scene.body:
        stop, start = start, start - step.length_mm
        r = step.diameter_mm / 2
        if isinstance(step, SecondThread):
            pieces.append(_second_thread_piece(step, start, oblique, sideways))
        elif isinstance(step, Cone):
            steep = abs(step.back_mm - step.front_mm) / 2 / step.length_mm
            # on a cone the outermost point turns from the plane of the axis by the slope times the obliquity
            reach = min(0.05 + 2 * sideways + 1.25 * atan(steep * tan(oblique)), pi / 2)
            pieces.append(Piece(start, stop, _linear(start, step.back_mm / 2, stop, step.front_mm / 2), r, reach))
        else:
            pieces.append(Piece(start, stop, _constant(r), r, 0.05 + 2 * sideways))
    return pieces


def _linear(start: float, r_start: float, stop: float, r_stop: float) -> Radius:
    def radius(z: Array, phi: Array) -> Array:
        r = r_start + (np.clip(z, start, stop) - start) * (r_stop - r_start) / (stop - start)
        return np.broadcast_to(r, np.broadcast_shapes(z.shape, phi.shape))

    return radius


def _second_thread_piece(step: SecondThread, far_end: float, oblique: float, sideways: float) -> Piece:
    """The thread at the far end, whose end face is at z = ``far_end``: its own free end points to -z."""
    section = section_of(step.thread)
    turn = step.thread.lead_mm / (2 * pi) * (1 if step.thread.hand == "right" else -1)
    shift = step.phase * step.thread.pitch_mm
    chamfer = tan(radians(step.chamfer_angle_deg))
    end = None if step.chamfer_end_mm is None else step.chamfer_end_mm / 2
    length, runout = step.length_mm, step.runout_mm

    def radius(z: Array, phi: Array) -> Array:
        # the first thread after half a turn in the picture: -z along, pi - phi about the axis; a helix keeps its hand
        inward = z - far_end
        r = section.radius(-inward - turn * (pi - phi) - shift)
        if runout:
            rise = (section.crest_radius - section.root_radius) / runout
            np.maximum(
                r, np.minimum(section.root_radius + (runout - length + inward) * rise, section.crest_radius), out=r
            )
        if end is not None:
            np.minimum(r, np.maximum(end + inward * chamfer, 0.0), out=r)
        return r

    steepest = max(section.steepest, chamfer if end is not None else 0.0)
    reach = atan((abs(turn) + section.crest_radius * tan(oblique)) * steepest / section.root_radius)
    return Piece(
        far_end, far_end + length, radius, section.crest_radius, min(1.25 * reach + 0.05 + 2 * sideways, pi / 2)
    )


def _constant(r: float) -> Radius:
    return lambda z, phi: np.full(np.broadcast_shapes(z.shape, phi.shape), r)


def _thread_piece(scene: Scene, oblique: float, sideways: float) -> Piece:
    thread = scene.thread
    assert thread is not None
    section = section_of(thread)
    turn = thread.lead_mm / (2 * pi) * (1 if thread.hand == "right" else -1)
    shift = scene.phase * thread.pitch_mm
    length, runout = scene.length_mm, scene.runout_mm
    growth = thread.taper_um_per_mm * 1e-3 / 2
    z_nominal = -diameters_at(scene)
    chamfer = tan(radians(scene.chamfer_angle_deg))
    end = None if scene.chamfer_end_mm is None else scene.chamfer_end_mm / 2

    worn = worn_radius(section, scene.wear) if scene.wear else None

    def radius(z: Array, phi: Array) -> Array:
        s = z - turn * phi - shift
        r = section.radius(s)
        if worn is not None:
            r = worn(s, np.broadcast_to(z, s.shape), r)
        if growth:
            r += growth * (z_nominal - z)
        if runout:
            rise = (section.crest_radius - section.root_radius) / runout
            np.maximum(r, np.minimum(section.root_radius + (runout - length - z) * rise, section.crest_radius), out=r)
        if end is not None:
            np.minimum(r, np.maximum(end - z * chamfer, 0.0), out=r)
        return r

    swept: Radius = imperfect(radius, scene.form_errors, -scene.view_mm) if scene.form_errors else radius
    largest = section.crest_radius + abs(growth) * length
    steepest = max(section.steepest, chamfer if end is not None else 0.0)
    reach = atan((abs(turn) + largest * tan(oblique)) * steepest / section.root_radius)
    return Piece(-length, 0.0, swept, largest, min(1.25 * reach + 0.05 + 2 * sideways, pi / 2))


def diameters_at(scene: Scene) -> float:
    """Distance from the free end, in mm, where the thread's diameters hold (it matters for a tapered one)."""
    if scene.taper_at_mm is not None:
        return scene.taper_at_mm
    half = axis_reach(scene)
    first, last = max(scene.view_mm - half, 0.0), min(scene.view_mm + half, scene.length_mm)
    return (first + last) / 2 if first < last else scene.length_mm / 2


def axis_reach(scene: Scene) -> float:
    """Half of the length of the axis, in mm, that lies in the picture."""
    camera = scene.camera
    c, s = abs(cos(radians(scene.rotation_deg))), abs(sin(radians(scene.rotation_deg)))
    limits = [camera.width / 2 / c if c > 1e-12 else inf, camera.height / 2 / s if s > 1e-12 else inf]
    return min(limits) * camera.um_per_px * 1e-3


def outline_of(scene: Scene, *, step_px: float = 0.1, angle_step: float = 0.016, margin_px: float = 16.0) -> Outline:
    """The shadow of ``scene`` without edge offset, blur or dirt.

    Args:
        scene: what to project.
        step_px: distance of the nodes along the axis, in pixels.
        angle_step: grid step of phi in radians, before the golden section.
        margin_px: how far beyond the picture's corners the outline goes on.

    Returns:
        The outline where the picture can see it. With the default steps the edge is true to 0.01 px: the tests
        halve the steps and compare, and compare with points spread over the surface.

    Raises:
        ValueError: the scene cannot exist or no part of it is in the picture.
    """
    scene.check()
    view = view_of(scene)
    camera = scene.camera
    if camera.aside != (0.0, 0.0):  # one of many places of a lens, whose mean is blurred besides
        step_px, angle_step = max(step_px, 0.3), max(angle_step, 0.02)
    mm_per_px = camera.um_per_px * 1e-3
    reach = (hypot(camera.width, camera.height) / 2 + margin_px) * mm_per_px
    pieces = pieces_of(scene, reach)
    rims = [_rim(view, piece, z) for piece in pieces for z in (piece.start, piece.stop)]
    ends = [(float(u.min()), float(u.max())) for u, _, _ in rims]
    first = max(min(low for low, _ in ends), -reach)
    last = min(max(high for _, high in ends), reach)
    if not first < last:
        raise ValueError("no part of the scene is in the picture: look at view_mm")
    grid = [np.linspace(first, last, max(2, ceil((last - first) / (step_px * mm_per_px)) + 1))]
    for (low, high), (rim_u, _, _) in zip(ends, rims, strict=True):
        grid.append(np.concatenate([[low - _TINY_MM, low, high, high + _TINY_MM], rim_u[::6]]))
    u = np.unique(np.concatenate(grid))
    u = u[(u >= first) & (u <= last)]
    edges = []
    for side in (1, -1):
        best = np.full(u.shape, -inf)
        for piece in pieces:
            best = np.maximum(best, _farthest(view, piece, u, side, angle_step))
        for rim in rims:
            best = np.maximum(best, _rim_height(rim, u, side))
        edges.append(side * best)
    known = np.isfinite(edges[0]) & np.isfinite(edges[1])
    steps = np.array([x for pair in ends for x in pair if first <= x <= last])
    return Outline(u[known], edges[0][known], edges[1][known], np.unique(steps))


def _farthest(view: View, piece: Piece, u: Array, side: int, angle_step: float) -> Array:
    """Largest v (side +1) or -v (side -1) of the piece's surface at each ``u``; -inf where it has none."""
    # A step of the piece can show within the radius times the tilt of where the axis shows it.
    near, _ = view.project(np.array([piece.start, piece.stop]), np.zeros(2), np.zeros(2))
    slack = (
        piece.largest * (abs(sin(view.tilt)) + float(np.abs(near).max()) / view.distance + abs(view.aside[0])) + 1e-6
    )
    wanted = np.flatnonzero((u >= near[0] - slack) & (u <= near[1] + slack))
    best = np.full(u.shape, -inf)
    middle = 0.0 if side > 0 else pi
    count = 2 * ceil(piece.reach / angle_step) + 1
    grid = middle + np.linspace(-piece.reach, piece.reach, count)
    spacing = float(grid[1] - grid[0])
    for chunk in np.array_split(wanted, max(1, len(wanted) * count // 50_000)):  # stays in the processor's cache
        pick = _height(view, piece, u[chunk, None], grid[None, :], side, 1e-5).argmax(axis=1)
        best[chunk] = _narrow(view, piece, u[chunk], grid[pick], spacing, side)
    return best


def _narrow(view: View, piece: Piece, u: Array, phi: Array, spacing: float, side: int) -> Array:
    """Largest height within one grid step on both sides of ``phi``, by golden section."""
    low, high = phi - spacing, phi + spacing
    a, b = high - _GOLDEN * (high - low), low + _GOLDEN * (high - low)
    at_a, at_b = _height(view, piece, u, a, side), _height(view, piece, u, b, side)
    best = np.maximum(np.maximum(at_a, at_b), _height(view, piece, u, phi, side))
    for _ in range(14):
        left = at_a > at_b
        low, high = np.where(left, low, a), np.where(left, b, high)
        new = np.where(left, high - _GOLDEN * (high - low), low + _GOLDEN * (high - low))
        at_new = _height(view, piece, u, new, side)
        a, b, at_a, at_b = (
            np.where(left, new, b),
            np.where(left, a, new),
            np.where(left, at_new, at_b),
            np.where(left, at_a, at_new),
        )
        np.maximum(best, at_new, out=best)
    return best


def _height(view: View, piece: Piece, u: Array, phi: Array, side: int, tolerance: float = 1e-7) -> Array:
    """Height, side * v, of the surface point at angle ``phi`` that lands on ``u``; -inf where the piece does not reach.

    ``tolerance`` (mm) is how well z is solved where the view is oblique.
    """
    sin_phi = np.sin(phi)
    a, b = view.ray(u, sin_phi)
    if view.tilt == 0 and isinf(view.distance) and view.aside == (0.0, 0.0):
        z = a
        r = piece.radius(z, phi)
        v = r * np.cos(phi) + view.across
    else:
        # z depends on r and r on z: the repetition shrinks the error by |dr/dz sin(phi) tilt|, far below 1 here.
        z = a + b * piece.largest
        for _ in range(12):
            r = piece.radius(z, phi)
            again = a + b * r
            change = float(np.abs(again - z).max(initial=0.0))
            z = again
            if change < tolerance:
                break
        _, v = view.project(z, r, phi)
    inside = (z >= piece.start - _TINY_MM / 2) & (z <= piece.stop + _TINY_MM / 2)
    return np.where(inside, side * v, -inf)


def _rim(view: View, piece: Piece, z: float) -> tuple[Array, Array, Array]:
    """The edge of the piece's end face at ``z``, projected: u, v and phi of points right round."""
    phi = np.linspace(-pi / 2, 3 * pi / 2, 2881)
    at = np.full(phi.shape, z)
    u, v = view.project(at, piece.radius(at, phi), phi)
    return u, v, phi


def _rim_height(rim: tuple[Array, Array, Array], u: Array, side: int) -> Array:
    """Largest side * v of an end face's edge at each ``u``; -inf where the face does not show."""
    rim_u, rim_v, phi = rim
    half = (phi <= pi / 2 + 1e-9) if side > 0 else (phi >= pi / 2 - 1e-9)
    x, y = rim_u[half], side * rim_v[half]
    best = np.full(u.shape, -inf)
    if np.ptp(x) < _TINY_MM:
        return best  # seen edge-on: the pieces on its two sides say it all
    turns = np.flatnonzero(np.diff(np.sign(np.diff(x))) != 0) + 1
    for run_x, run_y in zip(np.split(x, turns), np.split(y, turns), strict=True):
        if len(run_x) < 2:
            continue
        order = np.argsort(run_x)
        best = np.maximum(best, np.interp(u, run_x[order], run_y[order], left=-inf, right=-inf))
    return best
