"""The shadow of a thread: the upper envelope of a helicoid seen across its axis, in closed form, with derivatives.

Frame: u along the axis in the picture, w across it (up), v toward the camera; u x w = v. The axial profile r = R(s) is
swept along a helix, so that the surface point at polar angle phi (from w toward v) and axial position z has s = z - k
phi with k = lead / 2 pi (negative for left hand). With the +u end of the axis tilted toward the camera by t and a
camera at the distance 1/q, the outline at u is the largest height of all surface points that land on u:

    s = zeta + r T sin(phi) - k phi,   T = sin(t) - q (u - u_c)
    X = r cos(phi) + q r sin(phi) (r cos(phi) + b)

where b is how far the axis lies from the optical axis across. Each piece of the profile has its own stationary phi:
tan(phi) = m (r T - k) / r on a flank of slope m. Crest and root corners are arcs (radius 0 allowed). The lower edge
is the same scene turned by half a turn about the axis: T, q and b change sign and the profile moves by half a lead.

The envelope theorem gives the derivatives: at the stationary point a change of phi costs nothing, so each parameter
acts through r at fixed phi only. Derived here; checked against brute-force projection in
tests/vision/model/test_shadow.py.
"""

from __future__ import annotations

from dataclasses import astuple, dataclass, fields

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]


@dataclass(frozen=True)
class ShadowParameters:
    """What determines the shadow (mm and radians).

    Attributes:
        offset: w of the axis at u = 0.
        rotation: small rotation of the axis in the picture, from u toward w.
        phase: u of a ridge centre on the upper edge (axial section in the picture plane).
        pitch: axial pitch, from ridge to ridge.
        tilt: sine of the axis tilt, +u end toward the camera.
        nearness: 1 / distance of a pinhole camera, 1/mm; 0 for a telecentric lens.
        taper: change of radius per mm of u.
        crest, pitch_radius, root: radii of crest, pitch line and root.
        flank_right, flank_left: half angles of the flanks of a ridge on its +u and -u side.
        crest_corner, root_corner: corner radii of crest and root.
        blur: standard deviation of the blur of the picture.
    """

    offset: float
    rotation: float
    phase: float
    pitch: float
    tilt: float
    nearness: float
    taper: float
    crest: float
    pitch_radius: float
    root: float
    flank_right: float
    flank_left: float
    crest_corner: float
    root_corner: float
    blur: float

    def to_array(self) -> Array:
        """All parameters as an array, in the order of NAMES."""
        return np.array(astuple(self), dtype=float)


NAMES: tuple[str, ...] = tuple(f.name for f in fields(ShadowParameters))
INDEX = {name: i for i, name in enumerate(NAMES)}
COUNT = len(NAMES)

(_PHASE, _PITCH, _TILT, _NEAR, _TAPER, _CREST, _PITCHR, _ROOT, _FR, _FL, _CC, _RC) = (
    INDEX[n]
    for n in (
        "phase", "pitch", "tilt", "nearness", "taper", "crest", "pitch_radius", "root",
        "flank_right", "flank_left", "crest_corner", "root_corner",
    )
)  # fmt: skip


_ARC_STEPS = 8  # near the flank a root corner of BA or Whitworth form takes this many
_STILL = 1e-6  # a Newton step of the slope that is shorter leaves nothing to be seen
_STEEP = 0.3  # polar angle (radians) up to which one turn of the search is enough: leads of several starts pass it
_FEW_TURNS, _MANY_TURNS = 1, 6
_REACH = 0.64  # a flank is never seen farther than this part of a pitch from the middle of its ridge


LEAST_CORNER = 1e-5
"""A sharp corner, mm: not quite 0, so that the fit sees what a rounding would do."""


def full_radii(x: Array) -> tuple[float, float]:
    """Largest corner radii (crest, root) for which crest and root are just full arcs, mm.

    The flat that the flanks leave at crest (root) level is shared by the tangent lengths rho tan((90 deg - alpha) / 2).
    """
    tr, tl = np.tan(x[_FR]), np.tan(x[_FL])
    half = np.tan((np.pi / 2 - x[_FR]) / 2) + np.tan((np.pi / 2 - x[_FL]) / 2)
    crest_flat = x[_PITCH] / 2 - (x[_CREST] - x[_PITCHR]) * (tr + tl)
    root_flat = x[_PITCH] / 2 - (x[_PITCHR] - x[_ROOT]) * (tr + tl)
    return max(float(crest_flat / half), 0.0), max(float(root_flat / half), 0.0)


