"""Limits of size of a designated thread, in millimetres and as its standard prints them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import cache
from typing import Any

from threads.own.own_folder import Edition, edition
from threads.rules import (
    american_national,
    asme_machine_screws,
    british_association,
    iso_metric,
    microscope,
    pipe_parallel,
    unified,
    unified_miniature,
    whitworth,
    workshop_band,
)
from threads.rules.series_tables import MM_PER_INCH
from threads.rules.table import is_unverified, join_sources
from threads.rules.zone import Edge, Zone
from threads.shared.refusal import ReasonedError
from threads.standards.designation import Designation, designation_of
from threads.standards.series import entries

_BEYOND_TABLE = "the standard's table of this size does not list class {}: its rules are applied all the same"


class EngagementError(ReasonedError, ValueError):
    """A length of engagement for a thread whose standard has no rule for it. The message is one line."""


@dataclass(frozen=True)
class Band:
    """Least and greatest limit, mm; ``None`` where the standard sets none."""

    low: float | None
    high: float | None


@dataclass(frozen=True)
class Limits:
    """Limits of size of one thread. Lengths are mm, converted once from what the standard prints.

    Attributes:
        designation, series, size, thread_class, internal, form: which thread.
        pitch, basic_major, basic_pitch_diameter, basic_minor: basic sizes, mm.
        allowance: by how much the greatest screw (or the least nut) is away from basic on the pitch diameter, mm, >= 0.
        major, pitch_diameter, minor: limits of size, mm.
        published: the same as printed, under the keys of the JSON form, with ``"unit": "in" | "mm"``.
        tap_drill: diameter to drill before tapping, mm: the middle of the limits of the internal minor diameter. None
            for an external thread, and where the limits of the minor diameter are not both known.
        standard, source: the standard, and where rules and numbers come from.
        left_hand: True for a left-hand thread; its limits are those of the right-hand one.
        unverified: True if any part of it is from memory; ``source`` then begins with ``from memory, unverified``.
    """

    designation: str
    series: str
    size: str
    thread_class: str
    internal: bool
    pitch: float
    basic_major: float
    basic_pitch_diameter: float
    basic_minor: float
    allowance: float
    major: Band
    pitch_diameter: Band
    minor: Band
    published: dict[str, Any]
    tap_drill: float | None
    standard: str
    source: str
    unverified: bool
    form: str
    left_hand: bool = False

    def to_dict(self) -> dict[str, Any]:
        """The JSON form, schema ``flankwise/limits/1``."""
        return {
            "schema": "flankwise/limits/1",
            "designation": self.designation,
            "series": self.series,
            "size": self.size,
            "class": self.thread_class,
            "internal": self.internal,
            "unit": "mm",
            "pitch": self.pitch,
            "basic": {
                "major_diameter": self.basic_major,
                "pitch_diameter": self.basic_pitch_diameter,
                "minor_diameter": self.basic_minor,
            },
            "allowance": self.allowance,
            "major_diameter": {"min": self.major.low, "max": self.major.high},
            "pitch_diameter": {"min": self.pitch_diameter.low, "max": self.pitch_diameter.high},
            "minor_diameter": {"min": self.minor.low, "max": self.minor.high},
            "published": self.published,
            "tap_drill": self.tap_drill,
            "standard": self.standard,
            "source": self.source,
        }


def limits_of(designation: Designation, *, engagement_mm: float | None = None) -> Limits:
    """The limits of size of ``designation``. It must come from ``designation.parse`` or ``designation_of``.

    ``engagement_mm`` is the length of engagement with the mating thread, mm; None: the one that the standard's tables
    are for. Raises EngagementError where the standard has no rule for it: all but Unified threads, so far.
    """
    entry = designation.entry
    zone = _zone(designation, engagement_mm)
    scale = MM_PER_INCH if zone.unit == "in" else 1.0
    tabulated = entry.internal_classes if designation.internal else entry.classes
    beyond = "" if designation.thread_class in tabulated else _BEYOND_TABLE.format(designation.thread_class)
    source = join_sources(entry.source, zone.source, beyond)
    ours = designation.thread_class == workshop_band.CLASS
    low, high = zone.minor
    drill = (low + high) / 2 * scale if designation.internal and low is not None and high is not None else None
    return Limits(
        designation=designation.text,
        series=designation.series,
        size=designation.size,
        thread_class=designation.thread_class,
        internal=designation.internal,
        pitch=entry.pitch_mm,
        basic_major=zone.basic_major * scale,
        basic_pitch_diameter=zone.basic_pitch_diameter * scale,
        basic_minor=zone.basic_minor * scale,
        allowance=zone.allowance * scale,
        major=_band(zone.major, scale),
        pitch_diameter=_band(zone.pitch_diameter, scale),
        minor=_band(zone.minor, scale),
        published=_published(zone, entry.threads_per_inch, entry.pitch_mm),
        tap_drill=drill,
        standard=f"{entry.standard}; {workshop_band.OURS}" if ours else entry.standard,
        source=source,
        unverified=is_unverified(source),
        form=entry.form,
        left_hand=designation.left_hand,
    )


def candidates(series: Sequence[str] | None = None) -> tuple[Limits, ...]:
    """The external limits of every size and tabulated class, of all series or of those named.

    Raises:
        UnknownSeriesError: a name is not that of a series.
    """
    return _candidates(None if series is None else tuple(series), edition())


@cache
def _candidates(series: tuple[str, ...] | None, _edition: Edition) -> tuple[Limits, ...]:
    chosen = entries() if series is None else [entry for name in series for entry in entries(name)]
    return tuple(
        limits_of(designation_of(entry, thread_class, internal=False))
        for entry in chosen
        for thread_class in entry.classes
    )


def _zone(designation: Designation, engagement_mm: float | None) -> Zone:
    entry, thread_class, internal = designation.entry, designation.thread_class, designation.internal
    if engagement_mm is not None and (entry.own or entry.form not in ("UN", "UNR")):
        raise EngagementError(
            "engagement_unknown", designation=designation.text, series=entry.series, standard=entry.standard
        )
    if entry.own:
        return next(own.zone for own in entry.own if (own.thread_class, own.internal) == (thread_class, internal))
    return _zone_of_standard(designation, engagement_mm)


def _zone_of_standard(designation: Designation, engagement_mm: float | None) -> Zone:
    entry, thread_class, internal = designation.entry, designation.thread_class, designation.internal
    if entry.form == "ISO metric":
        iso_class = iso_metric.tolerance_class(thread_class)
        if iso_class is None:
            raise ValueError(f"{thread_class} is not a class of ISO 965-1")
        return iso_metric.zone(entry.major_mm, entry.pitch_mm, iso_class)
    if thread_class == workshop_band.CLASS:
        return _workshop_zone(designation)
    by_size: dict[str, Callable[[], Zone]] = {
        "UNM": lambda: unified_miniature.zone(entry.size, internal=internal),
        "BA": lambda: british_association.zone(entry.size, thread_class),
        "G": lambda: pipe_parallel.zone(entry.size, thread_class),
    }
    if entry.series in by_size:
        return by_size[entry.series]()
    if entry.major_in is None or entry.threads_per_inch is None:
        raise ValueError(f"{entry.series} {entry.size} lacks inch sizes")
    major, tpi = entry.major_in, entry.threads_per_inch
    by_form: dict[str, Callable[[], Zone]] = {
        microscope.SERIES: lambda: microscope.zone(major, tpi),
        "Whitworth": lambda: whitworth.zone(major, tpi, thread_class, internal=internal),
        "American National": lambda: american_national.zone(major, tpi, thread_class, internal=internal),
        "U.S. Standard": lambda: asme_machine_screws.zone(major, tpi),
    }
    found = by_form.get(entry.series) or by_form.get(entry.form)
    if found is not None:
        return found()
    return unified.zone(
        entry.size,
        major,
        tpi,
        thread_class,
        long_engagement=unified.tabulated_for_diameter(entry.series, tpi),
        form=entry.form,
        engagement=None if engagement_mm is None else engagement_mm / MM_PER_INCH,
    )


def _workshop_zone(designation: Designation) -> Zone:
    entry, internal = designation.entry, designation.internal
    if entry.major_in is None or entry.threads_per_inch is None:
        return workshop_band.zone(entry.major_mm, entry.pitch_mm, entry.form, "mm", internal=internal)
    zone = workshop_band.zone(entry.major_in, 1 / entry.threads_per_inch, entry.form, "in", internal=internal)
    if asme_machine_screws.CLASS in entry.classes and entry.form == "U.S. Standard":
        low, high = asme_machine_screws.tap_pitch_diameter(entry.major_in, entry.threads_per_inch)
        tap = f"the standard limits the tap, not the hole: pitch diameter of the tap {low:.4f} in to {high:.4f} in"
        return replace(zone, source=join_sources(zone.source, tap, asme_machine_screws.SOURCE))
    return zone


def _band(edge: Edge, scale: float) -> Band:
    low, high = edge
    return Band(None if low is None else low * scale, None if high is None else high * scale)


def _published(zone: Zone, threads_per_inch: float | None, pitch_mm: float) -> dict[str, Any]:
    pitch = {"pitch": pitch_mm} if threads_per_inch is None else {"threads_per_inch": threads_per_inch}
    return {
        "unit": zone.unit,
        **pitch,
        "basic": {
            "major_diameter": zone.basic_major,
            "pitch_diameter": zone.basic_pitch_diameter,
            "minor_diameter": zone.basic_minor,
        },
        "allowance": zone.allowance,
        "major_diameter": {"min": zone.major[0], "max": zone.major[1]},
        "pitch_diameter": {"min": zone.pitch_diameter[0], "max": zone.pitch_diameter[1]},
        "minor_diameter": {"min": zone.minor[0], "max": zone.minor[1]},
    }
