"""Work in several processes: in order, whole, and not stopped by one that dies."""

from __future__ import annotations

import os
import signal
import sys
from collections.abc import Iterator
from pathlib import Path
from types import FrameType
from typing import Any

import pytest

from records.batch import processes
from records.batch.processes import by_processes, cores


def square_or_die(number: int) -> int:
    """What the processes do here; 5 and 6 end the process, as a fault in a library or the system would."""
    if number == 5:
        os._exit(7)
    if number == 6:
        os.kill(os.getpid(), signal.SIGKILL)
    return number**2


def minus(number: int) -> int:
    return -number


@pytest.mark.slow
def test_results_come_in_order_and_a_death_costs_only_its_own() -> None:
    numbers = range(8)
    assert list(by_processes(square_or_die, numbers, 2, minus)) == [0, 1, 4, 9, 16, -5, -6, 49]


def test_no_more_tasks_are_taken_than_are_needed_ahead(monkeypatch: pytest.MonkeyPatch) -> None:
    taken = []
    monkeypatch.setattr(processes, "RENEW_AFTER", 8)

    def tasks() -> Iterator[int]:
        for number in range(10, 10_000):
            taken.append(number)
            yield number

    results = processes.by_processes(square_or_die, tasks(), 1, minus)
    assert next(results) == 100
    results.close()
    assert len(taken) <= 8


def long_or_die(number: int) -> bytes:
    """Results that a pipe takes in two writes: 1 dies between its length and its content."""
    writes = []

    def look(_: FrameType, event: str, argument: Any) -> None:
        if event == "c_call" and argument.__name__ == "write":
            writes.append(argument)
            if len(writes) == 2:
                os.kill(os.getpid(), signal.SIGKILL)

    if number == 1:
        sys.setprofile(look)
    return bytes(300_000)


@pytest.mark.slow
def test_a_process_that_dies_while_it_hands_over_a_long_result_keeps_nobody_waiting() -> None:
    lengths = [len(result) for result in by_processes(long_or_die, range(4), 2, lambda number: b"-" * number)]
    assert lengths == [300_000, 1, 300_000, 300_000]


def die_once(mark: str) -> str:
    """Ends its process the first time, as a system does that is short of memory for a moment."""
    if not Path(mark).exists():
        Path(mark).touch()
        os.kill(os.getpid(), signal.SIGKILL)
    return "done"


def test_a_task_whose_process_was_ended_is_tried_once_more(tmp_path: Path) -> None:
    assert list(by_processes(die_once, [str(tmp_path / "mark")], 1, lambda _: "died")) == ["done"]


def test_there_is_at_least_one_core() -> None:
    assert cores() >= 1
