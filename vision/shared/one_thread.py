"""One numeric thread a process: where several measure side by side, threads of their own get in the way."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager

VARIABLES = ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS", "VECLIB_MAXIMUM_THREADS")
"""Read by the numeric libraries when a process starts."""


@contextmanager
def numeric_variables() -> Iterator[None]:
    """Processes started inside get one numeric thread each."""
    before = {name: os.environ.get(name) for name in VARIABLES}
    os.environ.update(dict.fromkeys(VARIABLES, "1"))
    try:
        yield
    finally:
        for name, value in before.items():
            if value is None:
                os.environ.pop(name, None)
            else:
                os.environ[name] = value


def use_one_thread() -> None:
    """Tell OpenCV, which does not read the environment, in this process."""
    from vision.shared.opencv import cv2

    cv2.setNumThreads(1)
