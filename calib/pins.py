"""Scale and edge offset from pictures of gauge pins."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from calib.calibration import Calibration, Gauge, new_calibration
from calib.lens import NO_LENS, radial_lens, undistort
from vision.picture import Picture, plain_name
from vision.refusal import Reason, RefusalError

Array = npt.NDArray[np.float64]

DEFAULT_PIN_U95_MM = 0.001
"""Assumed for pins of which nobody said how well they are known: a figure of the workshop."""

OFFSET_U_PX = 0.15
"""Standard uncertainty of an edge offset that is assumed to be 0: a figure of the workshop, as in vision.plane."""

_ONE_SIZE = 1.05  # pins within 5 % of each other do not separate scale and offset
_SCALES = (0.02, 500.0)  # um per pixel: finer than light resolves, coarser than any thread needs
_LARGEST_OFFSET_PX = 5.0
_FINEST_READING_PX = 0.001  # nothing is read better; keeps the equations solvable


@dataclass(frozen=True)
class PinFit:
    """The line through the pins.

    Attributes:
        um_per_px, edge_offset_px: the result.
        covariance: (2, 2) of the two.
        residuals_um: (n,) reading minus prediction, as a diameter.
        chi_squared, degrees_of_freedom: of the residuals, before any widening.
        offset_assumed: all pins are of one size; the offset is 0 with OFFSET_U_PX.
        disagree: the residuals are larger than the uncertainties allow (chi-squared, 5 %); ``covariance`` is widened.
    """

    um_per_px: float
    edge_offset_px: float
    covariance: Array
    residuals_um: Array
    chi_squared: float
    degrees_of_freedom: int
    offset_assumed: bool
    disagree: bool


def fit_pins(
    diameters_px: Sequence[float], u_px: Sequence[float], nominal_mm: Sequence[float], u_nominal_mm: Sequence[float]
) -> PinFit:
    """Fit diameter_px = 1000 nominal_mm / um_per_px + 2 edge_offset_px.

    Generalised least squares on the readings with the covariance u_px^2 + (u_nominal / um_per_px)^2, iterated because
    the second part depends on the scale (effective variance). Pins of exactly the same nominal size are taken as one
    pin photographed again: their errors of size are the same error, so that more pictures of a pin do not make it
    better known. Two or more sizes separate scale and offset; with one size the offset enters as a reading of
    0 +- OFFSET_U_PX. If the residuals are too large for their uncertainties, the covariance is widened by the Birge
    ratio squared, chi^2 / degrees of freedom (Birge, Phys. Rev. 40, 1932, 207).

    Args:
        diameters_px: (n,) readings, px.
        u_px: (n,) their standard uncertainties, px.
        nominal_mm: (n,) sizes of the pins, mm.
        u_nominal_mm: (n,) their standard uncertainties, mm.

    Returns:
        The fit. Not to be believed for two pins that differ by little more than 5 %: the offset is then known to no
        better than its stated U95, which is large.

    Raises:
        RefusalError: no_gauge, bad_gauge, pins_contradict, implausible_scale.

    >>> fit = fit_pins([250.6, 625.6], [0.02, 0.02], [1.0, 2.5], [0.0005, 0.0005])
    >>> round(fit.um_per_px, 6), round(fit.edge_offset_px, 6)
    (4.0, 0.3)
    """
    seen, u_seen, size, u_size = _checked(diameters_px, u_px, nominal_mm, u_nominal_mm)
    _check_order(seen, u_seen, size, u_size)

    one_size = bool(size.max() < _ONE_SIZE * size.min())
    unit = size.max()  # keeps the numbers of the two columns alike
    rows = np.stack([size / unit, np.ones_like(size)], axis=1)
    same_pin = size[:, None] == size[None, :]
    of_size = np.where(same_pin, np.outer(u_size, u_size), 0.0) / unit**2
    slope = float(np.mean(seen / size)) * unit
    for _ in range(4):
        readings = np.diag(u_seen**2) + slope**2 * of_size
        weight = np.linalg.inv(readings)
        normal, right = rows.T @ weight @ rows, rows.T @ weight @ seen
        if one_size:
            normal[1, 1] += 1 / (2 * OFFSET_U_PX) ** 2
        line_covariance = np.linalg.inv(normal)
        slope, twice_offset = line_covariance @ right
        if slope <= 0:
            break
    scale = unit / slope if slope > 0 else math.inf
    _check_result(scale, twice_offset / 2, math.sqrt(line_covariance[1, 1]) / 2)

    residuals = seen - rows @ np.array([slope, twice_offset])
    chi_squared = float(residuals @ weight @ residuals)
    freedom = len(seen) - (1 if one_size else 2)
    disagree = freedom > 0 and chi_squared > _chi_squared_limit(freedom)
    _check_residuals(residuals, chi_squared, freedom, size)
    if disagree:
        line_covariance = line_covariance * (chi_squared / freedom)
    jacobian = np.diag([-(scale**2) / unit, 0.5])
    return PinFit(
        um_per_px=float(scale),
        edge_offset_px=float(twice_offset / 2),
        covariance=jacobian @ line_covariance @ jacobian.T,
        residuals_um=residuals * scale,
        chi_squared=chi_squared,
        degrees_of_freedom=freedom,
        offset_assumed=one_size,
        disagree=disagree,
    )


def calibrate_pins(
    pins: Sequence[tuple[Picture, float]],
    *,
    pin_u95_mm: float | Sequence[float] | None = None,
    light_cone_deg: float | None = None,
) -> Calibration:
    """The calibration from pictures of gauge pins and their diameters.

    Args:
        pins: (picture, diameter in mm) of each.
        pin_u95_mm: expanded uncertainty (k = 2) of the diameters, mm: one for all, or one for each. None: 0.001 mm, and
            a warning in the calibration says that it was assumed.
        light_cone_deg: half cone of the backlight seen from the pins, kept for the measurement's budget.

    Raises:
        RefusalError: what ``fit_pins`` and ``vision.pin.read_pin`` raise, and same_picture_twice, gauge_picture_sizes,
            bad_light_cone.
    """
    from calib.straightness import radial_distortion, worth_correcting
    from vision.pin import read_pin

    nominal = [diameter for _, diameter in pins]
    u95 = _u95_of_each(pin_u95_mm, len(pins))
    _check_gauges(pins, u95, light_cone_deg)
    readings = [read_pin(picture) for picture, _ in pins]
    lens = NO_LENS
    k1, u_k1 = radial_distortion(readings)
    if worth_correcting(k1, u_k1):
        lens = radial_lens(round(k1, 9), pins[0][0].width_px, pins[0][0].height_px)
        readings = [read_pin(picture, undistort=lambda points: undistort(points, lens)) for picture, _ in pins]
    fit = fit_pins(
        [r.diameter_px for r in readings], [r.standard_uncertainty_px for r in readings], nominal, [u / 2 for u in u95]
    )
    gauges = [
        Gauge(
            what="pin",
            nominal_mm=nominal[i],
            u95_mm=u95[i],
            picture=plain_name(picture.path),
            picture_sha256=picture.sha256,
            diameter_px=readings[i].diameter_px,
            u_px=readings[i].standard_uncertainty_px,
            residual_um=round(float(fit.residuals_um[i]), 6) + 0.0,  # not 1e-13, nor a negative zero
        )
        for i, (picture, _) in enumerate(pins)
    ]
    return new_calibration(
        gauges=gauges,
        um_per_px=fit.um_per_px,
        edge_offset_px=fit.edge_offset_px,
        covariance=fit.covariance,
        lens=lens,
        light_cone_deg=light_cone_deg,
        picture_width_px=pins[0][0].width_px,
        picture_height_px=pins[0][0].height_px,
        warnings=_warnings(fit, gauges, u95_assumed=pin_u95_mm is None),
    )


def _warnings(fit: PinFit, gauges: Sequence[Gauge], *, u95_assumed: bool) -> list[Reason]:
    found = []
    if fit.offset_assumed:
        found.append(
            Reason(
                "edge_offset_assumed",
                f"All pins are of one size, so the edge offset was assumed to be 0 px with a standard uncertainty of "
                f"{OFFSET_U_PX} px and the scale is less certain. Add a pin of clearly different diameter.",
            )
        )
    elif not fit.disagree and math.sqrt(fit.covariance[1, 1]) > 2 * OFFSET_U_PX:
        found.append(
            Reason(
                "edge_offset_uncertain",
                f"These pins tell the edge offset to {2 * math.sqrt(fit.covariance[1, 1]):.2f} px (U95) only. Add a "
                "pin of clearly different diameter, or pins that are better known.",
            )
        )
    if fit.disagree:
        worst = max(gauges, key=lambda gauge: abs(gauge.residual_um))
        found.append(
            Reason(
                "pins_disagree",
                f"The pins disagree by more than their uncertainty; the farthest is {worst.picture} "
                f"({worst.nominal_mm:.4f} mm) with {worst.residual_um:+.2f} um. The uncertainties were widened. Clean "
                "the pins, check their sizes and that all lie in one plane.",
            )
        )
    if u95_assumed:
        found.append(
            Reason(
                "pin_u95_assumed",
                f"Nobody said how well the pins are known; {1000 * DEFAULT_PIN_U95_MM:g} um (U95) was assumed. Give "
                "the figure of their certificate with --pin-u95.",
            )
        )
    return found


def _u95_of_each(pin_u95_mm: float | Sequence[float] | None, n: int) -> list[float]:
    if pin_u95_mm is None:
        return [DEFAULT_PIN_U95_MM] * n
    if isinstance(pin_u95_mm, (int, float)):
        return [float(pin_u95_mm)] * n
    u95 = [float(u) for u in pin_u95_mm]
    if len(u95) != n:
        raise RefusalError("bad_gauge", f"{n} pins but {len(u95)} uncertainties. Give one for all, or one for each.")
    return u95


def _check_gauges(pins: Sequence[tuple[Picture, float]], u95: Sequence[float], light_cone_deg: float | None) -> None:
    """Refuse what is nonsense before any picture is measured."""
    if not pins:
        raise RefusalError("no_gauge", "No gauge was given. Give at least one pin: its picture and its diameter.")
    for (picture, diameter), u in zip(pins, u95, strict=True):
        _check_one(plain_name(picture.path), diameter, u)
    first = pins[0][0]
    names: dict[str, str] = {}
    for picture, _ in pins:
        name = plain_name(picture.path)
        if (picture.width_px, picture.height_px) != (first.width_px, first.height_px):
            raise RefusalError(
                "gauge_picture_sizes",
                f"{name} has {picture.width_px} x {picture.height_px} pixels, {plain_name(first.path)} has "
                f"{first.width_px} x {first.height_px}. Take all gauges in the same setting of the camera, uncropped.",
            )
        if picture.sha256 in names:
            raise RefusalError(
                "same_picture_twice",
                f"{name} and {names[picture.sha256]} are the same picture. Give each once, with its own diameter.",
            )
        names[picture.sha256] = name
    if light_cone_deg is not None and not 0 <= light_cone_deg < 90:
        raise RefusalError(
            "bad_light_cone",
            f"A light half cone of {light_cone_deg:g} deg is not possible. Give 0 to 90 deg, or leave it out.",
        )


def _check_one(name: str, diameter_mm: float, u95_mm: float) -> None:
    if not (math.isfinite(diameter_mm) and diameter_mm > 0):
        raise RefusalError(
            "bad_gauge", f"{name}: a pin diameter of {diameter_mm:g} mm is not possible. Give it with its unit."
        )
    if not (math.isfinite(u95_mm) and 0 <= u95_mm < 0.1 * diameter_mm):
        raise RefusalError(
            "bad_gauge",
            f"{name}: an uncertainty of {u95_mm:g} mm is not credible for a pin of {diameter_mm:g} mm. Check the unit.",
        )


def _checked(
    diameters_px: Sequence[float], u_px: Sequence[float], nominal_mm: Sequence[float], u_nominal_mm: Sequence[float]
) -> tuple[Array, Array, Array, Array]:
    """The columns as arrays, sizes in um, readings at least _FINEST_READING_PX uncertain; refused if impossible."""
    seen, u_seen, size, u_size = (np.array(v, np.float64) for v in (diameters_px, u_px, nominal_mm, u_nominal_mm))
    if not len(seen) == len(u_seen) == len(size) == len(u_size):
        raise ValueError("one reading, uncertainty and size for each pin")
    if not len(seen):
        raise RefusalError("no_gauge", "No gauge was given. Give at least one pin: its picture and its diameter.")
    possible = (seen >= 1) & (seen < 1e6) & (size >= 1e-4) & (size < 1e6)
    possible &= (u_seen >= 0) & (u_seen <= seen) & (u_size >= 0) & (u_size < 0.1 * size)
    if not np.all(possible):
        raise RefusalError(
            "bad_gauge", "A pin has an impossible diameter, reading or uncertainty. Check what was given."
        )
    return seen, np.maximum(u_seen, _FINEST_READING_PX), 1000 * size, 1000 * u_size


def _check_order(seen: Array, u_seen: Array, size: Array, u_size: Array) -> None:
    """A larger pin must look larger, within three standard uncertainties."""
    slope = float(np.mean(seen / size))
    for i in range(len(seen)):
        for j in range(len(seen)):
            if size[i] <= size[j]:
                continue
            sigma = math.sqrt(u_seen[i] ** 2 + u_seen[j] ** 2 + slope**2 * (u_size[i] ** 2 + u_size[j] ** 2))
            clearly_larger = size[i] > _ONE_SIZE * size[j]
            if seen[i] - seen[j] < -3 * sigma or (clearly_larger and seen[i] <= seen[j]):
                raise RefusalError(
                    "pins_contradict",
                    f"The pin of {size[i] / 1000:.4g} mm looks smaller ({seen[i]:.1f} px) than the one of "
                    f"{size[j] / 1000:.4g} mm ({seen[j]:.1f} px). Were the pictures or diameters swapped?",
                )


def _check_result(scale: float, offset: float, u_offset: float) -> None:
    if not _SCALES[0] <= scale <= _SCALES[1]:
        raise RefusalError(
            "implausible_scale",
            f"The pins give a scale of {scale:.4g} um per pixel, which is not credible. Check the diameters and units.",
        )
    if abs(offset) > _LARGEST_OFFSET_PX + 3 * u_offset:
        raise RefusalError(
            "pins_contradict",
            f"The pins would need their edges to be seen {offset:+.1f} px away from where they are. Check which "
            "diameter belongs to which picture, and that the camera was not moved between them.",
        )


def _check_residuals(residuals: Array, chi_squared: float, freedom: int, size: Array) -> None:
    """A pin that is off by pixels is a wrong diameter or a moved camera, not a matter for a wider uncertainty."""
    worst = int(np.argmax(np.abs(residuals)))
    if freedom > 0 and abs(residuals[worst]) > 3 and chi_squared > 100 * freedom:
        raise RefusalError(
            "pins_contradict",
            f"The pins do not fit one scale: the one of {size[worst] / 1000:.4g} mm is {residuals[worst]:+.1f} px off. "
            "Check the diameters, and that the camera was not moved between the pictures.",
        )


def _chi_squared_limit(freedom: int) -> float:
    """The 95 % point of chi-squared."""
    from scipy.special import chdtri  # scipy.stats knows it too, but takes a second to import

    return float(chdtri(freedom, 0.05))
