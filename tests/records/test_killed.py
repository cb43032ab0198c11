"""A kill, or a full disk, at any system call: nothing that was committed is lost, and nothing is left over."""

from __future__ import annotations

import errno
import os
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.records.at_call import failing_at, full_disk, killed_at
from tests.records.kills import (
    AFTER,
    BEFORE,
    Work,
    backed_up,
    corrected,
    filed,
    first_backup,
    imported,
    looked_over,
    prepare,
    restored,
    tried,
)
from threads.shared.refusal import RefusalError

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="needs a process to kill")

STEPS: dict[Work, int] = {
    filed: 8, corrected: 13, imported: 43, backed_up: 31, first_backup: 37, restored: 61, tried: 13,
}  # fmt: skip
"""At every how manieth call it is killed; ``python -m tests.records.kills`` does it at any."""


@pytest.fixture(scope="module")
def prepared(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return prepare(tmp_path_factory.mktemp("prepared"))


@pytest.mark.slow
@pytest.mark.parametrize("work", STEPS, ids=lambda work: work.__name__)
def test_a_kill_at_any_call_loses_nothing_and_leaves_nothing(work: Work, prepared: Path, tmp_path: Path) -> None:
    call, seen = 1, set()
    going = True
    while going:
        folder = Path(shutil.copytree(prepared, tmp_path / str(call)))
        going = killed_at(call, lambda folder=folder: work(folder))  # type: ignore[misc]
        seen.add(looked_over(folder, BEFORE, AFTER[work]))
        shutil.rmtree(folder)
        call += STEPS[work]
    assert call > 10
    assert seen == {BEFORE, AFTER[work]}


@pytest.mark.slow
@pytest.mark.parametrize("work", [filed, backed_up], ids=lambda work: work.__name__)
def test_a_disk_that_is_full_at_any_call_is_told_as_full(work: Work, prepared: Path, tmp_path: Path) -> None:
    for call in _calls(prepared, tmp_path, work):
        folder = Path(shutil.copytree(prepared, tmp_path / str(call)))
        for error in (OSError(errno.ENOSPC, "No space left on device"), full_disk()):
            raised = failing_at(call, lambda folder=folder: work(folder), error)  # type: ignore[misc]
            assert raised is None or (isinstance(raised, RefusalError) and raised.code == "disk_full"), (call, raised)
        looked_over(folder, BEFORE, 2 * AFTER[work] - BEFORE)
        shutil.rmtree(folder)


def _calls(prepared: Path, tmp_path: Path, work: Work) -> Iterator[int]:
    """Every forty-third call that ``work`` makes."""
    call = 2
    while killed_at(call, lambda: work(Path(shutil.copytree(prepared, tmp_path / f"count {call}")))):  # noqa: B023
        yield call
        call += 43
