"""A whole folder: which pictures there are, what is on file already, every other one measured, a row each."""

from __future__ import annotations

import time
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path
from typing import Any

from records.batch.columns import FAILED, MEASURED, head
from records.batch.results import Results, open_results
from records.batch.work import SKIPPED, Outcome, Settings, Task, measure_one, name_in_results, without_measurement
from threads.shared.refusal import Reason

SCHEMA = "flankwise/batch/1"

Spread = Callable[[Callable[[Task], Outcome], Iterator[Task], Callable[[Task], Outcome]], Iterator[Outcome]]
"""Does the work on all tasks: the work, the tasks, what stands for one that brought its process down."""


@dataclass
class Summary:
    """What has become of a folder so far.

    Attributes:
        folder, results: where the pictures are, and the rows.
        pictures: how many there are. ``counts``: of them, by what became of them.
        reasons: how many were not measured, by code.
        measured_before, unmeasured_before: rows that were there from earlier runs.
        repaired: whether a broken last row was cut off.
        seconds: since the start.
    """

    folder: Path
    results: Path
    pictures: int
    counts: Counter[str] = field(default_factory=Counter)
    reasons: Counter[str] = field(default_factory=Counter)
    measured_before: int = 0
    unmeasured_before: int = 0
    repaired: bool = False
    seconds: float = 0.0

    @property
    def done(self) -> int:
        """Pictures that have a row."""
        return self.counts.total()

    @property
    def anything_measured(self) -> bool:
        """Whether the file has a measured picture of this bench and these settings."""
        return bool(self.counts[MEASURED] or self.measured_before)

    @property
    def unmeasured(self) -> int:
        """Rows of pictures that were not measured, those of earlier runs counted in."""
        return self.counts["refused"] + self.counts[FAILED] + self.unmeasured_before

    def to_dict(self) -> dict[str, Any]:
        """The object of ``batch --json``."""
        names = (MEASURED, "refused", FAILED, SKIPPED)
        return {
            "schema": SCHEMA,
            "status": "done" if self.done == self.pictures else "stopped",
            "folder": str(self.folder),
            "results": str(self.results),
            "pictures": self.pictures,
            **{name: self.counts[name] for name in names},
            "reasons": dict(self.reasons.most_common()),
            "measured_before": self.measured_before,
            "unmeasured_before": self.unmeasured_before,
            "repaired": self.repaired,
            "seconds": round(self.seconds, 3),
        }


def run_batch(
    folder: Path, pictures: list[Path], target: Path, settings: Settings, spread: Spread
) -> Iterator[tuple[Outcome, Summary]]:
    """Measure ``pictures``, which lie in ``folder``, and append a row for each to the file ``target``.

    What became of each comes back as soon as its row is on the disk, with the summary so far. Raises RefusalError for a
    file of results that cannot be used (``results.open_results``) and what ``spread`` raises; rows written stay.
    """
    started = time.monotonic()
    columns = head(identify=settings.identify)
    with open_results(target, columns, settings.bench.plane.id, settings.key) as results:
        summary = Summary(folder, target, len(pictures))
        summary.measured_before, summary.unmeasured_before = results.measured, results.unmeasured
        summary.repaired = bool(results.repaired)
        died = partial(_died, settings)
        for outcome in spread(partial(measure_one, settings), _tasks(folder, pictures, results), died):
            if outcome.cells:
                results.append(outcome.cells)
            summary.counts[outcome.status] += 1
            if outcome.code:
                summary.reasons[outcome.code] += 1
            summary.seconds = time.monotonic() - started
            yield outcome, summary


def _tasks(folder: Path, pictures: list[Path], results: Results) -> Iterator[Task]:
    for path in pictures:
        name = name_in_results(path, folder)
        yield Task(str(path.absolute()), name, results.known.get(name, ()))


def _died(settings: Settings, task: Task) -> Outcome:
    why = (Reason("process_died"),)
    return without_measurement(settings, task, why, status=FAILED)
