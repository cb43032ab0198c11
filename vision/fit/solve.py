"""From edge points to the fitted thread: first guess, which roots and crests are tried, where the thread ends."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

import numpy as np
import numpy.typing as npt

from threads.shared.refusal import RefusalError
from vision.fit.corner_forms import SMALL_BLURS, choose_forms
from vision.fit.extent import exact_ends, extent
from vision.fit.limits import LIMITS
from vision.fit.marquardt import Observed, Prior, ShadowFit, fit_shadow
from vision.fit.misfit import misfit
from vision.locate.frame import Frame
from vision.locate.threaded import ThreadedLength
from vision.model.grazing import NO_MIRROR, Mirror
from vision.model.lens import GAUSSIAN, LensBlur
from vision.model.shadow import COUNT, INDEX, ShadowParameters, full_radii
from vision.outline.edges import EdgePoints
from vision.shared.plane import PlaneMap
from vision.shared.robust import OUTLIER

Array = npt.NDArray[np.float64]
Bool = npt.NDArray[np.bool_]

LEAST_EDGE_PX = 0.004
"""Scatter of edge points that is left without any noise: the grid, the eight bits."""
_TRIAL_THREADS = 4.0  # in the middle, on which forms and starts are tried
_TO_BEGIN = 5.0  # a step that gains less (half chi squared) leaves a trial or a coarse fit good enough to begin from
_GOOD_PX = 0.006  # mean distance beyond the noise at which a first form is taken without trying the others
_BLUR_RELATIVE_U = 0.05  # of the blur measured on the flanks, as a prior
MOST_POINTS = 6000  # of the fit: more gain less than the edge finder leaves
_EVERY_OTHER = 3000
"""Points from which on every other one is enough, two pixels from the next: the smoothing makes neighbours so alike
that the rest would take less than 1 % off the uncertainty (benchmarks/accuracy.py)."""
_CLEAR = 60.0
"""By how much (chi squared) a thread must fit better with more starts to be taken for one, and the reverse: where the
better fit is good. Where dirt leaves a chi squared of several for each point, so many times more."""
_ALIKE_PX = 8.0  # spread of a crest by three starts, under which one and three look alike
DISTANCE_RELATIVE_U = 0.1
"""How well a working distance is known that was measured with a rule: where inside the lens it ends is a guess."""


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
        prior: the priors of the fit.
        rejected_xy: (m, 2) positions in the picture, px, of the points inside the threaded length that were rejected.
        chosen: (n,) which of the edge points are those of the fit; empty where there was no picture.
        starts_clear: whether the shadow shows how many starts the thread has, or a person has counted them.
        lens: the blur of the lens, as far as it is no round Gaussian; it is taken out of ``seen``.
        other_forms: parameters with another form of crest or root that the picture allows as well.
    """

    fit: ShadowFit
    seen: Observed
    frame: Frame
    start: float
    end: float
    rejected: float
    edge_blur: float
    noise: float
    prior: Prior
    rejected_xy: Array
    starts_clear: bool = True
    chosen: npt.NDArray[np.intp] = field(default_factory=lambda: np.empty(0, np.intp), repr=False)
    other_forms: tuple[Array, ...] = ()
    lens: LensBlur = GAUSSIAN

    @property
    def parameters(self) -> ShadowParameters:
        """The fitted parameters by name."""
        return ShadowParameters(*(float(v) for v in self.fit.x))

    @property
    def residual_rms_px(self) -> float:
        """Distance of the edge points that count from the fitted shadow, root mean square."""
        good = np.abs(self.fit.residual) < OUTLIER * self.fit.scale
        return float(np.sqrt(np.mean(self.fit.residual[good] ** 2))) / self.seen.px_mm


