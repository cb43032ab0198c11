"""How badly a fit explains its points: the measure by which forms and numbers of starts are compared."""

from __future__ import annotations

import numpy as np

from vision.fit.marquardt import Prior, ShadowFit


def misfit(fit: ShadowFit, prior: Prior, scale: float) -> float:
    """Chi squared of the residuals for the standard deviation ``scale``, cut off at five, and of the priors."""
    return float(
        np.sum(np.minimum((fit.residual / scale) ** 2, 25.0)) + np.sum(((fit.x - prior.mean) / prior.sigma) ** 2)
    )
