"""Many scenes in a few processes of one numeric thread each, with a progress bar on stderr."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor, as_completed
from multiprocessing import get_context
from typing import TypeVar

from rich.console import Console
from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn

from vision.shared.opencv import cv2

Task = TypeVar("Task")
Result = TypeVar("Result")

THREAD_VARIABLES = ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS", "VECLIB_MAXIMUM_THREADS")


def run_all(run: Callable[[Task], Result], tasks: Sequence[Task], jobs: int) -> Iterator[tuple[Task, Result]]:
    """``run`` of every task in ``jobs`` processes, in whatever order they finish. ``run`` is a function of a module."""
    for name in THREAD_VARIABLES:
        os.environ[name] = "1"  # read by the libraries when a worker starts: "spawn" starts each afresh
    columns = (TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn(), TimeRemainingColumn())
    with (
        ProcessPoolExecutor(jobs, mp_context=get_context("spawn"), initializer=_one_thread) as pool,
        Progress(*columns, console=Console(stderr=True)) as progress,
    ):
        bar = progress.add_task("scenes", total=len(tasks))
        running = {pool.submit(run, task): task for task in tasks}
        for done in as_completed(running):
            yield running[done], done.result()
            progress.advance(bar)


def _one_thread() -> None:
    cv2.setNumThreads(1)