def solve(
    edges: EdgePoints,
    undistorted: Array,
    thread: ThreadedLength,
    plane: PlaneMap,
    size: tuple[int, int],
    noise_px: float = 0.0,
    mirror: Mirror = NO_MIRROR,
    starts: int | None = None,
) -> Solution:
    """Fit the thread.

    Args:
        edges: edge points of the part.
        undistorted: (n, 2) their positions with the lens distortion taken out, px.
        thread: where the thread is.
        plane: scale and edge offset.
        size: (width, height) of the picture in px.
        noise_px: scatter of edge points that the noise of the picture explains, px.
        mirror: what of the light mirrored at the edges is known and to be put right.
        starts: starts of the thread if a person has counted them; else found from the shadow.

    Raises RefusalError: not_a_thread when the outline repeats but is no helical thread.
    """
    frame, everything = _observed(edges, undistorted, thread, plane, size, mirror)
    mm = everything.px_mm
    height = np.abs(everything.w - thread.offset * mm)
    depth = (thread.crest - thread.root) * mm
    beyond = LIMITS.thread_band * depth
    near = (height > thread.root * mm - beyond) & (height < thread.crest * mm + beyond)
    inside = near & (everything.u > thread.start * mm) & (everything.u < thread.end * mm)
    flank = inside & (np.abs(height - thread.pitch_radius * mm) < LIMITS.flank_band * depth)
    if flank.sum() < LIMITS.flank_points:
        raise RefusalError("no_thread.flanks")
    blur = float(np.median(edges.blur_px[flank])) * mm
    start, prior = _start(thread, blur, mm)
    sigma = max(noise_px, LEAST_EDGE_PX) * mm
    x, found = _best_start(start, everything.select(np.flatnonzero(inside)), prior, thread, sigma, starts)
    everything = replace(everything, starts=found)

    # coarse over the whole length, then to the end of what follows the thread, then fine
    first = fit_shadow(
        x,
        everything.select(_thin(inside, 1500)),
        prior,
        sigma=max(sigma, 0.04 * mm),
        steps=5,
        grid=1.0,
        enough=_TO_BEGIN,
    )
    begin, finish = extent(first, everything, near, thread.start * mm, thread.end * mm)
    inside = near & (everything.u > begin) & (everything.u < finish)
    chosen = _of_fit(inside)
    seen = everything.select(chosen)
    fit = fit_shadow(first.x, seen, prior, sigma=sigma, steps=15)
    clear = True
    if starts is None and found == 1 and _lead_hides(fit.x, mm):
        fit, seen, clear = _against_three_starts(fit, seen, prior, sigma)
    forms = choose_forms(fit, seen, prior, sigma)
    fit = forms.fit
    if finish - begin < LIMITS.short * fit.x[INDEX["pitch"]]:
        begin, finish = exact_ends(fit, everything, near, begin, finish)
        chosen = _of_fit(near & (everything.u > begin) & (everything.u < finish))
        seen = replace(everything.select(chosen), starts=seen.starts)
        fit = fit_shadow(fit.x, seen, prior, sigma=sigma, steps=10)
    if plane.working_distance_mm is not None:
        fit, prior = _at_distance(fit, seen, prior, sigma, plane.working_distance_mm)
    outlier = np.abs(fit.residual) > OUTLIER * fit.scale
    return Solution(
        fit,
        seen,
        frame,
        begin,
        finish,
        float(outlier.mean()),
        blur,
        sigma,
        prior,
        edges.xy[chosen][outlier],
        clear,
        chosen=chosen,
        other_forms=forms.others,
    )


