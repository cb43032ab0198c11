"""From edge points to the fitted thread: first guess, which roots and crests are tried, where the thread ends."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from vision.edges import EdgePoints
from vision.fit import Fit, Observed, Prior, fit_shadow, residuals
from vision.frame import Frame
from vision.plane import PlaneMap
from vision.refusal import RefusalError
from vision.shadow import COUNT, INDEX, ShadowParameters, full_radii
from vision.threaded import ThreadedLength

Array = npt.NDArray[np.float64]
Bool = npt.NDArray[np.bool_]

LEAST_EDGE_PX = 0.004
"""Scatter of edge points that is left without any noise: the grid, the eight bits."""
_TRIAL_THREADS = 4.0
_GOOD_PX = 0.006  # mean distance beyond the noise at which a first form is taken without trying the others
_BLUR_RELATIVE_U = 0.05
MOST_POINTS = 6000


@dataclass(frozen=True)
class Solution:
    """A fitted thread with the points behind it.

    Attributes:
        fit: the fit over ``used``.
        seen: the points of the fit.
        frame: part frame in the object plane, mm.
        start, end: threaded length along u that the fit covers, mm.
        rejected: fraction of the edge points inside the threaded length that are not the thread's.
        edge_blur: blur standard deviation measured on the flanks, mm.
        noise: scatter of edge points that the noise of the picture explains, mm.
        rejected_xy: (m, 2) positions in the picture, px, of the points inside the threaded length that were rejected.
    """

    fit: Fit
    seen: Observed
    frame: Frame
    start: float
    end: float
    rejected: float
    edge_blur: float
    noise: float
    rejected_xy: Array

    @property
    def parameters(self) -> ShadowParameters:
        """The fitted parameters by name."""
        return ShadowParameters(*(float(v) for v in self.fit.x))


def solve(
    edges: EdgePoints,
    undistorted: Array,
    thread: ThreadedLength,
    plane: PlaneMap,
    size: tuple[int, int],
    noise_px: float = 0.0,
) -> Solution:
    """Fit the thread.

    Args:
        edges: edge points of the part.
        undistorted: (n, 2) their positions with the lens distortion taken out, px.
        thread: where the thread is.
        plane: scale and edge offset.
        size: (width, height) of the picture in px.
        noise_px: scatter of edge points that the noise of the picture explains, px.

    Raises RefusalError: not_a_thread when the outline repeats but is no helical thread.
    """
    mm = plane.um_per_px / 1000
    frame = Frame((thread.frame.origin[0] * mm, thread.frame.origin[1] * mm), thread.frame.angle)
    uw = frame.to_frame((undistorted - plane.edge_offset_px * edges.normal) * mm)
    centre = frame.to_frame(np.array([[(size[0] - 1) / 2 * mm, (size[1] - 1) / 2 * mm]]))[0]
    middle = thread.offset * mm
    height = np.abs(uw[:, 1] - middle)
    depth = (thread.crest - thread.root) * mm
    near = (height > thread.root * mm - 0.6 * depth) & (height < thread.crest * mm + 0.6 * depth)
    everything = Observed(
        uw[:, 0], uw[:, 1], np.where(uw[:, 1] > middle, 1.0, -1.0), (float(centre[0]), float(centre[1])), mm
    )
    inside = near & (uw[:, 0] > thread.start * mm) & (uw[:, 0] < thread.end * mm)
    flank = inside & (np.abs(height - thread.pitch_radius * mm) < 0.25 * depth)
    if flank.sum() < 40:
        raise RefusalError("no_thread", "No thread in view: too few edge points on its flanks.")
    blur = float(np.median(edges.blur_px[flank])) * mm
    start, prior = _start(thread, blur, mm)
    sigma = max(noise_px, LEAST_EDGE_PX) * mm
    x = _best_form(start, everything.select(np.flatnonzero(inside)), prior, thread, mm, sigma)

    # coarse over the whole length, then to the end of what follows the thread, then fine
    first = fit_shadow(x, everything.select(_thin(inside, 1500)), prior, sigma=max(sigma, 0.04 * mm), steps=5, grid=1.0)
    begin, finish = _extent(first, everything, near, thread.start * mm, thread.end * mm)
    inside = near & (uw[:, 0] > begin) & (uw[:, 0] < finish)
    chosen = _thin(inside, MOST_POINTS)
    seen = everything.select(chosen)
    fit = fit_shadow(first.x, seen, prior, sigma=sigma, steps=15)
    stray = np.abs(fit.residual) > 5 * fit.scale
    return Solution(fit, seen, frame, begin, finish, float(stray.mean()), blur, sigma, edges.xy[chosen][stray])


def _start(thread: ThreadedLength, blur: float, mm: float) -> tuple[Array, Prior]:
    """First parameters and priors.

    The priors only steady what a picture may leave open; each is several times wider than any real thread or bench
    needs.
    """
    pitch = thread.pitch * mm
    x = ShadowParameters(
        offset=thread.offset * mm,
        rotation=0.0,
        phase=thread.phase * mm,
        pitch=pitch,
        tilt=0.0,
        nearness=0.0,
        taper=0.0,
        crest=thread.crest * mm,
        pitch_radius=thread.pitch_radius * mm,
        root=thread.root * mm,
        flank_right=float(np.arctan(1 / thread.slope_down)),
        flank_left=float(np.arctan(1 / thread.slope_up)),
        crest_corner=0.02 * pitch,
        root_corner=0.02 * pitch,
        blur=blur,
    ).to_array()
    mean = x.copy()
    sigma = np.full(COUNT, np.inf)
    for name, centre, width in (
        ("rotation", 0.0, 0.1),
        ("tilt", 0.0, 0.15),
        ("nearness", 0.0, 0.02),
        ("taper", 0.0, 0.02),
        ("crest_corner", 0.0, 0.15 * pitch),
        ("root_corner", 0.0, 0.15 * pitch),
        ("blur", blur, _BLUR_RELATIVE_U * blur),
    ):
        mean[INDEX[name]], sigma[INDEX[name]] = centre, width
    return x, Prior(mean, sigma)


def _best_form(start: Array, seen: Observed, prior: Prior, thread: ThreadedLength, mm: float, sigma: float) -> Array:
    """Try sharp and round crests and roots on a few threads in the middle; the best of them starts the whole fit.

    The corner radii are continuous parameters, but the way from sharp to round leads over a hill.
    """
    pitch = thread.pitch * mm
    half = min((thread.end - thread.start) * mm, _TRIAL_THREADS * pitch) / 2
    middle = (thread.start + thread.end) / 2 * mm
    few = seen.select(_thin(np.abs(seen.u - middle) < half, 700))
    tried: list[Fit] = []
    for crest_round, root_round in ((0.1, 0.1), (0.1, 0.9), (0.9, 0.9)):
        x = start.copy()
        if crest_round > 0.5:
            # a full round crest leaves no straight flank near it: what was read as crest height is that of the arc
            x[INDEX["flank_right"]] = x[INDEX["flank_left"]] = min(x[INDEX["flank_right"]], x[INDEX["flank_left"]])
        crest, root = full_radii(x)
        x[INDEX["crest_corner"]], x[INDEX["root_corner"]] = crest_round * crest, root_round * root
        tried.append(fit_shadow(x, few, prior, sigma=sigma, steps=8, fixed=("taper", "nearness")))
        good = float(np.mean(np.abs(tried[-1].residual))) < 1.2 * sigma + _GOOD_PX * mm
        if len(tried) == 2 and good:
            break
    scale = min(fit.scale for fit in tried)
    return min(tried, key=lambda fit: _misfit(fit, prior, scale)).x


def _misfit(fit: Fit, prior: Prior, scale: float) -> float:
    """Chi squared of the residuals, strays cut off at five sigma, and of the priors."""
    return float(
        np.sum(np.minimum((fit.residual / scale) ** 2, 25.0)) + np.sum(((fit.x - prior.mean) / prior.sigma) ** 2)
    )


def _thin(keep: Bool, most: int) -> npt.NDArray[np.intp]:
    """Indices of ``keep``, evenly thinned to at most ``most``."""
    index = np.flatnonzero(keep)
    if index.size <= most:
        return index
    return index[np.unique(np.linspace(0, index.size - 1, most).astype(int))]


def _extent(fit: Fit, points: Observed, near: Bool, start: float, end: float) -> tuple[float, float]:
    """How far along the axis the outline follows the fitted thread: half a pitch at a time, from the middle outward.

    Incomplete threads at a chamfer or a run-out, and shoulders, are left out.
    """
    pitch = fit.x[INDEX["pitch"]]
    from_u, to_u = start - 2 * pitch, end + 2 * pitch
    keep = near & (points.u > from_u) & (points.u < to_u)
    part = points.select(keep)
    r, _ = residuals(fit.x, part, gradient=False)
    good = np.abs(r) < max(5 * fit.scale, 0.15 * points.px_mm)
    cells = np.floor((part.u - from_u) / (pitch / 2)).astype(int)
    count = int(cells.max()) + 1
    ok = np.ones(count, dtype=bool)
    for sign in (1.0, -1.0):
        on = part.side == sign
        total = np.bincount(cells[on], minlength=count)
        fine = np.bincount(cells[on], weights=good[on], minlength=count)
        ok &= (total > 0.25 * pitch / points.px_mm) & (fine > 0.75 * total)
    middle = int(((start + end) / 2 - from_u) / (pitch / 2))
    # bridge single bad cells (dust) inside the length found before
    inner_from, inner_to = int((start - from_u) / (pitch / 2)) + 2, int((end - from_u) / (pitch / 2)) - 2
    ok[max(inner_from, 0) : max(inner_to + 1, 0)] = True
    lo = hi = min(max(middle, 0), count - 1)
    while lo - 1 >= 0 and ok[lo - 1]:
        lo -= 1
    while hi + 1 < count and ok[hi + 1]:
        hi += 1
    return from_u + lo * pitch / 2, from_u + (hi + 1) * pitch / 2
