"""Work on a register that is killed at a system call, what is there before, and how it is looked over afterwards.

    python -m tests.records.kills --kills 500 [--seed 1]

kills filing, correcting, importing, backing up, restoring, a tray and trials at random calls, as ``at_call`` counts
them, and says what was lost, what was left over after the next command, and what ``verify`` found. Exit code 1 where
there was anything.
"""

from __future__ import annotations

import argparse
import random
import shutil
import sys
import tempfile
from collections import Counter
from collections.abc import Callable, Sequence
from functools import cache
from pathlib import Path

import numpy as np
from PIL import Image

from flankwise.bench import Bench
from flankwise.measuring import measure_all
from flankwise.part import Parts
from records import filing
from records.backup import back_up, read_backup, restore
from records.correction import correct
from records.documenting import Place
from records.exchange.incoming import take_in
from records.exchange.outgoing import write_parts
from records.holes import add_hole
from records.register import Register, open_register
from records.tray import file_tray
from records.verification import verify
from sample_images.render import render_together
from tests.records.at_call import killed_at
from tests.records.registers import file_picture, new_register, picture_file, screws
from tests.vision.several.test_all_parts import PLANE, TRAY


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


def tried(folder: Path) -> None:
    with open_register(folder / "parts.sqlite").writing("Bo") as writing:
        hole = filing.add_part(writing, name="hole")
        add_hole(writing, hole, "4-40", engagement=3.0)
        (number,) = writing.connection.execute("SELECT id FROM holes").fetchone()
        filing.add_trial(writing, number, outcome="went_in", screw=1)
        filing.add_trial(writing, number, outcome="moved", screw=2, movement=0.2, movement_u95=0.02, overhang=20.0)


def trayed(folder: Path) -> None:
    file_tray(open_register(folder / "parts.sqlite"), tray(), Place(instrument="marine sextant", name="shade screw"))


@cache
def tray() -> Parts:
    """Two screws and what else lies there, measured once."""
    folder = Path(tempfile.mkdtemp(prefix="flankwise-tray-"))
    levels, _ = render_together(TRAY)
    Image.fromarray(levels.astype("uint8")).save(folder / "tray.png")
    return measure_all(folder / "tray.png", Bench(PLANE))


Work = Callable[[Path], None]

AFTER: dict[Work, int] = {
    filed: 3, corrected: 2, imported: 3, backed_up: 2, first_backup: 2, restored: 1, tried: 3, trayed: 4,
}  # fmt: skip
"""How many parts there are when it is done; before there are ``BEFORE``."""
BEFORE = 2


def prepare(folder: Path) -> Path:
    """Two parts on file, the first of them in a backup, and a bundle of one more from elsewhere."""
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


def looked_over(folder: Path, before: int, after: int) -> int:
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


def calls_of(work: Work, prepared: Path, scratch: Path) -> int:
    """How many calls the work makes."""

    def comes_to(call: int) -> bool:
        folder = Path(shutil.copytree(prepared, scratch / "counted"))
        there = killed_at(call, lambda: work(folder))
        shutil.rmtree(folder)
        return there

    low, high = 1, 64
    while comes_to(high):
        low, high = high, 2 * high
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if comes_to(middle) else (low, middle)
    return low


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the kills; 0 where nothing was lost or left over."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--kills", type=int, default=500)
    parser.add_argument("--seed", type=int, default=1)
    given = parser.parse_args(arguments)
    draw, done, wrong, told = random.Random(given.seed), 0, 0, Counter[str]()
    tray()
    with tempfile.TemporaryDirectory() as place:
        scratch = Path(place)
        (scratch / "made").mkdir()
        prepared = prepare(scratch / "made")
        calls = {work: calls_of(work, prepared, scratch) for work in AFTER}
        for number in range(given.kills):
            work = list(AFTER)[number % len(AFTER)]
            call = draw.randint(1, calls[work])
            folder = Path(shutil.copytree(prepared, scratch / "killed"))
            killed = killed_at(call, lambda work=work, folder=folder: work(folder))  # type: ignore[misc]
            done += killed
            try:
                there = looked_over(folder, BEFORE, AFTER[work])
                told[f"{work.__name__} ({calls[work]} calls): {'done' if there == AFTER[work] else 'not done'}"] += 1
            except Exception as error:  # noqa: BLE001 - any is what is looked for
                wrong += 1
                print(f"{work.__name__} killed at call {call}: {type(error).__name__}: {error}", file=sys.stderr)
            shutil.rmtree(folder)
    for words, count in sorted(told.items()):
        print(f"  {words:<45}{count:>5}")
    print(f"{done} kills, {wrong} with anything lost, left over or found by verify")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
