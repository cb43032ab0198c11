"""Thread systems: families of series that one maker used together."""

from __future__ import annotations

from threads.standards.series import series_info

SYSTEMS: dict[str, tuple[str, ...]] = {
    "Unified": ("UNC", "UNF", "UNEF", "UNS", "UN", "UNM"),
    "American National": ("NC", "NF", "NEF", "NS", "8N", "12N", "16N"),
    "ASME 1907": ("ASME", "ASME special"),
    "ISO metric": ("M", "M fine", "M optics", "S"),
    "British Association": ("BA",),
    "Whitworth and its kin": ("BSW", "BSF", "BSB", "BSC", "ME", "RMS", "Lens", "G"),
    "metric before ISO": ("SI", "SI small", "SF", "DIN", "VSM", "FR"),
    "Japanese before ISO": ("JIS",),
    "Lowenherz": ("Lowenherz",),
    "Thury": ("Thury",),
    "watchmakers' plates": ("WP",),
    "sharp V": ("V",),
}
"""Which series a maker of one place and time had taps and dies of (common practice, no source)."""

OWN = "the workshop's own"
OTHER = "other series"
_OF = {series: system for system, several in SYSTEMS.items() for series in several}


def system_of(series: str) -> str:
    """The system that a series belongs to. Raises UnknownSeriesError."""
    info = series_info(series)
    return OWN if info.own else _OF.get(info.name, OTHER)
