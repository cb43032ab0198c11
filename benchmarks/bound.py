"""The Cramer-Rao bound: how well any unbiased method could read each quantity off a picture of this noise.

An edge blurred by a Gaussian of standard deviation s (px), of contrast C, in pixels of independent noise n (both in
parts of full scale) shows a displacement d along its normal as C phi(x / s) / s. Summed over the pixels beside one
pixel of edge, the Fisher information about d is

    C^2 / n^2 * integral of (phi(x / s) / s)^2 dx = C^2 / (2 sqrt(pi) s n^2)    per pixel of edge

(derived here; Cramer, Mathematical Methods of Statistics, 1946, 32.3, for the bound). What a parameter of the thread
does to the edge is the Jacobian of the fitted model, so that the information about all parameters is the sum over the
edge of J J^T times this; the quantities follow from its inverse. All parameters count as unknown, scale and edge offset
as known. The blur counts the lens, and a pixel's own width with 1/12 px^2; the noise counts the steps of the file. Near
corners, where blur mixes two edges, it is an approximation.
"""

from __future__ import annotations

import math

import numpy as np

from sample_images.scene import Camera
from vision.fit.quantities import NAMES, sensitivity
from vision.result.fitted_outline import fitted_outline
from vision.result.measurement import Measurement


def information_of_edge(contrast: float, blur_px: float, noise: float) -> float:
    """Fisher information about a displacement of the edge, per pixel of its length, 1/px^2.

    >>> round(1 / information_of_edge(0.8, 1.0, 0.01) ** 0.5, 4)  # standard deviation of one pixel of edge, px
    0.0235
    """
    return contrast**2 / (2 * math.sqrt(math.pi) * blur_px * noise**2)


def bounds(measurement: Measurement, camera: Camera) -> dict[str, float]:
    """Least standard deviation of each quantity (mm, deg, um/mm) in a picture taken by ``camera``.

    ``measurement`` is one of that picture: its fit says where the edge is and how it follows the parameters.
    """
    solution = measurement.solution
    x, px = solution.fit.x, solution.seen.px_mm
    noise = math.hypot(camera.noise, 1 / (math.sqrt(12) * (2**camera.bits - 1)))
    blur = math.sqrt(camera.blur_sigma_px**2 + 1 / 12)
    length = sum(float(np.hypot(*np.diff(edge, axis=0).T).sum()) for edge in fitted_outline(measurement))
    jacobian = solution.fit.jacobian / px
    each = length / jacobian.shape[1] * information_of_edge(measurement.quality.contrast, blur, noise)
    information = each * jacobian @ jacobian.T + np.diag(1 / solution.prior.sigma**2)
    free = np.diag(information) > 0
    scale = np.sqrt(np.diag(information)[free])
    covariance = np.linalg.pinv(information[np.ix_(free, free)] / np.outer(scale, scale)) / np.outer(scale, scale)
    middle = (solution.start + solution.end) / 2
    by_parameter = sensitivity(x, middle, measurement.part.free_end_right, solution.seen.starts)[:, free]
    deviations = np.sqrt(np.einsum("ij,jk,ik->i", by_parameter, covariance, by_parameter))
    return dict(zip(NAMES, deviations.tolist(), strict=True))
