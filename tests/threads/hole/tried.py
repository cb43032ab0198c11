"""Screws and trials for tests: 4-40 screws of a chosen pitch diameter, measured nearly without error."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from tests.threads.measured_factory import ORDER, measured_thread
from threads.hole.classes import HoleThread, hole_thread
from threads.hole.found_hole import FoundHole
from threads.hole.from_trials import hole_from_trials
from threads.hole.trial import MOVED, Trial, TriedScrew
from threads.identify.screw_evidence import CommonErrors
from threads.measured.thread import Covariance, MeasuredThread
from threads.shared.quantity import Quantity

PITCH, ENGAGEMENT = 0.635, 3.0


def screw_440(
    size: float, *, u: float = 1e-5, pitch: float = PITCH, major: float | None = None, hand: str = "right"
) -> MeasuredThread:
    """A 4-40 screw with a pitch diameter of ``size``, every diameter measured to ``u``, mm."""
    thread = measured_thread(size + 0.40 if major is None else major, size, pitch, scale_u=0.0)
    own = np.diag([u if "diameter" in name else 1e-3 if "flank" in name else 1e-6 for name in ORDER])
    named = {
        name: replace(getattr(thread, name), standard_uncertainty=float(own[k, k])) for k, name in enumerate(ORDER)
    }
    return replace(thread, covariance=Covariance(ORDER, own**2), hand=hand, **named)


def tried(
    size: float, outcome: str, *, common: CommonErrors | None = None, turns: float | None = None, **screw: float
) -> Trial:
    """A trial of such a screw, called after its size in micrometres."""
    name = f"{1000 * size:.0f}"
    return Trial(TriedScrew(name, name, screw_440(size, **screw), common), outcome, turns)  # type: ignore[arg-type]


def moved(size: float, movement: float, u95: float, overhang: float = 20.0) -> Trial:
    one = tried(size, MOVED)
    return replace(one, movement=Quantity(movement, u95 / 2, "mm"), overhang=overhang)


def thread_440() -> HoleThread:
    return hole_thread("4-40")


def hole_of(*trials: Trial) -> FoundHole:
    return hole_from_trials(thread_440(), trials, engagement=ENGAGEMENT)