@dataclass(frozen=True)
class _Half:
    """One flank with its crest and root corner, in a frame where it is the flank on the +u side of its ridge."""

    value: Array
    slope: Array
    gradient: Array | None  # (COUNT, n)


def outline(
    x: Array, u: Array, side: Array, centre: tuple[float, float], *, starts: int = 1, gradient: bool = True
) -> tuple[Array, Array, Array | None]:
    """Height of the sharp shadow above the axis at ``u``, on the upper (side +1) or lower (side -1) edge.

    Args:
        x: (COUNT,) parameters in the order of NAMES.
        u: (n,) positions along the axis, mm.
        side: (n,) +1 or -1.
        centre: (u, w) of the optical axis in the same frame, mm.
        starts: starts of the thread: the lead is so many pitches.
        gradient: whether to compute the derivatives.

    Returns:
        height (n,) mm, its slope d height / du (n,), and the derivatives (COUNT, n) or None.
        The derivatives by offset, rotation and blur are zero here: they act outside of the outline.
    """
    pitch = x[_PITCH]
    k = starts * pitch / (2 * np.pi)
    near = side * x[_NEAR]
    b = side * (x[0] - centre[1])
    tan_tilt = side * (x[_TILT] - x[_NEAR] * (u - centre[0]))
    # The lower edge is the profile moved by half a lead.
    lower = np.where(side > 0, 0.0, starts / 2)
    rel = u - x[_PHASE] - lower * pitch
    ridge = np.floor(rel / pitch)
    d_right = rel - ridge * pitch  # from the ridge on the left: its right flank is what we see
    d_left = pitch - d_right  # to the ridge on the right, mirrored
    grow = x[_TAPER] * u
    # Each place can only belong to the flanks next to it. Both kinds go in one pass: the left flank is the right one of
    # the mirrored scene (k and T change sign).
    on_right = np.flatnonzero(d_right < _REACH * pitch)
    on_left = np.flatnonzero(d_left < _REACH * pitch)
    both = np.concatenate([on_right, on_left])
    hand = np.repeat([1.0, -1.0], [on_right.size, on_left.size])
    half = _half_ridge(
        x,
        np.concatenate([d_right[on_right], d_left[on_left]]),
        (on_right.size, on_left.size),
        k * hand,
        tan_tilt[both] * hand,
        near[both],
        b[both],
        grow[both],
        gradient,
    )
    # the higher of the two is what casts the shadow
    n = u.size
    column = np.zeros(n, dtype=np.intp)
    column[on_right] = np.arange(on_right.size)
    high = np.full(n, -np.inf)
    high[on_right] = half.value[: on_right.size]
    above = half.value[on_right.size :] > high[on_left]
    column[on_left[above]] = on_right.size + np.flatnonzero(above)
    pick = column < on_right.size
    sign = np.where(pick, 1.0, -1.0)
    value = half.value[column]
    slope = half.slope[column] * sign
    if not gradient or half.gradient is None:
        return value, slope, None
    jac = np.zeros((COUNT, n))
    # rows of _half_ridge: d, k, T, q, level, crest, pitch_radius, root, alpha, crest corner, root corner, pitch/4
    h = half.gradient[:, column]
    dd = h[0]
    dk = h[1] * sign
    dt = h[2] * sign * side
    dq = h[3] * side
    jac[_PHASE] = -sign * dd
    # d_right = u - phase - pitch (ridge + lower);  d_left = pitch (ridge + lower + 1) - u + phase
    jac[_PITCH] = dd * np.where(pick, -(ridge + lower), ridge + lower + 1) + dk * starts / (2 * np.pi) + h[11] / 4
    jac[_TILT] = dt
    jac[_NEAR] = dq - dt * (u - centre[0])
    jac[_TAPER] = h[4] * u
    jac[_CREST], jac[_PITCHR], jac[_ROOT] = h[5], h[6], h[7]
    jac[_FR] = np.where(pick, h[8], 0.0)
    jac[_FL] = np.where(pick, 0.0, h[8])
    jac[_CC], jac[_RC] = h[9], h[10]
    return value, slope, jac


def _stationary(m: Array, r: Array, t: Array, k: Array, q: Array, b: Array) -> Array:
    """Polar angle at which a surface point of slope m and radius r lies on the outline (one correction step)."""
    phi = m * (t - k / r) + q * (r + b)
    # second pass with the exact tangent; the error left is third order and acts on the height squared
    lean = m * (r * np.cos(phi) * t - k) / (r * (1 - m * np.sin(phi) * t))
    return np.arctan(lean) + q * (r + b)


