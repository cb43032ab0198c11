"""Parts on file that are most like a measured thread, and whether the two measurements can be of the same thread.

Two measurements differ by their errors and by what differs between the parts. With the differences d of the quantities
that both have and the sum S of the two covariances, d' S^-1 d is distributed as chi-square if the threads are alike.
Errors that both share (the same calibration) are counted twice instead of cancelling: two parts are rather called alike
than different. An effect known in direction only (``Quantity.one_sided``) may shift either measurement by anything up
to its bound; it is taken as what brings them nearest, quantity by quantity.
"""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from records.covariance import ORDER, packed, unpacked
from threads.measured.thread import MeasuredThread
from threads.shared.quantity import COVERAGE_FACTOR

COMPARED = ORDER[:6]
"""Diameters, pitch and flank angles: what every picture gives. The widths at crest and root follow from these."""

LEVEL = 0.05
"""Two measurements of one thread are further apart than this share of the time: beyond it, "not the same"."""

FIRST_WINDOW = 0.02
"""Share of pitch and pitch diameter within which is looked first: neighbouring sizes and then some."""

SPREAD = {"mm": 0.010, "deg": 0.25}
"""Standard deviation by which screws cut with one die differ, in diameters and angles; of the pitch a tenth of it.

Common practice, no source. It only puts those in order that are surely not the same.
"""

Array = npt.NDArray[np.float64]


@dataclass(frozen=True)
class Likeness:
    """A part on file beside the thread in hand.

    Attributes:
        part, measurement: ids.
        distance: (d' S^-1 d)^0.5, in standard uncertainties.
        chance: how often two measurements of one thread are at least as far apart. ``alike``: it is above ``LEVEL``.
        differences: filed minus in hand, mm or degrees, with U95.
    """

    part: int
    measurement: int
    distance: float
    chance: float
    alike: bool
    differences: dict[str, tuple[float, float]]


def nearest_parts(
    connection: sqlite3.Connection, thread: MeasuredThread, *, most: int = 10, without_part: int | None = None
) -> list[Likeness]:
    """The parts most like ``thread``, at most ``most``; screws beside screws, holes beside holes.

    Those that can be the same come first; within these and within the others, the nearest.
    ``without_part``: leave this one out, as the thread is its own.
    """
    filed = _filed(connection, thread, FIRST_WINDOW, without_part)
    for window in (10 * FIRST_WINDOW, None):
        if len(filed.parts) < most:
            filed = _filed(connection, thread, window, without_part)
    if not filed.parts:
        return []
    own_value = np.array([getattr(thread, name).value for name in COMPARED])
    own_bound = np.array([getattr(thread, name).one_sided for name in COMPARED])
    difference = filed.values - own_value
    bound = filed.bounds
    total = filed.covariances + unpacked(packed(thread.covariance))[0, : len(COMPARED), : len(COMPARED)]
    # each true value lies between the measured one and that plus its bound
    lowest = difference + np.minimum(bound, 0) - np.maximum(own_bound, 0)
    highest = difference + np.maximum(bound, 0) - np.minimum(own_bound, 0)
    shifted = np.clip(0.0, lowest, highest)
    squared, with_spread = _squared(shifted, total), _squared(difference, total + _spread())
    from scipy.special import chdtrc

    chance = chdtrc(len(COMPARED), squared)
    u95 = 2 * np.sqrt(np.einsum("nii->ni", total)) + np.abs(bound) + np.abs(own_bound)
    return [
        Likeness(
            part=filed.parts[n],
            measurement=filed.measurements[n],
            distance=float(np.sqrt(squared[n])),
            chance=float(chance[n]),
            alike=bool(chance[n] > LEVEL),
            differences={name: (float(difference[n, i]), float(u95[n, i])) for i, name in enumerate(COMPARED)},
        )
        for n in np.lexsort((with_spread, chance <= LEVEL))[:most].tolist()
    ]


def _squared(difference: Array, covariance: Array) -> Array:
    """The square of the distance, d' S^-1 d, for (n, k) differences and (n, k, k) covariances."""
    return np.einsum("ni,ni->n", difference, np.linalg.solve(covariance, difference[..., None])[..., 0])


def _spread() -> Array:
    sizes = [SPREAD["deg"] if "angle" in name else SPREAD["mm"] / (10 if name == "pitch" else 1) for name in COMPARED]
    return np.diag(np.square(sizes))


@dataclass(frozen=True)
class _Filed:
    """Threads on file: ids, (n, k) values and bounds, (n, k, k) covariances of ``COMPARED``."""

    parts: list[int]
    measurements: list[int]
    values: Array
    bounds: Array
    covariances: Array


def _filed(
    connection: sqlite3.Connection, thread: MeasuredThread, window: float | None, without_part: int | None
) -> _Filed:
    """The filed threads whose pitch and pitch diameter are within ``window`` (a share) of those of ``thread``.

    Their own uncertainty is allowed for, so that a poor measurement is not overlooked.
    """
    reach = [1e9 if window is None else window * q.value + 2 * q.u95 for q in (thread.pitch, thread.pitch_diameter)]
    columns = ", ".join(f"m.{name}, m.{name}_u95" for name in COMPARED)
    found = connection.execute(
        f"SELECT p.id, m.id, m.covariance, {columns} FROM measurements m JOIN current c ON c.measurement_id = m.id "
        "JOIN parts p ON p.id = c.part_id WHERE m.internal = ? AND abs(m.pitch - ?) <= ? + 2 * m.pitch_u95 "
        "AND abs(m.pitch_diameter - ?) <= ? + 2 * m.pitch_diameter_u95 AND p.withdrawn = 0 AND p.id IS NOT ?",
        (int(thread.internal), thread.pitch.value, reach[0], thread.pitch_diameter.value, reach[1], without_part),
    ).fetchall()
    numbers = np.array([row[3:] for row in found]).reshape(len(found), len(COMPARED), 2)
    covariances = unpacked(b"".join(row[2] for row in found))[:, : len(COMPARED), : len(COMPARED)]
    # the bound is what is in U95 beside the covariance; light makes a part read small, never large
    bounds = numbers[..., 1] - COVERAGE_FACTOR * np.sqrt(np.einsum("nii->ni", covariances))
    return _Filed(
        parts=[row[0] for row in found],
        measurements=[row[1] for row in found],
        values=numbers[..., 0],
        bounds=np.where(bounds > 1e-9, bounds, 0.0),
        covariances=covariances,
    )
