"""A kill, or a full disk, at any system call: nothing that was committed is lost, and nothing is left over."""

from __future__ import annotations

import errno
import os
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from records import filing
from records.backup import back_up, read_backup, restore
from records.correction import correct
from records.exchange.incoming import take_in
from records.exchange.outgoing import write_parts
from records.register import Register, open_register
from records.verification import verify
from tests.records.at_call import failing_at, full_disk, killed_at
from tests.records.registers import file_picture, new_register, picture_file, screws
from threads.shared.refusal import RefusalError

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="needs a process to kill")


def filed(folder: Path) -> None:
    register = open_register(folder / "parts.sqlite")
    _, document = screws(1)[0]
    with register.writing("Ada") as writing:
        picture = file_picture(writing, *picture_file(folder, content=b"new"))
        part = filing.add_part(writing, name="new")
        filing.add_measurement(writing, part, document, picture=picture)


def corrected(folder: Path) -> None:
    with open_register(folder / "parts.sqlite").writing("Bo") as writing:
        correct(writing, "parts", 1, {"name": "another name"})
        filing.add_note(writing, "slot worn", part=1)


def imported(folder: Path) -> None:
    take_in(folder / "job.zip", lambda: open_register(folder / "parts.sqlite"))


def backed_up(folder: Path) -> None:
    back_up(open_register(folder / "parts.sqlite"), folder / "backup")


def restored(folder: Path) -> None:
    restore(folder / "backup", folder / "parts.sqlite")


def first_backup(folder: Path) -> None:
    back_up(open_register(folder / "parts.sqlite"), folder / "another backup")


WORK: dict[Callable[[Path], None], tuple[int, int, int]] = {
    filed: (2, 3, 1),
    corrected: (2, 2, 9),
    imported: (2, 3, 29),
    backed_up: (2, 2, 17),
    first_backup: (2, 2, 23),
    restored: (2, 1, 37),
}
"""Parts before and after, and at every how manieth call it is killed."""


@pytest.fixture(scope="module")
def prepared(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Two parts on file, the first of them in a backup, and a bundle of one more from elsewhere."""
    folder = tmp_path_factory.mktemp("prepared")
    work, elsewhere = folder / "work", folder / "elsewhere"
    work.mkdir()
    elsewhere.mkdir()
    register = new_register(work)
    _file(register, folder, "first", b"first")
    back_up(register, work / "backup")
    _file(register, folder, "second", b"second")
    other = new_register(elsewhere)
    grey = np.random.default_rng(4).integers(0, 255, (220, 240), dtype=np.uint8)
    Image.fromarray(grey).save(folder / "real.png")
    _file(other, folder, "third", (folder / "real.png").read_bytes()[8:])
    write_parts(other, [1], work / "job.zip")
    return work


def _file(register: Register, folder: Path, name: str, content: bytes) -> None:
    _, document = screws(1)[0]
    with register.writing("Ada") as writing:
        part = filing.add_part(writing, name=name)
        picture = file_picture(writing, *picture_file(folder, f"{name}.png", content))
        filing.add_measurement(writing, part, document, picture=picture)


def _looked_over(folder: Path, before: int, after: int) -> int:
    """The next commands find everything whole and nothing left over; the number of parts."""
    read_backup(folder / "backup")
    register = open_register(folder / "parts.sqlite")
    found = verify(register)
    assert (found.faults, [one for one in found.remarks if one.code != "picture_unknown"]) == ((), [])
    assert found.counts["parts"] in range(min(before, after), max(before, after) + 1)
    if (before, after) != (2, 1):  # restoring leaves the pictures of later parts
        assert found.remarks == ()
    for backup in ("backup", "another backup"):
        if any((folder / backup).rglob("*.tmp*")) or len(list((folder / backup).glob("register-*"))) > 1:
            back_up(register, folder / backup)
    left = [
        path.relative_to(folder)
        for path in folder.rglob("*")
        if ".tmp" in path.name or path.name.endswith(("-journal", ".note"))
    ]
    assert left == []
    assert len(list((folder / "backup").glob("register-*"))) == 1
    return found.counts["parts"]


@pytest.mark.slow
@pytest.mark.parametrize("work", WORK, ids=lambda work: work.__name__)
def test_a_kill_at_any_call_loses_nothing_and_leaves_nothing(
    work: Callable[[Path], None], prepared: Path, tmp_path: Path
) -> None:
    before, after, step = WORK[work]
    call, seen = 1, set()
    going = True
    while going:
        folder = Path(shutil.copytree(prepared, tmp_path / str(call)))
        going = killed_at(call, lambda folder=folder: work(folder))  # type: ignore[misc]
        seen.add(_looked_over(folder, before, after))
        shutil.rmtree(folder)
        call += step
    assert call > 10
    assert seen == {before, after}


@pytest.mark.slow
@pytest.mark.parametrize("work", [filed, backed_up], ids=lambda work: work.__name__)
def test_a_disk_that_is_full_at_any_call_is_told_as_full(
    work: Callable[[Path], None], prepared: Path, tmp_path: Path
) -> None:
    before, after, _ = WORK[work]
    for call in _calls(prepared, tmp_path, work):
        folder = Path(shutil.copytree(prepared, tmp_path / str(call)))
        for error in (OSError(errno.ENOSPC, "No space left on device"), full_disk()):
            raised = failing_at(call, lambda folder=folder: work(folder), error)  # type: ignore[misc]
            assert raised is None or (isinstance(raised, RefusalError) and raised.code == "disk_full"), (call, raised)
        _looked_over(folder, before, 2 * after - before)
        shutil.rmtree(folder)


def _calls(prepared: Path, tmp_path: Path, work: Callable[[Path], None]) -> Iterator[int]:
    """Every nineteenth call that ``work`` makes."""
    call = 2
    while killed_at(call, lambda: work(Path(shutil.copytree(prepared, tmp_path / f"count {call}")))):  # noqa: B023
        yield call
        call += 19