def _half_ridge(  # noqa: PLR0915 - one formula after the other, in the order of the derivation
    x: Array, d: Array, count: tuple[int, int], k: Array, t: Array, q: Array, b: Array, grow: Array, gradient: bool
) -> _Half:
    """Outline over one half ridge: distance ``d`` >= 0 from the ridge centre, all arrays (n,).

    The first ``count[0]`` places are on right flanks, the other ``count[1]`` on left ones.
    The gradient has 12 rows: d, k, T, q, level, crest, pitch_radius, root, alpha, crest corner, root corner, quarter
    pitch.
    """
    crest, rp, root = x[_CREST] + grow, x[_PITCHR] + grow, x[_ROOT] + grow
    rc, rr = x[_CC], x[_RC]
    sp = x[_PITCH] / 4
    flanks = [x[_FR], x[_FL]]
    sin_a, cos_a, m_flank = np.repeat([np.sin(flanks), np.cos(flanks), -1 / np.tan(flanks)], count, axis=1)

    # --- flank
    r = np.clip(rp + m_flank * (d - sp), root, crest)
    phi = m_flank * (t - k / r) + q * (r + b)
    r = (rp + m_flank * (d - k * phi - sp)) / (1 - m_flank * phi * t)
    for _ in range(_FEW_TURNS if np.abs(phi).max(initial=0.0) < _STEEP else _MANY_TURNS):
        phi = _stationary(m_flank, r, t, k, q, b)
        sin_p = np.sin(phi)
        r = (rp + m_flank * (d - k * phi - sp)) / (1 - m_flank * sin_p * t)
    s = d + r * sin_p * t - k * phi

    # --- crest corner, where the flank's point would lie beyond the tangent point
    r0c = crest - rc
    s0c = sp - (rc + sin_a * (r0c - rp)) / cos_a
    on_corner = s < s0c + rc * cos_a
    m = m_flank.copy()
    kind = np.zeros(d.size, dtype=np.int8)  # 0 flank, 1 crest corner, 2 crest, 3 root corner, 4 root
    if on_corner.any():
        i = np.flatnonzero(on_corner)
        tau, r_i, s_i, phi_i = _on_arc(d[i], -m_flank[i], crest[i], s0c[i], rc, 1.0, k[i], t[i], q[i], b[i])
        m[i], r[i], s[i], phi[i] = -tau, r_i, s_i, phi_i
        kind[i] = np.where(tau > 0, 1, 2)
        flat = i[tau <= 0]
        r[flat] = crest[flat]
        phi[flat] = q[flat] * (crest[flat] + b[flat])
        m[flat] = 0.0
    sin_p, cos_p = np.sin(phi), np.cos(phi)
    value = r * cos_p + q * r * sin_p * (r * cos_p + b)

    # --- root corner and root: the envelope is the higher one, since each of them is part of the surface
    r0r = root + rr
    s0r = sp + (rr - sin_a * (r0r - rp)) / cos_a
    if rr > 0:
        # the arc lies between its ends, spread along the axis by the helix (see _on_arc) and moved by a near camera
        kappa = k - root * t
        spread, moved = 1.5 * (1 - m_flank) * kappa**2 / root, 1.5 * np.abs(q * (root + b) * kappa)
        j = np.flatnonzero((kind == 0) & (d > s0r - rr * cos_a - moved) & (d < s0r + spread + moved))
        if j.size:
            tau, r_j, s_j, phi_j = _on_arc(d[j], -m_flank[j], root[j], s0r[j], rr, -1.0, k[j], t[j], q[j], b[j])
            miss = np.abs(s_j + k[j] * phi_j - r_j * np.sin(phi_j) * t[j] - d[j])
            high = r_j * np.cos(phi_j) + q[j] * r_j * np.sin(phi_j) * (r_j * np.cos(phi_j) + b[j])
            better = (miss < 1e-6) & (tau > 0) & (high > value[j])
            jj = j[better]
            value[jj], r[jj], s[jj], phi[jj], m[jj] = (
                high[better], r_j[better], s_j[better], phi_j[better], -tau[better],
            )  # fmt: skip
            sin_p[jj], cos_p[jj] = np.sin(phi[jj]), np.cos(phi[jj])
            kind[jj] = 3
    deep = np.flatnonzero((value < 1.05 * root) & (kind != 1) & (kind != 2))
    root_d, q_d, b_d = root[deep], q[deep], b[deep]
    phi_f = q_d * (root_d + b_d)
    sin_f, cos_f = np.sin(phi_f), np.cos(phi_f)
    floor = root_d * cos_f + q_d * root_d * sin_f * (root_d * cos_f + b_d)
    below = floor > value[deep]
    low = deep[below]
    value[low], r[low], phi[low], m[low] = floor[below], root[low], phi_f[below], 0.0
    sin_p[low], cos_p[low], kind[low] = sin_f[below], cos_f[below], 4

    lean = 1 / (1 - m * sin_p * t)
    # how the height follows the radius at fixed phi
    dx_dr = cos_p + q * sin_p * (2 * r * cos_p + b)
    slope = dx_dr * m * lean
    if not gradient:
        return _Half(value, slope, None)
    g = np.zeros((12, d.size))
    chain = dx_dr * lean
    g[0] = slope
    g[1] = -slope * phi
    g[2] = slope * r * sin_p
    g[3] = r * sin_p * (r * cos_p + b)
    # R at fixed s, by piece
    f, crests, roots = (np.flatnonzero(kind == code) for code in (0, 2, 4))
    cf = chain[f]
    g[4, f] = cf
    g[6, f] = cf
    g[8, f] = cf * (s[f] - sp) / sin_a[f] ** 2
    g[11, f] = -cf * m_flank[f]
    for row, flat in ((5, crests), (7, roots)):
        g[4, flat] = g[row, flat] = chain[flat]
    for code, rho, centre_r, sign in ((1, rc, r0c, 1.0), (3, rr, r0r, -1.0)):
        c = np.flatnonzero(kind == code)
        if not c.size:
            continue
        tau = -m[c]
        sec = np.sqrt(1 + tau**2)
        ca, sa = cos_a[c], sin_a[c]
        xx = centre_r[c] - rp[c]
        # centre: r0 = level - sign rho; s0 = sp - (sign rho + sin(a) (r0 - rp)) / cos(a)
        # at fixed s: dr = dr0 + sign sec drho + tan(theta) ds0
        g[11, c] = chain[c] * tau
        g[6, c] = chain[c] * tau * sa / ca
        g[8, c] = -chain[c] * tau * (xx + sign * rho * sa) / ca**2
        level = chain[c] * (1 - tau * sa / ca)
        g[5 if code == 1 else 7, c] = level
        g[4, c] = chain[c]
        radius = -sign + sign * sec + tau * (-sign + sa * sign) / ca
        g[9 if code == 1 else 10, c] = chain[c] * radius
    return _Half(value, slope, g)