def _observed(
    edges: EdgePoints, xy: Array, thread: ThreadedLength, plane: PlaneMap, size: tuple[int, int], mirror: Mirror
) -> tuple[Frame, Observed]:
    """The part's frame in mm, and the edge points in it; ``xy`` (n, 2) are their places in px without the lens."""
    mm = plane.um_per_px / 1000 * (1 - mirror.scale_excess)
    frame = Frame((thread.frame.origin[0] * mm, thread.frame.origin[1] * mm), thread.frame.angle)
    uw = frame.to_frame((xy - plane.edge_offset_px * edges.normal) * mm)
    centre = frame.to_frame(np.array([[(size[0] - 1) / 2 * mm, (size[1] - 1) / 2 * mm]]))[0]
    side = np.where(uw[:, 1] > thread.offset * mm, 1.0, -1.0)
    middle = (float(centre[0]), float(centre[1]))
    return frame, Observed(
        uw[:, 0],
        uw[:, 1],
        side,
        middle,
        mm,
        recession=mirror.recession,
        mirrored=mirror.mirrored,
        patch=mirror.patch,
        opening=mirror.opening,
    )


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
        # on a long lead the flanks hide the root altogether
        ("root", x[INDEX["root"]], 0.5 * (thread.crest - thread.root) * mm),
    ):
        mean[INDEX[name]], sigma[INDEX[name]] = centre, width
    return x, Prior(mean, sigma)


def _best_start(
    start: Array, seen: Observed, prior: Prior, thread: ThreadedLength, sigma: float, starts: int | None
) -> tuple[Array, int]:
    """Parameters of the best trial over a few threads in the middle, and the number of starts.

    The two edges of a thread with an odd number of starts alternate, with an even number they face each other; among
    those the lead shows in the shape of the shadow. A row of rings (no lead at all) faces each other too.
    """
    pitch = thread.pitch * seen.px_mm
    half = min((thread.end - thread.start) * seen.px_mm, _TRIAL_THREADS * pitch) / 2
    middle = (thread.start + thread.end) / 2 * seen.px_mm
    few = seen.select(_thin(np.abs(seen.u - middle) < half, 700))
    even = abs(thread.lower_shift % 1.0 - 0.5) > LIMITS.facing
    if starts is not None:
        if (starts % 2 == 0) != even:
            raise RefusalError("starts_disagree.odd" if even else "starts_disagree.even", starts=starts)
        return _best_form(start, replace(few, starts=starts), prior, sigma).x, starts
    tried: list[tuple[ShadowFit, int]] = []
    for count in (2, 0, 4) if even else (1, 3):
        fit = _best_form(start, replace(few, starts=count), prior, sigma)
        tried.append((fit, count))
        if not even and _is_good(fit, sigma, seen.px_mm):
            return fit.x, count
    scale = min(fit.scale for fit, _ in tried)
    best, count = min(tried, key=lambda pair: misfit(pair[0], prior, scale))
    if count > 1:
        # more than one start is believed only when the shadow shows it clearly
        other = min(misfit(fit, prior, best.scale) for fit, c in tried if c != count and c < 2)
        here = misfit(best, prior, best.scale)
        if other < here + _clear(here, few.u.size):
            count = 0 if even else 1
            best = next(fit for fit, c in tried if c == count)
    if count == 0:
        raise RefusalError("not_a_thread.facing")
    return best.x, count


def _at_distance(
    fit: ShadowFit, seen: Observed, prior: Prior, sigma: float, distance: float
) -> tuple[ShadowFit, Prior]:
    """The fit with the measured distance of the camera as a prior, for the better of the two hands.

    A left-hand thread, fitted as a right-hand one, has its camera on the other side (see vision/model/shadow.py).
    """
    j = INDEX["nearness"]
    tried = []
    for near in (1 / distance, -1 / distance):
        mean, width = prior.mean.copy(), prior.sigma.copy()
        mean[j], width[j] = near, DISTANCE_RELATIVE_U / distance
        x = fit.x.copy()
        x[j] = near
        held = Prior(mean, width)
        again = fit_shadow(x, seen, held, sigma=sigma, steps=10)
        tried.append((misfit(again, held, fit.scale), again, held))
    _, best, held = min(tried, key=lambda each: each[0])
    return best, held


def _lead_hides(x: Array, mm: float) -> bool:
    """Whether the shadows of one start and of three are too similar for a good fit with one to decide.

    A sharp crest is spread over k^2 / R along the axis: what three starts spread more, in px, says how far they differ.
    """
    k = x[INDEX["pitch"]] / (2 * np.pi)
    return float(8 * k**2 / x[INDEX["pitch_radius"]]) < _ALIKE_PX * mm


