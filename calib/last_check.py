"""When a bench was last verified, and whether that is too long ago."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime

from calib.calibration import Calibration
from calib.history import Entry, history
from calib.verification import OLD_DAYS, age_days
from threads.shared.refusal import Reason


@dataclass(frozen=True)
class LastCheck:
    """The last time a bench was calibrated or verified.

    Attributes:
        days: since then; age_days: since it was calibrated.
        verified: whether it was a verification. holds: its outcome; True for a calibration.
        difference_um, difference_u95_um: of the verification.
    """

    days: float
    age_days: float
    verified: bool
    holds: bool
    difference_um: float | None = None
    difference_u95_um: float | None = None

    @property
    def warnings(self) -> tuple[Reason, ...]:
        """What a person should know before measuring."""
        if not self.holds:
            return (Reason("bench_did_not_hold"),)
        if self.days > OLD_DAYS:
            return (Reason("check_old", days=self.days),)
        return ()


def last_check(
    calibration: Calibration, entries: Sequence[Entry] | None = None, now: datetime | None = None
) -> LastCheck:
    """The last check of ``calibration`` by ``entries`` (the history in the data folder where none are given)."""
    moment = (now or datetime.now(UTC)).astimezone(UTC)
    age = age_days(calibration, moment)
    checks = [
        entry
        for entry in (history() if entries is None else entries)
        if entry.event == "verified" and entry.id == calibration.id
    ]
    if not checks:
        return LastCheck(age, age, verified=False, holds=True)
    checks.sort(key=lambda entry: entry.when)  # of two in the same second the later line stays last
    last = checks[-1]
    days = _days_since(last.when, moment)
    return LastCheck(
        age if days is None else min(days, age),
        age,
        verified=True,
        holds=last.holds is not False,
        difference_um=last.difference_um,
        difference_u95_um=last.difference_u95_um,
    )


def _days_since(when: str, now: datetime) -> float | None:
    try:
        then = datetime.fromisoformat(when)
    except ValueError:
        return None
    if then.tzinfo is None:
        then = then.replace(tzinfo=UTC)
    return max((now - then).total_seconds() / 86400, 0.0)
