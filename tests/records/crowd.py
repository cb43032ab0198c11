"""Several programs at one register: four that file, two that back up into one folder, and a window that is open.

    python -m tests.records.crowd [--seconds 600]

Every part that a writer was told is filed has to be there at the end; a refusal has to be told and tried again;
``verify`` has to find nothing, and the backup has to be whole. The window, without a screen, shows the register: how
long a part that is filed takes until its list counts it is told, and in the end it has to count them all. Exit code 1
where anything is amiss.
"""

from __future__ import annotations

import argparse
import json
import os
import subprocess
import sys
import tempfile
import time
from collections import deque
from collections.abc import Callable, Sequence
from pathlib import Path

from records import filing
from records.backup import back_up, read_backup
from records.register import open_register
from records.register_path import REGISTER_VARIABLE
from records.verification import verify
from tests.records.registers import file_picture, new_register, picture_file, screws
from threads.shared.refusal import RefusalError

WRITERS, BACKUPS = 4, 2
LOOK_MS = 200
"""So often the window's list is compared with the register."""
CATCH_UP_SECONDS = 60
"""At most, after the last part was filed, until the window has to count them all."""
_START = "import sys; from tests.records.crowd import {job}; {job}(*sys.argv[1:])"


def write(folder: str, name: str, until: str) -> None:
    """File parts until then; print what was filed and how often it was refused."""
    register, refused, filed = open_register(Path(folder) / "parts.sqlite"), 0, []
    _, document = screws(1)[0]
    own = Path(folder) / f"pictures of {name}"
    own.mkdir()
    while time.time() < float(until):
        number = f"{name} {len(filed)}"
        picture = picture_file(own, f"{number}.png", number.encode())

        def file_one(number: str = number, picture: tuple[Path, str] = picture) -> None:
            with register.writing(name) as writing:
                part = filing.add_part(writing, name=number)
                filing.add_measurement(writing, part, document, picture=file_picture(writing, *picture))

        refused += _tried(file_one)
        filed.append(number)
    sys.stdout.write(json.dumps({"filed": filed, "refused": refused}))


def keep(folder: str, _: str, until: str) -> None:
    """Back up into one folder until then."""
    register, refused, done = open_register(Path(folder) / "parts.sqlite"), 0, 0
    while time.time() < float(until):
        refused += _tried(lambda: back_up(register, Path(folder) / "backup"))
        done += 1
    sys.stdout.write(json.dumps({"backups": done, "refused": refused}))


def show(_folder: str, _name: str, until: str) -> None:
    """The real window at the register until then; print what its list shows and how late it was."""
    from PySide6.QtCore import QTimer  # noqa: PLC0415 - the writers do without

    from gui.app import create_application, create_window  # noqa: PLC0415

    application = create_application()
    window = create_window()
    window.show()
    window.go("register")
    model = window.register.model
    refusals: list[str] = []
    window.desk.noticed.connect(lambda kind, text: refusals.append(text) if kind == "refusal" else None)
    register = open_register(Path(os.environ[REGISTER_VARIABLE]))
    waiting: deque[tuple[float, int]] = deque()  # when the register first held so many parts that are not shown yet
    late = [0.0]

    def look() -> None:
        now = time.time()
        with register.reading() as connection:
            (there,) = connection.execute("SELECT count(*) FROM parts").fetchone()
        if there > (waiting[-1][1] if waiting else model.rowCount()):
            waiting.append((now, there))
        while waiting and waiting[0][1] <= model.rowCount():
            waiting.popleft()
        late[0] = max(late[0], now - waiting[0][0] if waiting else 0.0)
        if now > float(until) + CATCH_UP_SECONDS or (now > float(until) + 5 and not waiting):
            application.quit()

    timer = QTimer()
    timer.timeout.connect(look)
    timer.start(LOOK_MS)
    application.exec()
    first = str(model.data(model.index(0)) or "").partition(",")[0]
    told = {"shown": model.rowCount(), "first": first, "late": late[0], "window_refusals": refusals}
    sys.stdout.write(json.dumps(told))
    sys.stdout.flush()
    window.desk.work.wait()
    os._exit(0)  # what a person's leaving does is tested elsewhere


def _tried(work: Callable[[], object]) -> int:
    """Do it, again after each refusal; how many there were."""
    refusals = 0
    while True:
        try:
            work()
        except RefusalError as refusal:
            refusals += 1
            assert refusal.code in ("register_locked", "backup_in_use"), refusal
            time.sleep(0.1)
        else:
            return refusals


def main(arguments: Sequence[str] | None = None) -> int:
    """Run them all; 0 where nothing was amiss."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--seconds", type=float, default=600)
    given = parser.parse_args(arguments)
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        register = new_register(folder)
        until = time.time() + given.seconds
        jobs = [("write", f"writer {n}") for n in range(WRITERS)] + [("keep", f"backup {n}") for n in range(BACKUPS)]
        start = [sys.executable, "-c"]
        running = [
            subprocess.Popen(
                [*start, _START.format(job=job), place, name, str(until)], stdout=subprocess.PIPE, text=True
            )
            for job, name in jobs
        ]
        own = {
            "QT_QPA_PLATFORM": "offscreen", REGISTER_VARIABLE: str(register.path), "HOME": place,
            "QT_LOGGING_RULES": "qt.gui.imageio*=false;qt.qpa.*=false",  # the parts' pictures are none
        }  # fmt: skip
        window = subprocess.Popen(
            [*start, _START.format(job="show"), place, "window", str(until)],
            stdout=subprocess.PIPE, text=True, env={**os.environ, **own},
        )  # fmt: skip
        try:
            said = [one.communicate()[0] for one in running]
            seen = json.loads(window.communicate(timeout=2 * CATCH_UP_SECONDS)[0] or "{}")
        finally:
            window.kill()
            opened = window.wait() == 0
        answers = [json.loads(one) if one else {"refused": 0} for one in said]
        filed = {name for answer in answers for name in answer.get("filed", ())}
        with register.reading() as connection:
            there = {name for (name,) in connection.execute("SELECT name FROM parts")}
        found = verify(register)
        read_backup(folder / "backup")
        refused = sum(answer["refused"] for answer in answers)
        backups = sum(answer.get("backups", 0) for answer in answers)
    whole = all(one.returncode == 0 for one in running) and opened and filed == there
    clean = (found.faults, found.remarks) == ((), ())
    shown = seen.get("shown") == len(there) and seen.get("first") in filed and not seen["window_refusals"]
    print(f"{len(filed)} parts filed, {len(filed - there)} missing, {backups} backups, {refused} times told to wait")
    print(f"window open to the end: {opened}; it showed {seen.get('shown')}, at most {seen.get('late', 0):.1f} s late")
    print(
        *(f"the window refused: {text}" for text in seen.get("window_refusals", ())), f"verify clean: {clean}", sep="\n"
    )
    return 0 if whole and clean and shown else 1


if __name__ == "__main__":
    sys.exit(main())
