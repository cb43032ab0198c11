"""Default uncertainties of a micrometer over wires, as a person would type them."""

from __future__ import annotations

MICROMETER_U95, WIRE_U95 = "4um", "1um"
"""U95 of a bench micrometer over wires, and of a wire's diameter (common practice, no source)."""