def _on_arc(
    d: Array, tau_max: Array, level: Array, s0: Array, rho: float, sign: float, k: Array, t: Array, q: Array, b: Array
) -> tuple[Array, Array, Array, Array]:
    """Point of a corner arc that lands on ``d``: its tan(theta), r, s and phi, all (n,).

    sign +1: crest corner (arc below ``level``), -1: root corner (arc above it). tan(theta) runs from 0 (flat) to
    ``tau_max`` (flank). A helix of constant radius spreads a sharp corner over kappa^2 / r along the axis, so that the
    search is well posed even for rho = 0.
    """
    kappa = k - level * t
    spread = kappa**2 / level
    shift = q * (level + b) * kappa
    tau = np.clip((d - s0 - shift) / (sign * rho + spread + 1e-9), 0.0, tau_max)
    o: slice | npt.NDArray[np.intp] = slice(None)  # places whose search still moves
    for step in range(_ARC_STEPS):
        before = tau[o].copy()
        r_o, s_o, phi_o = _arc_point(before, level[o], s0[o], rho, sign, k[o], t[o], q[o], b[o])
        zeta = s_o + k[o] * phi_o - r_o * np.sin(phi_o) * t[o]
        rate = sign * rho / (1 + before**2) ** 1.5 + (k[o] - r_o * t[o]) ** 2 / r_o
        # only the falling branch of a root corner is on the outline; elsewhere stay where the rate keeps its sign
        rate = np.where(sign * rate > 1e-7, rate, sign * 1e-7)
        tau[o] = np.clip(before + (d[o] - zeta) / rate, 0.0, tau_max[o])
        if step >= 1:  # by now only those near a fold
            moving = np.flatnonzero(np.abs(tau[o] - before) > _STILL)
            if not moving.size:
                break
            o = moving if isinstance(o, slice) else o[moving]
    return (tau, *_arc_point(tau, level, s0, rho, sign, k, t, q, b))


def _arc_point(
    tau: Array, level: Array, s0: Array, rho: float, sign: float, k: Array, t: Array, q: Array, b: Array
) -> tuple[Array, Array, Array]:
    """Radius, axial place and polar angle of the point of a corner arc whose slope is ``tau``, all (n,)."""
    cos_t = 1 / np.sqrt(1 + tau**2)
    r = level - sign * rho * (1 - cos_t)
    return r, s0 + sign * rho * tau * cos_t, _stationary(-tau, r, t, k, q, b)