def _against_three_starts(
    fit: ShadowFit, seen: Observed, prior: Prior, sigma: float
) -> tuple[ShadowFit, Observed, bool]:
    """The better of ``fit`` (one start) and a fit with three, its points, and whether it is clearly better.

    A few threads in the middle are tried first: when three starts, fitted to them alone, miss them clearly more than
    one start, fitted to all, there is nothing to be settled.
    """
    x = fit.x.copy()
    x[INDEX["tilt"]] /= 3  # what a lead three times as long needs for the same difference of the two edges
    three = replace(seen, starts=3)
    middle = (seen.u.min() + seen.u.max()) / 2
    few = np.flatnonzero(np.abs(seen.u - middle) < _TRIAL_THREADS / 2 * x[INDEX["pitch"]])
    if few.size < LIMITS.few_threads * seen.u.size:
        tried = fit_shadow(x, three.select(few), prior, sigma=sigma, steps=8)
        here = replace(fit, residual=fit.residual[few])
        scale = min(fit.scale, tried.scale)
        one = misfit(here, prior, scale)
        if one - misfit(tried, prior, scale) < -2 * _clear(one, few.size):
            return fit, seen, True
    other = fit_shadow(x, three, prior, sigma=sigma, steps=15)
    scale = min(fit.scale, other.scale)
    one, better = misfit(fit, prior, scale), misfit(other, prior, scale)
    clear = _clear(min(one, better), seen.u.size)
    return (other, three, True) if one - better > clear else (fit, seen, better - one > clear)


def _clear(least: float, points: int) -> float:
    """``_CLEAR`` where the better of two fits has the misfit ``least`` over so many points."""
    return _CLEAR * max(least / points, 1.0)


def _is_good(fit: ShadowFit, sigma: float, mm: float) -> bool:
    return float(np.mean(np.abs(fit.residual))) < LIMITS.good_fit * sigma + _GOOD_PX * mm


def _best_form(start: Array, few: Observed, prior: Prior, sigma: float) -> ShadowFit:
    """Try sharp and round crests and roots on ``few`` points.

    The corner radii are continuous parameters, but the way from sharp to round leads over a hill. Where both are large
    beside the blur, a good fit says that they are right.
    """
    tried: list[ShadowFit] = []
    for crest_round, root_round in ((0.1, 0.1), (0.1, 0.9), (0.9, 0.9)):
        x = start.copy()
        if crest_round > 0.5:
            # a full round crest leaves no straight flank near it: what was read as crest height is that of the arc
            x[INDEX["flank_right"]] = x[INDEX["flank_left"]] = min(x[INDEX["flank_right"]], x[INDEX["flank_left"]])
        crest, root = full_radii(x)
        x[INDEX["crest_corner"]], x[INDEX["root_corner"]] = crest_round * crest, root_round * root
        tried.append(
            fit_shadow(x, few, prior, sigma=sigma, steps=8, fixed=("taper", "nearness"), grid=1.0, enough=_TO_BEGIN)
        )
        clear = min(full_radii(tried[-1].x)) > SMALL_BLURS * tried[-1].x[INDEX["blur"]]
        if (clear or len(tried) == 2) and _is_good(tried[-1], sigma, few.px_mm):
            break
    scale = min(fit.scale for fit in tried)
    return min(tried, key=lambda fit: misfit(fit, prior, scale))


def _of_fit(keep: Bool) -> npt.NDArray[np.intp]:
    """Indices of ``keep`` that the fit takes."""
    return _thin(keep, min(MOST_POINTS, max(_EVERY_OTHER, int(keep.sum()) // 2)))


def _thin(keep: Bool, most: int) -> npt.NDArray[np.intp]:
    """Indices of ``keep``, evenly thinned to at most ``most``."""
    index = np.flatnonzero(keep)
    if index.size <= most:
        return index
    return index[np.unique(np.linspace(0, index.size - 1, most).astype(int))]
